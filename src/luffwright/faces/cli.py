"""The command line: `luffwright fly|trim|fix|check|boats|batch|serve|page`.

Leaves with 0 when it has answered, 2 when it refuses, 3 when a state did not settle.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Iterable, Mapping
from dataclasses import asdict
from pathlib import Path
from typing import Annotated

import typer
from rich.console import Console

from luffwright.app.answer import BoatPicture, FlyAnswer, TrimAnswer
from luffwright.app.batch import as_text, asked, fix_asked, run_batch
from luffwright.app.request import Request
from luffwright.app.sighting import FixRequest
from luffwright.errors import InputError
from luffwright.faces.refusal import NOT_SETTLED, say, spoken
from luffwright.faces.tables import boats_table, fly_tables
from luffwright.faces.trim_tables import trim_tables
from luffwright.faces.words import control_key

app = typer.Typer(
    help="How to set the sails of a cruising boat, computed from cloth, ropes and air.",
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
)

BoatName = Annotated[str, typer.Argument(metavar="BOAT", help="A demo boat or a boat file.")]
Wind = Annotated[str | None, typer.Option(metavar="KN", help="True wind at 10 m.")]
Angle = Annotated[
    str | None,
    typer.Option(metavar="A", help="upwind, downwind, or degrees off the bow (starboard +)."),
]
Sea = Annotated[str | None, typer.Option(metavar="S", help="flat, slight, moderate or rough.")]
Gust = Annotated[str | None, typer.Option(metavar="KN", help="Speed of the gusts.")]
ApparentWind = Annotated[
    str | None, typer.Option(metavar="KN", help="Apparent wind, instead of the true one.")
]
ApparentAngle = Annotated[
    str | None, typer.Option(metavar="DEG", help="Its angle off the bow (starboard +).")
]
Speed = Annotated[str | None, typer.Option(metavar="KN", help="Hold this boat speed.")]
Heel = Annotated[str | None, typer.Option(metavar="DEG", help="Hold this heel.")]
Leeway = Annotated[str | None, typer.Option(metavar="DEG", help="Hold this leeway.")]
SetAt = Annotated[
    list[str] | None,
    typer.Option(
        "--set",
        metavar="NAME=VALUE",
        help="Where a control stands now: car='hole 7', or in metres car=0.3.",
    ),
]
HoldAt = Annotated[
    list[str] | None,
    typer.Option("--hold", metavar="NAME=VALUE", help="A control that must stay there."),
]
Aim = Annotated[str | None, typer.Option(metavar="A", help="fast or easy (small heel and helm).")]
WindRange = Annotated[
    str | None, typer.Option("--range", metavar="KN-KN", help="One setting from - to, as 8-14.")
]
Tack = Annotated[str | None, typer.Option(metavar="SIDE", help="starboard or port.")]
Pair = Annotated[
    str | None,
    typer.Option(metavar="IN/OUT", help="Headsail's tufts: lifting/streaming, wavering/stalled, ?"),
]
LeechSeen = Annotated[
    str | None, typer.Option(metavar="STATE", help="The mainsail's leech: streaming or stalled.")
]
HeelSeen = Annotated[str | None, typer.Option("--heel", metavar="DEG", help="Heel that is seen.")]
SpeedSeen = Annotated[str | None, typer.Option("--speed", metavar="KN", help="Speed by the log.")]
HelmSeen = Annotated[str | None, typer.Option(metavar="H", help="weather, neutral or lee.")]
RudderSeen = Annotated[
    str | None, typer.Option("--rudder", metavar="DEG", help="Rudder angle, weather helm +.")
]
BackwindSeen = Annotated[
    str | None, typer.Option(metavar="YES", help="Whether the mainsail backwinds: yes or no.")
]
FlutterSeen = Annotated[
    str | None, typer.Option(metavar="SAIL", help="Whose leech flutters: headsail, mainsail, none.")
]
Then = Annotated[
    list[str] | None,
    typer.Option(metavar="TEXT", help="After a move: 'lead=hole:9 top=streaming/streaming'."),
]
Beaufort = Annotated[str | None, typer.Option(metavar="FORCE", help="Wind by eye, for --wind.")]
ByEye = Annotated[bool, typer.Option("--by-eye", help="Wind and angle are no instrument's.")]
Quick = Annotated[bool, typer.Option("--quick", help="A first answer: fewer, coarser states.")]
AsJson = Annotated[bool, typer.Option("--json", help="Print the whole answer as JSON.")]
SvgFile = Annotated[
    Path | None, typer.Option("--svg", metavar="FILE", help="Draw the sails into this file.")
]


@app.command("fly")
def fly_command(  # noqa: PLR0913  # an option is an argument
    boat: BoatName,
    wind: Wind = None,
    angle: Angle = None,
    sea: Sea = None,
    gust: Gust = None,
    apparent_wind: ApparentWind = None,
    apparent_angle: ApparentAngle = None,
    speed: Speed = None,
    heel: Heel = None,
    leeway: Leeway = None,
    set_at: SetAt = None,
    hold: HoldAt = None,
    tack: Tack = None,
    as_json: AsJson = False,
    svg: SvgFile = None,
) -> int:
    """Tell what a setting does in a wind: shape, telltales, speed, heel, loads."""
    fields = {
        "wind_kn": wind, "angle_deg": angle, "sea": sea, "gust_kn": gust,
        "apparent_wind_kn": apparent_wind, "apparent_angle_deg": apparent_angle,
        "speed_kn": speed, "heel_deg": heel, "leeway_deg": leeway, "tack": tack,
    }  # fmt: skip
    request = _request(boat, fields, set_at, hold)
    from luffwright.app.fly import fly  # noqa: PLC0415  # takes a second: compiled kernels

    with Console(stderr=True).status("Setting the sails …"):
        found = fly(request)
    return _show(found.answer, found.picture, as_json=as_json, svg=svg)


@app.command("trim")
def trim_command(  # noqa: PLR0913  # an option is an argument
    boat: BoatName,
    wind: Wind = None,
    angle: Angle = None,
    sea: Sea = None,
    gust: Gust = None,
    apparent_wind: ApparentWind = None,
    apparent_angle: ApparentAngle = None,
    speed: Speed = None,
    heel: Heel = None,
    leeway: Leeway = None,
    set_at: SetAt = None,
    hold: HoldAt = None,
    tack: Tack = None,
    aim: Aim = None,
    wind_range: WindRange = None,
    as_json: AsJson = False,
    svg: SvgFile = None,
) -> int:
    """Tell where each control should stand, in which order, and what each is worth."""
    fields = {
        "wind_kn": wind, "angle_deg": angle, "sea": sea, "gust_kn": gust,
        "apparent_wind_kn": apparent_wind, "apparent_angle_deg": apparent_angle,
        "speed_kn": speed, "heel_deg": heel, "leeway_deg": leeway, "tack": tack,
    }  # fmt: skip
    request = _request(boat, {**fields, "aim": aim, **_range(wind_range)}, set_at, hold)
    from luffwright.app.trim import trim  # noqa: PLC0415  # as in fly_command

    with Console(stderr=True).status("Trying settings …"):
        found = trim(request)
    return _show(found.answer, found.picture, as_json=as_json, svg=svg)


@app.command("fix")
def fix_command(  # noqa: PLR0913  # an option is an argument
    boat: BoatName,
    wind: Wind = None,
    angle: Angle = None,
    top: Pair = None,
    middle: Pair = None,
    low: Pair = None,
    main_top: LeechSeen = None,
    main_middle: LeechSeen = None,
    main_low: LeechSeen = None,
    heel: HeelSeen = None,
    speed: SpeedSeen = None,
    helm: HelmSeen = None,
    rudder: RudderSeen = None,
    backwinds: BackwindSeen = None,
    flutters: FlutterSeen = None,
    then: Then = None,
    beaufort: Beaufort = None,
    by_eye: ByEye = False,
    sea: Sea = None,
    gust: Gust = None,
    set_at: SetAt = None,
    hold: HoldAt = None,
    tack: Tack = None,
    quick: Quick = False,
    as_json: AsJson = False,
) -> int:
    """Tell what to change first after what the telltales show, by how much, what to see then."""
    from luffwright.faces import looking  # noqa: PLC0415  # only here

    seen = {
        "top": top, "middle": middle, "low": low, "main-top": main_top, "main-low": main_low,
        "main-middle": main_middle, "heel": heel, "speed": speed, "helm": helm, "rudder": rudder,
        "backwinds": backwinds, "flutters": flutters,
    }  # fmt: skip
    fields: dict[str, object] = {
        "wind_kn": wind, "angle_deg": angle, "sea": sea, "gust_kn": gust, "tack": tack,
        "beaufort": beaufort,
    }  # fmt: skip
    given = {name: text for name, text in fields.items() if text is not None}
    given |= {"controls": _pairs("--set", set_at or ()), "hold": _pairs("--hold", hold or ())}
    looks = [looking.look(seen), *(looking.then(text) for text in then or ())]
    given |= {"boat": boat, "seen": looks, "instruments": not by_eye, "quick": quick}
    return _fixed(fix_asked(given), as_json=as_json)


def _fixed(request: FixRequest, *, as_json: bool) -> int:
    """Return the exit code after the answer of `fix` is printed, its progress told on stderr."""
    from luffwright.app.fix import fix  # noqa: PLC0415  # as in fly_command

    with Console(stderr=True).status("Trimming the boat …") as status:
        answer = fix(request, lambda done, of: status.update(f"Flown {done} of {of} states …"))
    if as_json:
        print(as_text(answer))
    else:
        from luffwright.faces.fix_tables import fix_tables  # noqa: PLC0415  # as above

        Console().print(*fix_tables(answer), sep="\n")
    return 0


@app.command("check")
def check_command(boat: BoatName, as_json: AsJson = False) -> None:
    """Tell what is known of a boat, what is estimated and how, and what to measure next."""
    from luffwright.app.check import check  # noqa: PLC0415  # as in fly_command

    checked = check(boat)
    if as_json:
        _print_json(checked.as_json())
    else:
        from luffwright.faces.check_tables import check_tables  # noqa: PLC0415  # as above

        Console().print(*check_tables(checked), sep="\n")


@app.command("boats")
def boats_command(as_json: AsJson = False) -> None:
    """List the boats that come along."""
    from luffwright.app.boats import boats  # noqa: PLC0415  # as in fly_command

    lines = boats()
    if as_json:
        _print_json([asdict(line) for line in lines])
    else:
        Console().print(boats_table([(it.key, it.name, it.kind, it.note) for it in lines]))


@app.command("batch")
def batch_command(
    file: Annotated[Path, typer.Argument(metavar="FILE", help="One JSON request a line.")],
) -> None:
    """Answer many requests, one JSON object a line, in order, on all cores."""
    try:
        lines = [line for line in file.read_text(encoding="utf-8").splitlines() if line.strip()]
    except (OSError, UnicodeDecodeError) as fault:
        reason = getattr(fault, "strerror", None) or "is not text in UTF-8"
        raise InputError("file", file, f"cannot be read ({reason})", "name a text file") from None
    for done, answer in enumerate(run_batch(lines), start=1):
        print(answer, flush=True)
        print(f"{done} of {len(lines)}", file=sys.stderr, flush=True)


@app.command("serve")
def serve_command(
    boat: Annotated[
        str | None, typer.Argument(metavar="BOAT", help="A boat file to add to the list.")
    ] = None,
    port: Annotated[int, typer.Option("--port", metavar="N", help="Where to listen.")] = 8100,
    lan: Annotated[
        bool, typer.Option("--lan", help="Open it to the boat's network, to paired devices.")
    ] = False,
    forget: Annotated[bool, typer.Option("--forget", help="Forget all paired devices.")] = False,
) -> None:
    """Serve the page for cockpit and classroom, to this machine alone unless told otherwise."""
    from luffwright.faces.web.serve import house_of, serve  # noqa: PLC0415  # only where served

    serve(house_of(boat, port, lan=lan, forget=forget), lan=lan)


@app.command("page")
def page_command(
    boat: BoatName,
    out: Annotated[Path, typer.Option("-o", "--out", metavar="FILE.html", help="Where to.")],
    winds: Annotated[
        str, typer.Option("--winds", metavar="KN,KN", help="True winds to tell.")
    ] = "8,14,20",
) -> None:
    """Write one file of a boat's settings by wind and course that works without a server."""
    from luffwright.faces.web.one_file import one_file  # noqa: PLC0415  # only where written

    try:
        wanted = tuple(float(it) for it in winds.split(","))
    except ValueError:
        raise InputError("--winds", winds, "must be numbers", "write --winds 8,14,20") from None
    text = one_file(boat, wanted, lambda line: print(line, file=sys.stderr, flush=True))
    try:
        out.write_text(text, encoding="utf-8")
    except OSError as fault:
        limit = f"cannot be written ({fault.strerror})"
        raise InputError("-o", out, limit, "name a file in a folder that exists") from None


