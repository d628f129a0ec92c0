"""The fields a schema is made of: strict readers with a description, and plain writers.

Every field carries its own piece of the OpenAPI document (:meth:`Described.document`), so that what
is published is what is checked.
"""

import math
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from marshmallow import ValidationError, fields

from ..engine.bounds import FINITE, Bound, above, at_least
from .problems import did_you_mean, refused
from .quantities import LEAST, MOST, BadQuantity, current_view, in_unit, read, write
from .ranges import narrowed
from .unitdoc import bound_words, limits, quantity_answer, quantity_request, series_answer
from .units import UNITS

UNSET = Bound(low=math.nan)
"""Marks a quantity whose author named no bound: the kind's own applies."""

_LOOSE_KINDS = {"temperature_difference": FINITE, "curvature": FINITE, "fraction": at_least(0)}


class Described(fields.Field[Any]):
    """Base of all fields: a description is part of the declaration."""

    def __init__(self, description: str, *, required: bool = False) -> None:
        super().__init__(required=required, metadata={"description": description})
        self.description = description

    def _deserialize(self, value: Any, *_: Any, **__: Any) -> Any:
        return self.load_value(value)

    def _serialize(self, value: Any, *_: Any, **__: Any) -> Any:
        return None if value is None else self.show(value)

    def load_value(self, value: Any) -> Any:
        """What the caller sent, checked; ValidationError (see :func:`refused`) otherwise."""
        return value

    def show(self, value: Any) -> Any:
        """The value as JSON."""
        return value

    def request_document(self) -> dict[str, Any]:
        """The field's JSON Schema in a request."""
        raise NotImplementedError

    def answer_document(self) -> dict[str, Any]:
        """The field's JSON Schema in an answer."""
        return self.request_document()


class Quantity(Described):
    """A number with a unit: ``"25.4 mm"`` or ``{"value": 25.4, "unit": "mm"}``; SI inside.

    ``bound`` is in SI and by default positive (a difference, a curvature: any; a fraction: not
    negative). A fraction may also be a bare number.
    """

    def __init__(self, kind: str, description: str, *, bound: Bound = UNSET, required: bool = False) -> None:
        super().__init__(description, required=required)
        self.kind = kind
        own = _LOOSE_KINDS.get(kind, above(0.0)) if bound is UNSET else bound
        self.bound = narrowed(kind, own)
        self._holds = self.bound.holds
        self._words = bound_words(kind, self.bound)

    def load_value(self, value: Any) -> float:
        try:
            si = read(self.kind, value)
        except BadQuantity as bad:
            raise refused(bad.code, bad.detail, bad.accepted) from None
        if not self._holds(si):
            raise refused("out_of_bounds", f"must be {self._words}")
        return si

    def show(self, value: Any) -> Any:
        return write(self.kind, value)

    def request_document(self) -> dict[str, Any]:
        return quantity_request(self.kind, self.bound, self._words)

    def answer_document(self) -> dict[str, Any]:
        return quantity_answer(self.kind)


class Quantities(Quantity):
    """A list of quantities of one kind, each written as :class:`Quantity`."""

    def __init__(
        self,
        kind: str,
        description: str,
        *,
        bound: Bound = UNSET,
        required: bool = False,
        max_items: int = 200,
        min_items: int = 1,
    ) -> None:
        super().__init__(kind, description, bound=bound, required=required)
        self.max_items, self.min_items = max_items, min_items

    def load_value(self, value: Any) -> Any:
        check_items(value, self.min_items, self.max_items)
        return tuple(each(value, super().load_value))

    def show(self, value: Any) -> Any:
        return [write(self.kind, item) for item in value]

    def request_document(self) -> dict[str, Any]:
        items = super().request_document()
        return {"type": "array", "items": items, "minItems": self.min_items, "maxItems": self.max_items}

    def answer_document(self) -> dict[str, Any]:
        return {"type": "array", "items": super().answer_document()}


class Series(Described):
    """Answers only: many numbers of one kind, ``{"values": [...], "unit"}``."""

    def __init__(self, kind: str, description: str, *, required: bool = False) -> None:
        super().__init__(description, required=required)
        self.kind = kind

    def show(self, value: Any) -> Any:
        units = UNITS.get(self.kind)
        if units is None:
            return {"values": [number_or_none(item) for item in value], "unit": ""}
        unit = units.of(current_view().system)
        shown = [in_unit(float(item), unit) if math.isfinite(item) else None for item in value]
        return {"values": shown, "unit": unit.spelling}

    def request_document(self) -> dict[str, Any]:
        return series_answer(self.kind)


def number_or_none(value: Any) -> float | None:
    """A float for an answer: None and not-finite become None."""
    return float(value) if value is not None and math.isfinite(value) else None


def strict_number(value: Any) -> float:
    """A bare JSON number as float; text, flags and numbers beyond a double are refused."""
    if type(value) is not float and type(value) is not int:
        raise refused("not_a_number", "a bare number is needed here, without quotation marks or unit")
    if value and not LEAST <= abs(value) <= MOST:
        raise refused("out_of_bounds", "the number is too large or too small to be computed with")
    return float(value)


