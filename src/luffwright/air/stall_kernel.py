"""Compiled law of the stall: strip by strip, as `air.nose`, `air.stall` and `air.luffing` print it.

Symbols as there: `a` incidence parameter, `b` camber's load, `n` what the nose holds, `f` the place
of separation. `cells` are the cubics of the bubble's drag (`air.bubble.drag_cells`).
"""

from __future__ import annotations

import math

import numba as nb
import numpy as np

NOSE_SOFT = 2e-4
"""Square of the incidence over which a nose's limit is rounded [rad²]."""
BURSTS = 2.0
"""Where the short bubble bursts: see `nose.BURSTS` [-]."""
BY_CAMBER, BY_INCIDENCE, SHORT, OPEN = 0.8, 5.8, 3.7, 12.0
"""What presses the leeward flow off: see `stall.separation` [-, 1/rad²]."""
DEAD = 0.04
"""Place of separation far beyond the stall [chords]."""
LUFF_WIDTH = 0.07
"""Incidence from windward over which the lift falls [rad]."""
SOFT, LITTLE = 0.006, 0.02
"""Over which the incidence [rad] and the camber's load [-] are divided smoothly at nought."""
SKIN_DRAG = 0.010
EXCESS, LOAD = 0.4, 1.2
"""Ends of the table of the bubble's drag: incidence beyond the nose [rad], camber's load [-]."""
GIVES_WAY, FLUTTERS = 0.03, 0.03
"""Half the width of load, as incidence, over which cloth lets go [rad]: an estimate of our own, a
third of what a luff needs from lifting to streaming. Share of the load that is left in fluttering
cloth, so that it is never without any hold [-]."""
BACKS_FROM, BACKS_TO = 0.25, 0.6
"""Incidence from the wrong side between which the strip becomes a plate in dead air [rad]: where a
strip that fills the right way does."""
_STEP = 1e-5


@nb.njit
def _up(a):  # type: ignore[no-untyped-def]
    """Return the leeward part of the incidence."""
    x = a / SOFT
    return SOFT * (max(x, 0.0) + math.log1p(math.exp(-abs(x))))


@nb.njit
def _positive(b):  # type: ignore[no-untyped-def]
    return 0.5 * (b + math.sqrt(b * b + LITTLE * LITTLE))


@nb.njit
def _step(x):  # type: ignore[no-untyped-def]
    """Return a smooth step from 0 to 1 and its slope."""
    x = min(max(x, 0.0), 1.0)
    return x * x * (3.0 - 2.0 * x), 6.0 * x * (1.0 - x)


@nb.njit
def _beyond(a, n):  # type: ignore[no-untyped-def]
    """Return the incidence left beyond what a nose holds; without one its square's root alone."""
    over = a * a - n * n
    if n > 0.0:
        return math.sqrt(0.5 * (over + math.sqrt(over * over + NOSE_SOFT * NOSE_SOFT)))
    return math.sqrt(max(over, 0.0))


@nb.njit
def _bubble_drag(excess, b, cells):  # type: ignore[no-untyped-def]
    """Return the bubble's drag from its table's cubics, about the middle of each cell."""
    inside = min(max(excess, 0.0), EXCESS)
    load = min(max(b, 0.0), LOAD)
    across, along = inside / EXCESS * cells.shape[0], load / LOAD * cells.shape[1]
    i, j = min(int(across), cells.shape[0] - 1), min(int(along), cells.shape[1] - 1)
    x, y = across - i - 0.5, along - j - 0.5
    root = 0.0
    for p in range(3, -1, -1):
        row = cells[i, j, p]
        root = root * x + ((row[3] * y + row[2]) * y + row[1]) * y + row[0]
    root += excess - inside
    return 2.0 * math.pi * root * root


@nb.njit
def _lost(a, b, n, cells):  # type: ignore[no-untyped-def]
    return _bubble_drag(_beyond(a, n), b, cells) / (2.0 * math.pi)


@nb.njit
def _leeward(up, b, n, cells):  # type: ignore[no-untyped-def]
    """Return where the leeward flow leaves, and the suction lost."""
    up, bend = min(up, 1.0), _positive(b)
    lost = _lost(up, bend, BURSTS * n, cells)
    behind = _beyond(up, n)
    pressed = BY_INCIDENCE * up * up + SHORT * behind * behind + OPEN * lost + BY_CAMBER * bend**2
    return DEAD + (1.0 - DEAD) * math.exp(-pressed), lost


