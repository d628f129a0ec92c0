"""What the OpenAPI document says of quantities: one component per kind, with its closed unit list.

Fields ask for the component that describes them; the document collects :data:`COMPONENTS`.
"""

import math
import re
from typing import Any

from ..engine.bounds import Bound
from .quantities import LONGEST, in_unit
from .units import UNITS

COMPONENTS: dict[str, dict[str, Any]] = {}
"""Schemas of quantities by name, filled as fields are declared."""


def bound_words(kind: str, bound: Bound) -> str:
    """A bound in words, in the metric unit of the kind."""
    units = UNITS.get(kind)

    def number(value: float) -> str:
        if units is None:
            return f"{value:g}"
        return f"{in_unit(value, units.metric):.6g} {units.metric.spelling}"

    parts = []
    if math.isfinite(bound.low):
        parts.append(f"{'more than' if bound.low_open else 'at least'} {number(float(bound.low))}")
    if math.isfinite(bound.high):
        parts.append(f"{'less than' if bound.high_open else 'at most'} {number(float(bound.high))}")
    return " and ".join(parts) or "a finite number"


def limits(bound: Bound) -> dict[str, Any]:
    """A bound on a bare number as JSON Schema; exclusive ends are exclusive."""
    shown: dict[str, Any] = {}
    if math.isfinite(bound.low):
        shown["exclusiveMinimum" if bound.low_open else "minimum"] = bound.low
    if math.isfinite(bound.high):
        shown["exclusiveMaximum" if bound.high_open else "maximum"] = bound.high
    return shown


_NUMBER = r"([0-9]+ +)?[0-9]+/0*[1-9][0-9]*|([0-9]+(\.[0-9]*)?|\.[0-9]+)([eE][+-]?[0-9]{1,2})?"


def quantity_request(kind: str, bound: Bound, words: str) -> dict[str, Any]:
    """The component of a quantity in a request: text, or an object of value and unit."""
    units = UNITS[kind]
    positive = bound.low >= 0 and kind != "temperature"
    not_zero = positive and (bound.low_open or bound.low > 0)
    name = kind if not positive else f"{'positive' if not_zero else 'nonnegative'}_{kind}"
    plain = bound.low in (0.0, -math.inf) and bound.high == math.inf
    value: dict[str, Any] = {"type": "number", "description": "The number."}
    if positive:
        value["exclusiveMinimum" if not_zero else "minimum"] = 0
    sign = "" if positive else "-?"
    nonzero = "(?=[0-9. ]*[1-9])" if not_zero else ""
    spellings = "|".join(re.escape(spelling) for spelling in units.spellings).replace("\\ ", " ")
    examples = [f"{number} {units.metric.spelling}" for number in ("12.5", "1 1/2")]
    forms: list[dict[str, Any]] = [
        {
            "type": "string",
            "pattern": f"^{nonzero}{sign}({_NUMBER}) *({spellings})$",
            "maxLength": LONGEST,
            "examples": examples,
        },
        {
            "type": "object",
            "additionalProperties": False,
            "required": ["value", "unit"],
            "properties": {
                "value": value,
                "unit": {"enum": list(units.spellings), "description": "One of the units of this kind."},
            },
        },
    ]
    if kind == "fraction":
        forms.insert(0, {"type": "number", **limits(bound)})
    COMPONENTS.setdefault(
        name,
        {
            "title": name.replace("_", " "),
            "description": f"A {kind.replace('_', ' ')} with its unit: {', '.join(units.spellings)}. "
            "A number and a unit as text (decimals, fractions such as 2 1/2, exponents; no comma), "
            "or an object."
            + (" A bare number counts as a ratio: 0.05 is 5 %." if kind == "fraction" else ""),
            "oneOf": forms,
        },
    )
    ref: dict[str, Any] = {"$ref": f"#/components/schemas/{name}"}
    return ref if plain else {**ref, "x-bound": words}


def quantity_answer(kind: str) -> dict[str, Any]:
    """The component of a quantity in an answer; bare kinds are plain numbers."""
    if kind == "money":
        units: dict[str, Any] = {
            "type": "string",
            "description": "The request's currency, or the word money.",
        }
    elif kind not in UNITS:
        return {"type": "number"}
    else:
        listed = UNITS[kind]
        spellings = dict.fromkeys((listed.metric.spelling, listed.us.spelling))
        units = {"enum": list(spellings), "description": "Metric or US, as the call asked."}
    name = f"{kind}_value"
    COMPONENTS.setdefault(
        name,
        {
            "title": name.replace("_", " "),
            "description": f"A {kind.replace('_', ' ')} at full precision.",
            "type": "object",
            "required": ["value", "unit"],
            "properties": {"value": {"type": "number", "description": "The number."}, "unit": units},
        },
    )
    return {"$ref": f"#/components/schemas/{name}"}


def series_answer(kind: str) -> dict[str, Any]:
    """Many numbers of one kind in an answer."""
    listed = UNITS.get(kind)
    units = dict.fromkeys((listed.metric.spelling, listed.us.spelling)) if listed else {"": None}
    return {
        "type": "object",
        "required": ["values", "unit"],
        "properties": {
            "values": {
                "type": "array",
                "items": {"type": ["number", "null"]},
                "description": "The numbers in order.",
            },
            "unit": {"enum": list(units), "description": "The unit of all of them."},
        },
    }
