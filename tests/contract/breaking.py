"""Finds what a new OpenAPI document takes away from callers of an old one.

A request may only be widened: fewer required fields, more words, wider limits. An answer may only
gain: nothing that a caller reads may vanish or change its type. Each finding is one line.
"""

from collections.abc import Iterator, Mapping
from typing import Any

Document = Mapping[str, Any]
Shape = Mapping[str, Any]

METHODS = ("get", "put", "post", "delete", "head", "patch")
UPPER = ("maximum", "exclusiveMaximum", "maxLength", "maxItems", "maxProperties")
LOWER = ("minimum", "exclusiveMinimum", "minLength", "minItems", "minProperties")


def breaking_changes(old: Document, new: Document) -> list[str]:
    """Every breaking change between two documents; empty if callers of ``old`` are safe."""
    return list(dict.fromkeys(_operations(old, new)))


def _operations(old: Document, new: Document) -> Iterator[str]:
    compare = _Compare(old, new)
    for path, item in old["paths"].items():
        for method in METHODS:
            if method not in item:
                continue
            where = f"{method.upper()} {path}"
            operation = new["paths"].get(path, {}).get(method)
            if operation is None:
                yield f"{where}: the operation is gone"
                continue
            if operation["operationId"] != item[method]["operationId"]:
                yield f"{where}: the operationId has changed"
            yield from compare.operation(item[method], operation, where)


class _Compare:
    """Walks two documents side by side; a pair of component names is visited once per direction."""

    def __init__(self, old: Document, new: Document) -> None:
        self.old, self.new = old, new
        self.seen: set[tuple[str, str, bool]] = set()

    def operation(self, old: Shape, new: Shape, where: str) -> Iterator[str]:
        ours = {(p["name"], p["in"]): p for p in old.get("parameters", ())}
        theirs = {(p["name"], p["in"]): p for p in new.get("parameters", ())}
        for key, parameter in theirs.items():
            if key not in ours and parameter.get("required"):
                yield f"{where}: the new parameter {key[0]} is required"
        for key, parameter in ours.items():
            if key not in theirs:
                yield f"{where}: the parameter {key[0]} is gone"
            else:
                yield from self.shape(parameter["schema"], theirs[key]["schema"], f"{where} ?{key[0]}", False)
        yield from self._contents(
            old.get("requestBody", {}), new.get("requestBody", {}), f"{where} body", False
        )
        for status, response in old["responses"].items():
            if status.startswith("2"):
                if status not in new["responses"]:
                    yield f"{where}: the status {status} is gone"
                else:
                    yield from self._contents(response, new["responses"][status], f"{where} {status}", True)

    def _contents(self, old: Shape, new: Shape, where: str, answer: bool) -> Iterator[str]:
        for name, content in old.get("content", {}).items():
            if name not in new.get("content", {}):
                yield f"{where}: the content type {name} is gone"
            else:
                other = new["content"][name].get("schema", {})
                yield from self.shape(content.get("schema", {}), other, where, answer)

    def shape(self, old: Shape, new: Shape, where: str, answer: bool) -> Iterator[str]:
        """``answer``: the service writes it; otherwise the caller does."""
        key = (str(old.get("$ref", "")), str(new.get("$ref", "")), answer)
        if key[0] and key[1]:
            if key in self.seen:
                return
            self.seen.add(key)
        old, new = _resolve(self.old, old), _resolve(self.new, new)
        yield from self._types(old, new, where, answer)
        yield from self._limits(old, new, where, answer)
        yield from self._properties(old, new, where, answer)
        for part in ("items", "additionalProperties"):
            if isinstance(old.get(part), Mapping) and isinstance(new.get(part), Mapping):
                yield from self.shape(old[part], new[part], f"{where}/*", answer)
        yield from self._alternatives(old, new, where, answer)

    def _types(self, old: Shape, new: Shape, where: str, answer: bool) -> Iterator[str]:
        before, after = _types_of(old), _types_of(new)
        lost = (after - before) if answer else (before - after)
        if before and after and lost:
            verb = "is new" if answer else "is no longer taken"
            yield f"{where}: the type {', '.join(sorted(lost))} {verb}"
        if "enum" in old and "enum" in new:
            words, others = set(old["enum"]), set(new["enum"])
            lost = (others - words) if answer else (words - others)
            for word in sorted(map(str, lost)):
                yield f"{where}: {word!r} {'is a new word' if answer else 'is no longer taken'}"
        elif ("enum" in new and not answer) or ("enum" in old and answer):
            yield f"{where}: the list of words is {'gone' if answer else 'new'}"

    def _limits(self, old: Shape, new: Shape, where: str, answer: bool) -> Iterator[str]:
        if answer:
            return
        for name in (*UPPER, *LOWER):
            before, after = old.get(name), new.get(name)
            tighter = after is not None and (
                before is None or (after < before if name in UPPER else after > before)
            )
            if tighter:
                yield f"{where}: {name} is narrower ({before} to {after})"
        if new.get("pattern") not in (None, old.get("pattern")):
            yield f"{where}: the pattern has changed"

    def _properties(self, old: Shape, new: Shape, where: str, answer: bool) -> Iterator[str]:
        before, after = old.get("properties", {}), new.get("properties", {})
        for name, inner in before.items():
            if name not in after:
                yield f"{where}/{name}: the field is gone"
            else:
                yield from self.shape(inner, after[name], f"{where}/{name}", answer)
        needed, given = set(new.get("required", ())), set(old.get("required", ()))
        for name in sorted(given - needed if answer else needed - given):
            if name in after:
                yield f"{where}/{name}: the field {'may be absent' if answer else 'is now required'}"

    def _alternatives(self, old: Shape, new: Shape, where: str, answer: bool) -> Iterator[str]:
        for word in ("oneOf", "anyOf"):
            before, after = old.get(word), new.get(word)
            if before and after:
                yield from self._pairs(before, after, where, answer)
            elif (before and not after and not answer) or (after and not before and answer):
                yield f"{where}: the alternatives have changed"

    def _pairs(self, before: list[Shape], after: list[Shape], where: str, answer: bool) -> Iterator[str]:
        names = {_label(shape): shape for shape in after}
        for shape in before:
            if _label(shape) in names:
                yield from self.shape(shape, names[_label(shape)], f"{where}<{_label(shape)}>", answer)
            elif not answer:
                yield f"{where}: the alternative {_label(shape)} is no longer taken"
        for label in names.keys() - {_label(shape) for shape in before}:
            if answer:
                yield f"{where}: the alternative {label} is new"


def _label(shape: Shape) -> str:
    """What tells one alternative from another."""
    return str(shape.get("$ref") or shape.get("const") or "/".join(sorted(_types_of(shape))))


def _types_of(shape: Shape) -> set[str]:
    kind = shape.get("type")
    types = {kind} if isinstance(kind, str) else set(kind or ())
    return types | {"integer"} if "number" in types else types


def _resolve(document: Document, shape: Shape) -> Shape:
    while "$ref" in shape:
        found: Any = document
        for step in shape["$ref"].removeprefix("#/").split("/"):
            found = found[step]
        shape = found
    return shape
