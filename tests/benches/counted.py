"""Instructions of whole runs of the program, counted by valgrind, so that other work on the machine changes nothing.

    python3 tests/benches/counted.py target/debug/loopwright --refuse    # what CI asks: no run may need 5 % more
    python3 tests/benches/counted.py target/debug/loopwright --record    # takes the counts in, after a change that is meant
    python3 tests/benches/counted.py target/release/loopwright --table   # tests/counted.md: counts, times, floors, exponents

Everything runs on one thread while it is counted. Beside the program lies the example `floor`, a bare parse by kdl of the
same bytes (`cargo build --release --example floor`). Counts hold for one compiler: CI refuses only on the one that they
were recorded with. The table also asks cmark, ngspice, git and cp, where they are installed, and GNU time. Unix only.
"""

import json
import math
import os
import shutil
import subprocess
import sys
import tempfile
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))
import growth

ROOT = Path(__file__).resolve().parents[2]
RECORD = Path(__file__).with_name("counted.json")
MOST = 1.05
FAMILIES = {
    "zones": ((120, 240, 480, 960), ("check", "compile")),
    "zones of wrong resistors": ((1, 120, 480, 960), ("check",)),
    "contacts in a loop": ((124, 249, 499, 999), ("check",)),
    "modules on a bus": ((15, 30, 60, 120), ("check",)),
    "openings": ((250, 500, 1000), ("check", "compile")),
}


def counted(command, folder):
    """Instructions of a command."""
    out = folder / "callgrind"
    tool = ["valgrind", "--tool=callgrind", f"--callgrind-out-file={out}"]
    one = {**os.environ, "RAYON_NUM_THREADS": "1"}
    done = subprocess.run([*tool, *map(str, command)], cwd=folder, env=one, capture_output=True, text=True)
    if done.returncode > 1:
        sys.exit(f"{command}: {done.stderr[-2000:]}")
    return next(int(line.split()[1]) for line in out.read_text().splitlines() if line.startswith("summary:"))


