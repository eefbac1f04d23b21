"""What can go wrong, in the sailor's words.

    LuffwrightError           any refusal; leaves the command line with 2
    └── InputError            a field has a value that cannot be used
        ├── BoatFileError     … in a boat file
        └── UnsailableError   no boat can sail what was asked

Each says the value, the limit and the remedy. A solve that does not settle is not an error: its
answer says so in its status.
"""

from __future__ import annotations

from typing import ClassVar


class LuffwrightError(Exception):
    """Any refusal of this package."""

    exit_code: ClassVar[int] = 2


class InputError(LuffwrightError):
    """A field that cannot be used: its name, its value, the limit, and what to do about it.

    Examples
    --------
    >>> print(InputError("wind_kn", -3, "must be 0 to 60", "give the wind's speed in knots"))
    wind_kn = -3: must be 0 to 60; give the wind's speed in knots
    """

    def __init__(self, field: str, value: object, limit: str, remedy: str) -> None:
        self.field, self.value, self.limit, self.remedy = field, value, limit, remedy
        # All four, so that a refusal in a worker process arrives whole.
        super().__init__(field, value, limit, remedy)

    def __str__(self) -> str:
        """Return the refusal as one sentence."""
        return f"{self.field} = {self.value}: {self.limit}; {self.remedy}"

    def as_json(self) -> dict[str, str]:
        """Return the four parts as text, as a batch answers a bad line."""
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
