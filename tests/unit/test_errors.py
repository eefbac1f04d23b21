"""Refusals say the value, the limit and the remedy."""

from __future__ import annotations

import json
import pickle

import pytest

from luffwright.errors import BoatFileError, InputError, LuffwrightError, UnsailableError

KINDS = [InputError, BoatFileError, UnsailableError]


def refusal(kind: type[InputError] = InputError) -> InputError:
    return kind("sails.headsail.foot", 4.0, "unknown entry", 'did you mean "foot_m"?')


def test_a_refusal_is_one_sentence_with_value_limit_and_remedy() -> None:
    assert str(refusal()) == 'sails.headsail.foot = 4.0: unknown entry; did you mean "foot_m"?'


def test_a_refusal_gives_its_four_parts_as_json() -> None:
    assert json.loads(json.dumps(refusal().as_json())) == {
        "field": "sails.headsail.foot",
        "value": "4.0",
        "limit": "unknown entry",
        "remedy": 'did you mean "foot_m"?',
    }


@pytest.mark.parametrize("kind", KINDS)
def test_every_refusal_leaves_the_command_line_with_two(kind: type[InputError]) -> None:
    with pytest.raises(LuffwrightError) as caught:
        raise refusal(kind)
    assert caught.value.exit_code == 2


@pytest.mark.parametrize("kind", KINDS)
def test_a_refusal_in_a_worker_process_arrives_whole(kind: type[InputError]) -> None:
    sent = refusal(kind)
    arrived = pickle.loads(pickle.dumps(sent))  # noqa: S301 - our own bytes
    assert type(arrived) is kind
    assert (str(arrived), arrived.as_json()) == (str(sent), sent.as_json())
