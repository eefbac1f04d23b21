"""Who may look: this machine itself, and devices that have shown the code on its screen once.

A device's token is a random name signed with a key that only this machine's user can read; it is
remembered by the device, and good for as long as the key is kept.
"""

from __future__ import annotations

import hmac
import os
import secrets
import sys
import time
from dataclasses import dataclass, field
from hashlib import sha256
from io import BytesIO
from pathlib import Path

import segno

COOKIE = "luffwright_device"
DIGITS = 6
TRIES = 5
"""Wrong codes in a row before another code is shown."""
PAUSE = 1.0
"""Seconds that a wrong code shuts the door for everyone."""


def state_folder() -> Path:
    """Return where this user's programs keep what is no setting and no cache."""
    if sys.platform == "win32":
        return Path(os.environ.get("LOCALAPPDATA", Path.home())) / "luffwright"
    kept = os.environ.get("XDG_STATE_HOME") or Path.home() / ".local" / "state"
    return Path(kept) / "luffwright"


def kept_key(folder: Path, *, anew: bool = False) -> bytes:
    """Return the key that tokens are signed with, made at the first start; `anew` forgets all."""
    path = folder / "device.key"
    if not anew and path.is_file() and len(key := path.read_bytes()) == 32:
        return key
    folder.mkdir(parents=True, exist_ok=True)
    key = secrets.token_bytes(32)
    path.unlink(missing_ok=True)
    handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    with os.fdopen(handle, "wb") as file:
        file.write(key)
    return key


def _new_code() -> str:
    return f"{secrets.randbelow(10**DIGITS):0{DIGITS}d}"


@dataclass
class Door:
    """The code that lets a new device in, and the signature by which it is known again."""

    key: bytes
    code: str = field(default_factory=_new_code)
    wrong: int = 0
    shut_until: float = 0.0

    def token(self) -> str:
        """Return a new device's token."""
        name = secrets.token_hex(16)
        return f"{name}.{self._signed(name)}"

    def device(self, token: str | None) -> str | None:
        """Return the device that a token names; None where it was not given here."""
        name, dot, signature = (token or "").partition(".")
        if not dot or not hmac.compare_digest(signature.encode(), self._signed(name).encode()):
            return None
        return name

    def opens(self, code: object) -> bool:
        """Return whether a code is the one on the screen; wrong ones shut the door for a while."""
        now = time.monotonic()
        if now < self.shut_until:
            return False
        if isinstance(code, str) and hmac.compare_digest(code.encode(), self.code.encode()):
            self.wrong = 0
            return True
        self.wrong, self.shut_until = self.wrong + 1, now + PAUSE
        if self.wrong >= TRIES:
            self.code, self.wrong = _new_code(), 0
            print(f"\nWrong code {TRIES} times. The new code: {self.code}", flush=True)
        return False

    def _signed(self, name: str) -> str:
        return hmac.new(self.key, f"device {name}".encode(), sha256).hexdigest()


def link(address: str, port: int, code: str) -> str:
    """Return what the picture to scan says; the code stands where no request carries it.

    Examples
    --------
    >>> link("192.168.4.1", 8100, "012345")
    'http://192.168.4.1:8100/pair#012345'
    """
    host = f"[{address}]" if ":" in address else address
    return f"http://{host}:{port}/pair#{code}"


def qr_svg(text: str) -> str:
    """Return a text as a square code to scan, dark on pale, as SVG."""
    out = BytesIO()
    segno.make(text, error="m", micro=False).save(
        out, kind="svg", scale=6, border=4, dark="#16202a", light="#fbfaf6", xmldecl=False,
        svgclass="qr", lineclass=None, omitsize=True, title="Code to scan with a phone",
    )  # fmt: skip
    return out.getvalue().decode("utf-8")


def qr_terminal(text: str) -> str:
    """Return a text as a square code to scan from a terminal, two rows of squares in a line."""
    rows = [list(row) for row in segno.make(text, error="l", micro=False).matrix_iter(border=2)]
    rows += [[0] * len(rows[0])] if len(rows) % 2 else []
    # Pale squares are written, so that it can be read on a dark terminal.
    signs = {(0, 0): "█", (0, 1): "▀", (1, 0): "▄", (1, 1): " "}
    return "\n".join(
        "".join(signs[int(bool(a)), int(bool(b))] for a, b in zip(above, below, strict=True))
        for above, below in zip(rows[::2], rows[1::2], strict=True)
    )
