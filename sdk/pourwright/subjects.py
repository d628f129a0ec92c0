# Written by `python -m pourwright_service models`; change the service's schemas, not this file.

"""All operations of the service in one class."""

from __future__ import annotations

from .catalogue import CatalogueCalls
from .charge import ChargeCalls
from .docs import DocsCalls
from .draw import DrawCalls
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
    DocsCalls,
    DrawCalls,
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
