"""What a batch of sand comes to, given everything that goes into it; all checks of sand."""

from dataclasses import dataclass

from ..checks import Check, check_kind
from ..formulas import sand
from ..ledger import Say

TOO_WET = check_kind(
    "sand-not-too-wet",
    "The sand is not so wet that it gives steam",
    kind="fraction",
    sense="at most",
    source="FROM-MEMORY",
)
WET_ENOUGH = check_kind(
    "sand-damp-enough",
    "The sand is damp enough to hold together",
    kind="fraction",
    sense="at least",
    source="FROM-MEMORY",
    else_="warn",
)
BINDER_ENOUGH = check_kind(
    "sand-binder-enough",
    "The sand has enough of its binder to hold",
    kind="fraction",
    sense="at least",
    source="FROM-MEMORY",
    else_="warn",
)
BINDER_NOT_TOO_MUCH = check_kind(
    "sand-binder-not-too-much",
    "The sand has no more binder than it needs",
    kind="fraction",
    sense="at most",
    source="FROM-MEMORY",
    else_="warn",
)
FILLS = check_kind(
    "sand-fills-flask",
    "The batch fills the flask",
    kind="mass",
    sense="at least",
    source="DERIVED",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class SandInputs:
    """A batch (kg, shares): ``sand`` as it lies, of this ``moisture``, and the dry sand put to it.

    ``binder`` is what holds it, ``others`` the other additions without water. ``wettest`` and ``driest``
    bound the moisture (None: not bounded), of which ``binder_water`` (kg, brought by the binder) is no part.
    ``least_binder`` and ``most_binder`` bound the binder's share of the sand; ``used`` sand still holds what
    was not burnt. ``needed`` is what a flask takes, None without one.
    """

    sand: float
    dry_sand: float
    moisture: float
    water: float
    binder: float
    others: float
    binder_name: str
    binder_share: float
    least_binder: float | None
    most_binder: float | None
    binder_water: float
    used: bool
    wettest: float
    driest: float | None
    needed: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class SandAssessment:
    """What the batch weighs (kg), its moisture, and its checks."""

    batch: float
    moisture: float
    checks: tuple[Check, ...]


def assess_sand(inputs: SandInputs) -> SandAssessment:
    """Weigh the batch and judge it."""
    batch = inputs.sand + inputs.dry_sand + inputs.water + inputs.binder + inputs.others
    held = inputs.sand * inputs.moisture + inputs.water
    free = sand.moisture_of_mix(held, batch - held)
    every = held + inputs.binder_water
    moisture = sand.moisture_of_mix(every, batch - every)
    checks = [_too_wet(inputs, free)]
    if inputs.driest is not None:
        checks.append(_damp(inputs, free))
    if inputs.least_binder is not None:
        checks.append(_binder(inputs, inputs.least_binder))
    if inputs.most_binder is not None:
        checks.append(_too_much(inputs, inputs.most_binder))
    if inputs.needed is not None:
        checks.append(_fills(inputs.needed, batch))
    return SandAssessment(batch=batch, moisture=moisture, checks=tuple(checks))


def _too_wet(inputs: SandInputs, moisture: float) -> Check:
    parts: dict[str, tuple[float, str] | str] = {
        "w": (moisture, "fraction"),
        "most": (inputs.wettest, "fraction"),
    }
    return TOO_WET.judge(
        moisture,
        inputs.wettest,
        subject="/dry_sand",
        ok=Say("The sand is not too wet: {w} of water; above {most} it gives steam.", **parts),
        bad=Say(
            "The sand is too wet: {w} of water, and above {most} it blows holes into the casting or metal "
            "out of the mould. Spread it out to dry, or mix dry sand in.",
            **parts,
        ),
    )


def _damp(inputs: SandInputs, moisture: float) -> Check:
    assert inputs.driest is not None
    parts: dict[str, tuple[float, str] | str] = {
        "w": (moisture, "fraction"),
        "least": (inputs.driest, "fraction"),
    }
    return WET_ENOUGH.judge(
        moisture,
        inputs.driest,
        subject="/water_share",
        ok=Say("It is damp enough to ram: {w} of water.", **parts),
        bad=Say("It is too dry to hold an edge: {w} of water; below {least} it crumbles.", **parts),
    )


def _binder(inputs: SandInputs, least: float) -> Check:
    parts: dict[str, tuple[float, str] | str] = {
        "share": (inputs.binder_share, "fraction"),
        "least": (least, "fraction"),
        "binder": inputs.binder_name,
    }
    return BINDER_ENOUGH.judge(
        inputs.binder_share,
        least,
        subject="/binder_share",
        ok=Say(
            "{share} of {binder} is enough to hold it"
            + (", if what was not burnt is all still there." if inputs.used else "."),
            **parts,
        ),
        bad=Say("{share} of {binder} is little: below {least} the sand washes and breaks.", **parts),
    )


def _too_much(inputs: SandInputs, most: float) -> Check:
    parts: dict[str, tuple[float, str] | str] = {
        "share": (inputs.binder_share, "fraction"),
        "most": (most, "fraction"),
        "binder": inputs.binder_name,
    }
    return BINDER_NOT_TOO_MUCH.judge(
        inputs.binder_share,
        most,
        subject="/binder_share",
        ok=Say("{share} of {binder} leaves the sand open enough for gas.", **parts),
        bad=Say("{share} of {binder} is much: above {most} gas hardly gets out through the sand.", **parts),
    )


def _fills(needed: float, batch: float) -> Check:
    parts: dict[str, tuple[float, str] | str] = {"batch": (batch, "mass"), "needed": (needed, "mass")}
    return FILLS.judge(
        batch,
        needed,
        subject="/sand_mass",
        ok=Say("The batch of {batch} fills the flask, which takes {needed}.", **parts),
        bad=Say("The batch of {batch} does not fill the flask, which takes {needed}.", **parts),
    )
