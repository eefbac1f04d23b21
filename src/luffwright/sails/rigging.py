"""A boat put together: from plan and setting to points, cloth, ropes and weights.

The numbering of points starts with the nodes of the headsail, then the mainsail's; after them come
the mast's places, spreader tips, boom points and all that stays put. What a control does is here:
it changes a rope's length or a fixed point's place, nothing else.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np

from luffwright.arrays import FloatArray, IntArray
from luffwright.sails.ageing import worn_cloth, worn_links
from luffwright.sails.cut import moulded
from luffwright.sails.membrane import Membrane
from luffwright.sails.placing import lead_place, place_headsail, place_mainsail, winch_place
from luffwright.sails.plan import SailPlan, Stay
from luffwright.sails.points import PointBuilder, Points
from luffwright.sails.ropes import KNOT, Rope, Ropes, joined
from luffwright.sails.sailcloth import (
    BATTEN_AXIAL,
    HEADBOARD,
    SailPart,
    joints,
    upright_chain,
)
from luffwright.sails.setting import Setting
from luffwright.sails.spar import Spar, spar

if TYPE_CHECKING:
    from scipy.sparse import csr_matrix

GRAVITY = 9.81
CONTACT_STIFFNESS = 20_000.0
REEF_SHARE = 0.13
LEECH_HAND_TIGHT = 0.01
"""The mainsheet's mark: boom on the centreline, leech stretched by this share of its length."""


@dataclass(frozen=True)
class Mesh:
    """Strips and panels of each sail: `strips` from foot to head, `panels` along the chord."""

    strips: int = 9
    panels: int = 7


@dataclass(frozen=True)
class Bends:
    """Joints of battens: the points before, at and behind each, (n, 3), and EI / s [N m]."""

    joint: IntArray
    stiff: FloatArray


@dataclass(frozen=True)
class Rigging:
    """Everything that the flight needs and that does not change while it is solved.

    `flutter`: bending stiffness of each sail's cloth where only a mean surface stands [N m].
    """

    plan: SailPlan
    sails: tuple[SailPart, ...]
    points: Points
    cloth: Membrane
    ropes: Ropes
    bends: Bends
    blockers: IntArray
    mast_stiffness: FloatArray
    mass: FloatArray
    lift: FloatArray
    moulded_places: FloatArray
    spar: Spar
    flutter: tuple[float, ...] = ()

    @cached_property
    def start(self) -> FloatArray:
        """Return the unknowns that hang the moulded sails where their ropes let them [m]."""
        return self.points.solve_for(self.moulded_places)

    @cached_property
    def from_sails(self) -> csr_matrix:
        """Return the map that takes forces on the sails' nodes to the unknowns."""
        return self.points.matrix()[: 3 * self.sail_nodes].T.tocsr()

    @property
    def sail_nodes(self) -> int:
        """Return the number of nodes of all sails."""
        return sum(part.count for part in self.sails)


class _Maker:
    """Holds what is shared while one boat is put together; used by `rig` only."""

    def __init__(self, plan: SailPlan, setting: Setting, mesh: Mesh, sheet_zero: float) -> None:
        self.plan, self.setting, self.mesh = plan, setting, mesh
        self.sheet_zero = sheet_zero
        self.build = PointBuilder()
        self.ropes: list[Rope] = []
        self.bends: list[tuple[tuple[int, int, int], float]] = []
        self.spar = spar(plan.mast)
        self.loads: list[tuple[int, tuple[float, float, float]]] = []
        self.places: dict[int, FloatArray] = {}
        self.bend = -1

    def rope(  # noqa: PLR0913
        self, name: str, chain: list[int], length: float, spring: float, breaking: float = 0.0,
        *, both: bool = False, sense: int = 1, knot: float = 0.0,
    ) -> None:  # fmt: skip
        self.ropes.append(Rope(name, tuple(chain), length, spring, both, breaking, sense, knot))

    def place(self, point: int) -> FloatArray:
        return self.places[point]

    def mark(self, point: int, place: FloatArray) -> int:
        self.places[point] = np.asarray(place, dtype=np.float64)
        return point

    def fixed(self, place: FloatArray | tuple[float, float, float], name: str = "") -> int:
        return self.mark(self.build.fixed(tuple(place), name), np.asarray(place))

    def mast_rows(self, height: float) -> tuple[dict[int, float], dict[int, float]]:
        weights = self.spar.weights(height)
        count = len(self.spar.stations)
        fore = {self.bend + k: float(w) for k, w in enumerate(weights) if w}
        side = {self.bend + count + k: float(w) for k, w in enumerate(weights) if w}
        return fore, side

    def axis_x(self, height: float) -> float:
        return -np.tan(self.plan.mast.rake) * (height - self.plan.mast.foot)

    def on_mast(
        self, height: float, shift: tuple[float, float] = (0.0, 0.0), name: str = ""
    ) -> int:
        fore, side = self.mast_rows(height)
        place = np.array([self.axis_x(height) + shift[0], shift[1], height])
        return self.mark(self.build.add([fore, side, {}], tuple(place), name), place)


