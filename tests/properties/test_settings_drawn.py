"""Settings drawn blindly, from hard in to flogging: each is answered, and where sails come to rest
in syrup the flight finds a balance. `scripts/survey settings` draws as many as there is time for.
"""

from __future__ import annotations

from collections.abc import Callable

from survey import settings_drawn

ANSWERED = {"converged", "luffing", "stalled", "failed"}
MISSED = 0.02
"""Greatest share of what rests in syrup that no flight needs to find."""


def test_settings_drawn_blindly_are_answered_and_agree_with_their_drift(
    sweep_size: Callable[[int, int], int],
) -> None:
    rests = missed = 0
    for seed in range(sweep_size(11, 3000)):
        row = settings_drawn.answered({"seed": seed})
        assert row["status"] in ANSWERED, row
        rests += row.get("drift", "").startswith("rests")
        missed += row.get("drift") == settings_drawn.MISSED
    assert rests > 0
    assert missed <= MISSED * rests
