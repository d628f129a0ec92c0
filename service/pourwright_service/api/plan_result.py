"""How the answer of a plan is laid out."""

from .charge import ChargeResult
from .freezing import FreezingResult
from .gating_result import GatingResult
from .pour_time import PourTimeResult
from .riser import RiserResult
from .schemas import FINITE, AlloyField, Count, Flag, Nested, Number, Quantity, Result, Text, at_least


class PartResult(Result):
    """The part as the plan takes it."""

    volume = Quantity("volume", "Volume of the cold casting.", required=True)
    height = Quantity("length", "Height in the mould.", required=True)
    length = Quantity("length", "Longer side in plan.", required=True)
    width = Quantity("length", "Shorter side in plan.", required=True)
    wall = Quantity("length", "The thinnest wall that the metal has to fill.")
    height_in_cope = Quantity("length", "How far it stands above the parting.", required=True)
    parting_area = Quantity("area", "Its section in the parting plane.", required=True)
    volume_in_cope = Quantity("volume", "Its volume above the parting.", required=True)
    sections_volume = Quantity("volume", "What the sections add up to.")
    triangles = Count("Triangles of the mesh.")


class PatternResult(Result):
    """How large the pattern must be, before draft, machining and rapping."""

    scale = Number("Every length of the casting times this.", required=True)
    contraction = Quantity("fraction", "Contraction allowed for.", required=True)
    length = Quantity("length", "Length of the pattern.", required=True)
    width = Quantity("length", "Width of the pattern.", required=True)
    height = Quantity("length", "Height of the pattern.", required=True)


class MassesResult(Result):
    """Where the metal goes; poured masses are liquid, the casting is cold."""

    casting = Quantity("mass", "The cold casting.", required=True)
    cavity = Quantity("mass", "Metal that fills the casting's cavity.", required=True)
    riser = Quantity("mass", "Metal poured into the riser.", required=True)
    riser_left = Quantity("mass", "What is left of the riser after feeding.", required=True)
    gating = Quantity("mass", "Metal in sprue, runner, gates and basin.")
    poured = Quantity("mass", "All that is poured: cavity, riser and gating.")
    melt_wanted = Quantity("mass", "What must at least be molten: poured, and the least pig.")
    melt = Quantity("mass", "What will be molten: the charge after its loss, or what is wanted.")
    pig = Quantity(
        "mass", "What is left over for the pig mould: melt less poured; below 0 where metal lacks."
    )
    yield_ratio = Quantity("fraction", "Casting over poured.")


class CrucibleResult(Result):
    """The crucible that takes the melt."""

    name = Text("Its name.", required=True)
    melt_volume = Quantity("volume", "Volume of the melt.", required=True)
    filling = Quantity("fraction", "How full it is.", required=True)
    lifted_mass = Quantity("mass", "What must be lifted.", required=True)
    crucible_counted = Flag("Whether the crucible's own mass is in that.", required=True)


class CoreLiftResult(Result):
    """How hard a core is lifted."""

    name = Text("Its name.", required=True)
    net_lift = Quantity("force", "Buoyancy less its own weight, if metal gets under it.", required=True)
    gross_lift = Quantity("force", "Buoyancy alone, for prints and chaplets.", required=True)
    counted = Flag("Whether the cope has to hold it: false for a standing core in its print.", required=True)


class PlanMouldResult(Result):
    """The mould: cope, flask, lift and what must lie on it."""

    cope_height = Quantity("length", "Height of the cope.", required=True)
    drag_height = Quantity("length", "Height of the drag.", required=True)
    flask_length = Quantity("length", "Length of the flask chosen.")
    flask_width = Quantity("length", "Width of the flask chosen.")
    length_needed = Quantity("length", "Length that the mould needs.", required=True)
    width_needed = Quantity("length", "Width that the mould needs.", required=True)
    lift = Quantity("force", "Lift on the cope, cores included.", required=True)
    metal_lift = Quantity("force", "Lift by the metal alone, exact.", required=True)
    projected_lift = Quantity("force", "Projected area times head, the common shortcut.", required=True)
    cores = Nested(CoreLiftResult, "The cores.", many=True, required=True)
    cope_mass = Quantity(
        "mass", "Sand and box of the cope; without a flask the least sand that does.", required=True
    )
    weight = Quantity("mass", "What to lay on the cope.", required=True)