def _between(a: FloatArray, b: FloatArray) -> float:
    return float(np.linalg.norm(np.asarray(a) - np.asarray(b)))


def _chain_length(maker: _Maker, chain: list[int]) -> float:
    return sum(_between(maker.place(a), maker.place(b)) for a, b in pairwise(chain))


def _headsail_nodes(maker: _Maker) -> SailPart:
    plan, setting, mesh = maker.plan, maker.setting, maker.mesh
    rows, columns = mesh.strips + 1, mesh.panels + 1
    shape = moulded(plan.headsail, rows, columns, rolled_share=setting.value("furl"))
    places = place_headsail(plan, shape, setting).reshape(rows, columns, 3)
    first = maker.build.count
    for j in range(rows):
        for i in range(columns):
            if j == 0 and i == 0:
                maker.fixed(places[0, 0])
            elif j == rows - 1 and 0 < i < columns - 1:
                maker.build.add([{}, {}, {}], (0.0, 0.0, 0.0))
            else:
                maker.build.free()
            maker.mark(first + j * columns + i, places[j, i])
    _stiff_head(maker, first + (rows - 1) * columns, columns)
    return SailPart("headsail", first, rows, columns, shape, plan.headsail)


def _stiff_head(maker: _Maker, first: int, columns: int) -> None:
    """Tie the head's inner nodes to its ends: a headboard or a few layers of cloth."""
    build, last = maker.build, first + columns - 1
    for i in range(1, columns - 1):
        share = i / (columns - 1)
        for axis in range(3):
            row: dict[int, float] = {}
            value = 0.0
            for node, weight in ((first, 1 - share), (last, share)):
                value += weight * build.constant[3 * node + axis]
                for key, part in build.rows[3 * node + axis].items():
                    row[key] = row.get(key, 0.0) + weight * part
            build.rows[3 * (first + i) + axis] = row
            build.constant[3 * (first + i) + axis] = value


def _mainsail_nodes(maker: _Maker) -> SailPart:
    plan, setting, mesh = maker.plan, maker.setting, maker.mesh
    rows, columns = mesh.strips + 1, mesh.panels + 1
    reef = REEF_SHARE * setting.value("reef")
    shape = moulded(
        plan.mainsail, rows, columns, rolled_share=setting.value("main_furl"), reef_from=reef
    )
    places = place_mainsail(plan, shape, setting).reshape(rows, columns, 3)
    gear = plan.mainsail_gear
    first = maker.build.count
    for j in range(rows):
        for i in range(columns):
            place = places[j, i]
            if i > 0:
                if j == rows - 1 and i < columns - 1:
                    maker.build.add([{}, {}, {}], (0.0, 0.0, 0.0))
                else:
                    maker.build.free()
            elif j == 0:
                pull = setting.value("cunningham") / max(gear.cunningham_parts, 1.0)
                place = place - np.array([0.0, 0.0, pull])
                maker.build.fixed(tuple(place))
            else:
                place = _on_track(maker, places[0, 0], float(place[2]))
                fore, side = maker.mast_rows(float(place[2]))
                slide = maker.build.unknown()
                maker.build.add([fore, side, {slide: 1.0}], (place[0], place[1], 0.0))
            maker.mark(first + j * columns + i, place)
    _stiff_head(maker, first + (rows - 1) * columns, columns)
    return SailPart("mainsail", first, rows, columns, shape, plan.mainsail)


