"""What no printed packet may have: looked for in the PDF of a joined file, by the places of its words.

    python3 tests/outside/paper.py PACKET/for-electrician.html for-electrician.pdf PACKET/wire-labels.csv

A label broken at its hyphen, a number at the end of a line with its unit on the next, words that meet or leave the page, and a
heading with nothing below it in its column. Words of drawings are looked at by drawings.py. Needs pdftohtml.
"""

import csv
import re
import subprocess
import sys
import xml.etree.ElementTree as ET

# Units of pdftohtml to the millimetre at its zoom of 3.
MM = 3 * 72 / 25.4
# Without "in" and "m", which are words, or letters of a list, as well.
UNITS = {"mm", "cm", "ft", "AWG", "mV", "mA", "Ah", "Ω", "kΩ", "VA", "h", "min", "°C", "dBA"}
LIGATURES = {"ﬂ": "fl", "ﬁ": "fi", "ﬀ": "ff", "ﬃ": "ffi", "ﬄ": "ffl"}


class Piece:
    """Words in one font on one line."""

    def __init__(self, element, fonts):
        self.top, self.left, self.width, self.height = (int(element.get(of)) for of in ("top", "left", "width", "height"))
        text = "".join(element.itertext())
        for joined, letters in LIGATURES.items():
            text = text.replace(joined, letters)
        self.text, self.font = " ".join(text.split()), fonts[element.get("font")]
        self.right, self.bottom = self.left + self.width, self.top + self.height

    def below(self, pieces):
        """What stands on the next line under this."""
        under = [p for p in pieces if 0.5 * self.height < p.top - self.top < 2.2 * self.height and p.left < self.right and self.left < p.right]
        return sorted(under, key=lambda p: (p.top, abs(p.left - self.left)))


def pages(pdf):
    """Of each page: its number, its size, what stands on it."""
    printed = subprocess.run(
        ["pdftohtml", "-xml", "-i", "-stdout", "-hidden", "-fontfullname", "-zoom", "3", pdf], capture_output=True, check=True
    ).stdout
    # Marks of bold, italic and links may overlap, and so are no XML.
    printed = re.sub(rb"[\x00-\x08\x0b\x0c\x0e-\x1f]|</?[abi]\b[^>]*>", b"", printed)
    fonts = {}
    for page in ET.fromstring(printed).iter("page"):
        fonts |= {font.get("id"): font.get("family") for font in page.iter("fontspec")}
        pieces = [Piece(text, fonts) for text in page.iter("text")]
        width, height = int(page.get("width")), int(page.get("height"))
        # The foot stands in the lower margin; what ends above it is a line higher.
        inside = [piece for piece in pieces if piece.text and piece.top < height - 13 * MM]
        yield int(page.get("number")), width, height, inside


def faults(page, headings, labels):
    """What is wrong on a page."""
    number, width, height, pieces = page
    starts = {label[: at + 1] for label in labels for at, sign in enumerate(label) if sign == "-"}
    flowing = [piece for piece in pieces if "LoopwrightSheet" not in piece.font]
    for piece in pieces:
        if piece.left < 8 * MM or piece.right > width - 8 * MM or piece.top < 6 * MM or piece.bottom > height - 10 * MM:
            yield f"page {number}: outside: {piece.text}"
    for piece in flowing:
        last, below = piece.text.split()[-1], piece.below(flowing)
        if last in starts and any(last + p.text.split()[0].rstrip(".,;:)") in labels for p in below):
            yield f"page {number}: a label is broken: {piece.text} / {below[0].text}"
        if re.fullmatch(r"[(±<>≤≥]*\d+([.,]\d+)?", last) and below and below[0].text.split()[0].strip(".,;:)") in UNITS:
            yield f"page {number}: a unit is apart: {piece.text} / {below[0].text}"
        # A cell of a table may say the same as a heading; it has others beside it.
        near = [p for p in flowing if p is not piece and abs(p.top - piece.top) < 6 and max(p.left - piece.right, piece.left - p.right) < 15 * MM]
        if "Bold" in piece.font and piece.text in headings and not near:
            # A drawing, too, has words.
            under = [p for p in pieces if p.top > piece.top + piece.height / 2 and p.left < piece.left + 60 * MM and p.right > piece.left]
            if not under:
                yield f"page {number}: nothing under the heading {piece.text}"


def main(html, pdf, table):
    with open(html, encoding="utf-8") as file:
        found = re.findall(r"<h[123][^>]*>(.*?)</h[123]>", file.read())
    headings = {" ".join(re.sub(r"<[^>]*>", "", heading).replace("&amp;", "&").split()) for heading in found}
    with open(table, encoding="utf-8") as file:
        labels = {row["label"] for row in csv.DictReader(file)}
    every = list(pages(pdf))
    assert headings and labels and every and sum(len(page[3]) for page in every) > 100, "nothing was read"
    found = [fault for page in every for fault in faults(page, headings, labels)]
    print("\n".join(found))
    sys.exit(1 if found else 0)


main(*sys.argv[1:])
