"""`serve`: the page over the loopback, or over the boat's network to paired devices."""

from __future__ import annotations

import sys
from dataclasses import replace
from pathlib import Path

import uvicorn

from luffwright.aboard.boat import boat_keys, load_boat
from luffwright.errors import InputError
from luffwright.faces.web.guard import own_addresses
from luffwright.faces.web.pairing import Door, kept_key, link, qr_terminal, state_folder
from luffwright.faces.web.server import House, Server

PORT = 8100


def boats_on_list(boat: str | None) -> dict[str, str]:
    """Return the boats that a page may choose, by name, each with what loads her.

    Raises
    ------
    InputError, BoatFileError
        Where the boat named cannot be used.
    """
    demo = {key: key for key in boat_keys()}
    if boat is None:
        return demo
    key = load_boat(boat).key
    if boat.lower() in demo:
        return {key: key} | demo
    # A file is read anew for each answer: mended, it counts at once.
    return {f"{key}-file": str(Path(boat).resolve())} | demo


def house_of(boat: str | None, port: int, *, lan: bool, forget: bool = False) -> House:
    """Return what is served to whom.

    Raises
    ------
    InputError, BoatFileError
        Where the boat or the port cannot be used.
    """
    if not 1 <= port <= 65535:
        raise InputError("--port", port, "must be 1 to 65535", f"leave it out for {PORT}")
    house = House(boats_on_list(boat), Door(kept_key(state_folder(), anew=forget)), port=port)
    if not lan:
        return house
    addresses = own_addresses()
    numbers = tuple(it for it in addresses if it.replace(".", "").isdecimal())
    return replace(house, hosts=addresses, addresses=numbers)


def serve(house: House, *, lan: bool) -> None:
    """Serve until it is stopped, and say where."""
    print(
        f"Luffwright is open at http://127.0.0.1:{house.port}/ (stop it with Ctrl-C).", flush=True
    )
    if lan:
        _say_how_to_pair(house)
    # All addresses: the boat's network has been asked for.
    host = "0.0.0.0" if lan else "127.0.0.1"  # noqa: S104
    uvicorn.run(
        Server(house).app(), host=host, port=house.port, log_level="warning", access_log=False,
        timeout_graceful_shutdown=1, limit_concurrency=256, server_header=False,
        h11_max_incomplete_event_size=16_384, http="h11", ws="none", proxy_headers=False,
    )  # fmt: skip


def _say_how_to_pair(house: House) -> None:
    print(f"A device is let in once with the code {house.door.code}.")
    for address in house.addresses[:1]:
        text = link(address, house.port, house.door.code)
        print(f"Scan, or open http://{address}:{house.port}/ and type the code:")
        if sys.stdout.isatty():
            print(qr_terminal(text))
    print(
        f"The code is also shown at http://127.0.0.1:{house.port}/here on this machine.", flush=True
    )
