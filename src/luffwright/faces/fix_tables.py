"""What `fix` says on a screen: what to do first, what is then to be seen, and why."""

from __future__ import annotations

from rich.padding import Padding
from rich.text import Text

from luffwright.app.call import calls_in
from luffwright.app.fix_answer import FixAnswer, FixMove
from luffwright.faces.tables import MARKS, Parts, plain, small, table_of
from luffwright.faces.words import capital

LIKELY, MAYBE = 0.7, 0.4
"""Chances from which a move is told as most likely right, or maybe."""
LEAST_GAIN_KN = 0.005
"""Gain that is told as one [kn]: less would be written as 0.00."""
UNKNOWN = {
    "wind_angle": "course", "wind": "wind", "gradient": "wind's growth with height",
    "head_camber": "headsail's depth", "head_draft": "headsail's depth lies",
    "head_shear": "headsail's stiffness on the bias", "main_camber": "mainsail's depth",
    "main_draft": "mainsail's depth lies", "stay": "stays' tension at the dock",
}  # fmt: skip


def fix_tables(answer: FixAnswer) -> Parts:
    """Return the answer of `fix`: reef calls, what is to be said, moves best first, cautions."""
    called = calls_in(answer.cautions)
    parts: Parts = [Padding(Text(it.text, "bold"), (1, 0, 0, 1)) for it in called]
    parts += [plain(text) for text in answer.says]
    if answer.nothing_wrong:
        line = "LEAVE IT. No move is expected to bring 0.02 kn."
        parts.append(Padding(Text(line, "bold"), (1, 0, 0, 1)))
        parts += [plain("With hands to spare:")] if answer.moves else []
    elif not answer.moves and not called:
        parts.append(Padding(Text("LOOK AGAIN before you move anything.", "bold"), (1, 0, 0, 1)))
    for count, move in enumerate(answer.moves, start=1):
        parts += _move(count, move)
    parts += _unknowns(answer)
    parts += [small(it.text) for it in answer.cautions if it not in called]
    return [*parts, small(MARKS), small(_method(answer))]


def chance_words(chance: float) -> str:
    """Return a chance as one says it.

    Parameters
    ----------
    chance : float
        [-]

    Examples
    --------
    >>> chance_words(0.82), chance_words(0.5), chance_words(0.1)
    ('most likely', 'maybe', 'a try')
    """
    return "most likely" if chance >= LIKELY else "maybe" if chance >= MAYBE else "a try"


def gain_words(gain_kn: float) -> str:
    """Return what a move is expected to bring.

    Parameters
    ----------
    gain_kn : float
        [kn]

    Examples
    --------
    >>> gain_words(0.12), gain_words(-0.004), gain_words(-0.01)
    ('0.12 kn to gain', 'nothing to gain', 'costs 0.01 kn')
    """
    if abs(gain_kn) < LEAST_GAIN_KN:
        return "nothing to gain"
    return f"{gain_kn:.2f} kn to gain" if gain_kn > 0.0 else f"costs {-gain_kn:.2f} kn"


def flown_words(gain_kn: float) -> str:
    """Return what a move brought when flown.

    Parameters
    ----------
    gain_kn : float
        [kn]

    Examples
    --------
    >>> flown_words(0.12), flown_words(-0.004)
    ('+0.12 kn', 'no change')
    """
    return "no change" if abs(gain_kn) < LEAST_GAIN_KN else f"{gain_kn:+.2f} kn"


def _move(count: int, move: FixMove) -> Parts:
    told = chance_words(move.chance)
    if move.expected_gain_kn is not None:
        told += f", {gain_words(move.expected_gain_kn)}"
        if move.flown_gain_kn is not None:
            told += f" ({flown_words(move.flown_gain_kn)} when flown on the likeliest boat)"
    parts: Parts = [Padding(Text(f"{count}  {move.sentence}.", "bold"), (1, 0, 0, 1))]
    parts.append(plain(f"{capital(told)}. Then see: {move.then_see}."))
    return [*parts, *([plain(f"Why: {move.why}.")] if move.why else [])]


def _unknowns(answer: FixAnswer) -> Parts:
    if not answer.unknowns:
        return []
    table = table_of("what was seen tells of", "taken before", "most likely now")
    for it in answer.unknowns:
        word = UNKNOWN.get(it.name, it.name.replace("_", " "))
        table.add_row(Text(word), Text(it.before), Text(it.after))
    return [table]


def _method(answer: FixAnswer) -> str:
    how = answer.method
    source = "kept from before" if how.from_store else "flown now"
    source += ", on a coarse mesh for a first answer" if how.coarse else ""
    sure = "" if how.confirmed else "Not confirmed yet: the moves were not flown themselves. "
    return sure + (
        f"From {how.flown} states of boats that might be ({source}); on states left out speed is "
        f"off by {how.speed_error_kn:.2f} kn, the tufts' incidence by {how.tuft_error_deg:.1f}°."
    )
