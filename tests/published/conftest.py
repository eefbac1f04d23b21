"""Every check in this folder says where its numbers are printed, or nothing here runs."""

from __future__ import annotations

from pathlib import Path

import pytest

HERE = Path(__file__).parent
PARTS = ("work", "where", "tolerance")


def missing(item: pytest.Item) -> list[str]:
    """Return the parts of the source mark that a check leaves out."""
    mark = item.get_closest_marker("source")
    given = mark.kwargs if mark else {}
    return [part for part in PARTS if not str(given.get(part, "")).strip()]


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Refuse a check without its source."""
    for item in items:
        if item.path.is_relative_to(HERE) and (lacking := missing(item)):
            raise pytest.UsageError(
                f"{item.nodeid}: say where its numbers are printed; "
                f"@pytest.mark.source lacks {', '.join(lacking)}"
            )
