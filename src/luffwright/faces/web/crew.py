"""The processes that compute: two hands that fly what is dragged, one head that searches.

Each runs apart from the page, so that a state that hangs or breaks down takes nothing with it: it
is ended, another is started, and who asked is told.
"""

from __future__ import annotations

import asyncio
import atexit
import contextlib
import multiprocessing
import os
import signal
import zlib
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field
from functools import partial
from multiprocessing.connection import Connection
from multiprocessing.context import SpawnProcess
from typing import Any

from luffwright.errors import InputError, LuffwrightError

HANDS = 2
PATIENCE = {"look": 60.0, "search": 240.0}
"""Seconds after which a process is taken to hang."""
_BROKEN = ("asked", "could not be computed", "try a state close by")

# What may come back from another process: records of `app`, texts, numbers.
Answer = Any


def _run(pipe: Connection, setup: Callable[[], None], nice: int) -> None:
    """Answer what comes through the pipe until it is closed."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    if nice and hasattr(os, "nice"):
        os.nice(nice)
    for library in ("NUMBA", "OMP", "OPENBLAS"):
        os.environ[f"{library}_NUM_THREADS"] = "1"
    setup()
    while True:
        try:
            work, arguments = pipe.recv()
            pipe.send(_tried(work, arguments))
        except (EOFError, OSError):
            # Whom it worked for has gone.
            return


def _tried(work: Callable[..., Answer], arguments: tuple[Any, ...]) -> tuple[bool, Answer]:
    """Return whether it went well, with the answer or the refusal."""
    try:
        return True, work(*arguments)
    except LuffwrightError as refusal:
        return False, refusal
    except (ArithmeticError, LookupError, RuntimeError, TypeError, ValueError) as fault:
        # One state that breaks down must not end the process that the next one needs.
        return False, InputError(_BROKEN[0], type(fault).__name__, *_BROKEN[1:])


@dataclass
class Hand:
    """One process, and one thing at a time for it."""

    setup: Callable[[], None]
    patience: float
    nice: int = 0
    # Whether it may start processes itself, as one that works on all cores does.
    leads: bool = False
    # One thread, so that the work stands in line and the page does not wait for it.
    line: ThreadPoolExecutor = field(default_factory=lambda: ThreadPoolExecutor(1))
    _pipe: Connection | None = None
    _process: SpawnProcess | None = None

    def ask(self, work: Callable[..., Answer], *arguments: object) -> Answer:
        """Return the answer of a function of a module, called there.

        Raises
        ------
        InputError
            What the function refuses, or that it could not be computed.
        """
        pipe = self._ready()
        try:
            pipe.send((work, arguments))
            good, answer = pipe.recv() if pipe.poll(self.patience) else (None, None)
        except (EOFError, OSError):
            good, answer = None, None
        if good is None:
            self._end()
            raise InputError(_BROKEN[0], "this state", *_BROKEN[1:])
        if not good and isinstance(answer, LuffwrightError):
            raise answer
        return answer

    def start(self) -> None:
        """Start the process, which then sets itself up."""
        self._ready()

    def close(self) -> None:
        """End the process."""
        # Whoever still waits for it is told that it broke off.
        self.line.shutdown(wait=False, cancel_futures=True)
        self._end()

    def _ready(self) -> Connection:
        if self._pipe is not None and self._process is not None and self._process.is_alive():
            return self._pipe
        # Started afresh, because compiled code with threads does not survive a fork.
        fresh = multiprocessing.get_context("spawn")
        self._pipe, there = fresh.Pipe()
        self._process = fresh.Process(
            target=_run, args=(there, self.setup, self.nice), daemon=not self.leads
        )
        self._process.start()
        there.close()
        return self._pipe

    def _end(self) -> None:
        if self._process is not None:
            self._process.kill()
            self._process.join(5.0)
        if self._pipe is not None:
            with contextlib.suppress(OSError):
                self._pipe.close()
        self._pipe = self._process = None


async def _asked(hand: Hand, work: Callable[..., Answer], *arguments: object) -> Answer:
    loop = asyncio.get_running_loop()
    return await loop.run_in_executor(hand.line, partial(hand.ask, work, *arguments))


class Crew:
    """All of them, asked from the page without making it wait."""

    def __init__(self, setup: Callable[[], None], hands: int = HANDS) -> None:
        self.hands = [Hand(setup, PATIENCE["look"]) for _ in range(hands)]
        # It searches for seconds: what is dragged comes first.
        self.head = Hand(setup, PATIENCE["search"], nice=5, leads=True)
        # It would be waited for when the page has ended without a word.
        atexit.register(self.head.close)

    async def look(self, who: str, work: Callable[..., Answer], *arguments: object) -> Answer:
        """Return what a hand finds; the same `who` always meets the same one, who remembers."""
        hand = self.hands[zlib.crc32(who.encode()) % len(self.hands)]
        return await _asked(hand, work, *arguments)

    async def search(self, work: Callable[..., Answer], *arguments: object) -> Answer:
        """Return what the searching process finds."""
        return await _asked(self.head, work, *arguments)

    def warm(self) -> None:
        """Start all processes now, before anybody asks."""
        for hand in (*self.hands, self.head):
            hand.line.submit(hand.start)

    def close(self) -> None:
        """End all processes."""
        for hand in (*self.hands, self.head):
            hand.close()
