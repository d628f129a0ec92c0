"""Schemas: what a request may hold, and how an answer is laid out.

Import every field from here::

    class GatingRequest(Body):
        \"\"\"What is to be filled, and how.\"\"\"
        makes = GatingCase
        poured_mass = Quantity("mass", "Metal through this choke, gating included.", required=True)
"""

import dataclasses
from collections.abc import Mapping
from typing import Any, ClassVar

from marshmallow import RAISE, Schema, ValidationError, fields, missing, post_load

from ..engine.bounds import FINITE, Bound, above, at_least, within
from ..engine.ledger import Say
from .fields import (
    Choice,
    Choices,
    Count,
    Described,
    Flag,
    Number,
    Quantities,
    Quantity,
    Series,
    Text,
    Texts,
    check_items,
    each,
)
from .lookups import AlloyField, ElementField, MediumField, NumberMap, PercentMap, RangeMap
from .problems import Fault, refused, refused_at
from .sentences import render

__all__ = [
    "FINITE",
    "AlloyField",
    "Body",
    "Bound",
    "Choice",
    "Choices",
    "Count",
    "ElementField",
    "Flag",
    "MediumField",
    "Nested",
    "Number",
    "NumberMap",
    "PercentMap",
    "Quantities",
    "Quantity",
    "RangeMap",
    "Result",
    "Sentence",
    "Sentences",
    "Series",
    "Text",
    "Texts",
    "Variant",
    "above",
    "at_least",
    "refused",
    "refused_at",
    "within",
]


class Sentence(Text):
    """Answers only: a sentence, its quantities written in the reader's units."""

    def show(self, value: Any) -> str:
        return render(value) if isinstance(value, Say) else str(value)


class Sentences(Texts):
    """Answers only: several of them."""

    def show(self, value: Any) -> list[str]:
        return [render(one) if isinstance(one, Say) else str(one) for one in value]


class _Checked(Schema):
    """Refuses, while the program loads, a field that nobody described."""

    def on_bind_field(self, field_name: str, field_obj: fields.Field[Any]) -> None:
        if not isinstance(field_obj, Described) or not field_obj.description.strip():
            raise TypeError(
                f"{type(self).__name__}.{field_name}: use a field of schemas.py, with a description"
            )


class Body(_Checked):
    """A request's object. ``makes`` is what is built of it: a frozen dataclass of the engine, or dict.

    An absent optional field becomes the dataclass's own default, else None; with ``dict`` it is
    left out. Unknown fields are refused. Override :meth:`make` where the object is not simply built
    from the fields by name.
    """

    makes: ClassVar[type] = dict

    class Meta:
        unknown = RAISE

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        names = tuple(str(field.data_key or name) for name, field in self.load_fields.items())
        unknown: Any = Fault("unknown_field", "there is no such field", names)
        self.error_messages = {**self.error_messages, "unknown": unknown}
        if dataclasses.is_dataclass(self.makes) and type(self).make is Body.make:
            built = {field.name for field in dataclasses.fields(self.makes) if field.init}
            ours = set(self.load_fields)
            if not ours <= built:
                raise TypeError(f"{type(self).__name__}: {self.makes.__name__} has no {sorted(ours - built)}")

    def on_bind_field(self, field_name: str, field_obj: fields.Field[Any]) -> None:
        super().on_bind_field(field_name, field_obj)
        if not field_obj.required:
            field_obj.load_default = missing if self._has_default(field_name) else None

    def _has_default(self, name: str) -> bool:
        if not dataclasses.is_dataclass(self.makes):
            return True
        for field in dataclasses.fields(self.makes):
            if field.name == name:
                return not (
                    field.default is dataclasses.MISSING and field.default_factory is dataclasses.MISSING
                )
        return False

    @post_load
    def build(self, data: dict[str, Any], **_: Any) -> Any:
        return self.make(data)

    def make(self, data: dict[str, Any]) -> Any:
        """The object built of the loaded fields; ``refused_at`` is how to refuse them together.

        An absent field for which the dataclass has a default is not in ``data``.
        """
        return data if self.makes is dict else self.makes(**data)


class Result(_Checked):
    """A part of an answer, written from a dictionary or an object of SI numbers.

    A field with ``required=True`` is always there and never null; any other may be null.
    """


class Nested(Described):
    """An object inside an object, or with ``many`` an array of them."""

    def __init__(
        self,
        schema: type[Schema],
        description: str,
        *,
        many: bool = False,
        max_items: int = 200,
        min_items: int = 0,
        required: bool = False,
    ) -> None:
        super().__init__(description, required=required)
        self.schema_class = schema
        self.schema = schema()
        self.many, self.max_items, self.min_items = many, max_items, min_items

    def load_value(self, value: Any) -> Any:
        if not self.many:
            return self.load_one(value)
        check_items(value, self.min_items, self.max_items)
        return tuple(each(value, self.load_one))

    def load_one(self, value: Any) -> Any:
        return self.schema.load(value)

    def show(self, value: Any) -> Any:
        if self.many:
            return [self.schema.dump(item) for item in value]
        return self.schema.dump(value)


class Variant(Nested):
    """An object that is one of several, told apart by the word in its field ``key``.

    ``Variant("shape", {"plate": PlateBody, "bar": BarBody}, "A section.", many=True)``; each of the
    schemas declares the key itself: ``shape = Choice(("plate",), "...", required=True)``.
    """

    def __init__(
        self,
        key: str,
        variants: Mapping[str, type[Body]],
        description: str,
        *,
        many: bool = False,
        max_items: int = 200,
        min_items: int = 0,
        required: bool = False,
    ) -> None:
        first = next(iter(variants.values()))
        super().__init__(
            first, description, many=many, max_items=max_items, min_items=min_items, required=required
        )
        self.key = key
        self.variants = {word: schema() for word, schema in variants.items()}
        for word, schema in self.variants.items():
            if key not in schema.fields or not schema.fields[key].required:
                raise TypeError(f"the variant {word} must declare a required field {key}")

    def load_one(self, value: Any) -> Any:
        if type(value) is not dict:
            raise refused("not_an_object", "a JSON object is needed here")
        word = value.get(self.key)
        schema = self.variants.get(word) if type(word) is str else None
        if schema is None:
            code = "missing_field" if word is None else "not_a_choice"
            detail = f"this field says which {self.key} the object has"
            raise ValidationError({self.key: [Fault(code, detail, tuple(self.variants))]})
        return schema.load(value)