def _on_track(maker: _Maker, tack: FloatArray, height: float) -> FloatArray:
    """Return the place on the mast's track at a height [m]: straight, as long as the mast is."""
    back = float(np.tan(maker.plan.mast.rake)) * (height - tack[2])
    return np.array([tack[0] - back, tack[1], height])


def _head_strut(maker: _Maker, main: SailPart) -> None:
    """Stand the head's after corner off the luff: a headboard's lower slide, or a gaff batten.

    The strut begins as far below the head as the head is wide, and slides in the track with it.
    """
    luff, corner = main.node(main.rows - 1, 0), main.node(main.rows - 1, main.columns - 1)
    width = _between(main.moulded.grid[-1, 0], main.moulded.grid[-1, -1])
    head = maker.place(luff)
    below = _on_track(maker, head, float(head[2] - width * np.cos(maker.plan.mast.rake)))
    fore, side = maker.mast_rows(float(below[2]))
    rise = dict(maker.build.rows[3 * luff + 2])
    slide = maker.mark(
        maker.build.add([fore, side, rise], (below[0], below[1], below[2] - head[2])), below
    )
    away = main.moulded.grid[-1, -1] - main.moulded.grid[-1, 0]
    length = float(np.linalg.norm(away + np.array([0.0, width, 0.0])))
    stiff = HEADBOARD * main.cut.tape_stiffness
    maker.rope("mainsail_head_strut", [slide, corner], length, stiff / length, both=True)


def _uprights(maker: _Maker, part: SailPart) -> None:
    """Let upright battens push: they hold out the leech that would fold over them."""
    for batten in part.cut.uprights:
        points: list[int] = []
        rest: list[FloatArray] = []
        for mix in upright_chain(part, batten):
            nodes, shares = list(mix), np.array(list(mix.values()))
            place = shares @ np.array([maker.place(node) for node in nodes])
            points.append(maker.mark(maker.build.mix(list(mix.items())), place))
            rest.append(shares @ part.moulded.nodes[np.array(nodes) - part.first])
        for (a, b), (low, high) in zip(pairwise(points), pairwise(rest), strict=True):
            length = _between(low, high)
            maker.rope(f"{part.role}_batten", [a, b], length, BATTEN_AXIAL / length, both=True)
        step = float(part.moulded.grid[1, 0, 1] - part.moulded.grid[0, 0, 1])
        for line in zip(points, points[1:], points[2:], strict=False):
            maker.bends.append((line, batten.stiffness / step))


def _tip(maker: _Maker, number: int, side: float) -> int:
    spreader = maker.plan.mast.spreaders[number]
    shift = (
        -spreader.length * float(np.sin(spreader.sweep)),
        side * spreader.length * float(np.cos(spreader.sweep)),
    )
    return maker.on_mast(spreader.height, shift)


def _stay_rope(maker: _Maker, stay: Stay, chain: list[int], name: str, taken: float) -> None:
    whole = _chain_length(maker, chain)
    spring = stay.line.stiffness / whole
    length = whole / (1.0 + stay.dock_tension / stay.line.stiffness) - taken
    maker.rope(name, chain, length, spring, stay.line.breaking)


def _standing_rigging(maker: _Maker, head: SailPart) -> list[int]:
    plan = maker.plan
    mast = plan.mast
    blockers: list[int] = []
    tips = {
        (number, side): _tip(maker, number, side)
        for number in range(len(mast.spreaders))
        for side in (1.0, -1.0)
    }
    for stay in plan.shrouds:
        for side, word in ((1.0, "leeward"), (-1.0, "windward")):
            chain = [maker.fixed((stay.lower[0], side * stay.lower[1], stay.lower[2]))]
            if stay.over_spreaders:
                chain += [
                    tips[number, side]
                    for number in range(len(mast.spreaders))
                    if mast.spreaders[number].height < stay.height
                ]
            chain.append(maker.on_mast(stay.height))
            _stay_rope(maker, stay, chain, f"{stay.name}_{word}", 0.0)
            if side > 0 and stay.over_spreaders:
                blockers += chain[1:-1]
                for low, high in pairwise(chain[:-1]):
                    for share in (1 / 3, 2 / 3):
                        blockers.append(maker.build.mix([(low, 1 - share), (high, share)]))
                        maker.mark(
                            maker.build.count - 1,
                            (1 - share) * maker.place(low) + share * maker.place(high),
                        )
    top = maker.on_mast(plan.forestay.height, name="hounds")
    lower = maker.fixed(plan.forestay.lower, "forestay_lower")
    luff = [head.node(j, 0) for j in range(head.rows)]
    straight = _between(maker.place(lower), maker.place(top))
    line = plan.forestay.line
    length = straight / (1.0 + plan.forestay.dock_tension / line.stiffness)
    maker.rope("forestay", [lower, *luff, top], length, line.stiffness / straight, line.breaking)
    if plan.backstay is not None:
        chain = [maker.fixed(plan.backstay.lower), maker.on_mast(plan.backstay.height)]
        _stay_rope(maker, plan.backstay, chain, "backstay", maker.setting.value("backstay"))
    # On its pole the headsail stands on the other side, ahead of spreaders and shrouds.
    return blockers if plan.headsail_gear.overlaps_shrouds and not maker.setting.poled else []


