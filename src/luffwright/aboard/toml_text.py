"""A boat's table as the text of a boat file."""

from __future__ import annotations

import json
from typing import Any


def toml_text(table: dict[str, Any]) -> str:
    """Return the text of a table of numbers, words, lists and tables.

    Parameters
    ----------
    table : dict
        As `tomllib` reads it.

    Returns
    -------
    str

    Examples
    --------
    >>> print(toml_text({"boat": {"name": "Tern"}, "rig": {"i_m": 11.2}}))
    [boat]
    name = "Tern"
    <BLANKLINE>
    [rig]
    i_m = 11.2
    <BLANKLINE>
    """
    return "\n".join(_tables(table, ""))


def _tables(table: dict[str, Any], above: str) -> list[str]:
    """Return the tables within a table, one text each."""
    out = []
    for name, part in table.items():
        if not isinstance(part, dict):
            continue
        lines = [f"{key} = {_value(it)}" for key, it in part.items() if not isinstance(it, dict)]
        if lines:
            out.append("\n".join([f"[{above}{name}]", *lines, ""]))
        out += _tables(part, f"{above}{name}.")
    return out


def _value(value: object) -> str:
    match value:
        case dict():
            inner = ", ".join(f"{key} = {_value(it)}" for key, it in value.items())
            return f"{{ {inner} }}"
        case list() | tuple() if value and isinstance(value[0], dict):
            return "[\n" + "".join(f"  {_value(it)},\n" for it in value) + "]"
        case list() | tuple():
            return "[" + ", ".join(_value(it) for it in value) + "]"
        case _:
            # Numbers, words, true and false are written alike in both.
            return json.dumps(value, ensure_ascii=False)
