"""The loop sketches of the demo, read back: lines, contacts and resistors of each drawing become a netlist again, ngspice
gives the volts at the terminal, and they must be those of the table beside it: at rest, with each contact moved, with each
cable cut or shorted.

    python3 tests/outside/loop_sketches.py out/alder-mill

What is read is the drawing alone: which lines meet, which contact is closed, what stands beside a resistor, which row a part
names. A cable counts as 2 ohms, a closed contact as 0.1: the table knows better, so volts may differ by 0.03.
"""

import re
import subprocess
import sys
import tempfile
from html import unescape
from pathlib import Path

CLOSE = 0.03
SCALE = {"Ω": 1.0, "kΩ": 1e3, "MΩ": 1e6}


class Sketch:
    """One loop: its parts by the points that they lie between. A point is (file, x, y)."""

    def __init__(self, files):
        self.lines, self.cables, self.contacts, self.resistors = [], [], [], []
        self.texts, self.letters, self.terminals = [], [], []
        for file, text in enumerate(files):
            self.read(file, text)

    def read(self, file, text):
        point = lambda said: (file, *(round(float(part), 2) for part in said.split()))
        paths = [(kind, [point(said) for said in way.split("L")]) for kind, way in re.findall(r'<path class="(\w+)" d="M(.*?)"', text)]
        stops = [points for kind, points in paths if kind == "stop"]
        said = re.findall(r'<text class="(\w+)" x="(\S+)" y="(\S+)"[^>]*>(.*?)</text>', text)
        words = [(kind, float(x), float(y), unescape(word)) for kind, x, y, word in said]
        for kind, points in paths:
            if kind == "conductor":
                self.lines += zip(points, points[1:])
            elif kind == "cable":
                self.cables.append((points[0], points[-1]))
            elif kind in ("closed", "open"):
                _, x, y = points[0]
                upright = abs(points[1][2] - y) > 5
                other = (file, x, round(y - 8, 2)) if upright else (file, round(x - 8, 2), y)
                if kind == "closed":
                    assert any(stop[0] == other for stop in stops), f"nothing for the blade to rest on at {other}"
                label = self.row_beside(words, x, y, upright)
                self.contacts.append((points[0], other, kind == "closed", label))
        for x, y, width, height in re.findall(r'<rect class="resistor" x="(\S+)" y="(\S+)" width="(\S+)" height="(\S+)"', text):
            x, y, width, height = float(x), float(y), float(width), float(height)
            middle = lambda across, down: (file, round(x + across, 2), round(y + down, 2))
            ends = (middle(0, height / 2), middle(width, height / 2)) if width > height else (middle(width / 2, 0), middle(width / 2, height))
            near = lambda word: abs(word[1] - (x + width / 2)) + abs(word[2] - (y + height))
            value = min((word for word in words if word[0] == "value"), key=near)[3].replace("\u00a0", " ")
            number, unit = value.split()
            self.resistors.append((*ends, float(number) * SCALE[unit]))
        for x, y, radius in re.findall(r'<circle class="leader" cx="(\S+)" cy="(\S+)" r="(\S+)"', text):
            x, y, radius = float(x), float(y), float(radius)
            letter = next(word[3] for word in words if abs(word[1] - x) < 0.1 and abs(word[2] - y) < radius)
            ends = [end for line in self.lines for end in line if end[0] == file and abs(end[2] - y) < 0.02 and abs(abs(end[1] - x) - radius) < 0.02]
            self.letters.append((letter, y, file, ends[0]))
        self.terminals += [(file, float(x), float(y)) for x, y in re.findall(r'<circle class="terminal" cx="(\S+)" cy="(\S+)"', text)]
        self.texts += [(file, *word) for word in words]

    @staticmethod
    def row_beside(words, x, y, upright):
        """The rows that the words of a contact name."""
        rows = [word for word in words if word[3].startswith("row ")]
        # Its words start right of an upright contact, and are centred below one that lies.
        mine = [w for w in rows if (upright and abs(w[1] - (x + 1)) < 0.3 and y - 13 < w[2] < y + 12) or (not upright and abs(w[1] - (x - 4)) < 0.3 and y < w[2] < y + 32)]
        return min(mine, key=lambda word: abs(word[2] - y))[3][4:] if mine else ""

    def circuit(self, name, moved=None, cut=None, shorted=None):
        """The netlist of the loop in one state, every node with a name of its own."""
        ends = [end for line in self.lines for end in line] + [end for cable in self.cables for end in cable]
        ends += [end for part in self.contacts + self.resistors for end in part[:2]] + self.terminals
        node = {end: end for end in ends}

        def find(end):
            while node[end] != end:
                end = node[end]
            return end

        def join(one, other):
            node[find(one)] = find(other)

        for one, other in self.lines:
            join(one, other)
            for end in node:
                on = end[0] == one[0] and min(one[1], other[1]) - 0.02 <= end[1] <= max(one[1], other[1]) + 0.02
                if on and min(one[2], other[2]) - 0.02 <= end[2] <= max(one[2], other[2]) + 0.02:
                    join(end, one)
        for terminal in self.terminals:
            # The board's line ends at the rim of a terminal, the cable starts at its middle.
            for end in node:
                if end[0] == terminal[0] and abs(end[1] - terminal[1]) <= 0.92 and abs(end[2] - terminal[2]) < 0.02:
                    join(end, terminal)
        places = {}
        for letter, y, file, end in sorted(self.letters, key=lambda item: (item[0], item[2], item[1])):
            places.setdefault(letter, []).append((file, y, end))
        for found in places.values():
            by_height = sorted(found)
            assert len(by_height) == 4, "a letter stands twice where a loop goes on, and twice where it comes from"
            # The figure that goes on stands above or before the one that follows.
            join(by_height[0][2], by_height[2][2])
            join(by_height[1][2], by_height[3][2])
        if shorted is not None:
            upper, lower = shorted
            join(upper[0], lower[0])
        number = {}
        said = lambda end: f"{name}n{number.setdefault(find(end), len(number))}"
        rows = []
        for at, (one, other, ohms) in enumerate(self.resistors):
            rows.append(f"R{name}r{at} {said(one)} {said(other)} {ohms}")
        for at, (one, other, closed, _) in enumerate(self.contacts):
            if closed != (at == moved):
                rows.append(f"R{name}c{at} {said(one)} {said(other)} 0.1")
        for at, (one, other) in enumerate(self.cables):
            if cut is None or (one, other) not in cut:
                rows.append(f"R{name}w{at} {said(one)} {said(other)} 1")
        top, low = sorted(self.terminals, key=lambda terminal: terminal[2])
        source = next(word[4] for word in self.texts if re.fullmatch(r"[\d.]+ V", word[4].replace("\u00a0", " ")) and word[4][0] != "0")
        start = min((end for end in node if end[0] == top[0] and abs(end[2] - top[2]) < 0.02), key=lambda end: end[1])
        rows.append(f"V{name} {said(start)} 0 {float(source.split()[0])}")
        rows.append(f"Vg{name} {said(low)} 0 0")
        return rows, said(top)

    def pairs(self):
        """The cables, each as its upper and lower line, with the rows that its words name."""
        upper_first = sorted(self.cables, key=lambda cable: (cable[0][0], cable[0][1], cable[0][2]))
        left = list(upper_first)
        while left:
            upper = left.pop(0)
            lower = next(cable for cable in left if cable[0][:2] == upper[0][:2] and cable[1][1] == upper[1][1])
            left.remove(lower)
            middle = (upper[0][1] + upper[1][1]) / 2
            words = [w for w in self.texts if w[0] == upper[0][0] and abs(w[2] - middle) < 0.1 and upper[0][2] < w[3] < lower[0][2]]
            faults = next((w[4] for w in words if re.match(r"(cut|short) \d", w[4])), "")
            yield upper, lower, dict(re.findall(r"(cut|short) ([\d, ]+)", faults))