def _headsail_gear(maker: _Maker, head: SailPart) -> None:
    plan, setting = maker.plan, maker.setting
    gear = plan.headsail_gear
    sheave = maker.build.names["hounds"]
    node = head.node(head.rows - 1, 0)
    stretch = gear.halyard.stiffness / gear.halyard_length
    tack = maker.place(head.node(0, 0))
    along = maker.place(sheave) - tack
    rest_luff = float(head.moulded.grid[-1, 0, 1] - head.moulded.grid[0, 0, 1])
    hoist = float(np.linalg.norm(along)) - rest_luff
    maker.rope(
        "halyard", [node, sheave], hoist - setting.value("halyard"), stretch, gear.halyard.breaking
    )
    lead = maker.fixed(lead_place(plan, setting), "lead")
    winch = maker.fixed(winch_place(plan, setting), "winch")
    shift = gear.board_pitch * max(setting.value("clew_hole") - 1.0, 0.0)
    low, next_up = head.node(0, head.columns - 1), head.node(1, head.columns - 1)
    share = shift / max(_between(maker.place(low), maker.place(next_up)), 1e-6)
    board = maker.build.mix([(low, 1.0 - share), (next_up, share)], name="clew")
    place = (1.0 - share) * maker.place(low) + share * maker.place(next_up)
    maker.mark(board, place)
    chain = [winch, lead, board]
    length = maker.sheet_zero + setting.value("sheet")
    spring = gear.sheet.stiffness / (_chain_length(maker, chain) + 1.0)
    knot = KNOT if setting.poled else 0.0
    maker.rope("sheet", chain, length, spring, gear.sheet.breaking, knot=knot)


def _boom(maker: _Maker, main: SailPart) -> None:
    plan, setting = maker.plan, maker.setting
    gear = plan.mainsail_gear
    pulled = setting.value("cunningham") / max(gear.cunningham_parts, 1.0)
    goose = maker.fixed(maker.place(main.node(0, 0)) + np.array([0.0, 0.0, pulled]))
    clew = main.node(0, main.columns - 1)
    foot = float(np.linalg.norm(main.moulded.grid[0, -1] - main.moulded.grid[0, 0]))
    parts = max(gear.outhaul_parts, 1.0)
    stiff = parts * gear.outhaul.stiffness / max(gear.boom_length, 1.0)
    maker.rope(
        "outhaul", [goose, clew], foot - setting.value("outhaul") / parts, stiff,
        parts * gear.outhaul.breaking, both=True, sense=-1,
    )  # fmt: skip
    base = np.array([maker.place(goose)[0], 0.0, maker.place(goose)[2]])
    rest = main.moulded.grid[0, -1] - main.moulded.grid[0, 0]
    hard = LEECH_HAND_TIGHT * main.cut.leech
    reference = base + np.array([-np.hypot(rest[0], rest[2]), 0.0, rest[1] - hard])

    def along(distance: float, name: str) -> int:
        share = distance / foot
        point = maker.build.mix([(goose, 1 - share), (clew, share)], name=name)
        maker.mark(point, (1 - share) * maker.place(goose) + share * maker.place(clew))
        return point

    def on_centre(distance: float) -> FloatArray:
        return base + distance / foot * (reference - base)

    hold = along(gear.sheet_at, "boom_sheet")
    middle = np.array(gear.traveller)
    car = maker.fixed(middle + np.array([0.0, setting.value("traveller"), 0.0]), "traveller")
    parts = max(gear.sheet_parts, 1.0)
    gap = _between(on_centre(gear.sheet_at), middle)
    maker.rope(
        "mainsheet", [hold, car], gap + setting.value("mainsheet") / parts,
        parts * gear.sheet.stiffness / gap, gear.sheet.breaking * parts,
    )  # fmt: skip
    along(gear.boom_length, "boom_end")
    half = along(0.5 * gear.boom_length, "boom_middle")
    maker.loads.append((half, (0.0, 0.0, -gear.boom_mass * GRAVITY)))
    if gear.has_vang:
        pull = along(gear.vang_at, "boom_vang")
        foot_point = maker.fixed(gear.vang_foot, "vang_foot")
        gap = _between(on_centre(gear.vang_at), np.array(gear.vang_foot))
        maker.rope(
            "vang", [pull, foot_point], gap - setting.value("vang") / max(gear.vang_parts, 1.0),
            gear.vang_parts * gear.vang.stiffness / gap, gear.vang.breaking * gear.vang_parts,
        )  # fmt: skip
        maker.loads.append((pull, (0.0, 0.0, gear.vang_lift)))
    _main_halyard(maker, main, float(maker.place(goose)[0] - maker.axis_x(maker.place(goose)[2])))


