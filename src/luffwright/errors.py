"""What can go wrong, in the sailor's words.

    LuffwrightError
    ├── InputError            a field has a value that cannot be used
    │   └── BoatFileError     … in a boat file
    └── UnsailableError       no boat can sail what was asked

Each says the value, the limit and the remedy.
"""

from __future__ import annotations


class LuffwrightError(Exception):
    """Any refusal of this package."""


class InputError(LuffwrightError):
    """A field that cannot be used: its name, its value, the limit, and what to do about it."""

    def __init__(self, field: str, value: object, limit: str, remedy: str) -> None:
        self.field, self.value, self.limit, self.remedy = field, value, limit, remedy
        super().__init__(f"{field} = {value}: {limit}; {remedy}")

    def as_json(self) -> dict[str, str]:
        """Return the four parts as text."""
        return {
            "field": self.field,
            "value": str(self.value),
            "limit": self.limit,
            "remedy": self.remedy,
        }


class BoatFileError(InputError):
    """A boat file that cannot be used."""


class UnsailableError(InputError):
    """A request that no boat can sail."""
