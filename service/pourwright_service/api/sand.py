"""POST /v1/sand."""

from typing import Any

from ..engine.answer import Answer
from ..engine.decide.sand import BoxCase, MeasureCase, MemberCase, SampleCase, SandCase, decide_sand
from ..engine.decide.sand_levers import SAND
from ..engine.tables.sands import SYSTEMS
from .registry import endpoint
from .schemas import (
    Body,
    Choice,
    Nested,
    Number,
    Quantity,
    Result,
    Text,
    above,
    at_least,
    refused_at,
    within,
)

SHARE = within(0.0, 0.5)
ALIASES = {
    "green": "green sand",
    "greensand": "green sand",
    "oil": "oil-bonded sand",
    "oil-bonded": "oil-bonded sand",
    "oil sand": "oil-bonded sand",
    "silicate": "silicate sand",
    "sodium silicate": "silicate sand",
    "CO2 sand": "silicate sand",
    "resin": "resin sand",
}


class SandFlaskBody(Body):
    """A flask's inside, cope and drag together."""

    makes = BoxCase
    length = Quantity("length", "Length.", required=True)
    width = Quantity("length", "Width.", required=True)
    height = Quantity("length", "Height of all parts together.", required=True)


class MeasureBody(Body):
    """A bucket or cup, rammed full and weighed."""

    makes = MeasureCase
    mass = Quantity("mass", "Sand in it, without the bucket.", required=True)
    volume = Quantity("volume", "What it holds.", required=True)


class DriedSampleBody(Body):
    """A sample weighed as it is, and again when it is dry."""

    makes = SampleCase
    wet_mass = Quantity("mass", "As it is.", required=True)
    dry_mass = Quantity("mass", "Dried in an oven until it loses no more.", required=True)

    def make(self, data: dict[str, Any]) -> Any:
        if data["dry_mass"] > data["wet_mass"]:
            raise refused_at("dry_mass", "inconsistent", "dry it weighs more than wet")
        return super().make(data)


class SandMemberBody(Body):
    """Who gets a part of the batch: a name for you alone, such as 'bench 3'; no personal data is needed."""

    makes = MemberCase
    name = Text("What you call the share.", required=True)
    parts = Number("How many parts; 1 if left out.", bound=above(0.0))


class SandRequest(Body):
    """A batch of moulding sand."""

    makes = SandCase
    system = Choice(tuple(SYSTEMS), "What holds the sand.", aliases=ALIASES, required=True)
    sand_mass = Quantity("mass", "Sand as it lies; left out, what the flask takes and some to spare.")
    flask = Nested(SandFlaskBody, "The flask to fill.")
    pattern_volume = Quantity("volume", "Volume of pattern, riser and sprue in it.", bound=at_least(0.0))
    spare = Quantity(
        "fraction",
        "Sand to spare over what the flask takes, additions not counted.",
        bound=within(0.0, 5.0),
    )
    bulk_density = Quantity("density", "Of rammed sand.")
    measure = Nested(MeasureBody, "A weighed measure, from which the bulk density follows.")
    moisture = Quantity("fraction", "Water in the sand as it lies.", bound=within(0.0, 0.5))
    sample = Nested(DriedSampleBody, "A dried sample, from which the moisture follows.")
    dry_sand = Quantity(
        "mass", "Dry new sand mixed in; it gets its whole share of binder.", bound=at_least(0.0)
    )
    burnt_share = Quantity(
        "fraction",
        "Used sand: the share of its binder that was burnt and is put back; left out, the sand is new and "
        "gets all of its binder.",
        bound=within(0.0, 1.0),
    )
    water_share = Quantity(
        "fraction", "Water wanted in the whole mix (green sand).", bound=within(0.001, 0.3)
    )
    binder_share = Quantity("fraction", "Clay, silicate or resin, of the sand's weight.", bound=SHARE)
    oil_share = Quantity("fraction", "Oil, of the sand's weight (oil-bonded sand).", bound=SHARE)
    methanol_share = Quantity("fraction", "Methanol, of the sand's weight (oil-bonded sand).", bound=SHARE)
    catalyst_share = Quantity("fraction", "Catalyst, of the resin's weight (resin sand).", bound=SHARE)
    soda_share = Quantity("fraction", "Na2O in the silicate, by its maker's card.", bound=SHARE)
    solids_share = Quantity("fraction", "What is not water in the silicate.", bound=within(0.05, 1.0))
    bucket_volume = Quantity("volume", "What your bucket holds.")
    members = Nested(SandMemberBody, "Who shares the batch.", many=True, max_items=100)

    def make(self, data: dict[str, Any]) -> Any:
        box = data.get("flask")
        filled = data.get("pattern_volume")
        if box is not None and filled is not None and filled >= box.length * box.width * box.height:
            raise refused_at("pattern_volume", "inconsistent", "the pattern is larger than the flask")
        for one, other in (("bulk_density", "measure"), ("moisture", "sample")):
            if data.get(one) is not None and data.get(other) is not None:
                raise refused_at(other, "inconsistent", f"give {one} or {other}, not both")
        return super().make(data)


