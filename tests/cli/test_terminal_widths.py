"""Every command under a pseudo-terminal of 40 to 200 columns: no number, unit or word is cut.

One process runs all commands at all widths, and measures each picture once.
"""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
from collections import Counter
from pathlib import Path
from typing import Any

import pytest

from cli.characters import columns_of
from threads.shared.formatting import format_quantity
from threads.shared.quantity import Quantity

pytestmark = pytest.mark.skipif(os.name == "nt", reason="pseudo-terminals are POSIX's")

ROOT = Path(__file__).resolve().parents[2]
WIDTHS = (40, 60, 80, 120, 200)
REFERENCE = 400
"""A width at which every table has room."""

SAMPLES = ROOT / "sample_images"
PINS = [word for size in ("1000", "2500") for word in ("--pin", f"pin_{size}_bench_a.png", f"{size[0]}.{size[1:]}mm")]
SCREW, OTHER = "sextant_index_arm_screw_4-40_bench_a.png", "sextant_telescope_collar_screw_5-40_bench_b.png"
BENCH = ["--calibration", "a.json"]
FACTS = ["--maker", "Quayside", "--model", "Three", "--serial", "1201"]
PLACE = ["--instrument", "Marine sextant", "--origin", "US", "--made", "1938", "--position", "index arm clamp"]
SET_UP = [
    ["calibrate", *PINS, "-o", "a.json"],
    ["record", "add", SCREW, *BENCH, *PLACE, "--name", "clamp screw", "--job", "overhaul of spring", *FACTS],
    ["record", "add", OTHER, *BENCH, "--instrument", "Theodolite", "--position", "foot", "--name", "foot screw"],
    ["record", "die", "4-40 split die no. 1", "--cuts", "4-40"],
    ["record", "replacement", "1", "--made-part", "2", "--die", "4-40 split die no. 1", "--setting", "open 1/4 turn"],
    ["record", "note", "1", "steered\x1b[2J by \u202eits name"],
]
COMMANDS = {
    "measure": ["measure", SCREW, *BENCH, "--full"],
    "measure in inches": ["measure", SCREW, *BENCH, "--unit", "in", "--full"],
    "budget": ["measure", SCREW, *BENCH, "--budget"],
    "verify": ["calibrate", "--verify", PINS[4], "2.5mm", *BENCH],
    "all parts": ["measure", SCREW, *BENCH, "--all-parts"],
    "identify": ["identify", SCREW, *BENCH, "--full"],
    "identify, with origin": ["identify", SCREW, *BENCH, "--origin", "US", "--made", "1938", "--full"],
    "check": ["check", SCREW, *BENCH, "--against", "4-40 UNC-2A", "--full"],
    "check against a part": ["check", SCREW, *BENCH, "--against-part", "1", "--full"],
    "compare": ["compare", SCREW, OTHER, *BENCH, "--full"],
    "play": ["play", SCREW, *BENCH, "--hole", "4-40 NC-2", "--engagement", "3mm", "--overhang", "40mm", "--full"],
    "hole": ["hole", "4-40", *BENCH, "--engagement", "3mm", "--moved", SCREW, "0.24mm", "20mm", "--full"],
    "limits": ["limits", "4-40 NC-2"],
    "limits in inches": ["limits", "M3-6H", "--unit", "in"],
    "wires": ["wires", "4-40 UNC-2A", "--wire", "0.38mm", "--measured", "2.97mm"],
    "series": ["series"],
    "sizes of a series": ["series", "BA"],
    "history": ["calibrate", "--history"],
    "light": ["calibrate", "--light-patch", "10mm", "--light-distance", "150mm"],
    "calibrate": ["calibrate", *PINS, "-o", "b.json", "--force"],
    "list": ["record", "list"],
    "instruments": ["record", "list", "instruments"],
    "jobs": ["record", "list", "jobs"],
    "search": ["record", "search", "--pitch", "0.6mm..0.7mm"],
    "find-like": ["record", "find-like", "--part-id", "1"],
    "show": ["record", "show", "1"],
    "label": ["record", "label", "1"],
    "die": ["record", "die", "4-40 split die no. 1"],
    "dies": ["record", "dies"],
    "dies for a part": ["record", "dies", "--for", "1"],
}
BRIEF = {
    f"{name}, brief": [word for word in command if word != "--full"]
    for name, command in COMMANDS.items()
    if "--full" in command
}

