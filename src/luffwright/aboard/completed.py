"""A boat file as it was typed in, its blanks filled: checked, and every estimate named."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from pydantic import ValidationError

from luffwright.aboard.filling import NEEDED_WORDS, Estimate, Page
from luffwright.aboard.measuring import TWELVE
from luffwright.aboard.refusal import first_fault
from luffwright.aboard.schema import BoatFile
from luffwright.aboard.usual_deck import fill_deck
from luffwright.aboard.usual_hull import fill_hull
from luffwright.aboard.usual_rig import fill_rig, fill_stays
from luffwright.aboard.usual_sails import fill_sails
from luffwright.errors import BoatFileError


@dataclass(frozen=True)
class Completed:
    """A checked file; the keys that the sailor gave; where the other values come from."""

    file: BoatFile
    given: frozenset[str]
    estimates: tuple[Estimate, ...]


def completed(table: dict[str, Any]) -> Completed:
    """Return a boat file's table checked, its blanks filled with what is usual.

    Raises
    ------
    BoatFileError
        For an entry that cannot be used, or one of the twelve measurements that is lacking.
    """
    try:
        BoatFile.model_validate(table)
    except ValidationError as fault:
        if any(entry["type"] != "missing" for entry in fault.errors()):
            raise first_fault(fault, BoatFile) from None
    page = Page(table)
    for key, words in NEEDED_WORDS.items():
        if not page.has(key):
            raise BoatFileError(key, "nothing", "must be given", f"add it: {words}")
    for it in TWELVE:
        if not page.has(it.key):
            remedy = f"{it.what}: {it.how}"
            raise BoatFileError(it.key, "nothing", "must be given", remedy)
    for fill in (fill_hull, fill_rig, fill_stays, fill_sails, fill_deck):
        fill(page)
    try:
        file = BoatFile.model_validate(page.table)
    except ValidationError as fault:
        raise _not_hers(first_fault(fault, BoatFile), page) from None
    return Completed(file, page.given, tuple(page.estimates))


def _not_hers(fault: BoatFileError, page: Page) -> BoatFileError:
    """Return a fault of the filled file; where it is an estimate's, that one has to be measured."""
    if not any(fault.field.startswith(entry.key) for entry in page.estimates):
        return fault
    limit = f"is an estimate that {fault.limit}"
    remedy = (
        "look whether all lengths are in metres, not feet; else measure it and add it to the file"
    )
    return BoatFileError(fault.field, fault.value, limit, remedy)
