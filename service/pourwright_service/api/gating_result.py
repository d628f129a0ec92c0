"""What POST /v1/gating answers."""

from ..engine.decide.gating_case import POSITIONS
from .schemas import Choice, Count, Flag, Nested, Number, Quantity, Result, Series, Text

SHAPES = ("round", "square")
PARTS = ("basin", "sprue", "well", "runner", "extension", "gate", "vent")


class SprueResult(Result):
    """The sprue."""

    shape = Choice(SHAPES, "Shape of its section.", required=True)
    height = Quantity("length", "From gate to mouth.")
    basin_depth = Quantity("length", "Metal over its mouth.")
    exit_size = Quantity("length", "Diameter or side at its foot.", required=True)
    exit_area = Quantity("area", "Area at its foot.", required=True)
    exit_velocity = Quantity("velocity", "Speed of the metal at its foot.", required=True)
    reynolds = Number("Reynolds number at its foot.")
    mouth_size = Quantity("length", "Diameter or side at its mouth.")
    mouth_area = Quantity("area", "Area at its mouth.")
    mouth_area_needed = Quantity("area", "Least area at its mouth that lets the sprue run full.")
    mouth_pressure = Quantity("pressure", "Pressure in its mouth over the air's; negative draws in air.")


class RunnerResult(Result):
    """The runner."""

    width = Quantity("length", "Width.", required=True)
    heights = Series("length", "Height before the first gate, the second and so on.", required=True)
    areas = Series("area", "Areas there.", required=True)
    velocity = Quantity("velocity", "Speed of the metal before the first gate.", required=True)
    length = Quantity("length", "From the sprue to the last gate.", required=True)
    extension = Quantity("length", "Past the last gate.", required=True)


class GatesResult(Result):
    """The gates."""

    count = Count("How many.", required=True)
    width = Quantity("length", "Width of each.", required=True)
    thickness = Quantity("length", "Thickness of each.", required=True)
    area = Quantity("area", "Area of all together.", required=True)
    velocity = Quantity("velocity", "Speed of the metal in them at the start, its fastest.", required=True)
    quiet_head = Quantity("length", "Largest head at which gates of this share of the choke run quietly.")


class RatioResult(Result):
    """Areas as parts of the sprue's foot."""

    sprue = Number("Sprue's foot.", required=True)
    runner = Number("Runner before the first gate.", required=True)
    gate = Number("All gates.", required=True)
    series_share = Quantity(
        "fraction", "What all places in a row pass, as a share of the narrowest alone.", required=True
    )


class TradeRatioResult(Result):
    """A ratio that the trade reports for this kind of metal."""

    metal = Text("What it was used for.", required=True)
    sprue = Number("Sprue's foot.", required=True)
    runner = Number("Runner.", required=True)
    gate = Number("Gates.", required=True)
    source = Text("Source key.", required=True)
    place = Text("What the source says of it.")


class MetalResult(Result):
    """Liquid metal that stays in the gating system."""

    sprue = Quantity("volume", "In the sprue.")
    well = Quantity("volume", "In the well under it.")
    runner = Quantity("volume", "In the runner and its extension.")
    gates = Quantity("volume", "In the gates.")
    basin = Quantity("volume", "In the pouring cup.")
    volume = Quantity("volume", "All parts that are known.", required=True)
    mass = Quantity("mass", "The same as a mass.")


class LossResult(Result):
    """One loss on the metal's way."""

    place = Text("Where.", required=True)
    coefficient = Number("In velocity heads of the metal there.", required=True)
    area = Quantity("area", "The area there.", required=True)
    share = Quantity("fraction", "Share of the whole head; all of them make up the whole.", required=True)


class CastingResult(Result):
    """One kind of casting on the sprue."""

    name = Text("What the caller called it.")
    count = Count("How many of them.", required=True)
    gates = Count("Gates on each.", required=True)
    volume = Quantity("volume", "What each holds.")
    height = Quantity("length", "How tall it stands.", required=True)
    above_gate = Quantity("length", "Its highest point over the gate.", required=True)
    share_of_gates = Quantity("fraction", "Share of the gates that all of them have.", required=True)
    share_of_metal = Quantity("fraction", "Share of the castings' metal that all of them take.")