def _main_halyard(maker: _Maker, main: SailPart, forward: float) -> None:
    """Lead the halyard to its sheave, as far before the mast's axis [m] as the luff stands."""
    gear = maker.plan.mainsail_gear
    halyard_stretch = gear.halyard.stiffness / gear.halyard_length
    sheave = maker.on_mast(maker.plan.mast.top, (forward, 0.0))
    head = main.node(main.rows - 1, 0)
    hoist = maker.place(sheave)[2] - maker.place(head)[2]
    maker.rope("main_halyard", [head, sheave], hoist, halyard_stretch, gear.halyard.breaking)


def _mast_stiffness(maker: _Maker, unknowns: int) -> FloatArray:
    whole = np.zeros((unknowns, unknowns))
    count, mast = len(maker.spar.stations), maker.plan.mast
    fore = slice(maker.bend, maker.bend + count)
    side = slice(maker.bend + count, maker.bend + 2 * count)
    whole[fore, fore] = mast.stiffness_fore_aft * maker.spar.bending
    whole[side, side] = mast.stiffness_sideways * maker.spar.bending
    return whole


def _frozen_bends(maker: _Maker) -> Bends:
    joint = np.array([entry[0] for entry in maker.bends], dtype=np.int64).reshape(-1, 3)
    return Bends(joint, np.array([entry[1] for entry in maker.bends], dtype=np.float64))


def rig(plan: SailPlan, setting: Setting, mesh: Mesh, sheet_zero: float) -> Rigging:
    """Return the boat put together with all ropes at the setting's positions.

    Parameters
    ----------
    plan : SailPlan
    setting : Setting
        Positions of all controls.
    mesh : Mesh
    sheet_zero : float
        Unstretched length of the headsail sheet, winch to clew, at its mark. [m]

    Returns
    -------
    Rigging
    """
    maker = _Maker(plan, setting, mesh, sheet_zero)
    maker.bend = maker.build.unknown(2 * len(maker.spar.stations))
    head, main = _headsail_nodes(maker), _mainsail_nodes(maker)
    _head_strut(maker, main)
    blockers = _standing_rigging(maker, head)
    _headsail_gear(maker, head)
    _boom(maker, main)
    _uprights(maker, main)
    for part in (head, main):
        for link in worn_links(part):
            maker.rope(link.name, list(link.ends), link.length, link.spring, both=link.both)
        maker.bends += joints(part)
    cloth, mass = worn_cloth((head, main), maker.build.count)
    points = maker.build.build()
    places = np.array([maker.places[k] for k in range(maker.build.count)])
    lift = np.zeros((maker.build.count, 3))
    for point, force in maker.loads:
        lift[point] += force
    return Rigging(
        plan, (head, main), points, cloth,
        joined(maker.ropes), _frozen_bends(maker),
        np.array(blockers, dtype=np.int64),
        _mast_stiffness(maker, points.unknowns), mass, lift,
        places, maker.spar,
    )  # fmt: skip
