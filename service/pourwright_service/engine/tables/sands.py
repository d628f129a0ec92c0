"""Moulding sands as they are mixed: what holds each, how much of it, how wet it may be.

Shares are of the sand's weight but for water, which is of the whole mix. Where a recipe is printed, its
source stands beside it; the rest is from memory.
"""

from dataclasses import dataclass

MEMORY = "FROM-MEMORY"


@dataclass(frozen=True, slots=True, kw_only=True)
class SandSystem:
    """One way of holding sand together.

    ``binder_share`` None: only the maker's card knows. ``others``: further additions, share and source by
    name. ``water_share`` None: no water is added.
    """

    binder: str
    binder_share: float | None
    least_binder: float | None
    most_binder: float | None = None
    source: str
    wettest: float
    driest: float | None = None
    water_share: float | None = None
    others: tuple[tuple[str, float, str], ...] = ()


SYSTEMS = {
    "green sand": SandSystem(
        binder="bentonite",
        binder_share=0.09,
        least_binder=0.05,
        most_binder=0.15,
        source="GREEN-SAND-RECIPE",
        wettest=0.05,
        driest=0.025,
        water_share=0.035,
    ),
    "oil-bonded sand": SandSystem(
        binder="organoclay",
        binder_share=0.06,
        least_binder=0.04,
        source="OIL-SAND-RECIPE",
        wettest=0.005,
        others=(("oil", 0.03, "OIL-SAND-RECIPE"), ("methanol", 0.002, "OIL-SAND-RECIPE")),
    ),
    "silicate sand": SandSystem(
        binder="sodium silicate",
        binder_share=0.035,
        least_binder=0.03,
        source="SILICATE-SHARE",
        wettest=0.005,
    ),
    "resin sand": SandSystem(
        binder="resin", binder_share=None, least_binder=None, source=MEMORY, wettest=0.002
    ),
}

SODA, SOLIDS = 0.1385, 0.4705
"""Shares of Na2O, and of all that is not water, in silicate of ratio 2.4 (SILICATE-GRADES, RU)."""

RAMMED = 1600.0
"""kg/m^3 of rammed sand, as worked examples use; a weighed measure tells better."""

GAS_IN_PRACTICE = 1.0
"""Carbon dioxide blown for each kilogram of silicate at most; most of it escapes (from memory: 0.5 to 1)."""

GAS_MOLAR_MASS, SODA_MOLAR_MASS = 44.009, 61.979
"""g/mol of CO2 and Na2O, from the standard atomic weights."""
