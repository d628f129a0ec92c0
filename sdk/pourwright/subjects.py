# Written by `python -m pourwright_service models`; change the service's schemas, not this file.

"""All operations of the service in one class."""

from __future__ import annotations

from .allowances import AllowancesCalls
from .alloys import AlloysCalls
from .calibration import CalibrationCalls
from .catalogue import CatalogueCalls
from .charge import ChargeCalls
from .charge_makes import ChargeMakesCalls
from .charge_melts import ChargeMeltsCalls
from .cooling_curve import CoolingCurveCalls
from .docs import DocsCalls
from .doubtful import DoubtfulCalls
from .draw import DrawCalls
from .freeze_maps import FreezeMapsCalls
from .freezing import FreezingCalls
from .gating import GatingCalls
from .health import HealthCalls
from .limits import LimitsCalls
from .melt import MeltCalls
from .meshes import MeshesCalls
from .pattern import PatternCalls
from .plan import PlanCalls
from .pour_time import PourTimeCalls
from .practice import PracticeCalls
from .reference import ReferenceCalls
from .riser import RiserCalls
from .sand import SandCalls


class Subjects(
    AllowancesCalls,
    AlloysCalls,
    CalibrationCalls,
    CatalogueCalls,
    ChargeCalls,
    ChargeMakesCalls,
    ChargeMeltsCalls,
    CoolingCurveCalls,
    DocsCalls,
    DoubtfulCalls,
    DrawCalls,
    FreezeMapsCalls,
    FreezingCalls,
    GatingCalls,
    HealthCalls,
    LimitsCalls,
    MeltCalls,
    MeshesCalls,
    PatternCalls,
    PlanCalls,
    PourTimeCalls,
    PracticeCalls,
    ReferenceCalls,
    RiserCalls,
    SandCalls,
):
    """All operations of the service in one class."""
