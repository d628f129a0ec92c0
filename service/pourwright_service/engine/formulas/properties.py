"""Properties of metals that nobody has measured, by rule; and what follows from those that are.

The density at 20 degrees, the density of the liquid, the linear contraction and the shrinkage on
freezing are one account: any three give the fourth, so no two of them are ever taken from
different places without noticing.
"""

from ..bounds import above, at_least, within
from ..formula import (
    JoulePerKilogramKelvin,
    Kelvin,
    KelvinDifference,
    KilogramPerCubicMetre,
    MetrePerSecond,
    MetrePerSecondSquared,
    NewtonPerMetre,
    Ratio,
    formula,
)


@formula(
    "rho_l = rho_il rho / rho_is",
    symbols={"rho_il": "ideal_liquid_density", "rho": "density", "rho_is": "ideal_density"},
    source="ESTIMATED-BY-RULE",
    place="ideal mixing corrected by the excess volume of the solid, within 2 %",
    valid={"ideal_liquid_density": above(0), "density": above(0), "ideal_density": above(0)},
)
def density_liquid_by_rule(
    ideal_liquid_density: KilogramPerCubicMetre,
    density: KilogramPerCubicMetre,
    ideal_density: KilogramPerCubicMetre,
) -> KilogramPerCubicMetre:
    """Density of a liquid alloy at its liquidus from the densities of its elements.

    An alloy seldom has exactly the volume of its elements. Whatever it lacks or has too much as a
    solid, it is taken to lack or have as a liquid as well.

    ideal_liquid_density: rho_il of the mixed liquid elements at their melting points, volumes added up,
    kg/m^3, above 0. density: rho of the alloy at 20 degrees, kg/m^3, above 0. ideal_density: rho_is of
    the mixed solid elements at 20 degrees, kg/m^3, above 0. Returns rho_l, kg/m^3. Source:
    ESTIMATED-BY-RULE, within 2 %.

    >>> round(density_liquid_by_rule(7996.0, 8960.0, 8960.0))
    7996
    """
    return ideal_liquid_density * density / ideal_density


@formula(
    "b = 1 - rho_l (1 + s)**3 / rho",
    symbols={"rho_l": "density_liquid", "s": "contraction", "rho": "density"},
    source="DERIVED",
    place="the mass of the metal is the same before and after",
    valid={"density_liquid": above(0), "contraction": within(-0.05, 0.2), "density": above(0)},
)
def shrinkage_from_densities(
    density_liquid: KilogramPerCubicMetre, contraction: Ratio, density: KilogramPerCubicMetre
) -> Ratio:
    """Shrinkage on freezing, as a share of the liquid's volume, from both densities.

    A litre of liquid freezes to (1 - b) litre of solid, which then contracts by s in every
    direction on its way to 20 degrees.

    density_liquid: rho_l at the liquidus, kg/m^3, above 0. contraction: s, linear, from -0.05 to 0.2.
    density: rho of the solid at 20 degrees, kg/m^3, above 0. Returns b. Source: DERIVED from the
    conservation of mass.

    >>> round(shrinkage_from_densities(7990.0, 0.0, 8320.0), 4)
    0.0397
    """
    return 1.0 - density_liquid * (1.0 + contraction) ** 3 / density


@formula(
    "rho_l = rho (1 - b) / (1 + s)**3",
    symbols={"rho": "density", "b": "solidification_shrinkage", "s": "contraction"},
    source="DERIVED",
    place="the mass of the metal is the same before and after",
    valid={
        "density": above(0),
        "solidification_shrinkage": within(-0.2, 0.4),
        "contraction": within(-0.05, 0.2),
    },
)
def density_liquid_from_shrinkage(
    density: KilogramPerCubicMetre, solidification_shrinkage: Ratio, contraction: Ratio
) -> KilogramPerCubicMetre:
    """Density of the liquid at the liquidus from the shrinkage on freezing.

    density: rho of the solid at 20 degrees, kg/m^3, above 0. solidification_shrinkage: b by volume, from
    -0.2 (irons that expand) to 0.4. contraction: s, linear, from -0.05 to 0.2. Returns rho_l, kg/m^3.
    Source: DERIVED from the conservation of mass.

    >>> round(density_liquid_from_shrinkage(8320.0, 0.0397, 0.0))
    7990
    """
    return density * (1.0 - solidification_shrinkage) / (1.0 + contraction) ** 3


