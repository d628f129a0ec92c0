# Written by `python -m pourwright_service models`; change the service's schemas, not this file.

"""The operations of freeze maps."""

from __future__ import annotations

from typing import TYPE_CHECKING

from .transport import Transport

if TYPE_CHECKING:
    from collections.abc import Sequence
    from typing import Literal

    from .answer import Answer, Remedies, Units
    from .models.common import MouldInput, PropertiesInput
    from .models.freeze_maps import FreezeMapResult, MapBodyInput, MapMeshInput, MapRiserInput
    from .quantity import JsonObject, QuantityInput


class FreezeMapsCalls(Transport):
    """The operations of freeze maps."""

    def freeze_map(
        self,
        *,
        mesh: MapMeshInput | JsonObject,
        alloy: str | None = None,
        properties: PropertiesInput | JsonObject | None = None,
        mould: MouldInput | JsonObject | None = None,
        mould_constant: QuantityInput | None = None,
        pouring_temperature: QuantityInput | None = None,
        temperature_fall: QuantityInput | None = None,
        riser: MapRiserInput | JsonObject | None = None,
        bodies: Sequence[MapBodyInput | JsonObject] | None = None,
        cells: int | None = None,
        accuracy: Literal["draft", "normal", "fine"] | None = None,
        slices: bool | None = None,
        files: Sequence[Literal["vti", "glb"]] | None = None,
        units: Units | None = None,
        working: bool = False,
        remedies: Remedies | None = None,
    ) -> Answer[FreezeMapResult]:
        """Where a mesh freezes last.

        Conducts the heat from metal to mould cell by cell until all metal is solid, and tells the places that
        freeze last; with a riser, whether it outlasts the casting and whether liquid metal leads from it to
        everywhere until the end. The order of freezing is to be trusted more than its times: properties of
        sand are rarely known to better than a third, and a chill or sleeve that does not touch the metal all
        over does less than the map says.

        mesh: The mesh.
        alloy: The alloy; its properties are looked up.
        properties: Properties of the metal that you know better; they win.
        mould: What the mould is made of.
        mould_constant: Chvorinov's constant by a trial of yours: the mould's conductivity then follows it.
        pouring_temperature: How hot the metal leaves the crucible.
        temperature_fall: How much it cools until the mould is full.
        riser: A riser to be mapped with the casting.
        bodies: Further bodies in the mould.
        cells: Cells, those of the mould round the casting included; more are finer and slower.
        accuracy: How small the steps of time are.
        slices: Whether pictures of three planes through what freezes last come with the answer.
        files: Files of the map that come with the answer: vti, the cells for a viewer of scientific data (VTK
            XML image data); glb, the surface coloured by its time (glTF 2.0).
        units: System of units of the answer; it never changes a decision.
        working: Whether the answer shows its working.
        remedies: Remedies for what failed (the default), for all that does not pass, or none.
        """
        from .models.freeze_maps import FreezeMapResult

        return self._ask(
            "/v1/freeze-maps",
            FreezeMapResult,
            {
                "mesh": mesh,
                "alloy": alloy,
                "properties": properties,
                "mould": mould,
                "mould_constant": mould_constant,
                "pouring_temperature": pouring_temperature,
                "temperature_fall": temperature_fall,
                "riser": riser,
                "bodies": bodies,
                "cells": cells,
                "accuracy": accuracy,
                "slices": slices,
                "files": files,
            },
            units,
            working,
            remedies,
        )
