"""Fields that take a name of the tables, and maps by chemical element."""

import math
from collections.abc import Callable, Sequence
from typing import Any

from marshmallow import ValidationError

from ..engine.bounds import Bound, within
from ..engine.tables import alloys, elements, moulds
from .fields import Described, Text, number_or_none, strict_number
from .problems import did_you_mean, refused
from .unitdoc import limits


class _Name(Text):
    """A name that the tables know, in any of its spellings; what is kept is its id."""

    code = ""
    what = ""

    def find(self, name: str) -> str | None:
        """The id behind a name, or None."""
        raise NotImplementedError

    def accepted(self) -> Sequence[str]:
        """What a caller may write."""
        raise NotImplementedError

    def load_value(self, value: Any) -> str:
        name = super().load_value(value)
        found = self.find(name)
        if found is None:
            accepted = self.accepted()
            hint = did_you_mean(name, accepted)
            raise refused(self.code, f"{name[:60]!r} is not {self.what} of the tables{hint}", accepted)
        return found

    def request_document(self) -> dict[str, Any]:
        return {**super().request_document(), "examples": list(self.accepted()[:6])}


class AlloyField(_Name):
    """An alloy by id, name or alias."""

    code = "unknown_alloy"
    what = "an alloy"

    def find(self, name: str) -> str | None:
        found = alloys.find_alloy(name)
        return None if found is None else found.id

    def accepted(self) -> Sequence[str]:
        return alloys.alloy_names()


class MediumField(_Name):
    """A mould medium by id, name or alias."""

    code = "unknown_medium"
    what = "a mould medium"

    def find(self, name: str) -> str | None:
        found = moulds.find_mould(name)
        return None if found is None else found.id

    def accepted(self) -> Sequence[str]:
        return moulds.mould_names()


class ElementField(_Name):
    """A chemical element by its symbol."""

    code = "unknown_element"
    what = "an element"

    def find(self, name: str) -> str | None:
        return name if name in elements.ELEMENTS else None

    def accepted(self) -> Sequence[str]:
        return list(elements.ELEMENTS)


def _each_element(value: Any, load: Callable[[Any], Any], also: Sequence[str]) -> dict[str, Any]:
    """Load a map by element; all faults together."""
    if type(value) is not dict:
        raise refused("not_an_object", 'an object of elements is needed here, such as {"Cu": 95, "Si": 4}')
    loaded: dict[str, Any] = {}
    faults: dict[Any, Any] = {}
    for symbol, inner in value.items():
        try:
            if symbol not in elements.ELEMENTS and symbol not in also:
                known = [*elements.ELEMENTS, *also]
                hint = _symbol_hint(symbol, known)
                raise refused("unknown_element", f"{symbol[:20]!r} is not an element known here{hint}", known)
            loaded[symbol] = load(inner)
        except ValidationError as error:
            faults[symbol] = error.messages
    if faults:
        raise ValidationError(faults)
    return loaded


def _symbol_hint(word: str, known: Sequence[str]) -> str:
    """The symbol of an element that was written out, else the nearest word."""
    for element in elements.ELEMENTS.values():
        if word.casefold() in (element.name.casefold(), element.symbol.casefold()):
            return f"; write its symbol, {element.symbol!r}"
    return did_you_mean(word, known)


PER_CENT = within(0.0, 100.0)


class PercentMap(Described):
    """Per cent by element: ``{"Cu": 95.6, "Si": 3.9}``. ``also`` names keys beside the elements."""

    def __init__(
        self,
        description: str,
        *,
        bound: Bound = PER_CENT,
        also: Sequence[str] = (),
        required: bool = False,
    ) -> None:
        super().__init__(description, required=required)
        self.bound, self.also = bound, tuple(also)

    def load_value(self, value: Any) -> dict[str, float]:
        return _each_element(value, self.load_number, self.also)

    def load_number(self, value: Any) -> float:
        number = strict_number(value)
        if not self.bound.holds(number):
            raise refused("out_of_bounds", f"must be {self.bound.words()}")
        return number

    def show(self, value: Any) -> Any:
        return {symbol: number_or_none(inner) for symbol, inner in value.items()}

    def request_document(self) -> dict[str, Any]:
        names = {"enum": [*elements.ELEMENTS, *self.also]}
        numbers = {"type": "number", **limits(self.bound)}
        return {"type": "object", "propertyNames": names, "additionalProperties": numbers}

    def answer_document(self) -> dict[str, Any]:
        return {"type": "object", "additionalProperties": {"type": ["number", "null"]}}


