"""Writes the SDK's methods: one class per module of operations, all of them gathered in Subjects."""

from collections import defaultdict

from ..api.fields import Described, Quantity
from ..api.registry import Call, Endpoint, Registry, Resource
from .models import NOTE, Models, Types, fields_of
from .text import WIDTH, Imports, alias_lines, argument_lines, docstring

_OWN = {"units", "working", "remedies", "self"}
_INDENT = " " * 8
_UNITS_SAY = "System of units of the answer; it never changes a decision."
_WORKING_SAY = "Whether the answer shows its working."
_REMEDIES_SAY = "Remedies for what failed (the default), for all that does not pass, or none."


def calls(registry: Registry, models: Models) -> dict[str, str]:
    """The files of the methods, and subjects.py which gathers them."""
    by_module: dict[str, list[Call]] = defaultdict(list)
    for call in (*registry.endpoints.values(), *registry.resources.values()):
        by_module[call.function.__module__.rpartition(".")[2]].append(call)
    made = {f"{module}.py": _module(module, found, models) for module, found in by_module.items()}
    return {**made, "subjects.py": _subjects(sorted(by_module))}


def _class(module: str) -> str:
    return "".join(word.capitalize() for word in module.split("_")) + "Calls"


def _module(module: str, found: list[Call], models: Models) -> str:
    types = Types(models)
    body: list[str] = []
    aliases: list[str] = []
    names = {"transport": {"Transport"}, "answer": set[str]()}
    for call in found:
        body.append("")
        if isinstance(call, Endpoint):
            names["answer"] |= {"Answer", "Remedies", "Units"}
            body += _calculation(call, models, types, aliases)
        elif isinstance(call, Resource):
            body += _resource(call, models, types, names)
    typing_only = types.imports(quantity=".quantity", models=".models.")
    if names["answer"]:
        typing_only.add(".answer", *names["answer"])
    head = Imports()
    head.add("typing", "TYPE_CHECKING")
    head.add(".transport", *names["transport"])
    title = f"The operations of {module.replace('_', ' ')}."
    lines = [NOTE, "", *docstring([title], ""), "", "from __future__ import annotations", ""]
    lines += [*head.lines(), ""]
    lines += ["if TYPE_CHECKING:", *typing_only.lines("    "), *aliases, "", ""]
    lines += [f"class {_class(module)}(Transport):", *docstring([title], "    "), *body]
    return "\n".join(lines) + "\n"


def _calculation(call: Endpoint, models: Models, types: Types, aliases: list[str]) -> list[str]:
    models.add(call.request, False)
    result = models.add(call.answer, True)
    types.note(result)
    fields = sorted(fields_of(call.request), key=lambda pair: not pair[1].required)
    taken = _OWN & {name for name, _ in fields}
    if taken:
        raise ValueError(f"{call.operation}: an argument cannot be called {taken}")
    signature = [f"{_INDENT}{_argument(call, name, field, types, aliases)}," for name, field in fields]
    signature += [
        f"{_INDENT}units: Units | None = None,",
        f"{_INDENT}working: bool = False,",
        f"{_INDENT}remedies: Remedies | None = None,",
    ]
    says = [(name, field.description) for name, field in fields]
    says += [("units", _UNITS_SAY), ("working", _WORKING_SAY), ("remedies", _REMEDIES_SAY)]
    pairs = [f'{_INDENT}        "{name}": {name},' for name, _ in fields]
    return [
        *_head(call, signature, f"Answer[{result}]", says),
        f"{_INDENT}from .models.{models.homes[result]} import {result}",
        "",
        f"{_INDENT}return self._ask(",
        f'{_INDENT}    "{call.path}",',
        f"{_INDENT}    {result},",
        f"{_INDENT}    {{",
        *pairs,
        f"{_INDENT}    }},",
        f"{_INDENT}    units,",
        f"{_INDENT}    working,",
        f"{_INDENT}    remedies,",
        f"{_INDENT})",
    ]


