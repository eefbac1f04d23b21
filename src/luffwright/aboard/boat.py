"""A boat as the rest of the program meets her: from a name or a file to checked objects."""

from __future__ import annotations

import difflib
import tomllib
from dataclasses import dataclass
from importlib import resources
from pathlib import Path
from typing import Literal

from luffwright.aboard.completed import completed
from luffwright.aboard.convert import hull_of, sail_plan
from luffwright.aboard.deck_marks import deck_marks
from luffwright.aboard.filling import Estimate
from luffwright.aboard.fit import refuse_what_does_not_fit
from luffwright.aboard.mark import Mark
from luffwright.aboard.reefing import reefing_of
from luffwright.aboard.schema import BoatFile
from luffwright.errors import BoatFileError, InputError
from luffwright.sails.plan import ControlTravel, SailPlan
from luffwright.sails.setting import Setting
from luffwright.water.hull import Hull
from luffwright.water.reef_table import Reefing

_DEMO = resources.files("luffwright.aboard") / "demo"


@dataclass(frozen=True)
class Boat:
    """A checked boat: plan and hull for the physics, marks for the deck.

    `file` holds every value, `given` the keys of those that the sailor typed in, `estimates` where
    the others come from.
    """

    key: str
    name: str
    kind: Literal["monohull", "catamaran"]
    note: str
    plan: SailPlan
    hull: Hull
    marks: dict[str, Mark]
    sensor_height: float
    stern_aft: float
    file: BoatFile
    given: frozenset[str] = frozenset()
    estimates: tuple[Estimate, ...] = ()

    @property
    def reefing(self) -> Reefing:
        """Return what the boat's reef table is made from, in a calm sea."""
        return reefing_of(self.file, self.plan, self.hull)

    @property
    def assumed(self) -> tuple[str, ...]:
        """Return what an answer has to say of the values that nobody measured."""
        if not self.estimates:
            return ()
        count = f"{len(self.estimates)} values of the boat file are estimated"
        return (f"{count}: check lists them, and what to measure next",)

    def travel(self, control: str, field: str = "controls") -> ControlTravel:
        """Return a control's travel, or refuse the name in `field` with the boat's own list."""
        for entry in self.plan.controls:
            if entry.name == control:
                return entry
        names = ", ".join(entry.name for entry in self.plan.controls)
        raise InputError(field, control, f"{self.name} has no such control", f"she has {names}")

    def resting(self) -> Setting:
        """Return the setting with every control where it usually stands."""
        return Setting(**{entry.name: entry.rest for entry in self.plan.controls})


def boat_keys() -> tuple[str, ...]:
    """Return the names of the demo boats."""
    names = [entry.name for entry in _DEMO.iterdir() if entry.name.endswith(".toml")]
    return tuple(sorted(name.removesuffix(".toml") for name in names))


def _text(name: str) -> tuple[str, str]:
    if name.lower() in boat_keys():
        return name.lower(), (_DEMO / f"{name.lower()}.toml").read_text(encoding="utf-8")
    path = Path(name)
    if path.suffix == ".toml" and path.is_file():
        try:
            return path.stem, path.read_text(encoding="utf-8")
        except UnicodeDecodeError:
            limit = "not readable as text in UTF-8"
            raise BoatFileError("file", name, limit, "save it again as UTF-8") from None
    if path.suffix == ".toml":
        raise InputError("boat", name, "no such file", "look at its name and folder")
    if path.name and path.with_suffix(".toml").is_file():
        raise InputError("boat", name, "no boat of the school", f'did you mean "{name}.toml"?')
    near = difflib.get_close_matches(name.lower(), boat_keys(), 1)
    hint = f'did you mean "{near[0]}"?' if near else "give a demo boat's name or a .toml file"
    raise InputError("boat", name, f"no such boat; there are {', '.join(boat_keys())}", hint)


def load_boat(name: str) -> Boat:
    """Return the boat of a demo name or a boat file.

    Raises
    ------
    InputError, BoatFileError
        With the field, its value, the limit and the remedy.
    """
    key, text = _text(name)
    try:
        table = tomllib.loads(text)
    except tomllib.TOMLDecodeError as fault:
        limit = f"not readable as TOML ({fault})"
        remedy = "mend that line: numbers have a point and no unit, text stands in quotes"
        raise BoatFileError("file", f"{key}.toml", limit, remedy) from None
    found = completed(table)
    file = found.file
    refuse_what_does_not_fit(file)
    return Boat(
        key,
        file.boat.name,
        file.boat.kind,
        file.boat.note,
        sail_plan(file),
        hull_of(file),
        deck_marks(file, found.given),
        file.rig.sensor_above_water_m,
        file.hull.stern_aft_m,
        file,
        found.given,
        found.estimates,
    )