class LastPlaceResult(Result):
    """A place that is among the last to freeze, in the axes of the mesh's file."""

    x = Quantity("length", "The middle of the place: x.", required=True, bound=FINITE)
    y = Quantity("length", "Its y.", required=True, bound=FINITE)
    z = Quantity("length", "Its z.", required=True, bound=FINITE)
    volume = Quantity("volume", "How much metal freezes so late there.", required=True)
    time = Quantity("time", "When its last metal is solid.", required=True)
    modulus = Quantity("length", "Modulus of a plate that freezes in that time.", required=True)


class CutOffResult(Result):
    """Metal that is cut off from the riser while it is still liquid, in the axes of the mesh's file."""

    x = Quantity("length", "The middle of it: x.", required=True, bound=FINITE)
    y = Quantity("length", "Its y.", required=True, bound=FINITE)
    z = Quantity("length", "Its z.", required=True, bound=FINITE)
    volume = Quantity("volume", "How much is still liquid when the way closes.", required=True)
    closed = Quantity("time", "When the way closes.", bound=at_least(0.0), required=True)
    solid = Quantity("time", "When the last of it is solid.", required=True)


class PlanMapResult(Result):
    """A coarse freeze map of the mesh: heat conducted cell by cell until the last metal is solid.

    Its order of freezing is to be trusted more than its times, which are some per cent late.
    """

    regions = Nested(LastPlaceResult, "The latest 5 % of the metal, last first.", many=True, required=True)
    end = Quantity("time", "When the casting alone is solid.", required=True)
    modulus = Quantity("length", "Modulus of what freezes last.", required=True)
    cell = Quantity("length", "Side of a cell.", required=True)
    cells = Count("Number of cells, those of the mould included.", required=True)
    imbalance = Number("Heat lost to rounding, as a share of the metal's.", required=True)
    doubtful_rays = Flag("Whether the mesh's surface was doubtful in places.", required=True)
    casting_end = Quantity("time", "When the casting is solid with the riser standing on it.")
    riser_end = Quantity("time", "When that riser is solid; null where none was mapped.")
    riser_x = Quantity("length", "Where the middle of the riser's foot was put: x.", bound=FINITE)
    riser_y = Quantity("length", "Its y.", bound=FINITE)
    riser_z = Quantity("length", "Its z.", bound=FINITE)
    cut_share = Quantity(
        "fraction",
        "The share of the casting that is cut off from the riser while still liquid; null without one.",
        bound=at_least(0.0),
    )
    cut_off = Nested(CutOffResult, "The pieces of it, largest first.", many=True, required=True)


class PlanResult(Result):
    """The whole plan; a part of it is null where it could not be computed or was not asked for."""

    title = Text("What you call this job.")
    alloy = AlloyField("The alloy.")
    part = Nested(PartResult, "The part.")
    pattern = Nested(PatternResult, "The pattern.")
    pouring_temperature = Quantity("temperature", "How hot to pour.")
    freezing = Nested(FreezingResult, "Order of freezing.")
    freeze_map = Nested(PlanMapResult, "Where the mesh freezes last; null without one.")
    riser = Nested(RiserResult, "The riser.")
    masses = Nested(MassesResult, "Where the metal goes.")
    pour_time = Nested(PourTimeResult, "In what time to pour.")
    gating = Nested(GatingResult, "Sprue, runner and gates.")
    charge = Nested(ChargeResult, "What to charge; null without stock.")
    crucible = Nested(CrucibleResult, "The crucible; null without crucibles.")
    mould = Nested(PlanMouldResult, "Flask, lift and weight.")
    rounds = Count("Rounds until pour, gating and metal agreed.")
