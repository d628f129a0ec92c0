"""Random charges for the tests: stock, limits around a mix that can be had, and recoveries."""

from dataclasses import replace

import numpy as np

from pourwright_service.engine.decide.charge import ChargeCase, StockItem

ELEMENTS = ("Cu", "Sn", "Zn", "Si", "Mn", "Ni", "Fe", "Al")


def random_case(
    rng: np.random.Generator,
    *,
    items: int = 6,
    elements: int = 5,
    ranges: bool = False,
    pieces: bool = False,
    width: float = 0.25,
) -> ChargeCase:
    """A charge of invented stock whose limits lie around what one random mix melts down to.

    ``ranges``: compositions are intervals. ``pieces``: some items come in whole pieces or all at
    once. Most of these cases can be met, some cannot.
    """
    names = ELEMENTS[:elements]
    shares = rng.dirichlet(np.r_[12.0, np.full(elements - 1, 0.8), 0.1], size=items)[:, :elements]
    shares = np.floor(shares * 1e6) / 1e4  # per cent, rounded down: never more than 100 in all
    recovery = np.column_stack((rng.uniform(80.0, 95.0, elements), rng.uniform(95.0, 100.0, elements)))
    mix = rng.dirichlet(np.full(items, 0.5)) @ (shares * recovery.mean(axis=1))
    aim = 100.0 * mix / (mix.sum() + 0.5)
    limits: dict[str, tuple[float | None, float | None]] = {}
    for k, element in enumerate(names):
        low = None if rng.random() < 0.4 and k else round(aim[k] * (1.0 - width * rng.random()), 4)
        high = None if rng.random() < 0.3 or not k else round(aim[k] * (1.0 + width * rng.random()) + 0.01, 4)
        limits[element] = (low, high)
    stock = []
    for i in range(items):
        wide = rng.uniform(0.0, 0.1, elements) if ranges else np.zeros(elements)
        composition: dict[str, tuple[float | None, float | None]] = {
            element: (
                round(float(shares[i, k] * (1.0 - wide[k])), 5),
                round(float(min(shares[i, k] * (1.0 + wide[k]), 100.0)), 5),
            )
            for k, element in enumerate(names)
        }
        item = StockItem(
            name=f"item {i}",
            composition_percent=composition,
            price=round(float(rng.uniform(1.0, 15.0)), 3),
            available=round(float(rng.uniform(2.0, 30.0)), 3) if rng.random() < 0.7 else None,
            smallest_lot=0.0,
            kind="scrap",
        )
        if pieces and rng.random() < 0.5:
            item = replace(item, piece=round(float(rng.uniform(0.3, 2.0)), 3), smallest_lot=None)
        elif pieces and rng.random() < 0.5:
            item = replace(item, smallest_lot=round(float(rng.uniform(0.2, 2.0)), 3))
        elif pieces and item.available is not None and rng.random() < 0.3:
            item = replace(item, all_or_nothing=True)
        stock.append(item)
    return ChargeCase(
        melt_mass=10.0,
        stock=tuple(stock),
        limits_percent=limits,
        recovery_percent={
            **{
                element: (low, high)
                for element, (low, high) in zip(names, recovery.round(3).tolist(), strict=True)
            },
            "rest": (90.0, 100.0),
        },
        smallest_lot=0.0,
        smallest_addition=0.0,
    )
