"""Every check in this folder names the fact of the trade that it shows, or nothing here runs."""

from __future__ import annotations

import re
import sys
from pathlib import Path

import pytest

HERE = Path(__file__).parent
# The start states lie beside the tests, which import by file and not by package.
sys.path.insert(0, str(HERE))
FACT = re.compile(r"[A-Z][0-9]+[a-z]?")


def named(item: pytest.Item) -> bool:
    """Return whether a check names its fact, as in `@pytest.mark.practice(fact="B1")`."""
    mark = item.get_closest_marker("practice")
    return bool(mark and FACT.fullmatch(str(mark.kwargs.get("fact", ""))))


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Refuse a check without its fact."""
    for item in items:
        if item.path.is_relative_to(HERE) and not named(item):
            raise pytest.UsageError(
                f"{item.nodeid}: name the fact of the trade it shows, "
                '@pytest.mark.practice(fact="B1"): common practice, no source'
            )
