# Written by `python -m pourwright_service models`; change the service's schemas, not this file.

"""The operations of pattern."""

from __future__ import annotations

from typing import TYPE_CHECKING

from .transport import Transport

if TYPE_CHECKING:
    from collections.abc import Mapping
    from typing import Literal

    from .answer import Answer, Remedies, Units
    from .models.common import PropertiesInput
    from .models.pattern import PatternSizesResult
    from .quantity import FractionInput, JsonObject, QuantityInput


class PatternCalls(Transport):
    """The operations of pattern."""

    def pattern(
        self,
        *,
        length: QuantityInput | None = None,
        width: QuantityInput | None = None,
        height: QuantityInput | None = None,
        alloy: str | None = None,
        properties: PropertiesInput | JsonObject | None = None,
        machined_faces: Mapping[str, float] | None = None,
        machining: QuantityInput | None = None,
        hindrance: Mapping[str, float] | None = None,
        master_contraction: FractionInput | None = None,
        draft_degrees: float | None = None,
        rapping: QuantityInput | None = None,
        process: Literal["hand-moulded clay-bonded sand", "chemically bonded sand"] | None = None,
        tolerance: QuantityInput | None = None,
        pattern_mass: QuantityInput | None = None,
        pattern_density: QuantityInput | None = None,
        units: Units | None = None,
        working: bool = False,
        remedies: Remedies | None = None,
    ) -> Answer[PatternSizesResult]:
        """How large the pattern must be.

        Machining, contraction (free or held back, axis by axis), draft and rapping on a finished part; the
        scale of a printed pattern; what an old part used as a pattern would give, and what it must be built
        up by; the casting's mass from that of a solid pattern, wax or print; the tolerance that this way of
        moulding holds.

        length: Of the finished part, or of an old one that is to be copied.
        width: Its width.
        height: Its height, the way the pattern is drawn.
        alloy: The alloy; its contraction is looked up.
        properties: Properties of the metal that you know better, such as contraction.
        machined_faces: How many of the two ends of each axis are machined; none if left out.
        machining: Taken off each machined face; left out, by table.
        hindrance: Share of the contraction that a core or the mould holds back along each axis: 0, free (the
            default), to 1.
        master_contraction: Contraction of a metal pattern that is cast from the one asked for (a master).
        draft_degrees: Draft of the sides, degrees.
        rapping: What rapping widens the mould by.
        process: How it is moulded; it says which tolerance is held.
        tolerance: Total tolerance wanted on the largest size.
        pattern_mass: Mass of a solid pattern, wax or print.
        pattern_density: Density of its material.
        units: System of units of the answer; it never changes a decision.
        working: Whether the answer shows its working.
        remedies: Remedies for what failed (the default), for all that does not pass, or none.
        """
        from .models.pattern import PatternSizesResult

        return self._ask(
            "/v1/pattern",
            PatternSizesResult,
            {
                "length": length,
                "width": width,
                "height": height,
                "alloy": alloy,
                "properties": properties,
                "machined_faces": machined_faces,
                "machining": machining,
                "hindrance": hindrance,
                "master_contraction": master_contraction,
                "draft_degrees": draft_degrees,
                "rapping": rapping,
                "process": process,
                "tolerance": tolerance,
                "pattern_mass": pattern_mass,
                "pattern_density": pattern_density,
            },
            units,
            working,
            remedies,
        )
