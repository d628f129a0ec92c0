"""Published pattern sizes, drafts and rough sizes, posed as printed."""

from typing import Any

import pytest

from .published_rows import check_row, rows

ROWS = rows("pattern")


@pytest.mark.parametrize("row", ROWS, ids=[row["id"] for row in ROWS])
def test_published_case(row: dict[str, Any]) -> None:
    check_row(row)
