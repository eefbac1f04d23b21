"""The pins: every dependency has one, and none says where to fetch it from."""

from __future__ import annotations

import re
import tomllib
from importlib import metadata
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
PINS = [
    line
    for line in (ROOT / "constraints.txt").read_text(encoding="utf-8").splitlines()
    if line and not line.startswith("#")
]
PIN = re.compile(r'[A-Za-z0-9-]+==[0-9][0-9.]*( ; python_version (<|>=) "3\.[0-9]+")?')


def plain(name: str) -> str:
    """Return a package's name as it is compared."""
    return re.sub(r"[-_.]+", "-", name).lower()


def needed(requirement: str) -> str:
    """Return the name that a requirement asks for."""
    name = re.match(r"[A-Za-z0-9._-]+", requirement)
    assert name
    return plain(name[0])


def wanted() -> set[str]:
    """Return the names of all packages that the tests need, down to the last."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    asked = project["dependencies"] + project["optional-dependencies"]["test"]
    open_names, seen = [needed(text) for text in asked], set[str]()
    while open_names:
        name = open_names.pop()
        if name in seen:
            continue
        seen.add(name)
        # Extras and other systems' needs are not installed here.
        texts = [text for text in metadata.requires(name) or [] if "extra ==" not in text]
        open_names += [needed(text) for text in texts if installed(needed(text))]
    return seen


def installed(name: str) -> bool:
    """Return whether a package is here."""
    try:
        metadata.version(name)
    except metadata.PackageNotFoundError:
        return False
    return True


@pytest.mark.parametrize("line", PINS)
def test_a_pin_is_a_name_and_a_version_and_nothing_else(line: str) -> None:
    assert PIN.fullmatch(line)


def test_every_package_that_the_tests_need_is_pinned() -> None:
    pinned = {plain(line.partition("==")[0]) for line in PINS}
    assert wanted() <= pinned