@nb.njit
def _halves(f):  # type: ignore[no-untyped-def]
    """Return h² and m²."""
    root = math.sqrt(f)
    return (0.5 * (1.0 + root)) ** 2, (0.5 * (1.0 - root)) ** 2


@nb.njit
def _kept(f):  # type: ignore[no-untyped-def]
    plus, minus = _halves(f)
    return plus, plus * (12.0 * minus + 3.0 * plus - 2.0)


@nb.njit
def _wake_drag(f, b):  # type: ignore[no-untyped-def]
    plus, minus = _halves(f)
    return 2.0 * math.pi * minus * ((2.0 * minus + 3.0 * plus - 1.0) * b) ** 2


@nb.njit
def _plate(sine):  # type: ignore[no-untyped-def]
    size = min(max(abs(sine), 1e-6), 1.0)
    return 1.2 / 1.98 * np.sign(sine) / (0.222 + 0.283 / size)


@nb.njit
def _mix(a):  # type: ignore[no-untyped-def]
    """Return the share of the dead-air plate: 0 below 0.25, 1 beyond 0.6."""
    return _step((a - 0.25) / 0.35)[0]


@nb.njit
def _streaming(a, b, n, cells):  # type: ignore[no-untyped-def]
    """Return the lift ratio while the section still streams; where the flow leaves, and what is
    lost.
    """
    up = _up(a)
    bend = _positive(b)
    f, lost = _leeward(up, b, n, cells)
    flat, bent = _kept(f)
    windward = _kept(math.exp((a - up) / LUFF_WIDTH))[0]
    whole = 2.0 * up + bend + LITTLE
    return windward * ((2.0 * up + LITTLE) * flat + bend * bent) / whole, f, lost


@nb.njit
def _ratio(a, b, n, cells):  # type: ignore[no-untyped-def]
    sine = max(a, 0.0)
    # The wash of the others can carry the sine past one: the cosine fades there without a corner.
    cosine = math.sqrt(_positive(1.0 - sine * sine))
    plate = _plate(sine) * cosine / (2.0 * math.pi * (sine + 0.2))
    share = _mix(a)
    return max((1.0 - share) * _streaming(a, b, n, cells)[0] + share * plate, 0.01)


@nb.njit
def _ratios(a, b, n, cells):  # type: ignore[no-untyped-def]
    """Return the lift ratio and its slopes in the incidence and in the camber's load."""
    low, high = _ratio(a - _STEP, b, n, cells), _ratio(a + _STEP, b, n, cells)
    less, more = _ratio(a, b - _STEP, n, cells), _ratio(a, b + _STEP, n, cells)
    over = 1.0 / (2.0 * _STEP)
    return 0.5 * (low + high), (high - low) * over, (more - less) * over


@nb.njit
def _carried(a, b):  # type: ignore[no-untyped-def]
    share, slope = _step((a + 0.5 * b + GIVES_WAY) / (2.0 * GIVES_WAY))
    return FLUTTERS + (1.0 - FLUTTERS) * share, (1.0 - FLUTTERS) * slope / (2.0 * GIVES_WAY)


@nb.njit
def _backed(a):  # type: ignore[no-untyped-def]
    wide = BACKS_TO - BACKS_FROM
    share, slope = _step((-a - BACKS_FROM) / wide)
    return share, -slope / wide


@nb.njit
def _drag(a, b, lift, n, cells):  # type: ignore[no-untyped-def]
    kept, f, lost = _streaming(a, b, n, cells)
    f *= math.exp((a - _up(a)) / LUFF_WIDTH)
    left = abs(lift * a) * kept * (1.0 - math.sqrt(f))
    edge = 2.0 * math.pi * _kept(f)[0] * math.sqrt(f) * lost
    streaming = min(left, 0.5) + edge + _wake_drag(f, _positive(b))
    share = _mix(a)
    plate = _plate(a) * min(max(a, 0.0), 1.0)
    return SKIN_DRAG + (1.0 - share) * streaming + share * plate


@nb.njit(cache=True, error_model="numpy")
def beyond_each(incidence, holds):  # type: ignore[no-untyped-def]
    """Return `nose.beyond_nose` of each."""
    out = np.empty(incidence.size)
    for k in range(incidence.size):
        out[k] = _beyond(incidence[k], holds[k])
    return out


