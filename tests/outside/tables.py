"""Opens every CSV file of the demo's packet, and of one with naughty strings, by LibreOffice: no cell may have become a formula
or a link, and what was written as text is there as it was written. The one argument is the program."""

import csv
import pathlib
import subprocess
import sys
import tempfile
import xml.etree.ElementTree as tree

import packets

TABLE = "{urn:oasis:names:tc:opendocument:xmlns:table:1.0}"
TEXT = "{urn:oasis:names:tc:opendocument:xmlns:text:1.0}"
OFFICE = "{urn:oasis:names:tc:opendocument:xmlns:office:1.0}"
# Comma, quotation mark, UTF-8, from the first line; every column by LibreOffice's own judgement.
FILTER = "CSV:44,34,76,1,,0,false,true"


def spaced(element):
    """The text of a cell's paragraph; blanks in a row and tabs are elements."""
    said = element.text or ""
    for child in element:
        if child.tag == TEXT + "s":
            said += " " * int(child.get(TEXT + "c", "1"))
        elif child.tag == TEXT + "tab":
            said += "\t"
        else:
            said += spaced(child)
        said += child.tail or ""
    return said


def cells(path):
    """Rows of (type, text) of a flat OpenDocument sheet; fails on formulas and links."""
    document = tree.parse(path)
    rows = []
    for row in document.iter(TABLE + "table-row"):
        found = []
        for cell in row:
            assert cell.get(TABLE + "formula") is None, f"{path.name}: a formula: {cell.get(TABLE + 'formula')}"
            assert cell.find(f".//{TEXT}a") is None, f"{path.name}: a link"
            kind = cell.get(OFFICE + "value-type")
            said = "\n".join(spaced(paragraph) for paragraph in cell.findall(TEXT + "p"))
            found += [(kind, said)] * int(cell.get(TABLE + "number-columns-repeated", "1"))
        rows += [found] * (int(row.get(TABLE + "number-rows-repeated", "1")) if any(said for _, said in found) else 1)
    return rows


def check(folder, work):
    files = sorted(folder.glob("*.csv"))
    command = ["soffice", f"-env:UserInstallation=file://{work}/profile", "--headless", f"--infilter={FILTER}"]
    subprocess.run([*command, "--convert-to", "fods", "--outdir", work, *files], check=True, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    count = 0
    for file in files:
        written = list(csv.reader(file.open(newline="")))
        shown = cells(work / f"{file.stem}.fods")
        for wanted, found in zip(written, shown, strict=False):
            for cell, (kind, said) in zip(wanted, found, strict=False):
                # A number or a date is what the sheet was meant to hold; it is shown in the sheet's own way.
                text = kind in {None, "string"}
                assert not text or said == cell, f"{file.name}: {cell!r} became {said!r}"
                count += text
        assert len(shown) >= len(written), f"{file.name}: {len(shown)} of {len(written)} rows"
    assert files, f"no tables in {folder}"
    return count


with tempfile.TemporaryDirectory() as made:
    top = pathlib.Path(made)
    names, folder = packets.naughty(str(pathlib.Path(sys.argv[1]).resolve()), top)
    count = check(packets.DEMO, top) + check(folder, top)
    print(f"LibreOffice shows {count} texts as they were written, and no formula")