RUNNER = r"""
import fcntl, json, struct, sys, termios
import flankwise.measuring
from cli.main import main

measure, answers = flankwise.measuring.measure, {}

def once(picture, bench=None, **options):
    key = repr((picture, bench and bench.plane.id, options))
    if key not in answers:
        answers[key] = measure(picture, bench, **options)
    return answers[key]

flankwise.measuring.measure = once
for command in json.loads(sys.argv[1]):
    assert main(command) == 0, command
for width in json.loads(sys.argv[2]):
    fcntl.ioctl(1, termios.TIOCSWINSZ, struct.pack("HHHH", 50, width, 0, 0))
    for name, command in json.loads(sys.argv[3]).items():
        sys.stdout.write(f"\x1e{width} {name}\n")
        assert main(command) in {0, 4, 5}, command  # check: does not conform, cannot tell
main([*json.loads(sys.argv[3])["measure"], "--json"] if sys.stdout.write("\x1ejson measure\n") else [])
"""

UNIT = r"(?:µm/mm|mm|µm|/in|in\b|px|°|%)"
QUANTITY = re.compile(rf"[-+]?\d+(?:\.\d+)?(?: ± \d+(?:\.\d+)?)? ?{UNIT}|[-+]?\d+(?:\.\d+)? ± \d+(?:\.\d+)?")
DRAWN = re.compile(r"\[[-.o]{21}\]o?|o\[|[█░─]+|\b[0-9a-f]{10}\b")
"""Drawings, and the numbers of calibrations, which are new each time."""


@pytest.fixture(scope="module")
def printed(tmp_path_factory: pytest.TempPathFactory) -> dict[str, dict[str, str]]:
    """What each command prints, by width and name."""
    folder = tmp_path_factory.mktemp("bench")
    for sample in (SCREW, OTHER, *PINS[1::3]):
        (folder / sample).symlink_to(SAMPLES / sample)
    environment = {**os.environ, "PYTHONPATH": str(ROOT), "FLANKWISE_DATA": str(folder), "PYTHONIOENCODING": "utf-8"}
    environment.pop("COLUMNS", None)
    master, slave = os.openpty()
    arguments = [json.dumps(one) for one in (SET_UP, [REFERENCE, *WIDTHS], COMMANDS | BRIEF)]
    with (folder / "stderr").open("w+") as errors:
        running = subprocess.Popen(
            [sys.executable, "-c", RUNNER, *arguments], stdout=slave, stderr=errors, cwd=folder, env=environment
        )
        os.close(slave)
        parts = []
        while part := _read(master):
            parts.append(part)
        os.close(master)
        assert running.wait(timeout=600) == 0, (folder / "stderr").read_text()
    out: dict[str, dict[str, str]] = {}
    for section in b"".join(parts).decode("utf-8").replace("\r\n", "\n").split("\x1e")[1:]:
        head, _, text = section.partition("\n")
        width, _, name = head.partition(" ")
        out.setdefault(width, {})[name] = text
    return out


def _read(master: int) -> bytes:
    try:
        return os.read(master, 65536)
    except OSError:  # Linux says so that the other end is closed
        return b""


def words(text: str) -> Counter[str]:
    return Counter(word.rstrip(";:") for word in DRAWN.sub(" ", text).split())


def quantities(text: str) -> Counter[str]:
    return Counter(found for line in text.splitlines() for found in QUANTITY.findall(" ".join(line.split())))


