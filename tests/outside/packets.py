"""Packets that the scripts beside this one look at: the demo's, and one of a made-up site whose zones, rooms and devices are
called by strings that are seldom thought of (tests/fuzz/naughty.txt, tests/recorded/commonmark.txt)."""

import json
import pathlib
import shutil
import subprocess

ROOT = pathlib.Path(__file__).resolve().parents[2]
LISTS = [ROOT / "tests/fuzz/naughty.txt", ROOT / "tests/recorded/commonmark.txt"]
DEMO = ROOT / "out/alder-mill"


def strings():
    lines = [line for path in LISTS for line in path.read_text().splitlines() if line.startswith('"')]
    return list(dict.fromkeys(json.loads(line) for line in lines))


def spelled(text):
    """A string in the spelling of a spec."""
    plain = lambda c: c if c.isascii() and (c.isalnum() or c == " ") else f"\\u{{{ord(c):x}}}"
    return '"' + "".join(map(plain, text)) + '"'


def site(names):
    """Sixteen zones to a panel, each in a room of its own: the lines, each with the string that it is about."""
    lines = [('site "naughty"', None), ('include "../parts/generic.kdl"', None), ('area "all"', None), ('level "base" {', None)]
    lines += [(f'room "r{nth}" title={spelled(name)}', name) for nth, name in enumerate(names)] + [("}", None)]
    for nth, name in enumerate(names):
        panel, text = nth - nth % 16, spelled(name)
        if panel == nth:
            lines.append((f'panel "p{panel}" part="control-16" room="r{panel}" {{ battery capacity=(Ah)7; }}', None))
        loop = f'run "station-2" length=(ft)30 room="r{nth}" {{ contact "reed-surface" title={text}; resistor "2k2"; }}'
        zone = f'zone {nth + 1} {text} type="perimeter" area="all" {{ loop "end-of-line" board="p{panel}" {{ {loop}; }}; }}'
        lines.append((zone, name))
    return lines


def naughty(program, top):
    """Compiles the made-up site in a folder; the strings that were taken, and the folder of the packet."""
    names = strings()
    folder = top / "specs/naughty"
    folder.mkdir(parents=True)
    shutil.copytree(ROOT / "specs/parts", top / "specs/parts")
    for _ in range(8):
        lines = site(names)
        (folder / "site.kdl").write_text("\n".join(line for line, _ in lines) + "\n")
        command = [program, "compile", folder, "--out", top / "out", "--format", "json"]
        said = json.loads(subprocess.run(command, capture_output=True).stdout)
        errors = [found for found in said["sites"][0]["diagnostics"] if found["severity"] == "error"]
        if not errors:
            return names, top / "out/naughty"
        # Every error is about the text of a line that names a string; without that string it is gone.
        refused = {lines[error["labels"][0]["start"]["line"] - 1][1] for error in errors}
        assert refused - {None}, errors[:3]
        names = [name for name in names if name not in refused]
    raise SystemExit(f"{folder} is still refused: {errors[:3]}")