class SandAdditionLine(Result):
    """One thing to put to the sand."""

    material = Text("What.", required=True)
    mass = Quantity("mass", "How much.", required=True)
    share = Quantity("fraction", "Of the whole mix.", required=True)
    volume = Quantity("volume", "Its volume, of water.")


class SandMemberLine(Result):
    """One share of the batch."""

    name = Text("Whose.", required=True)
    mass = Quantity("mass", "Mixed sand.", required=True)
    buckets = Number("In buckets, rammed.", required=True)


class SandResult(Result):
    """The batch, and who gets what."""

    system = Text("What holds the sand.")
    sand_mass = Quantity("mass", "Sand as it lies.")
    moisture_before = Quantity("fraction", "Water in it.")
    additions = Nested(SandAdditionLine, "What is put to it, by weight.", many=True)
    gas_low = Quantity("mass", "Carbon dioxide that the silicate can bind.")
    gas_high = Quantity("mass", "What is blown in practice at most; the rest escapes.")
    batch_mass = Quantity("mass", "The whole mix.")
    moisture = Quantity("fraction", "Water in the mix, with what the silicate brings.")
    bulk_density = Quantity("density", "Bulk density used.")
    volume = Quantity("volume", "The mix, rammed.")
    buckets = Number("The same in buckets.")
    flask_takes = Quantity("mass", "What the flask takes.")
    members = Nested(SandMemberLine, "Who gets what.", many=True)


@endpoint(
    "POST",
    "/v1/sand",
    operation="sand",
    tag="Casting",
    summary="What to mix for a batch of moulding sand, new or used",
    description=(
        "Masses by weight for green sand, oil-bonded, silicate and resin sand: new, or used sand brought "
        "back into condition. Moisture follows from a dried sample, bulk density from one weighed measure; "
        "from them how much a flask takes, how many buckets that is, and each member's share. Sand that is "
        "too wet is refused, with the dry sand that mends it. Resin and catalyst are never guessed: their "
        "maker's card says."
    ),
    request=SandRequest,
    answer=SandResult,
    levers=SAND,
    examples={
        "new green sand for a flask, shared by two": {
            "system": "green sand",
            "flask": {"length": "300 mm", "width": "250 mm", "height": "175 mm"},
            "pattern_volume": "0.3 L",
            "measure": {"mass": "16.2 kg", "volume": "10 L"},
            "members": [{"name": "bench 1", "parts": 2}, {"name": "bench 2"}],
        },
        "used green sand that got wet": {
            "system": "green sand",
            "sand_mass": "40 kg",
            "sample": {"wet_mass": "200 g", "dry_mass": "186 g"},
            "burnt_share": "10 %",
        },
        "oil-bonded sand": {"system": "oil-bonded sand", "sand_mass": "50 lb"},
        "silicate sand for cores": {"system": "silicate sand", "sand_mass": "5 kg"},
    },
)
def sand(case: SandCase) -> Answer:
    return decide_sand(case)