class VentsResult(Result):
    """Vents for the air that the metal drives out."""

    count = Count("How many.", required=True)
    diameter = Quantity("length", "How wide each is.", required=True)
    open_area = Quantity("area", "What is open anyway.", required=True)
    area = Quantity("area", "All openings together.", required=True)
    area_needed = Quantity("area", "What must be open.", required=True)
    air_flow = Quantity(
        "flow", "Air that must leave at the start, at the heat at which it leaves.", required=True
    )
    back_pressure = Quantity("pressure", "Pressure of the pent-up air; null where nothing is open.")


class PointResult(Result):
    """A point in the layout's frame."""

    x = Quantity("length", "Along the runner, away from the sprue.", required=True)
    y = Quantity("length", "From the runner towards the castings.", required=True)
    z = Quantity("length", "Up.", required=True)


class ChannelResult(Result):
    """A straight channel, even or tapering."""

    part = Choice(PARTS, "What it is.", required=True)
    number = Count("Which of its kind, counted from the sprue.", required=True)
    shape = Choice(("round", "square", "rectangular"), "Shape of its section.", required=True)
    start = Nested(PointResult, "Middle of its section where the metal enters.", required=True)
    end = Nested(PointResult, "Middle of its section at the other end.", required=True)
    start_width = Quantity("length", "Width or diameter where the metal enters.", required=True)
    start_height = Quantity("length", "The other side of the section, or the diameter.", required=True)
    end_width = Quantity("length", "Width or diameter at the other end.", required=True)
    end_height = Quantity("length", "The other side there, or the diameter.", required=True)
    volume = Quantity("volume", "What it holds.", required=True)
    holds_metal = Flag("Whether it counts as metal in the system; a vent does not.", required=True)


class LayoutResult(Result):
    """Every channel in one frame."""

    frame = Text("How the frame lies.", required=True)
    channels = Nested(
        ChannelResult, "The channels in the metal's order, then the vents.", many=True, required=True
    )


class GatingResult(Result):
    """The gating system, how it fills the mould, and what it holds."""

    gate_position = Choice(POSITIONS, "Where the gates meet the casting.")
    head = Quantity("length", "Head over the gate.")
    effective_head = Quantity("length", "Steady head that fills in the same time: the exact integral.")
    mean_head = Quantity("length", "The textbooks' mean head, for comparison; never used.")
    head_left = Quantity("length", "Head over the highest metal when the mould is full.")
    discharge_coefficient = Number("Discharge coefficient of the choke.")
    volume = Quantity("volume", "Metal through the choke.")
    choke_at = Choice(("sprue", "runner", "gates"), "Where the narrowest place is.")
    choke_area = Quantity("area", "Its area.")
    choke_velocity = Quantity("velocity", "Speed of the metal there at the full head.")
    fill_time = Quantity("time", "Time in which the mould fills, by the exact integral.")
    mean_head_time = Quantity("time", "What the mean head would give, for comparison.")
    flow_start = Quantity("flow", "Flow at the start.")
    flow_end = Quantity("flow", "Flow when the mould is full.")
    rise_velocity = Quantity("velocity", "Height of the casting over its fill time.")
    slowest_rise = Quantity("velocity", "Slowest rise of the metal in the mould.")
    free_fall = Quantity("length", "How far metal drops from the gate to the floor of the mould.")
    critical_velocity = Quantity("velocity", "Speed above which the metal's front breaks up.")
    critical_fall = Quantity("length", "Free fall that gives this speed.")
    sprue = Nested(SprueResult, "The sprue.")
    runner = Nested(RunnerResult, "The runner.")
    gates = Nested(GatesResult, "The gates.")
    ratio = Nested(RatioResult, "Areas as parts.")
    trade_ratios = Nested(
        TradeRatioResult, "Ratios reported for this kind of metal, to compare with.", many=True, required=True
    )
    metal = Nested(MetalResult, "Liquid metal that stays in the gating system.")
    losses = Nested(
        LossResult,
        "The losses added up, where they were asked for; the last is the way out.",
        many=True,
        required=True,
    )
    castings = Nested(CastingResult, "The castings on the sprue.", many=True, required=True)
    priming_time = Quantity("time", "When sprue, runner and gates are full and metal enters the casting.")
    vents = Nested(VentsResult, "Vents for the air.")
    layout = Nested(LayoutResult, "Every channel of known size, with places and sections, to draw it by.")