def main() -> None:
    """Run the command line and leave with its exit code."""
    sys.exit(spoken(lambda: app(prog_name="luffwright", standalone_mode=False)))


def _show(
    answer: FlyAnswer, picture: BoatPicture | None, *, as_json: bool, svg: Path | None
) -> int:
    """Return the exit code after the answer is printed and drawn."""
    if svg is not None:
        _draw(answer, picture, svg)
    if as_json:
        print(as_text(answer))
    else:
        parts = trim_tables(answer) if isinstance(answer, TrimAnswer) else fly_tables(answer)
        Console().print(*parts, sep="\n")
    if answer.status == "failed":
        return say(f"This state did not settle: {answer.reason}", NOT_SETTLED)
    return 0


def _draw(answer: FlyAnswer, picture: BoatPicture | None, svg: Path) -> None:
    if picture is None or answer.status == "failed":
        say("Nothing is drawn: the sails did not settle into a shape.", 0)
        return
    from luffwright.faces.draw.sheet import sheet  # noqa: PLC0415  # drawn only when asked for

    try:
        svg.write_text(sheet(answer, picture), encoding="utf-8")
    except OSError as fault:
        limit = f"cannot be written ({fault.strerror})"
        raise InputError("--svg", svg, limit, "name a file in a folder that exists") from None