class RangeMap(PercentMap):
    """Per cent by element, each a number or ``[low, high]``; loads pairs (low, high).

    With ``open_ended`` either end may be null (no limit there). With ``for_all`` one number or pair
    instead of the map stands for every element and loads as ``{"*": (low, high)}``.
    """

    def __init__(
        self,
        description: str,
        *,
        bound: Bound = PER_CENT,
        also: Sequence[str] = (),
        open_ended: bool = False,
        for_all: bool = False,
        required: bool = False,
    ) -> None:
        super().__init__(description, bound=bound, also=also, required=required)
        self.open_ended, self.for_all = open_ended, for_all

    def load_value(self, value: Any) -> dict[str, Any]:
        if self.for_all and type(value) is not dict:
            return {"*": self.load_range(value)}
        return _each_element(value, self.load_range, self.also)

    def load_range(self, value: Any) -> tuple[float | None, float | None]:
        if type(value) is not list:
            number = self.load_number(value)
            return number, number
        if len(value) != 2:
            raise refused("not_a_number", "a range is [low, high]")
        low, high = (None if end is None and self.open_ended else self.load_number(end) for end in value)
        if low is not None and high is not None and low > high:
            raise refused("out_of_bounds", f"the low end {low:g} is above the high end {high:g}")
        return low, high

    def show(self, value: Any) -> Any:
        return {symbol: [number_or_none(end) for end in ends] for symbol, ends in value.items()}

    def request_document(self) -> dict[str, Any]:
        number = {"type": "number", **limits(self.bound)}
        end = {"anyOf": [number, {"type": "null"}]} if self.open_ended else number
        one = {"anyOf": [number, {"type": "array", "prefixItems": [end, end], "minItems": 2, "maxItems": 2}]}
        names = {"enum": [*elements.ELEMENTS, *self.also]}
        by_element = {"type": "object", "propertyNames": names, "additionalProperties": one}
        return {"anyOf": [*one["anyOf"], by_element]} if self.for_all else by_element

    def answer_document(self) -> dict[str, Any]:
        pair = {"type": "array", "items": {"type": ["number", "null"]}, "minItems": 2, "maxItems": 2}
        return {"type": "object", "additionalProperties": pair}


class NumberMap(Described):
    """Bare numbers by a name of the caller's own or of a list: ``{"sprue": 1, "runner": 4}``."""

    def __init__(
        self,
        description: str,
        *,
        names: Sequence[str] = (),
        bound: Bound | None = None,
        max_items: int = 200,
        required: bool = False,
    ) -> None:
        super().__init__(description, required=required)
        self.names, self.max_items = tuple(names), max_items
        self.bound = bound or within(-math.inf, math.inf)

    def load_value(self, value: Any) -> dict[str, float]:
        if type(value) is not dict:
            raise refused("not_an_object", "an object of names and numbers is needed here")
        if len(value) > self.max_items:
            raise refused("too_many_items", f"at most {self.max_items} entries are taken here")
        loaded: dict[str, float] = {}
        faults: dict[Any, Any] = {}
        for name, inner in value.items():
            try:
                if self.names and name not in self.names:
                    raise refused("unknown_field", "there is no such field", self.names)
                loaded[name] = strict_number(inner)
                if not self.bound.holds(loaded[name]):
                    raise refused("out_of_bounds", f"must be {self.bound.words()}")
            except ValidationError as error:
                faults[name] = error.messages
        if faults:
            raise ValidationError(faults)
        return loaded

    def show(self, value: Any) -> Any:
        return {name: number_or_none(inner) for name, inner in value.items()}

    def request_document(self) -> dict[str, Any]:
        names = {"propertyNames": {"enum": list(self.names)}} if self.names else {}
        numbers = {"type": "number", **limits(self.bound)}
        return {
            "type": "object",
            "additionalProperties": numbers,
            "maxProperties": self.max_items,
            **names,
        }

    def answer_document(self) -> dict[str, Any]:
        return {"type": "object", "additionalProperties": {"type": ["number", "null"]}}