def _argument(call: Endpoint, name: str, field: Described, types: Types, aliases: list[str]) -> str:
    kind, default = types.of(field, answers=False), "" if field.required else " | None = None"
    if len(f"{_INDENT}{name}: {kind}{default},") > WIDTH:
        alias = "".join(word.capitalize() for word in f"{call.operation}_{name}".split("_"))
        types.note("TypeAlias")
        aliases += ["", *alias_lines(alias, kind, "    ")]
        kind = alias
    return f"{name}: {kind}{default}"


def _resource(call: Resource, models: Models, types: Types, names: dict[str, set[str]]) -> list[str]:
    signature = [f"{_INDENT}{name}: str," for name in call.parameters]
    says = list(call.parameters.items())
    query = list(fields_of(call.query)) if call.query else []
    signature += [f"{_INDENT}{_parameter(name, field, types)} | None = None," for name, field in query]
    says += [(name, field.description) for name, field in query]
    path = f'"{call.path}"'
    if call.parameters:
        names["transport"].add("part")
        path = "f" + path.replace("{", "{part(").replace("}", ")}")
    if call.method == "HEAD":
        return [*_head(call, signature, "bool", says), f"{_INDENT}return self._exists({path})"]
    if call.answer is None:
        raise TypeError(f"{call.operation}: what should its method return?")
    result = models.add(call.answer, True)
    types.note(result)
    extra = []
    if query:
        pairs = ", ".join(f'"{name}": {name}' for name, _ in query)
        extra.append(f"query={{{pairs}}}")
    if call.upload:
        signature.append(f"{_INDENT}content: bytes,")
        says.append(("content", "The file's bytes."))
        extra.append("content=content")
    if call.method == "GET":
        names["answer"].add("Units")
        signature.append(f"{_INDENT}units: Units | None = None,")
        says.append(("units", _UNITS_SAY))
        extra.append("units=units")
    return [
        *_head(call, signature, result, says),
        f"{_INDENT}from .models.{models.homes[result]} import {result}",
        "",
        f"{_INDENT}return self._fetch(",
        f'{_INDENT}    "{call.method}",',
        f"{_INDENT}    {path},",
        f"{_INDENT}    {result},",
        *(line for argument in extra for line in _broken(argument)),
        f"{_INDENT})",
    ]


def _parameter(name: str, field: Described, types: Types) -> str:
    """A query parameter and its type; a quantity always has its unit there."""
    if name in _OWN:
        raise ValueError(f"a query parameter cannot be called {name}")
    if isinstance(field, Quantity):
        types.note("QuantityInput")
        return f"{name}: QuantityInput"
    return f"{name}: {types.of(field, answers=False)}"


def _broken(argument: str) -> list[str]:
    """An argument of a call, a dictionary one entry to a line where it is too long for one."""
    line = f"{_INDENT}    {argument},"
    head, brace, pairs = argument.partition("{")
    if not brace or len(line) <= WIDTH:
        return [line]
    entries = pairs.removesuffix("}").split(", ")
    return [
        f"{_INDENT}    {head}{{",
        *(f"{_INDENT}        {entry}," for entry in entries),
        f"{_INDENT}    }},",
    ]


def _head(call: Call, signature: list[str], returns: str, says: list[tuple[str, str]]) -> list[str]:
    """The def line and the docstring."""
    star = [f"{_INDENT}*,"] if signature else []
    summary = call.summary if call.summary.endswith((".", "?")) else f"{call.summary}."
    doc = docstring([summary, call.description], _INDENT)
    arguments = ["", *argument_lines(says, _INDENT)] if says else []
    return [
        f"    def {call.operation}(",
        f"{_INDENT}self,",
        *star,
        *signature,
        f"    ) -> {returns}:",
        *doc[:-1],
        *arguments,
        doc[-1],
    ]


def _subjects(modules: list[str]) -> str:
    imports = Imports()
    for module in modules:
        imports.add(f".{module}", _class(module))
    title = "All operations of the service in one class."
    return "\n".join(
        [
            NOTE,
            "",
            *docstring([title], ""),
            "",
            "from __future__ import annotations",
            "",
            *imports.lines(),
            "",
            "",
            "class Subjects(",
            *(f"    {_class(module)}," for module in modules),
            "):",
            *docstring([title], "    "),
            "",
        ]
    )
