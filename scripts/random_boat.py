"""Write the boat file of a random boat: `python scripts/random_boat.py SEED > boat.toml`."""

from __future__ import annotations

import sys

from luffwright.aboard.random_boat import random_boat
from luffwright.aboard.toml_text import toml_text


def main(words: list[str]) -> int:
    """Print the boat of the seed given; 2 where there is none."""
    if len(words) != 1 or not words[0].isdecimal():
        print("Give one whole number, 0 or more: the seed of the boat.", file=sys.stderr)
        return 2
    print(f"# Invented boat of random proportions, seed {words[0]}.")
    print(toml_text(random_boat(int(words[0]))))
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