@formula(
    "c_m = (c_l + 1.15 c) / 2",
    symbols={"c_l": "specific_heat_liquid", "c": "specific_heat"},
    source="ESTIMATED-BY-RULE",
    place="the mean of the liquid and of the hot solid, which holds 15 % more than at 20 degrees",
    valid={"specific_heat_liquid": above(0), "specific_heat": above(0)},
)
def specific_heat_while_freezing(
    specific_heat_liquid: JoulePerKilogramKelvin, specific_heat: JoulePerKilogramKelvin
) -> JoulePerKilogramKelvin:
    """Specific heat of an alloy between liquidus and solidus, without its latent heat.

    specific_heat_liquid: c_l, J/(kg K), above 0. specific_heat: c of the solid at 20 degrees, J/(kg K),
    above 0. Returns c_m, J/(kg K). Source: ESTIMATED-BY-RULE, within 10 %.

    >>> specific_heat_while_freezing(1180.0, 900.0)
    1107.5
    """
    return (specific_heat_liquid + 1.15 * specific_heat) / 2.0


@formula(
    "c_h = 1.15 c",
    symbols={"c": "specific_heat"},
    source="ESTIMATED-BY-RULE",
    place="the hot solid holds 15 % more than at 20 degrees",
    valid={"specific_heat": above(0)},
)
def specific_heat_of_hot_solid(specific_heat: JoulePerKilogramKelvin) -> JoulePerKilogramKelvin:
    """Specific heat of an alloy just below its solidus.

    specific_heat: c of the solid at 20 degrees, J/(kg K), above 0. Returns c_h, J/(kg K). Source:
    ESTIMATED-BY-RULE, within 10 %.

    >>> round(specific_heat_of_hot_solid(400.0), 9)
    460.0
    """
    return 1.15 * specific_heat


@formula(
    "T_p = T_l + dT",
    symbols={"T_l": "liquidus", "dT": "superheat"},
    source="ESTIMATED-BY-RULE",
    place="60 K above the liquidus for heavy castings, 200 K for the thinnest",
    valid={"liquidus": above(0), "superheat": at_least(0)},
)
def pouring_temperature_by_rule(liquidus: Kelvin, superheat: KelvinDifference) -> Kelvin:
    """A pouring temperature for an alloy whose range nobody has printed.

    liquidus: T_l, K, above 0. superheat: dT, K, at least 0. Returns T_p, K. Source: ESTIMATED-BY-RULE.

    >>> pouring_temperature_by_rule(888.0, 60.0)
    948.0
    """
    return liquidus + superheat


@formula(
    "v_c = 2 (gamma g / rho_l)**(1/4)",
    symbols={"gamma": "surface_tension", "g": "gravity", "rho_l": "density_liquid"},
    source="DERIVED",
    place="rho v**2 / 2 = 2 gamma / r with r = sqrt(gamma / (rho g)): the height of a resting drop",
    valid={"surface_tension": above(0), "gravity": above(0), "density_liquid": above(0)},
)
def critical_velocity(
    surface_tension: NewtonPerMetre,
    gravity: MetrePerSecondSquared,
    density_liquid: KilogramPerCubicMetre,
) -> MetrePerSecond:
    """The velocity above which metal leaving a gate throws its skin over and folds it in.

    surface_tension: gamma, N/m, above 0. gravity: g, m/s^2, above 0. density_liquid: rho_l, kg/m^3,
    above 0. Returns v_c, m/s. Source: DERIVED: the pressure of the stream against that of a surface
    curved as strongly as a resting drop's.

    >>> round(critical_velocity(0.914, 9.81, 2385.0), 3)
    0.495
    """
    return 2.0 * (surface_tension * gravity / density_liquid) ** 0.25
