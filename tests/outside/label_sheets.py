"""Label sheets, as a browser prints them: every label inside its cell, every cell where the geometry says, every code the label.

    python3 tests/outside/label_sheets.py target/debug/loopwright

A small house is printed on several grids, part-used, as wraps and with codes. The pages are measured in the PDF by pdftotext
and pdftocairo; codes are read by zbarimg from the page as an image.
"""

import html
import re
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

# Most that a place may be off, in millimetres.
CLOSE = 0.2
POINT = 25.4 / 72
PAPER = {"letter": (215.9, 279.4), "a4": (210.0, 297.0)}

# What the windows are called, in turn: plain, alike, of other scripts, too long for a label.
WINDOWS = ["Scullery window", "Window", "Window", "北側の窓", "نافذة الغرفة", "W" * 190, "The long window over the stair to the upper landing"]

# Name → the node, and what must come of it: paper, columns, rows, width, height, left, top, across, down, printed, used, code.
GRIDS = {
    "feet": ("", ("letter", 3, 10, 66.675, 25.4, 4.7625, 12.7, 69.85, 25.4, None, 0, False)),
    "used": (
        'label-sheet grid="3x7-a4" used=5 code=#true',
        ("a4", 3, 7, 63.5, 38.1, 7.25, 15.15, 66.0, 38.1, None, 5, True),
    ),
    "wraps": (
        'label-sheet paper="letter" columns=4 rows=5 width=(mm)50 height=(mm)50 left=(mm)4 top=(mm)10 across=(mm)52 '
        "down=(mm)51 printed=(mm)24",
        ("letter", 4, 5, 50.0, 50.0, 4.0, 10.0, 52.0, 51.0, 24.0, 0, False),
    ),
    "one": (
        'label-sheet paper="a4" columns=2 rows=14 width=(mm)88 height=(mm)20 left=(mm)12 top=(mm)7 across=(mm)98 '
        "down=(mm)20.2 used=3 code=#true",
        ("a4", 2, 14, 88.0, 20.0, 12.0, 7.0, 98.0, 20.2, None, 3, True),
    ),
}


def spec(node):
    """A house with more cables than a sheet has labels."""
    names = [WINDOWS[number % len(WINDOWS)] for number in range(16)]
    rooms = "".join(
        f'    room "r{n}" title="Room {n}" {{ window "w{n}" title="{title}"; }}\n' for n, title in enumerate(names)
    )
    zones = "".join(
        f'zone {n + 1} "Zone {n + 1}" type="perimeter" area="all" {{ loop "end-of-line" board="main" {{ '
        f'run "station-2" length=(ft){10 + n} room="r{n}" {{ contact "reed-surface" on="w{n}"; resistor "2k2"; }}; }}; }}\n'
        for n in range(16)
    )
    return f"""site "labels" lengths="ft"
include "../parts/generic.kdl"
{node}
level "ground" {{
{rooms}}}
area "all" number=1
panel "main" title="Main panel" part="control-16" room="r0"
{zones}"""


def run(*words):
    return subprocess.run(words, check=True, capture_output=True, text=True).stdout


def printed(page, work, name):
    """A page as PDF."""
    pdf = work / f"{name}.pdf"
    flags = ["--headless", "--no-sandbox", "--disable-gpu", "--no-pdf-header-footer", f"--user-data-dir={work / 'profile'}"]
    run("chromium", *flags, f"--print-to-pdf={pdf}", str(page))
    return pdf


def words(pdf):
    """The words of each page, with left, upper, right and lower edge in millimetres."""
    pages = run("pdftotext", "-bbox", str(pdf), "-").split("<page ")[1:]
    word = r'<word xMin="(.*?)" yMin="(.*?)" xMax="(.*?)" yMax="(.*?)">(.*?)</word>'
    return [[(html.unescape(said), *(float(edge) * POINT for edge in edges)) for *edges, said in re.findall(word, page)] for page in pages]


def sizes(pdf):
    """The paper of each page in millimetres."""
    found = re.findall(r"Page +\d+ size: +(\S+) x (\S+) pts", run("pdfinfo", "-l", "99", str(pdf)))
    return [tuple(float(side) * POINT for side in page) for page in found]


def outlines(pdf, page):
    """The outlined rectangles of a page in millimetres: left, upper, right, lower edge."""
    drawn = run("pdftocairo", "-svg", "-f", str(page), "-l", str(page), str(pdf), "-")
    found = []
    for way, scale, right, down in re.findall(
        r'<path style="fill:none;stroke-width[^"]*" d="M (.*?) Z[^"]*" transform="matrix\((.*?),0,0,.*?,(.*?),(.*?)\)"', drawn
    ):
        numbers = [float(number) for number in re.findall(r"-?[\d.]+", way)]
        across = [(number * float(scale) + float(right)) * POINT for number in numbers[0::2]]
        downwards = [(number * float(scale) + float(down)) * POINT for number in numbers[1::2]]
        found.append((min(across), min(downwards), max(across), max(downwards)))
    return found