@nb.njit(cache=True, error_model="numpy")
def bubble_drag_each(excess, camber, cells):  # type: ignore[no-untyped-def]
    """Return `bubble.bubble_drag` of each."""
    out = np.empty(excess.size)
    for k in range(excess.size):
        out[k] = _bubble_drag(excess[k], camber[k], cells)
    return out


@nb.njit(cache=True, error_model="numpy")
def separation_each(incidence, camber, holds, cells):  # type: ignore[no-untyped-def]
    """Return `stall.separation` of each."""
    out = np.empty(incidence.size)
    for k in range(incidence.size):
        up = _up(incidence[k])
        f, _ = _leeward(up, camber[k], holds[k], cells)
        out[k] = f * math.exp((incidence[k] - up) / LUFF_WIDTH)
    return out


@nb.njit(cache=True, error_model="numpy")
def kept_each(point):  # type: ignore[no-untyped-def]
    """Return `stall.kept_lift` of each, (2, n)."""
    out = np.empty((2, point.size))
    for k in range(point.size):
        out[0, k], out[1, k] = _kept(point[k])
    return out


@nb.njit(cache=True, error_model="numpy")
def wake_drag_each(point, camber):  # type: ignore[no-untyped-def]
    """Return `stall.wake_drag` of each."""
    out = np.empty(point.size)
    for k in range(point.size):
        out[k] = _wake_drag(point[k], camber[k])
    return out


@nb.njit(cache=True, error_model="numpy")
def plate_each(sine):  # type: ignore[no-untyped-def]
    """Return `stall.plate_force` of each."""
    out = np.empty(sine.size)
    for k in range(sine.size):
        out[k] = _plate(sine[k])
    return out


@nb.njit(cache=True, error_model="numpy")
def plate_share_each(incidence):  # type: ignore[no-untyped-def]
    """Return `stall.plate_share` of each."""
    out = np.empty(incidence.size)
    for k in range(incidence.size):
        out[k] = _mix(incidence[k])
    return out


@nb.njit(cache=True, error_model="numpy")
def ratios_each(incidence, camber, holds, cells):  # type: ignore[no-untyped-def]
    """Return `stall.lift_ratios` of each, (3, n)."""
    out = np.empty((3, incidence.size))
    for k in range(incidence.size):
        out[:, k] = _ratios(incidence[k], camber[k], holds[k], cells)
    return out


@nb.njit(cache=True, error_model="numpy")
def drag_each(incidence, camber, lift, holds, cells):  # type: ignore[no-untyped-def]
    """Return `stall.drag_coefficients` of each."""
    out = np.empty(incidence.size)
    for k in range(incidence.size):
        out[k] = _drag(incidence[k], camber[k], lift[k], holds[k], cells)
    return out


@nb.njit(cache=True, error_model="numpy")
def carried_each(facing, camber):  # type: ignore[no-untyped-def]
    """Return `luffing.carried` of each, (2, n)."""
    out = np.empty((2, facing.size))
    for k in range(facing.size):
        out[0, k], out[1, k] = _carried(facing[k], camber[k])
    return out


@nb.njit(cache=True, error_model="numpy")
def cloth_ratios_each(facing, camber, holds, cells):  # type: ignore[no-untyped-def]
    """Return `luffing.cloth_ratios` of each, (3, n)."""
    out = np.empty((3, facing.size))
    for k in range(facing.size):
        a, b, n = facing[k], camber[k], holds[k]
        ratio, by_a, by_b = _ratios(a, b, n, cells)
        share, slope = _carried(a, b)
        give = share * ratio
        give_a, give_b = share * by_a + slope * ratio, share * by_b + 0.5 * slope * ratio
        back, turn = _backed(a)
        if back > 0.0:
            other, other_a, other_b = _ratios(-a, b, n, cells)
            give_a += back * (-other_a - give_a) + turn * (other - give)
            give_b += back * (other_b - give_b)
            give += back * (other - give)
        out[0, k], out[1, k], out[2, k] = give, give_a, give_b
    return out


@nb.njit(cache=True, error_model="numpy")
def cloth_drag_each(facing, camber, lift, holds, cells):  # type: ignore[no-untyped-def]
    """Return `luffing.cloth_drag` of each."""
    out = np.empty(facing.size)
    for k in range(facing.size):
        a, b, n = facing[k], camber[k], holds[k]
        drag = _drag(a, b, _carried(a, b)[0] * lift[k], n, cells)
        back = _backed(a)[0]
        if back > 0.0:
            drag += back * (_drag(-a, b, lift[k], n, cells) - drag)
        out[k] = drag
    return out
