"""Query parameters: what may follow the question mark, read as strictly as a body.

A resource that takes more than ``units`` declares a :class:`Query`; its fields become the parameters
of the call, of the OpenAPI document and of the SDK's method.
"""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import Any

from marshmallow import ValidationError, fields
from werkzeug.datastructures import MultiDict

from .fields import Choice, Described, Flag, Quantity, Text
from .problems import Fault, did_you_mean, faults_of
from .schemas import Body
from .unitdoc import COMPONENTS

FLAGS = {"true": True, "false": False}


class Query(Body):
    """Optional parameters of one value each: flags, quantities, words and texts."""

    def on_bind_field(self, field_name: str, field_obj: fields.Field[Any]) -> None:
        super().on_bind_field(field_name, field_obj)
        if field_obj.required or type(field_obj) not in (Choice, Flag, Quantity, Text):
            raise TypeError(f"{type(self).__name__}.{field_name} cannot be a query parameter")


def read_query(
    schema: Query | None, args: MultiDict[str, str], own: Mapping[str, tuple[str, ...]], faults: list[Fault]
) -> tuple[dict[str, str], Any]:
    """The parameters that any call has (``own``: name and accepted words), and what the schema makes of
    the others. Every fault is added to ``faults``; then what is returned is not to be used.
    """
    described = {} if schema is None else schema.fields
    words, values = {}, {}
    for name, given in args.lists():
        if name not in own and name not in described:
            known = (*own, *described)
            detail = f"there is no parameter {name[:60]!r}{did_you_mean(name, known)}"
            faults.append(Fault("unknown_parameter", detail, known, parameter=name))
        elif name in own:
            if len(given) == 1 and given[0] in own[name]:
                words[name] = given[0]
            else:
                detail = "one of the listed words is needed"
                faults.append(Fault("not_a_choice", detail, own[name], parameter=name))
        elif len(given) > 1:
            faults.append(Fault("repeated_parameter", "give this parameter once", parameter=name))
        elif isinstance(described[name], Flag) and given[0] not in FLAGS:
            detail = "true or false is needed here"
            faults.append(Fault("not_a_flag", detail, tuple(FLAGS), parameter=name))
        else:
            values[name] = FLAGS[given[0]] if isinstance(described[name], Flag) else given[0]
    if schema is None:
        return words, None
    try:
        return words, schema.load(values)
    except ValidationError as error:
        faults += [replace(fault, parameter=_name(fault), pointer=None) for fault in faults_of(error)]
        return words, None


def _name(fault: Fault) -> str:
    return (fault.pointer or "").removeprefix("/")


def parameters(schema: Query) -> Iterator[dict[str, Any]]:
    """The schema's parameters as the OpenAPI document has them."""
    for name, field in schema.fields.items():
        if isinstance(field, Described):
            shape, bound = _shape(field)
            description = f"{field.description} Must be {bound}." if bound else field.description
            yield {"name": name, "in": "query", "description": description, "schema": shape}


def _shape(field: Described) -> tuple[dict[str, Any], str]:
    """The JSON Schema of a parameter, and its bound in words where the schema does not say it."""
    if not isinstance(field, Quantity):
        return field.request_document(), ""
    told = field.request_document()
    forms = COMPONENTS[told["$ref"].rsplit("/", 1)[1]]["oneOf"]
    text = next(form for form in forms if form["type"] == "string")
    return text, told.get("x-bound", "")
