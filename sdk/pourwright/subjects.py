# Written by `python -m pourwright_service models`; change the service's schemas, not this file.

"""All operations of the service in one class."""

from __future__ import annotations

from .catalogue import CatalogueCalls
from .charge import ChargeCalls
from .charge_makes import ChargeMakesCalls
from .charge_melts import ChargeMeltsCalls
from .docs import DocsCalls
from .freezing import FreezingCalls
from .gating import GatingCalls
from .health import HealthCalls
from .meshes import MeshesCalls
from .plan import PlanCalls
from .pour_time import PourTimeCalls
from .reference import ReferenceCalls
from .riser import RiserCalls


class Subjects(
    CatalogueCalls,
    ChargeCalls,
    ChargeMakesCalls,
    ChargeMeltsCalls,
    DocsCalls,
    FreezingCalls,
    GatingCalls,
    HealthCalls,
    MeshesCalls,
    PlanCalls,
    PourTimeCalls,
    ReferenceCalls,
    RiserCalls,
):
    """All operations of the service in one class."""