@pytest.mark.slow
@pytest.mark.parametrize("width", WIDTHS)
def test_nothing_is_cut(printed: dict[str, dict[str, str]], width: int) -> None:
    for name in COMMANDS:
        text, in_full = printed[str(width)][name], printed[str(REFERENCE)][name]
        head = Counter(["between", "the", "limits"] * in_full.count(" between the limits "))  # goes with the drawing
        assert not words(in_full) - words(text) - head, name
        assert not quantities(in_full) - quantities(text), name
        for line in text.splitlines():
            assert columns_of(line) <= width or len(line.split()) == 1, (name, line)


@pytest.mark.parametrize("width", WIDTHS)
def test_every_quantity_of_the_json_is_in_the_text(printed: dict[str, dict[str, str]], width: int) -> None:
    document = json.loads(printed["json"]["measure"])
    text = printed[str(width)]["measure"]
    flat = [" ".join(line.split()) for line in text.splitlines()]

    def shown(q: dict[str, Any]) -> bool:
        written = format_quantity(Quantity(q["value"], q["u95"] / 2, q["unit"]))
        return any(written in line for line in flat)

    thread = {name: q for name, q in document["thread"].items() if isinstance(q, dict) and name != "lead"}
    assert len(thread) >= 14
    assert [name for name, q in thread.items() if not shown(q)] == []
    shadow = {name: q for name, q in document["shadow"].items() if isinstance(q, dict) and name in thread}
    assert len(shadow) >= 8
    assert [name for name, q in shadow.items() if not shown(q)] == []
    for section in document["part"]["sections"]:
        assert all(shown(section[name]) for name in ("length", "diameter") if section.get(name))
    for warning in document["quality"]["warnings"]:
        assert warning["message"] in " ".join(text.split())


@pytest.mark.parametrize("width", WIDTHS)
def test_nothing_that_steers_the_terminal_is_sent(printed: dict[str, dict[str, str]], width: int) -> None:
    for name in COMMANDS | BRIEF:
        assert re.search(r"[\x00-\x09\x0b-\x1f\x7f-\x9f\u202a-\u202e]", printed[str(width)][name]) is None, name
    assert "steered\\x1b[2J by \\u202eits name" in " ".join(printed[str(width)]["show"].split())


@pytest.mark.parametrize("width", WIDTHS)
def test_a_short_answer_cuts_no_number_either(printed: dict[str, dict[str, str]], width: int) -> None:
    for name in BRIEF:
        text, in_full = printed[str(width)][name], printed[str(REFERENCE)][name.removesuffix(", brief")]
        wide = printed[str(REFERENCE)][name]
        assert not quantities(text).keys() - quantities(in_full).keys() - quantities(wide).keys(), name
        for line in text.splitlines():
            assert columns_of(line) <= width or len(line.split()) == 1, (name, line)


def test_without_full_the_answer_has_fifteen_lines(printed: dict[str, dict[str, str]]) -> None:
    for width in (80, 120, 200):
        for name in BRIEF:
            lines = printed[str(width)][name].splitlines()
            assert len(lines) <= 15, name
            assert lines[-1].endswith("--full"), name
    short = printed["80"]
    assert short["check, brief"].splitlines()[0].startswith(f"{SCREW} against 4-40 UNC-2A")
    assert "does not conform" in " ".join(short["check, brief"].split("\n")[:2])
    assert short["identify, brief"].startswith("Identified: 4-40")
    assert "To settle it: " in short["identify, brief"]
    assert "--origin CC" not in short["identify, with origin, brief"]
    budget = json.loads(printed["json"]["measure"])["uncertainty_budget"]["pitch_diameter"]
    of_light = ("backlight mirrored by the flanks", "cone of the backlight")
    light = 2 * sum(term["u"] ** 2 for term in budget if term["source"] in of_light) ** 0.5
    for name in BRIEF:
        assert f"Not known: light (± {1000 * light:.1f}" in short[name] or "in inches" in name, name
