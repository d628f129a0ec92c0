"""Random plan requests that the schema accepts, sensible and senseless, and a check of pointers."""

import math
import random
from collections.abc import Callable, Mapping
from typing import Any

from pourwright_service.api.schemas import Nested, Variant
from pourwright_service.engine.geometry.sections import AXES, DIMENSIONS, FACE_GROUPS, FACES
from pourwright_service.engine.tables.alloys import ALLOYS
from pourwright_service.engine.tables.moulds import MOULDS

Maker = Callable[[], Any]
ELEMENTS = ("Cu", "Zn", "Sn", "Pb", "Al", "Si", "Fe", "Mn", "Ni", "Mg", "Be", "Cd", "P", "rest")


class Requests:
    """One request after the other, the same for the same seed."""

    def __init__(self, seed: int) -> None:
        self.random = random.Random(seed)

    def plan(self) -> dict[str, Any]:
        """A plan request; about half of them can be computed."""
        pick, odd = self.random.choice, self.random.uniform
        sections = [self._section(number) for number in range(self.random.randint(1, 3))]
        groups: dict[str, Maker] = {
            "gating": self._gating,
            "riser": self._riser,
            "stock": lambda: [self._item(number) for number in range(self.random.randint(1, 5))],
            "shop": self._shop,
            "pour": lambda: self.some(
                0.4, pour_time=lambda: self._by("s", 0.1, 1000.0), gate_edge=self.length
            ),
            "gravity": lambda: self._by("m/s^2", 0.1, 100.0),
            "mould_constant": lambda: self._by("min/cm^2", 0.1, 30.0),
            "pouring_temperature": lambda: f"{odd(200.0, 2000.0):.0f} degC",
            "temperature_fall": lambda: f"{odd(0.0, 300.0):.0f} K",
            "heel": lambda: {"mass": self._by("kg", 0.01, 10.0), "alloy": pick([*ALLOYS])},
            "properties": lambda: self.some(
                0.4,
                density_liquid=lambda: self._by("kg/m^3", 500.0, 12000.0),
                contraction=lambda: f"{odd(-1.0, 5.0):.2f} %",
                solidification_shrinkage=lambda: f"{odd(-5.0, 20.0):.2f} %",
                gate_velocity=lambda: self._by("m/s", 0.05, 2.0),
            ),
        }
        request = self.some(0.35, **groups)
        request["part"] = {**self._part(), **({"sections": sections} if odd(0, 1) < 0.9 else {})}
        request |= self.some(0.9, alloy=lambda: pick([*ALLOYS]), mould=lambda: {"medium": pick([*MOULDS])})
        return request

    def some(self, share: float, **makers: Maker) -> dict[str, Any]:
        """Each field with this probability."""
        return {name: make() for name, make in makers.items() if self.random.random() < share}

    def length(self, low: float = 1.0, high: float = 400.0) -> str:
        return self._by("mm", low, high)

    def _by(self, unit: str, low: float, high: float) -> str:
        return f"{math.exp(self.random.uniform(math.log(low), math.log(high))):.4g} {unit}"

    def _part(self) -> dict[str, Any]:
        return self.some(
            0.1,
            volume=lambda: self._by("cm^3", 0.1, 1e4),
            height=self.length,
            length=self.length,
            width=self.length,
            wall=lambda: self.length(0.5, 80.0),
            height_in_cope=lambda: self.random.choice(["0 mm", self.length()]),
            parting_area=lambda: self._by("cm^2", 0.1, 400.0),
            cores=lambda: [
                {"name": "core", **self.some(0.6, diameter=self.length, length=self.length)} for _ in "12"
            ],
        )

    def _section(self, number: int) -> dict[str, Any]:
        pick, chance = self.random.choice, self.random.random
        shape = pick([*DIMENSIONS])
        wild = chance() < 0.1
        body: dict[str, Any] = {"name": f"s{number}", "shape": shape}
        for size in DIMENSIONS[shape]:
            unit, low, high = {
                "volume": ("cm^3", 1.0, 1e4),
                "cooling_area": ("cm^2", 1.0, 1e3),
            }.get(size, ("mm", 0.01 if wild else 3.0, 1e5 if wild else 300.0))
            body[size] = self._by(unit, low, high)
        if shape == "tube":
            body["inner_diameter"] = f"{float(body['outer_diameter'].split()[0]) * 0.6:.4g} mm"
        if shape == "ring":
            body["mean_diameter"] = f"{float(body['section_width'].split()[0]) * 3.0:.4g} mm"
        names = [*FACES[shape], *FACE_GROUPS[shape]]
        body |= self.some(
            0.2,
            faces=lambda: {pick(names): pick(["cooling", "joined", "cored", "insulated"])},
            joins=lambda: [{"to": f"s{max(number - 1, 0)}", "area": self._by("cm^2", 1.0, 30.0)}],
        )
        if AXES[shape] and chance() < 0.4:
            body["bores"] = [
                {"diameter": self.length(1.0, 60.0), **self.some(0.3, axis=lambda: pick([*AXES[shape]]))}
            ]
        return body

    def _gating(self) -> dict[str, Any]:
        odd = self.random.uniform
        found = self.some(
            0.2,
            gates=lambda: self.random.randint(1, 6),
            head=lambda: self.length(5.0, 900.0),
            sprue_height=lambda: self.length(5.0, 900.0),
            choke_area=lambda: self._by("cm^2", 0.1, 30.0),
            ratio=lambda: {"sprue": 1, "runner": odd(0.5, 4.0), "gate": odd(0.5, 4.0)},
            rounding_step=lambda: self.random.choice(["0 mm", "1 mm", "5 mm"]),
            basin_depth=lambda: self.random.choice(["0 mm", self.length()]),
        )
        return found | self.some(0.6, gate_position=lambda: self.random.choice(["top", "bottom", "parting"]))

    def _riser(self) -> dict[str, Any]:
        pick, odd = self.random.choice, self.random.uniform
        return self.some(
            0.25,
            position=lambda: pick(["top", "side", "none"]),
            section=lambda: pick(["s0", "s1", "nowhere"]),
            face=lambda: pick(["top", "bottom", "left"]),
            shape=lambda: pick(["cylinder", "domed", "ball"]),
            height_to_diameter=lambda: odd(0.2, 5.0),
            diameter=self.length,
            sleeve=lambda: {"modulus_ratio": odd(1.0, 5.0)},
            neck=lambda: self.some(0.6, length=self.length, thickness=self.length),
            feeding_efficiency=lambda: f"{odd(1.0, 100.0):.1f} %",
            criteria=lambda: self.random.sample(["time", "modulus", "volume"], 2),
            rounding_step=lambda: pick(["0 mm", "1 mm", "10 mm"]),
            open=lambda: pick([True, False]),
        )

    def _item(self, number: int) -> dict[str, Any]:
        left, shares = 100.0, {}
        for element in self.random.sample(ELEMENTS, 3):
            shares[element] = round(self.random.uniform(0.0, left), 2)
            left -= shares[element]
        return {
            "name": self.random.choice(["bolts", "sealed valve", "galvanised nails", f"item {number}"]),
            "composition_percent": shares,
            **self.some(
                0.3,
                available=lambda: self._by("kg", 0.01, 30.0),
                price=lambda: self._by("/kg", 0.1, 20.0),
                piece=lambda: self._by("g", 1.0, 3000.0),
                condition=lambda: [self.random.choice(["clean", "damp", "oily", "sealed"])],
            ),
        }

    def _shop(self) -> dict[str, Any]:
        return self.some(
            0.5,
            crucibles=lambda: [{"name": "pot", "brim_volume": self._by("L", 0.01, 10.0)}],
            flasks=lambda: [
                {"length": self.length(50.0), "width": self.length(50.0), "heights": [self.length(20.0)]}
                for _ in "12"
            ],
            least_pig=lambda: f"{self.random.uniform(0.0, 200.0):.0f} %",
            fuel=lambda: self.random.choice(["propane", "electric"]),
        )


MAPS = ("RangeMap", "CompositionField", "PercentMap", "NumberMap", "Choices", "Quantities")


def is_place(schema: Any, pointer: str, sent: Any) -> bool:
    """Whether a pointer is a place of the schema's request; items of lists must have been sent."""
    steps = [step.replace("~1", "/").replace("~0", "~") for step in pointer.split("/")[1:]]
    return _walks(schema, steps, sent)


def _walks(schema: Any, steps: list[str], sent: Any) -> bool:
    if not steps:
        return True
    named = {field.data_key or name: field for name, field in schema.fields.items()}
    if steps[0] not in named:
        return False
    field, rest = named[steps[0]], steps[1:]
    inner = sent.get(steps[0]) if isinstance(sent, Mapping) else None
    if not isinstance(field, Nested):
        return not rest or type(field).__name__ in MAPS
    if field.many and rest:
        if not (rest[0].isdigit() and isinstance(inner, list) and int(rest[0]) < len(inner)):
            return False
        inner, rest = inner[int(rest[0])], rest[1:]
    if isinstance(field, Variant):
        shape = inner[field.key] if isinstance(inner, Mapping) else ""
        return not rest or _walks(field.variants[shape], rest, inner)
    return _walks(field.schema, rest, inner)
