"""The SDK's models: TypedDicts for what requests hold, frozen dataclasses for what answers hold."""

import keyword
from collections import defaultdict
from collections.abc import Iterable, Mapping
from typing import Any

from marshmallow import Schema

from ..api.fields import Described, Quantities, Quantity, Series
from ..api.schemas import Nested, Variant
from ..api.units import UNITS
from .text import WIDTH, Imports, alias_lines, docstring, field_docstring, union

NOTE = "# Written by `python -m pourwright_service models`; change the service's schemas, not this file."

_PLAIN = {"string": "str", "number": "float", "integer": "int", "boolean": "bool", "null": "None"}
_HOMES = {
    "Sequence": "collections.abc",
    "Mapping": "collections.abc",
    "Literal": "typing",
    "NotRequired": "typing",
    "TypedDict": "typing",
    "TypeAlias": "typing",
    "Any": "typing",
    "dataclass": "dataclasses",
}
_QUANTITY = ("Quantity", "Series", "QuantityInput", "FractionInput", "JsonObject")


def home(schema: Schema) -> str:
    """The module of a schema: riser for a class of api/riser.py."""
    package, _, module = type(schema).__module__.rpartition(".")
    if not package.endswith(".api"):
        raise TypeError(f"{type(schema).__name__} needs its module named: '__module__': __name__")
    return module


def class_name(schema: Schema) -> str:
    """RiserBody -> RiserInput; other names stay."""
    name = type(schema).__name__
    return f"{name.removesuffix('Body')}Input" if name.endswith("Body") else name


class Types:
    """Turns fields into type expressions and notes what has to be imported for them."""

    def __init__(self, models: "Models") -> None:
        self.models = models
        self.used: set[str] = set()

    def of(self, field: Described, *, answers: bool) -> str:
        """The type of a field; in an answer it may be null unless required."""
        text = self._nested(field, answers) if isinstance(field, Nested) else self._leaf(field, answers)
        return union([text, "None"]) if answers and not field.required else text

    def note(self, *names: str) -> None:
        self.used.update(names)

    def imports(self, *, quantity: str, models: str, here: str = "") -> Imports:
        """Imports of everything noted but the models of module ``here``; where the others live."""
        made = Imports()
        for name in self.used:
            if name in _HOMES:
                made.add(_HOMES[name], name)
            elif name in _QUANTITY:
                made.add(quantity, name)
            elif self.models.homes[name] != here:
                made.add(models + self.models.homes[name], name)
        return made

    def _nested(self, field: Nested, answers: bool) -> str:
        if isinstance(field, Variant):
            item = self.models.variant(field)
        else:
            item = self.models.add(field.schema, answers)
        self.note(item)
        if not answers and not isinstance(field, Variant):
            self.note("JsonObject")
            item = union([item, "JsonObject"])
        return self._many(item, answers) if field.many else item

    def _many(self, item: str, answers: bool) -> str:
        if answers:
            return f"tuple[{item}, ...]"
        self.note("Sequence")
        return f"Sequence[{item}]"

    def _leaf(self, field: Described, answers: bool) -> str:
        if isinstance(field, Series):
            self.note("Series", *(() if answers else ("JsonObject",)))
            return "Series" if answers else union(["Series", "JsonObject"])
        if isinstance(field, Quantity) and (field.kind in UNITS or field.kind == "money"):
            name = "Quantity" if answers else "FractionInput" if field.kind == "fraction" else "QuantityInput"
            self.note(name)
            return self._many(name, answers) if isinstance(field, Quantities) else name
        shape = field.answer_document() if answers else field.request_document()
        return self._shape(shape, answers)

    def _shape(self, shape: Mapping[str, Any], answers: bool) -> str:
        """A piece of JSON Schema as a type."""
        if shape.get("$ref", "").endswith("/shown_value"):
            self.note("Quantity")
            return "Quantity | float | None"
        if "enum" in shape:
            self.note("Literal")
            return f"Literal[{', '.join(_quoted(word) for word in shape['enum'])}]"
        for several in ("anyOf", "oneOf"):
            if several in shape:
                return union(self._shape(one, answers) for one in shape[several])
        kind = shape.get("type")
        if isinstance(kind, list):
            return union(self._shape({**shape, "type": one}, answers) for one in kind)
        if kind == "array":
            items = shape.get("prefixItems") or [shape["items"]]
            return self._many(union(self._shape(item, answers) for item in items), answers)
        if kind == "object" and isinstance(shape.get("additionalProperties"), dict):
            self.note("Mapping")
            return f"Mapping[str, {self._shape(shape['additionalProperties'], answers)}]"
        if kind == "object":
            self.note("JsonObject")
            return "JsonObject"
        if kind in _PLAIN:
            return _PLAIN[kind]
        raise TypeError(f"there is no Python type for {shape}")