def tables(text):
    """Zone → row → least and most volts."""
    zones = {}
    for section in re.split(r"^## ", text, flags=re.M)[1:]:
        zone = re.match(r"\[(\d+)\]", section)
        if not zone:
            continue
        rows = zones.setdefault(zone[1], {})
        for row in re.findall(r"^\| (\d+) \|(.*)\|$", section, flags=re.M):
            cells = [cell.strip() for cell in row[1].split("|")]
            volts = [float(number) for number in re.findall(r"[\d.]+", cells[4].replace(" V", ""))] if len(cells) == 7 else []
            if volts:
                rows[row[0]] = (volts[0], volts[-1])
    return zones


def main(folder):
    folder = Path(folder)
    netlist, wanted, counts = [], [], {"rest": 0, "moved": 0, "cut": 0, "short": 0}
    for zone, rows in tables((folder / "loop-sheet.md").read_text()).items():
        files = sorted(folder.glob(f"loop-{zone}.svg")) + sorted(folder.glob(f"loop-{zone}-*.svg"))
        sketch = Sketch([file.read_text() for file in files])

        def state(kind, said, **what):
            held = [rows[row.strip()] for row in said.split(",") if row.strip() in rows]
            if not held:
                return
            name = f"z{zone}s{len(wanted)}"
            parts, terminal = sketch.circuit(name, **what)
            netlist.extend(parts)
            counts[kind] += 1
            wanted.append((f"zone {zone}, {kind}, row {said}", terminal, min(row[0] for row in held), max(row[1] for row in held)))

        state("rest", "1")
        for at, contact in enumerate(sketch.contacts):
            state("moved", contact[3], moved=at)
        for upper, lower, faults in sketch.pairs():
            state("cut", faults.get("cut", ""), cut=(upper, lower))
            state("short", faults.get("short", ""), shorted=(upper, lower))
    saved = " ".join(f"v({terminal})" for _, terminal, _, _ in wanted)
    text = "sketches\n.options rshunt=1e12\n" + "\n".join(netlist) + f"\n.control\nsave {saved}\nop\nprint all\nquit 0\n.endc\n.end\n"
    with tempfile.NamedTemporaryFile("w", suffix=".cir") as file:
        file.write(text)
        file.flush()
        said = subprocess.run(["ngspice", "-b", file.name], capture_output=True, text=True).stdout
    volts = {name.strip(): float(value) for name, value in re.findall(r"^(\S+) = (\S+)$", said, flags=re.M)}
    wrong = []
    for name, terminal, least, most in wanted:
        if terminal not in volts:
            wrong.append(f"{name}: ngspice gave nothing for {terminal}")
        elif not least - CLOSE <= volts[terminal] <= most + CLOSE:
            wrong.append(f"{name}: {volts[terminal]:.3f} V from the sketch, {least} to {most} V in the table")
    print(f"{len(wanted)} states of loop sketches by ngspice: {counts}; {len(wrong)} wrong")
    if wrong or min(counts.values()) < 20:
        sys.exit("\n".join(wrong[:20]))


main(sys.argv[1])
