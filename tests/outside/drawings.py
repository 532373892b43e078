"""The drawings of the demo, by two other programs: librsvg and Chromium print each of them as PDF, and pdftotext reads where
its words stand. Both must have every word of the drawing, inside the sheet, and agree on each place within 0.3 mm.

    python3 tests/outside/drawings.py out/alder-mill

Both are given the face of the drawings as a file. Signs that the face lacks are left out: what other face draws them is the
machine's choice. No text is shorter than its file says: both programs measure the face themselves, without `textLength`.
"""

import base64
import os
import re
import subprocess
import sys
import tempfile
from collections import defaultdict
from html import unescape
from pathlib import Path

FACE = Path(__file__).resolve().parents[2] / "templates/face/loopwright-sheet.ttf"
# Most that two programs may differ, and the size of Chromium's pages, in millimetres.
CLOSE = 0.3
PAGE = 300
POINT = 25.4 / 72

FONTS = """<?xml version="1.0"?><!DOCTYPE fontconfig SYSTEM "fonts.dtd">
<fontconfig><dir>{}</dir><cachedir>{}</cachedir></fontconfig>"""


def words(pdf, page):
    """The words of a page as (text, left, upper, right, lower edge) in millimetres."""
    run = ["pdftotext", "-bbox", "-f", str(page), "-l", str(page), pdf, "-"]
    said = subprocess.run(run, check=True, capture_output=True, text=True).stdout
    found = re.findall(r'<word xMin="(.*?)" yMin="(.*?)" xMax="(.*?)" yMax="(.*?)">(.*?)</word>', said)
    return [(unescape(text), *(float(edge) * POINT for edge in edges)) for *edges, text in found]


def glyphs(found):
    """The places by text."""
    by_text = defaultdict(list)
    for text, *edges in found:
        by_text[text].append(edges)
    return by_text


def apart(one, other):
    """The most by which two boxes differ at an edge."""
    return max(abs(a - b) for a, b in zip(one, other))


def main(folder):
    drawings = sorted(Path(folder).glob("*.svg"))
    texts = [re.sub(r' textLength="[^"]*" lengthAdjust="[^"]*"', "", path.read_text()) for path in drawings]
    wrong, compared = [], 0
    with tempfile.TemporaryDirectory() as work:
        work = Path(work)
        (work / "fonts.conf").write_text(FONTS.format(FACE.parent, work / "cache"))
        data = base64.b64encode(FACE.read_bytes()).decode()
        pages = "".join(f"<div>{text}</div>" for text in texts)
        (work / "all.html").write_text(
            f"<style>@font-face {{ font-family: 'Loopwright Sheet'; src: url(data:font/ttf;base64,{data}) }} "
            f"@page {{ size: {PAGE}mm {PAGE}mm; margin: 0 }} body {{ margin: 0 }} svg {{ display: block }} "
            f"div {{ height: {PAGE}mm; overflow: hidden; break-after: page }}</style>{pages}"
        )
        run = ["chromium", "--headless", "--no-sandbox", "--no-pdf-header-footer"]
        run += [f"--print-to-pdf={work / 'all.pdf'}", str(work / "all.html")]
        subprocess.run(run, check=True, capture_output=True)
        for number, (path, text) in enumerate(zip(drawings, texts), 1):
            (work / "one.svg").write_text(text)
            run = ["rsvg-convert", "--format=pdf", "--dpi-x=72", "--dpi-y=72", "-o", work / "one.pdf", work / "one.svg"]
            subprocess.run(run, check=True, env={**os.environ, "FONTCONFIG_FILE": str(work / "fonts.conf")})
            width, height = (float(size) for size in re.search(r'viewBox="0 0 (\S+) (\S+)"', text).groups())
            one, other = glyphs(words(work / "one.pdf", 1)), glyphs(words(work / "all.pdf", number))
            wanted = " ".join(unescape(said) for said in re.findall(r"<text[^>]*>(.*?)</text>", text)).split()
            for word in sorted(set(wanted)):
                if len(one[word]) != len(other[word]) or not one[word]:
                    wrong.append(f"{path.name}: {word!r} stands {len(one[word])} and {len(other[word])} times")
                left = list(other[word])
                for here in one[word]:
                    if not left:
                        break
                    there = min(left, key=lambda place: apart(here, place))
                    left.remove(there)
                    compared += 1
                    off = apart(here, there)
                    if off > CLOSE:
                        wrong.append(f"{path.name}: {word!r} {off:.2f} mm apart: {here} {there}")
                    if here[0] < -CLOSE or here[1] < -CLOSE or here[2] > width + CLOSE or here[3] > height + CLOSE:
                        wrong.append(f"{path.name}: {word!r} outside the sheet")
    print(f"{len(drawings)} drawings, {compared} words compared, {len(wrong)} wrong")
    if wrong or compared < 1000:
        sys.exit("\n".join(wrong[:20]))


main(sys.argv[1])