def timed(command, folder, times=15):
    """The fastest of some runs in milliseconds on every core, and the most memory in MiB."""
    fastest = math.inf
    for _ in range(times):
        begun = time.perf_counter()
        subprocess.run(list(map(str, command)), cwd=folder, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        fastest = min(fastest, time.perf_counter() - begun)
    # Of a process that this one starts itself, the system would count this one's memory too.
    said = folder / "memory"
    measured = ["/usr/bin/time", "-q", "-f", "%M", "-o", said, *command]
    subprocess.run(list(map(str, measured)), cwd=folder, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    return fastest * 1000, int(said.read_text().split()[-1]) / 1024


def made(name, size, folder):
    """A made-up site of a family, with the shared parts beside it."""
    site = folder / f"{name.replace(' ', '-')}-{size}"
    if not site.exists():
        site.mkdir()
        (site / "site.kdl").write_text(growth.FAMILIES[name][2](size))
    return site


def spec_files(site):
    return sorted(site.rglob("*.kdl")) + sorted((site.parent / "parts").glob("*.kdl"))


def workplace():
    folder = Path(tempfile.mkdtemp(prefix="counted-"))
    shutil.copytree(ROOT / "specs" / "parts", folder / "parts")
    for demo in ("alder-mill", "garden-flat"):
        shutil.copytree(ROOT / "specs" / demo, folder / demo)
    return folder


def toolchain():
    return subprocess.run(["rustc", "--version"], capture_output=True, text=True).stdout.strip()


def few(program, folder):
    """The runs that are counted at each change."""
    runs = {
        "check of alder-mill": [program, "check", "--quiet", "alder-mill"],
        "compile of garden-flat": [program, "compile", "garden-flat", "--out", "out"],
        "check of 240 zones": [program, "check", "--quiet", made("zones", 240, folder)],
        "check of 120 wrong resistors": [program, "check", "--quiet", made("zones of wrong resistors", 120, folder)],
        "portfolio of both demos": [program, "portfolio", "alder-mill", "garden-flat"],
    }
    return {name: counted(command, folder) for name, command in runs.items()}


def refuse(program, folder):
    recorded = json.loads(RECORD.read_text())
    if recorded["compiler"] != toolchain():
        print(f"counts were recorded with {recorded['compiler']}; this is {toolchain()}: nothing to compare")
        return
    worse = []
    for name, count in few(program, folder).items():
        share = count / recorded["instructions"][name]
        print(f"{name}: {count:,} instructions, {share:.3f} times what is recorded")
        if share > MOST:
            worse.append(name)
    if worse:
        sys.exit(f"needs more than {MOST} times the instructions: {', '.join(worse)}; make it cheaper, or --record with the reason")


def row(*cells):
    print("| " + " | ".join(str(cell) for cell in cells) + " |")


def exponent(before, now):
    (size, count), (larger, more) = before, now
    return f"{math.log(more / count) / math.log(larger / size):.2f}"


def table(program, folder):
    floor = program.parent / "examples" / "floor"
    print(__doc__.splitlines()[0].rstrip(".") + ": written by `tests/benches/counted.py`.\n")
    print(f"{toolchain()}, release build, {os.cpu_count()} cores. Times are the fastest of 15 runs on all cores, memory is the peak.")
    print("The floor is a bare parse by kdl of the same bytes, shared parts included. An exponent is the slope of the")
    print("instructions from the size before: 1 where twice the size takes twice as many.\n")
    row("run", "size", "million instructions", "ms", "MiB", "instructions by the floor's", "time by the floor's", "exponent")
    row(*["---"] * 8)

    def measured(name, size, command, site, before=None):
        count, (ms, mib) = counted(command, folder), timed(command, folder)
        parse = [floor, *spec_files(site)]
        under, (under_ms, _) = counted(parse, folder), timed(parse, folder)
        slope = exponent(before, (size, count)) if before else ""
        row(name, size, f"{count / 1e6:.0f}", f"{ms:.0f}", f"{mib:.0f}", f"{count / under:.2f}", f"{ms / under_ms:.2f}", slope)
        return size, count

    mill = folder / "alder-mill"
    measured("`check` of alder-mill", "", [program, "check", "--quiet", mill], mill)
    measured("`compile` of alder-mill", "", [program, "compile", mill, "--out", "out"], mill)
    for name, (sizes, commands) in FAMILIES.items():
        for command in commands:
            before = None
            for size in sizes:
                site = made(name, size, folder)
                more = ["--out", f"out-{size}"] if command == "compile" else ["--quiet"]
                before = measured(f"`{command}`, {name}", size, [program, command, site, *more], site, before)
    peers(program, folder)


def peers(program, folder):
    """What general-purpose programs take for one step of a compile, over the same bytes."""
    print("\nOne step of it by programs for that step alone, on the same bytes:\n")
    row("step", "program", "ms", "for comparison")
    row(*["---"] * 4)
    packet = folder / "out" / "alder-mill"
    whole, _ = timed([program, "compile", "alder-mill", "--out", "out"], folder)
    ours = f"`compile` does all steps in {whole:.0f} ms"
    sheets = sorted(packet.glob("*.md"))

    def peer(step, name, command, said):
        if shutil.which(command[0]):
            row(step, name, f"{timed(command, folder)[0]:.0f}", said)

    peer("copy of the packet", "cp", ["cp", "-r", packet, folder / "copy"], ours)
    peer(f"Markdown of {len(sheets)} sheets to HTML", "cmark", ["cmark", *sheets], f"{ours}, tables and drawings too (cmark knows no tables)")
    deck = ["forty loops at rest", *(f"V{n} a{n} 0 5\nRup{n} a{n} b{n} 2200\nRend{n} b{n} 0 2206" for n in range(1, 41)), ".op", ".end"]
    (folder / "loops.cir").write_text("\n".join(deck))
    peer("forty loops at rest", "ngspice", ["ngspice", "-b", "loops.cir"], "`check` works out every state and corner of 39, and all else")
    remodel = folder / "remodel"
    shutil.copytree(folder / "alder-mill", remodel)
    site = remodel / "site.kdl"
    site.write_text(site.read_text() + "// more\n")
    peer("lines that differ in two revisions", "git diff --no-index", ["git", "diff", "--no-index", "alder-mill", "remodel"], "`diff` compares houses, not lines")


def main():
    program, what = Path(sys.argv[1]).resolve(), sys.argv[2:3]
    folder = workplace()
    try:
        if what == ["--refuse"]:
            refuse(program, folder)
        elif what == ["--record"]:
            RECORD.write_text(json.dumps({"compiler": toolchain(), "instructions": few(program, folder)}, indent=2) + "\n")
        elif what == ["--table"]:
            table(program, folder)
        else:
            sys.exit(__doc__)
    finally:
        shutil.rmtree(folder)


main()
