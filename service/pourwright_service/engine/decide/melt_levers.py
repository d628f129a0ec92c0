"""What mends a melt: another crucible, more heats, more time or power, a second bottle, a second person."""

from collections.abc import Iterator

from ..assess.crucible_checks import SOUND
from ..ledger import Say
from .remedies import Change, Levers, Offer, Proposal, Slide, Switch, Trouble, given_at

BROKEN = ("crucible-fits", "crucible-sound", "crucible-rated", "crucible-suits-furnace")


def _other_crucible(trouble: Trouble) -> Iterator[Offer]:
    """Another crucible of the shop, the smallest first."""
    used = (trouble.answer.result.get("crucible") or {}).get("name")
    pots = given_at(trouble.case, "/shop/crucibles") or ()
    for pot in sorted(pots, key=lambda one: (one.brim_volume, one.name)):
        if pot.name != used and SOUND[pot.condition or "unknown"] > 0.0:
            yield Offer((Change("/crucible", pot.name),), Say("Melt in {name}.", name=pot.name))


def _larger_crucible(trouble: Trouble) -> Iterator[Slide]:
    """How much the crucible would have to hold."""
    used = (trouble.answer.result.get("crucible") or {}).get("name")
    for index, pot in enumerate(given_at(trouble.case, "/shop/crucibles") or ()):
        if pot.name == used:
            yield Slide(
                checks=("crucible-fits",),
                at=f"/shop/crucibles/{index}/brim_volume",
                kind="volume",
                step=1e-4,
                up=True,
                most=1.0,
                words="Melt in a crucible that holds {new} to the brim (yours holds {old}).",
            )
            break


def _more_ingots(trouble: Trouble) -> Iterator[Slide]:
    """More ingot moulds of each size."""
    for index, mould in enumerate(given_at(trouble.case, "/shop/ingot_moulds") or ()):
        yield Slide(
            checks=("ingot-moulds-take-rest",),
            at=f"/shop/ingot_moulds/{index}/count",
            kind="count",
            step=1.0,
            up=True,
            most=1000.0,
            words=f"Have {{new}} ingot moulds '{mould.name}' ready ({{old}} are).",
        )


MELT = Levers(
    levers=(
        Proposal(checks=BROKEN, offers=_other_crucible),
        Slide(
            checks=("crucible-fits", "lift-by-hand", "furnace-big-enough"),
            at="/heats",
            kind="count",
            step=1.0,
            up=True,
            most=20.0,
            words="Melt it in {new} heats instead of {old}.",
        ),
        Proposal(checks=("crucible-fits",), offers=_larger_crucible),
        Switch(
            checks=("lift-by-hand",), changes=(Change("/lifted_by", "two"),), words="Lift it by two people."
        ),
        Switch(
            checks=("lift-by-hand",), changes=(Change("/lifted_by", "hoist"),), words="Lift it by a hoist."
        ),
        Slide(
            checks=("furnace-power",),
            at="/time",
            kind="time",
            step=60.0,
            up=True,
            most=86400.0,
            words="Take {new} for it instead of {old}.",
        ),
        Slide(
            checks=("furnace-power", "furnace-big-enough"),
            at="/shop/furnace/power",
            kind="power",
            step=1e3,
            up=True,
            most=1e7,
            words="Use a burner or supply of {new} (yours has {old}).",
        ),
        Slide(
            checks=("bottle-lasts", "bottle-vaporises"),
            at="/shop/bottle/count",
            kind="count",
            step=1.0,
            up=True,
            most=20.0,
            words="Couple {new} such bottles together instead of {old}.",
        ),
        Slide(
            checks=("bottle-lasts", "bottle-vaporises"),
            at="/shop/bottle/contents",
            kind="mass",
            step=0.5,
            up=True,
            most=50.0,
            words="Start with {new} of gas in the bottle instead of {old}.",
            only_if=("/shop/bottle/contents",),
        ),
        Slide(
            checks=("bottle-lasts", "bottle-vaporises"),
            at="/shop/bottle/weight",
            kind="mass",
            step=0.5,
            up=True,
            most=100.0,
            words="Start with a bottle that weighs {new} instead of {old}.",
            unless=("/shop/bottle/contents",),
        ),
        Slide(
            checks=("bottle-vaporises",),
            at="/shop/bottle/gas_pressure",
            kind="pressure",
            step=1e4,
            up=False,
            most=1e4,
            words="Use a burner that is content with {new} of gas (yours needs {old}).",
        ),
        Slide(
            checks=("melt-enough",),
            at="/melt_mass",
            kind="mass",
            step=0.05,
            up=True,
            most=1e4,
            words="Melt {new} instead of {old}.",
        ),
        Proposal(checks=("ingot-moulds-take-rest",), offers=_more_ingots),
    ),
    cost={"money": ("money", ("cost", "likely"))},
)
