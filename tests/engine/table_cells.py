"""What the tests of the tables share."""

from pourwright_service.engine.tables.alloys import Alloy
from pourwright_service.engine.tables.elements import Element
from pourwright_service.engine.tables.moulds import Mould


def have(row: Alloy | Element | Mould, name: str) -> float:
    """A figure that must be there."""
    value = row.value(name)
    assert value is not None, name
    return value
