"""The typed answer of `fix`: exactly the keys of the contract, ready for JSON."""

from __future__ import annotations

from dataclasses import asdict, dataclass, field

from luffwright.app.answer import Caution, plain


@dataclass(frozen=True)
class FixMove:
    """One thing to do.

    `control` is its key, or `course` for the helm; `start` and `to` where it stands and goes [its
    unit; of a course by how many degrees lower], `mark` its new place in deck words, `sheet_to`
    where the headsail's sheet goes with it; `chance` that it gains 0.02 kn or more, `expected`
    gain [kn], and how far that was `flown` by the mechanics for confirmation [kn].
    """

    control: str
    start: float
    to: float
    unit: str
    mark: str
    sheet_to: float | None
    sentence: str
    chance: float
    expected_gain_kn: float | None
    flown_gain_kn: float | None
    then_see: str
    why: str

    def as_json(self) -> dict[str, object]:
        """Return the move's values with `from` for where the control stands."""
        told = asdict(self)
        return {("from" if name == "start" else name): value for name, value in told.items()}


@dataclass(frozen=True)
class Unknown:
    """How far one unknown of the boat is narrowed: middle and spread before and after, in words."""

    name: str
    before: str
    after: str


@dataclass(frozen=True)
class FixMethod:
    """How the answer was reached: states flown for it, the emulator's error on states held out
    [kn, and degrees of incidence], whether the sample was there already, seconds it took;
    `confirmed`: whether the best moves were flown by the mechanics; `coarse`: whether all was on
    the coarse mesh of a first answer, which the errors leave out.
    """

    flown: int
    from_store: bool
    speed_error_kn: float
    tuft_error_deg: float
    seconds: float
    flags: tuple[str, ...] = ()
    confirmed: bool = False
    coarse: bool = False


@dataclass(frozen=True)
class FixAnswer:
    """What to do about what was seen: `moves` best first; `nothing_wrong`: leave it, and moves are
    for hands to spare: all that was looked at streams, none is expected to gain 0.02 kn, no reef
    is called.

    `says`: sentences about the sightings as a whole (contradiction, two readings, too little seen).
    """

    nothing_wrong: bool
    says: tuple[str, ...]
    moves: tuple[FixMove, ...]
    cautions: tuple[Caution, ...]
    unknowns: tuple[Unknown, ...]
    method: FixMethod = field(default_factory=lambda: FixMethod(0, False, 0.0, 0.0, 0.0))  # noqa: FBT003

    def as_json(self) -> dict[str, object]:
        """Return plain values for `json.dumps`, cautions first."""
        told = asdict(self) | {"moves": [move.as_json() for move in self.moves]}
        order = ("cautions", "nothing_wrong", "says", "moves", "unknowns", "method")
        return {name: plain(told[name]) for name in order}
