# Written by `python -m pourwright_service models`; change the service's schemas, not this file.

"""The operations of sand."""

from __future__ import annotations

from typing import TYPE_CHECKING

from .transport import Transport

if TYPE_CHECKING:
    from collections.abc import Sequence
    from typing import Literal, TypeAlias

    from .answer import Answer, Remedies, Units
    from .models.sand import DriedSampleInput, MeasureInput, SandFlaskInput, SandMemberInput, SandResult
    from .quantity import FractionInput, JsonObject, QuantityInput

    SandSystem: TypeAlias = Literal[
        "green sand",
        "oil-bonded sand",
        "silicate sand",
        "resin sand",
        "green",
        "greensand",
        "oil",
        "oil-bonded",
        "oil sand",
        "silicate",
        "sodium silicate",
        "CO2 sand",
        "resin",
    ]


class SandCalls(Transport):
    """The operations of sand."""

    def sand(
        self,
        *,
        system: SandSystem,
        sand_mass: QuantityInput | None = None,
        flask: SandFlaskInput | JsonObject | None = None,
        pattern_volume: QuantityInput | None = None,
        spare: FractionInput | None = None,
        bulk_density: QuantityInput | None = None,
        measure: MeasureInput | JsonObject | None = None,
        moisture: FractionInput | None = None,
        sample: DriedSampleInput | JsonObject | None = None,
        dry_sand: QuantityInput | None = None,
        burnt_share: FractionInput | None = None,
        water_share: FractionInput | None = None,
        binder_share: FractionInput | None = None,
        oil_share: FractionInput | None = None,
        methanol_share: FractionInput | None = None,
        catalyst_share: FractionInput | None = None,
        soda_share: FractionInput | None = None,
        solids_share: FractionInput | None = None,
        bucket_volume: QuantityInput | None = None,
        members: Sequence[SandMemberInput | JsonObject] | None = None,
        units: Units | None = None,
        working: bool = False,
        remedies: Remedies | None = None,
    ) -> Answer[SandResult]:
        """What to mix for a batch of moulding sand, new or used.

        Masses by weight for green sand, oil-bonded, silicate and resin sand: new, or used sand brought back
        into condition. Moisture follows from a dried sample, bulk density from one weighed measure; from them
        how much a flask takes, how many buckets that is, and each member's share. Sand that is too wet is
        refused, with the dry sand that mends it. Resin and catalyst are never guessed: their maker's card
        says.

        system: What holds the sand.
        sand_mass: Sand as it lies; left out, what the flask takes and some to spare.
        flask: The flask to fill.
        pattern_volume: Volume of pattern, riser and sprue in it.
        spare: Sand to spare over what the flask takes, additions not counted.
        bulk_density: Of rammed sand.
        measure: A weighed measure, from which the bulk density follows.
        moisture: Water in the sand as it lies.
        sample: A dried sample, from which the moisture follows.
        dry_sand: Dry new sand mixed in; it gets its whole share of binder.
        burnt_share: Used sand: the share of its binder that was burnt and is put back; left out, the sand is
            new and gets all of its binder.
        water_share: Water wanted in the whole mix (green sand).
        binder_share: Clay, silicate or resin, of the sand's weight.
        oil_share: Oil, of the sand's weight (oil-bonded sand).
        methanol_share: Methanol, of the sand's weight (oil-bonded sand).
        catalyst_share: Catalyst, of the resin's weight (resin sand).
        soda_share: Na2O in the silicate, by its maker's card.
        solids_share: What is not water in the silicate.
        bucket_volume: What your bucket holds.
        members: Who shares the batch.
        units: System of units of the answer; it never changes a decision.
        working: Whether the answer shows its working.
        remedies: Remedies for what failed (the default), for all that does not pass, or none.
        """
        from .models.sand import SandResult

        return self._ask(
            "/v1/sand",
            SandResult,
            {
                "system": system,
                "sand_mass": sand_mass,
                "flask": flask,
                "pattern_volume": pattern_volume,
                "spare": spare,
                "bulk_density": bulk_density,
                "measure": measure,
                "moisture": moisture,
                "sample": sample,
                "dry_sand": dry_sand,
                "burnt_share": burnt_share,
                "water_share": water_share,
                "binder_share": binder_share,
                "oil_share": oil_share,
                "methanol_share": methanol_share,
                "catalyst_share": catalyst_share,
                "soda_share": soda_share,
                "solids_share": solids_share,
                "bucket_volume": bucket_volume,
                "members": members,
            },
            units,
            working,
            remedies,
        )