def order(columns, rows, used):
    """The labels of a sheet as they are used: two of a cable side by side, in a column that is left over below one another."""
    pairs = [(row * columns + 2 * n, row * columns + 2 * n + 1) for row in range(rows) for n in range(columns // 2)]
    if columns % 2:
        pairs += [(row * columns + columns - 1, (row + 1) * columns + columns - 1) for row in range(0, rows - 1, 2)]
    return [place for pair in sorted(pairs) if min(pair) >= used for place in pair]


def code_in(pdf, page, cell, work):
    """The code on a label, as an office scanner at 300 dots to the inch sees it."""
    x, y, width, height = (str(round(edge / 25.4 * 300)) for edge in cell)
    box = ["-x", x, "-y", y, "-W", width, "-H", height]
    run("pdftoppm", "-r", "300", "-gray", "-f", str(page), "-l", str(page), *box, "-singlefile", str(pdf), str(work / "label"))
    read = subprocess.run(["zbarimg", "--quiet", "--nodbus", "--raw", str(work / "label.pgm")], capture_output=True, text=True)
    return read.stdout.strip()


def check(name, folder, geometry, work):
    """What is wrong with the sheets of one grid."""
    paper, columns, rows, width, height, left, top, across, down, printed_zone, used, coded = geometry
    page = folder / "label-sheets.html"
    large = re.search(r"write them by hand: (.*)\.", (folder / "label-sheets.md").read_text())
    large = re.findall(r"\*\*(.*?)\*\*", large[1]) if large else []
    rows_of_table = [line.split(",") for line in (folder / "label-sheets.csv").read_text().splitlines()[1:]]
    labels = [row for row in rows_of_table if row[0] not in large]
    texts = [(row[0], row[1].strip('"')) for row in labels]
    wrong = [f"{name}: two labels are alike"] if len(set(texts)) != len(texts) else []
    pdf = printed(page, work, name)
    # The outlines are for the screen; shown for once, they tell where the browser puts each label.
    shown = work / f"{name}-outlined.html"
    shown.write_text(page.read_text().replace(".label-sheets .cell { stroke: none; }", ""))
    outlined = printed(shown, work, f"{name}-outlined")
    places = [(0, place) for place in order(columns, rows, used)]
    sheet = 0
    while len(places) < len(labels):
        sheet += 1
        places += [(sheet, place) for place in order(columns, rows, 0)]
    count = places[len(labels) - 1][0] + 1
    for size in sizes(pdf):
        if max(abs(a - b) for a, b in zip(size, PAPER[paper])) > CLOSE:
            wrong.append(f"{name}: the paper is {size}")
    by_page = words(pdf)
    if len(by_page) != count:
        wrong.append(f"{name}: {len(by_page)} pages, {count} wanted")
    for number, found in enumerate(by_page):
        here = [(place, text) for (on, place), text in zip(places, texts) if on == number]
        cells = {}
        for place, text in here:
            x, y = left + place % columns * across, top + place // columns * down
            cells[(x, y, x + width, y + height)] = text
        rectangles = outlines(outlined, number + 1)
        if len(rectangles) != len(cells):
            wrong.append(f"{name}: {len(rectangles)} cells on page {number + 1}, {len(cells)} wanted")
        # Half of the line's width lies outside.
        for cell in cells:
            near = min(max(abs(a - b) for a, b in zip(cell, found)) for found in rectangles)
            if near > CLOSE:
                wrong.append(f"{name}: page {number + 1}: the cell at {cell[:2]} is {near:.2f} mm off")
        said = {cell: [] for cell in cells}
        for word, *edges in found:
            inside = [c for c in cells if edges[0] >= c[0] and edges[2] <= c[2] and edges[1] >= c[1] and edges[3] <= c[1] + (printed_zone or height)]
            if not inside:
                wrong.append(f"{name}: page {number + 1}: {word!r} stands in no label: {edges}")
            for cell in inside:
                said[cell].append((round(edges[1]), edges[0], word))
        for cell, (label, end) in cells.items():
            wanted = f"{label} {end}".split()
            plain = all(word.isascii() for word in wanted)
            got = [word for *_, word in sorted(said[cell])]
            times = max(1, len(got) // len(wanted))
            if plain and got != wanted * times or label not in got:
                wrong.append(f"{name}: page {number + 1}: {got} in place of {wanted}")
            if printed_zone and times < 2:
                wrong.append(f"{name}: {label} is not repeated around the cable")
    for (on, place), (label, _) in zip(places, texts) if coded else []:
        x, y = left + place % columns * across, top + place // columns * down
        read = code_in(pdf, on + 1, (x, y, width, height), work)
        if read != label:
            wrong.append(f"{name}: the code on {label} says {read!r}")
    return wrong, len(texts), count


def main(program):
    wrong = []
    with tempfile.TemporaryDirectory() as work:
        work = Path(work)
        shutil.copytree("specs/parts", work / "parts")
        for name, (node, geometry) in GRIDS.items():
            site = work / name
            site.mkdir()
            (site / "site.kdl").write_text(spec(node))
            said = subprocess.run([program, "compile", str(site), "--out", str(work / "out" / name)], capture_output=True, text=True)
            if said.returncode:
                sys.exit(said.stderr)
            found, labels, pages = check(name, work / "out" / name / "labels", geometry, work)
            wrong += found
            print(f"{name}: {labels} labels on {pages} pages")
    if wrong:
        sys.exit("\n".join(wrong[:20]))


main(sys.argv[1])
