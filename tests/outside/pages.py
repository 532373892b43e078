"""Reads every page of the demo's packet, and of one with naughty strings, by two HTML parsers: the PyPI libraries html5lib (the
living standard; any error of parsing fails) and lxml (libxml2). Both must find the same texts and links, no id may be there
twice, every link must lead somewhere, and every string must stand on the pages as itself. The one argument is the program."""

import pathlib
import sys
import tempfile

import html5lib
import lxml.html
import packets

HTML = "{http://www.w3.org/1999/xhtml}"
SVG = "{http://www.w3.org/2000/svg}"


def squeezed(text):
    return " ".join(text.split())


def contents(elements, is_drawn):
    """The texts of the cells, headings, paragraphs and list items; the links; the ids. Of a drawing links and ids alone."""
    texts, links, ids = [], [], []
    for element in elements:
        if not isinstance(element.tag, str):
            continue
        tag = element.tag.removeprefix(HTML).removeprefix(SVG)
        if not is_drawn(element) and tag in {"title", "h1", "h2", "h3", "td", "th", "p", "li"}:
            texts.append((tag, squeezed("".join(element.itertext()))))
        if tag == "a" and element.get("href") is not None:
            links.append(element.get("href"))
        if element.get("id") is not None:
            ids.append(element.get("id"))
    return texts, links, ids


def by_html5lib(text):
    parser = html5lib.HTMLParser(strict=True, tree=html5lib.getTreeBuilder("etree"))
    return contents(parser.parse(text).iter(), lambda element: element.tag.startswith(SVG))


def by_lxml(text):
    page = lxml.html.document_fromstring(text.encode(), parser=lxml.html.HTMLParser(encoding="utf-8"))
    return contents(page.iter(), lambda element: any(True for _ in element.iterancestors("svg")))


def check(folder):
    """What html5lib finds on each page."""
    pages = {page.name: by_html5lib(page.read_text()) for page in sorted(folder.glob("*.html"))}
    files = {path.name for path in folder.iterdir()}
    for name, found in pages.items():
        other = by_lxml((folder / name).read_text())
        for one, two in zip(found, other):
            differs = next((pair for pair in zip(one, two) if pair[0] != pair[1]), None)
            assert one == two, f"{name}: the parsers differ: {differs}, {len(one)} and {len(two)}"
        _, links, ids = found
        assert len(ids) == len(set(ids)), f"{name}: an id is there twice"
        for link in links:
            page, _, place = link.partition("#")
            assert (page or name) in files, f"{name}: no file for {link}"
            assert not place or place in pages[page or name][2], f"{name}: no place for {link}"
    assert len(pages) > 5, f"no pages in {folder}"
    return pages


demo = check(packets.DEMO)
with tempfile.TemporaryDirectory() as made:
    names, folder = packets.naughty(str(pathlib.Path(sys.argv[1]).resolve()), pathlib.Path(made))
    pages = check(folder)
    cells = {text for texts, _, _ in pages.values() for tag, text in texts if tag == "td"}
    missing = [name for name in names if squeezed(name) not in cells]
    assert len(names) > 300 and not missing, f"{len(names)} strings; on no page as itself: {missing}"
texts = sum(len(found[0]) for found in [*demo.values(), *pages.values()])
print(f"{len(demo) + len(pages)} pages: two parsers agree on {texts} texts; {len(names)} naughty strings read back")