def _range(text: str | None) -> dict[str, list[str]]:
    """Return the range of wind that a text such as `8-14` gives."""
    if text is None:
        return {}
    low, dash, high = text.replace("–", "-").partition("-")
    if not (low.strip() and dash and high.strip()):
        raise InputError("--range", text, "must be from-to", "write --range 8-14")
    return {"range_kn": [low.strip(), high.strip()]}


def _request(
    boat: str,
    fields: Mapping[str, str | list[str] | None],
    set_at: list[str] | None,
    hold: list[str] | None,
) -> Request:
    """Return the request that the options make; what is not given is left to its default."""
    given: dict[str, object] = {name: text for name, text in fields.items() if text is not None}
    given |= {"controls": _pairs("--set", set_at or ()), "hold": _pairs("--hold", hold or ())}
    return asked({"boat": boat} | given)


def _pairs(option: str, texts: Iterable[str]) -> dict[str, str]:
    """Return names and values of `NAME=VALUE` texts."""
    pairs = {}
    for text in texts:
        name, equals, value = text.partition("=")
        if not (name.strip() and equals and value.strip()):
            remedy = f"write {option} car=hole:7, or in metres {option} car=0.4"
            raise InputError(option, text, "must be NAME=VALUE", remedy)
        pairs[control_key(name)] = value.strip()
    return pairs


def _print_json(value: object) -> None:
    print(json.dumps(value, allow_nan=False, ensure_ascii=False))


if __name__ == "__main__":
    main()
