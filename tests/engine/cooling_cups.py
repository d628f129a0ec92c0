"""Cooling curves of sample cups by an ordinary differential equation, for readers of such curves to find
the truth that was put in.

A lump of metal loses heat to the cup. Primary crystals follow Scheil's rule with a straight liquidus, the
rest freezes at the eutectic; both lag behind equilibrium by a time constant, and primary crystals start
only below an undercooling. The figures are Al-Si's in round numbers, invented where it does not matter.
"""

from dataclasses import dataclass

import numpy as np
from scipy.integrate import solve_ivp

MELTS, SLOPE, PARTITION, EUTECTIC = 660.3, 6.6, 0.13, 577.0
HEAT, LATENT = 1.1, 400.0
"""kJ/(kg K), kJ/kg."""


@dataclass(frozen=True)
class Cup:
    """``silicon`` in per cent; ``sand``: the heat flow falls with the root of time, else it is Newton's."""

    silicon: float = 7.0
    undercooling: float = 0.0
    sand: bool = False
    pours: float = 720.0
    pace: float = 1.0

    @property
    def liquidus(self) -> float:
        return MELTS - SLOPE * self.silicon

    @property
    def eutectic(self) -> float | None:
        return EUTECTIC if self.silicon > 0.0 else None

    def cools(self, t: float, temperature: float) -> float:
        """K/s without latent heat."""
        if self.sand:
            return self.pace * 5.0 * (temperature - 20.0) / 600.0 / np.sqrt(0.12 * t + 1.0)
        return self.pace * (temperature - 20.0) / 300.0

    def solid(self, temperature: float) -> float:
        """Primary crystals by Scheil's rule."""
        if temperature >= self.liquidus:
            return 0.0
        if self.silicon == 0.0:
            return 1.0
        depth = (MELTS - max(temperature, EUTECTIC)) / (MELTS - self.liquidus)
        return float(1.0 - depth ** (1.0 / (PARTITION - 1.0)))

    def curve(self, seconds: float = 600.0, step: float = 0.5) -> tuple[np.ndarray, np.ndarray, float]:
        """Times, temperatures in degC, and the time at which all is solid."""

        def change(t: float, state: np.ndarray) -> list[float]:
            temperature, primary, eutectic, started = state
            begins = 1.0 if temperature < self.liquidus - self.undercooling else 0.0
            grows = 0.0
            if started > 0.5 or begins:
                grows = max((self.solid(temperature) - primary) / 0.8, 0.0) if primary < 1.0 else 0.0
            rest = 1.0 - primary - eutectic
            freezes = 0.5 * max(EUTECTIC - temperature, 0.0) * max(rest, 0.0) if self.silicon else 0.0
            if self.silicon:
                freezes = min(freezes, 0.05)
            loses = self.cools(t, temperature)
            return [
                -loses + LATENT / HEAT * (grows + freezes),
                grows,
                freezes,
                20.0 * begins * (1.0 - started),
            ]

        times = np.arange(0.0, seconds, step)
        found = solve_ivp(
            change, (0.0, seconds), [self.pours, 0.0, 0.0, 0.0], t_eval=times, method="RK23", max_step=0.05
        )
        whole = found.y[1] + found.y[2]
        solid = float(times[np.argmax(whole > 0.999)])
        return times, found.y[0], solid
