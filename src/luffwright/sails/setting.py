"""Where every rope stands: the positions that the crew can set."""

from __future__ import annotations

from dataclasses import dataclass, fields, replace


@dataclass(frozen=True)
class Setting:
    """Positions of all controls, in metres of rope or wire unless said; None = not fitted.

    Zero and sense of each: `sheet` eased from where the leech just meets its stop, `lead` aft of
    the track's front end, `clew_hole` counted from the lowest, `lead_out` outboard, `halyard`
    pulled past hand-tight, `furl` share of the luff perpendicular rolled away, `backstay` taken up
    past hand-tight, `mainsheet` eased from boom on the centreline, `traveller` to leeward,
    `vang` and `cunningham` pulled past hand-tight, `outhaul` eased from the band, `reef` slab
    reefs taken, `main_furl` share of the foot rolled away. `pole` holds the headsail's clew out on
    the windward side, so many degrees aft of right ahead, as a crew counts it; 0 = stowed, and the
    headsail stands to leeward.
    """

    sheet: float = 0.0
    lead: float | None = None
    clew_hole: float | None = None
    lead_out: float | None = None
    halyard: float = 0.0
    furl: float | None = None
    backstay: float | None = None
    mainsheet: float = 0.0
    traveller: float | None = None
    vang: float | None = None
    cunningham: float | None = None
    outhaul: float = 0.0
    reef: float | None = None
    main_furl: float | None = None
    pole: float | None = None

    @property
    def poled(self) -> bool:
        """Return whether the headsail is held out to windward by its pole."""
        return bool(self.pole)

    def value(self, name: str) -> float:
        """Return the position of the control `name`; 0 where it is not fitted."""
        found = getattr(self, name)
        return 0.0 if found is None else float(found)

    def changed(self, **positions: float) -> Setting:
        """Return the same setting with some positions changed."""
        return replace(self, **positions)


CONTROL_NAMES: tuple[str, ...] = tuple(entry.name for entry in fields(Setting))
_OTHER_UNITS = {
    "clew_hole": "hole", "furl": "share", "reef": "number", "main_furl": "share", "pole": "deg",
}  # fmt: skip
CONTROL_UNITS: dict[str, str] = {name: _OTHER_UNITS.get(name, "m") for name in CONTROL_NAMES}