class Models:
    """The classes of all requests and answers, by module, each after those that it needs."""

    def __init__(self) -> None:
        self.homes: dict[str, str] = {}
        self._made: dict[str, type[Schema]] = {}
        self._blocks: dict[str, list[list[str]]] = defaultdict(list)
        self._types: dict[str, Types] = {}

    def add(self, schema: Schema, answers: bool) -> str:
        """The class of a schema, made the first time it is asked for."""
        name = class_name(schema)
        made = self._made.setdefault(name, type(schema))
        if made is not type(schema):
            raise ValueError(f"two schemas would be called {name}: {made} and {type(schema)}")
        if name not in self.homes:
            self.homes[name] = home(schema)
            types = self._types_of(home(schema))
            head = ["@dataclass(frozen=True, slots=True)", f"class {name}:"]
            if not answers:
                head = [f"class {name}(TypedDict):"]
            block = [*head, *docstring([type(schema).__doc__ or name], "    "), ""]
            aliases: list[str] = []
            for key, field in fields_of(schema):
                block += self._field(name, key, field, types, answers, aliases)
            types.note("dataclass" if answers else "TypedDict")
            if aliases:
                self._blocks[home(schema)].append(aliases)
            self._blocks[home(schema)].append(block)
        return name

    def variant(self, field: Variant) -> str:
        """The alias of an object that is one of several."""
        schemas = list(field.variants.values())
        names = [self.add(schema, False) for schema in schemas]
        alias = f"{_common_end(names)}Input"
        module = home(schemas[0])
        if alias not in self.homes:
            self.homes[alias] = module
            self._types_of(module).note("JsonObject", "TypeAlias")
            self._blocks[module].append(alias_lines(alias, union([*names, "JsonObject"])))
        return alias

    def files(self) -> dict[str, str]:
        """The files by path, from the SDK's folder."""
        made = {}
        for module, blocks in self._blocks.items():
            imports = self._types[module].imports(quantity="..quantity", models=".", here=module)
            body = [line for block in blocks for line in ["", "", *block]]
            made[f"models/{module}.py"] = _file(f"Models of {module.replace('_', ' ')}.", imports, body)
        return made

    def _types_of(self, module: str) -> Types:
        return self._types.setdefault(module, Types(self))

    def _field(
        self, owner: str, name: str, field: Described, types: Types, answers: bool, aliases: list[str]
    ) -> list[str]:
        kind = types.of(field, answers=answers)
        if not answers and not field.required:
            types.note("NotRequired")
        line = _field_line(name, kind, answers or field.required)
        if len(line) > WIDTH:
            alias = f"{owner}{_camel(name)}"
            self.homes[alias] = self.homes[owner]
            types.note("TypeAlias")
            aliases += ["", *alias_lines(alias, kind)] if aliases else alias_lines(alias, kind)
            line = _field_line(name, alias, answers or field.required)
        return [line, *field_docstring(field.description, "    ")]


def _field_line(name: str, kind: str, plain: bool) -> str:
    return f"    {name}: {kind}" if plain else f"    {name}: NotRequired[{kind}]"


def fields_of(schema: Schema) -> Iterable[tuple[str, Described]]:
    """The fields of a schema by their names in JSON; a name that Python cannot take is refused."""
    for name, field in schema.fields.items():
        key = str(field.data_key or name)
        if not key.isidentifier() or keyword.iskeyword(key):
            raise ValueError(f"{type(schema).__name__}.{key} cannot be a name in Python")
        if not isinstance(field, Described):
            raise TypeError(f"{type(schema).__name__}.{key} is not a field of this service")
        yield key, field


def _quoted(word: str) -> str:
    return '"' + word.replace("\\", "\\\\").replace('"', '\\"') + '"'


def _camel(name: str) -> str:
    return "".join(word.capitalize() for word in name.split("_"))


def _common_end(names: list[str]) -> str:
    """PlateSection, BarSection -> Section."""
    shortest = min(len(name) for name in names)
    length = next((n for n in range(shortest, 0, -1) if len({name[-n:] for name in names}) == 1), 0)
    end = names[0][len(names[0]) - length :] if length else ""
    while end and not end[0].isupper():
        end = end[1:]
    return end.removesuffix("Input") or "".join(names)


def _file(title: str, imports: Imports, body: list[str]) -> str:
    lines = imports.lines()
    head = [NOTE, "", *docstring([title], ""), "", "from __future__ import annotations"]
    head += ["", *lines] if lines else []
    if body[2].startswith(("class ", "@")):
        return "\n".join([*head, *body]) + "\n"
    return "\n".join([*head, *body[1:]]) + "\n"  # one line between imports and a plain statement


def units_file() -> str:
    """The table of units: SI = value x num/den + off_num/off_den, whole numbers all."""
    body = ["", "", "UNITS: dict[str, dict[str, tuple[int, int, int, int]]] = {"]
    for kind, listed in UNITS.items():
        body.append(f'    "{kind}": {{')
        units = {**listed.units, **({"": listed.si} if kind == "fraction" else {})}
        for spelling, unit in units.items():
            numbers = [str(number) for number in (unit.num, unit.den, unit.off_num, unit.off_den)]
            line = f"        {_quoted(spelling)}: ({', '.join(numbers)}),"
            if len(line) <= WIDTH:
                body.append(line)
            else:
                body += [
                    f"        {_quoted(spelling)}: (",
                    *(f"            {n}," for n in numbers),
                    "        ),",
                ]
        body.append("    },")
    body += ["}", '"""Kind -> unit -> num, den, off_num, off_den."""']
    return _file(units_file.__doc__ or "", Imports(), body)