class Number(Described):
    """A bare JSON number (a ratio, a coefficient, a percentage in a ``_percent`` field)."""

    def __init__(self, description: str, *, bound: Bound = FINITE, required: bool = False) -> None:
        super().__init__(description, required=required)
        self.bound = bound

    def load_value(self, value: Any) -> float:
        number = strict_number(value)
        if not self.bound.holds(number):
            raise refused("out_of_bounds", f"must be {self.bound.words()}")
        return number

    def show(self, value: Any) -> Any:
        return number_or_none(value)

    def request_document(self) -> dict[str, Any]:
        return {"type": "number", **limits(self.bound)}

    def answer_document(self) -> dict[str, Any]:
        return {"type": "number"}


class Count(Described):
    """A whole JSON number."""

    def __init__(
        self, description: str, *, low: int = 0, high: int = 1_000_000, required: bool = False
    ) -> None:
        super().__init__(description, required=required)
        self.low, self.high = low, high

    def load_value(self, value: Any) -> int:
        if type(value) is float and value.is_integer():
            value = int(value)
        if type(value) is not int:
            raise refused("not_a_count", "a whole number is needed here")
        if not self.low <= value <= self.high:
            raise refused("out_of_bounds", f"must be at least {self.low} and at most {self.high}")
        return value

    def show(self, value: Any) -> Any:
        return int(value)

    def request_document(self) -> dict[str, Any]:
        return {"type": "integer", "minimum": self.low, "maximum": self.high}

    def answer_document(self) -> dict[str, Any]:
        return {"type": "integer"}


class Text(Described):
    """Free text, such as a name."""

    def __init__(self, description: str, *, longest: int = 200, required: bool = False) -> None:
        super().__init__(description, required=required)
        self.longest = longest

    def load_value(self, value: Any) -> str:
        if type(value) is not str:
            raise refused("not_text", "text is needed here")
        if not value or len(value) > self.longest:
            raise refused("text_length", f"the text must have 1 to {self.longest} characters")
        if not value.isprintable():
            raise refused("not_text", "control characters, and marks that turn writing round, are not taken")
        return value

    def show(self, value: Any) -> Any:
        return str(value)

    def request_document(self) -> dict[str, Any]:
        return {"type": "string", "minLength": 1, "maxLength": self.longest}

    def answer_document(self) -> dict[str, Any]:
        return {"type": "string"}


class Texts(Text):
    """A list of texts, such as names."""

    def __init__(
        self, description: str, *, longest: int = 200, max_items: int = 200, required: bool = False
    ) -> None:
        super().__init__(description, longest=longest, required=required)
        self.max_items = max_items

    def load_value(self, value: Any) -> Any:
        check_items(value, 0, self.max_items)
        return tuple(each(value, super().load_value))

    def show(self, value: Any) -> Any:
        return [str(item) for item in value]

    def request_document(self) -> dict[str, Any]:
        return {"type": "array", "items": super().request_document(), "maxItems": self.max_items}

    def answer_document(self) -> dict[str, Any]:
        return {"type": "array", "items": super().answer_document()}


class Flag(Described):
    """true or false."""

    def load_value(self, value: Any) -> bool:
        if type(value) is not bool:
            raise refused("not_a_flag", "true or false is needed here")
        return value

    def show(self, value: Any) -> Any:
        return bool(value)

    def request_document(self) -> dict[str, Any]:
        return {"type": "boolean"}


class Choice(Described):
    """One word of a list; ``aliases`` are other words of the trade for the same choice."""

    def __init__(
        self,
        options: Sequence[str],
        description: str,
        *,
        aliases: Mapping[str, str] | None = None,
        required: bool = False,
    ) -> None:
        super().__init__(description, required=required)
        self.options = tuple(options)
        self.aliases = dict(aliases or {})
        self._known = {option: option for option in options} | self.aliases

    def load_value(self, value: Any) -> str:
        if type(value) is not str:
            raise refused("not_text", "text is needed here", self.options)
        found = self._known.get(value)
        if found is None:
            hint = did_you_mean(value, self._known)
            raise refused("not_a_choice", f"{value[:60]!r} is not one of the choices{hint}", self.options)
        return found

    def request_document(self) -> dict[str, Any]:
        return {"type": "string", "enum": list(self._known)}

    def answer_document(self) -> dict[str, Any]:
        return {"type": "string", "enum": list(self.options)}


class Choices(Choice):
    """A list of different words of one list."""

    def load_value(self, value: Any) -> Any:
        check_items(value, 0, len(self.options))
        found = each(value, super().load_value)
        return tuple(dict.fromkeys(found))

    def show(self, value: Any) -> Any:
        return list(value)

    def request_document(self) -> dict[str, Any]:
        return {"type": "array", "items": super().request_document(), "maxItems": len(self.options)}

    def answer_document(self) -> dict[str, Any]:
        return {"type": "array", "items": super().answer_document()}


def check_items(value: Any, low: int, high: int) -> None:
    """Refuse what is not a list of ``low`` to ``high`` items."""
    if type(value) is not list:
        raise refused("not_an_array", "a JSON array is needed here")
    if len(value) > high:
        raise refused("too_many_items", f"at most {high} items are taken here; {len(value)} were sent")
    if len(value) < low:
        raise refused("too_few_items", f"at least {low} item{'s are' if low > 1 else ' is'} needed here")


def each(items: Iterable[Any], load: Any) -> list[Any]:
    """Load every item; the faults of all of them are raised together, by index."""
    loaded: list[Any] = []
    faults: dict[Any, Any] = {}
    for index, item in enumerate(items):
        try:
            loaded.append(load(item))
        except ValidationError as error:
            faults[index] = error.messages
    if faults:
        raise ValidationError(faults)
    return loaded
