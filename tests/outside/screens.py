"""Uses the demo's packet as its readers do, in a Chromium that PyPI's playwright drives: every page at 390 and at 1280 pixels, light
and dark, moves only what is wide; no table is wider than the paper; axe-core finds nothing; the cover finds places; the commissioning sheet takes readings
with the verdicts of the program, and its text goes into a spec unchanged; `watch` shows a change. The argument is the program."""

import csv
import hashlib
import base64
import io
import json
import pathlib
import re
import shutil
import subprocess
import sys
import tempfile
import time
import urllib.error
import urllib.request

import axe_playwright_python
from playwright.sync_api import Error, sync_playwright

HERE = pathlib.Path(__file__).resolve().parents[2]
PACKET = HERE / "out" / "alder-mill"
# What A4 and Letter both have inside the margins of the print style, in CSS pixels.
PORTRAIT, LANDSCAPE = (210 - 20) / 25.4 * 96, (279.4 - 20) / 25.4 * 96


def policies():
    """The policy of each page names the digest of its script, as hashlib computes it."""
    for page in sorted(PACKET.glob("*.html")):
        text = page.read_text()
        scripts = re.findall(r"<script>(.*?)</script>", text, re.S)
        named = re.findall(r"'sha256-([^']+)'", text.split("</head>")[0])
        digests = [base64.b64encode(hashlib.sha256(script.encode()).digest()).decode() for script in scripts]
        assert named == digests, f"{page.name}: {named} and {digests}"


def widths(browser):
    for scheme in ("light", "dark"):
        for width in (390, 1280):
            context = browser.new_context(viewport={"width": width, "height": 844}, color_scheme=scheme)
            view = context.new_page()
            faults = []
            view.on("console", lambda message: faults.append(message.text) if message.type == "error" else None)
            view.on("pageerror", lambda error: faults.append(str(error)))
            for page in sorted(PACKET.glob("*.html")):
                view.goto(page.as_uri())
                wide = view.evaluate("document.documentElement.scrollWidth")
                assert wide <= width, f"{page.name} is {wide} pixels wide on a screen of {width}"
                # What is read first on a telephone is moved sideways nowhere in it.
                if page.stem in ("index", "overview"):
                    moved = view.evaluate("[...document.querySelectorAll('.wide')].filter((one) => one.scrollWidth > one.clientWidth).length")
                    assert not moved, f"{page.name}: {moved} tables are wider than a screen of {width}"
            assert not faults, faults
            context.close()


def tables_on_paper(browser):
    context = browser.new_context(viewport={"width": 1600, "height": 1000})
    view = context.new_page()
    view.emulate_media(media="print")
    # Label sheets are made to the millimetre of their own paper, and measured by label_sheets.py.
    for page in sorted(set(PACKET.glob("*.html")) - {PACKET / "label-sheets.html"}):
        text = page.read_text()
        across = re.findall(r"@page ([\w-]+) \{\s*size: landscape", text)
        view.goto(page.as_uri())
        found = view.evaluate(
            """([across, portrait, landscape]) => [...document.querySelectorAll("article")].flatMap((article) => {
                // Sheets of a joined file that lie alike have their paper in common.
                const room = across.includes(getComputedStyle(article).page) ? landscape : portrait;
                article.style.width = room + "px";
                return [...article.querySelectorAll("table, svg")]
                    .filter((one) => {
                        const [wide, column] = [one, one.closest("div, p")].map((of) => of.getBoundingClientRect().width);
                        return wide > Math.min(room, column) + 1.5;
                    })
                    .map((one) => `${article.className}: ${one.tagName} ${Math.round(one.getBoundingClientRect().width)} > ${room}`);
            })""",
            [across, PORTRAIT, LANDSCAPE],
        )
        assert not found, f"{page.name}: wider than its paper, so that all of it would be printed smaller: {found}"
    context.close()


def accessible(browser):
    """axe-core, as PyPI's axe-playwright-python brings it, finds no violation of WCAG 2.2 AA or of good practice."""
    axe = (pathlib.Path(axe_playwright_python.__file__).parent / "axe.min.js").read_text()
    for scheme, width in (("light", 1280), ("dark", 390)):
        context = browser.new_context(viewport={"width": width, "height": 844}, color_scheme=scheme, bypass_csp=True)
        view = context.new_page()
        # The joined files have the sheets that are looked at one by one; of the dark ones each kind once.
        pages = [page for page in sorted(PACKET.glob("*.html")) if not page.name.startswith("for-")]
        pages += [PACKET / "for-electrician.html"]
        if scheme == "dark":
            pages = [PACKET / f"{name}.html" for name in ("index", "commissioning-sheet", "terminal-schedule", "riser")]
        for page in pages:
            view.goto(page.as_uri())
            view.evaluate("document.querySelectorAll('details').forEach((one) => { one.open = true; })")
            view.evaluate(axe)
            found = view.evaluate("axe.run(document, { resultTypes: ['violations'] })")["violations"]
            told = [f"{one['id']}, {len(one['nodes'])} times: {one['help']}: {one['nodes'][0]['html'][:200]}" for one in found]
            assert not told, f"{page.name}, {scheme}: " + "; ".join(told)
        context.close()


def finding(browser):
    view = browser.new_page(viewport={"width": 390, "height": 844})
    view.goto((PACKET / "index.html").as_uri())
    for typed, wanted in [("Z7", "Z7"), ("scullery window", "Scullery"), ("I6", "I6"), ("zone 4", "Zone 4 "), ("expander i4", "Expander")]:
        view.fill("#find", typed)
        links = view.locator("#found a")
        assert links.count() > 0 and wanted in links.first.inner_text(), typed
        target = links.first.get_attribute("href")
        file, _, place = target.partition("#")
        other = browser.new_page()
        other.goto((PACKET / file).as_uri())
        assert other.locator(f'[id="{place}"]').count() == 1, target
        other.close()
    view.fill("#find", "no such thing here")
    assert view.locator("#told").inner_text() == "0 places"
    bare = browser.new_context(java_script_enabled=False).new_page()
    bare.goto((PACKET / "index.html").as_uri())
    assert not bare.locator("#find").is_visible() and bare.locator("table a").count() > 15


def days(browser):
    """Readings keep the day that they were taken on, whatever page is opened between, and are gone when they are forgotten."""
    context = browser.new_context(timezone_id="UTC")
    view = context.new_page()
    view.on("dialog", lambda dialog: dialog.accept())
    page = (PACKET / "commissioning-sheet.html").as_uri()
    kept = "Object.keys(localStorage).length"
    take = """(values) => Object.entries(values).forEach(([title, kept]) => localStorage.setItem(
        "readings taken of " + JSON.stringify([JSON.parse(document.getElementById("expected").textContent).site[0], title]), kept))"""
    view.goto(page)
    title = view.evaluate("JSON.parse(document.getElementById('expected').textContent).site[1]")
    other = json.dumps({"date": "2029-05-01", "meter": "", "values": {"a line of another revision": "2203"}})
    view.evaluate(take, {title: other, "Another title": other})
    view.reload()
    view.locator("details summary").first.click()
    assert view.input_value("#date") == "2029-05-01", "the day is that of all that is kept"
    view.locator("#readings p input").first.fill("2203")
    view.fill("#date", "")
    assert view.input_value("#text") == "", "a record has a day"
    view.reload()
    assert view.input_value("#date") == view.evaluate("new Date().toISOString().slice(0, 10)")
    view.locator("details summary").first.click()
    view.click("#clear")
    assert view.evaluate(kept) == 1 and "Another title" not in view.evaluate("Object.keys(localStorage)[0]")
    view.reload()
    assert view.input_value("#text") == "" and "Kept in this browser as well" not in view.locator("#taker").inner_text()
    context.close()


def readings(browser, program):
    """What the page says of a reading is what the program says of it, and its text is read as it is."""
    context = browser.new_context(viewport={"width": 390, "height": 844}, timezone_id="UTC")
    view = context.new_page()
    page = (PACKET / "commissioning-sheet.html").as_uri()
    view.goto(page)
    view.locator("details summary").first.click()
    fields = view.locator("#readings p")
    typed = ["2197", "OL", "2k2", "open", "1.9k", "12", "2,2 kΩ", "0", "2203 ohm", "9999"]
    verdicts = []
    for nth in range(min(fields.count(), 60)):
        inputs = fields.nth(nth).locator("input")
        inputs.first.fill(typed[nth % len(typed)] if inputs.count() > 1 else "13.5")
        verdicts.append(fields.nth(nth).locator("output").inner_text())
    view.fill("#date", "2029-05-01")
    text = view.input_value("#text")
    assert text.startswith('measured date="2029-05-01" {\n') and text.endswith("}\n"), text
    view.reload()
    assert view.input_value("#text") == text, "the readings are kept"
    assert "Kept of 2029-05-01, and not of today" in view.locator("#taker").inner_text(), "those of an earlier day say so"
    # Another revision has other rows: a zone less at the start, the others turned round.
    whole = pathlib.Path(PACKET / "commissioning-sheet.html").read_text(encoding="utf-8")
    data = re.search(r'id="expected">(.*?)</script>', whole).group(1)
    other = json.loads(data)
    gone, *rest = other["groups"]
    other["groups"] = rest[::-1]
    body = whole.replace(data, json.dumps(other).replace("<", "\\u003c"))
    context.route(page, lambda route: route.fulfill(body=body, content_type="text/html; charset=utf-8"))
    view.reload()
    left = [line for line in text.splitlines() if not any(line.strip().startswith(one["line"]) for one in gone["readings"])]
    assert sorted(view.input_value("#text").splitlines()) == sorted(left), "readings belong to what was measured"
    context.unroute(page)
    view.reload()
    assert view.input_value("#text") == text, "what a page does not ask for is kept for the one that does"
    view.locator("details summary").first.click()
    fields.first.locator("input").first.fill("two")
    assert "not understood" in fields.first.locator("output").inner_text()
    context.close()
    with tempfile.TemporaryDirectory() as folder:
        specs = pathlib.Path(folder) / "specs"
        shutil.copytree(HERE / "specs", specs)
        site = specs / "alder-mill" / "site.kdl"
        (specs / "alder-mill" / "readings.kdl").write_text(text)
        assert "readings.kdl" in "".join(file.read_text() for file in (specs / "alder-mill").glob("*.kdl")), site
        run = subprocess.run([program, "compile", specs / "alder-mill", "--out", folder, "--for", "owner"], capture_output=True, text=True)
        assert run.returncode == 0, run.stdout + run.stderr
        rows = list(csv.DictReader(io.StringIO((pathlib.Path(folder) / "alder-mill" / "as-built.csv").read_text())))
    judged = [verdict for verdict in verdicts if verdict]
    fits = sum("DOES NOT FIT" not in verdict for verdict in judged)
    verdict = next(column for column in rows[0] if "verdict" in column or "fits" in column or "judg" in column)
    said = [row[verdict] for row in rows]
    theirs = sum(not re.search(r"not|outside|differs", word) for word in said)
    assert len(said) == len(judged), f"{len(judged)} readings typed, {len(said)} in the record"
    assert fits == theirs, f"the page has {fits} that fit, the record {theirs}: {sorted(set(said))}"
    return len(judged), fits


def forms(browser):
    """The page reads what a display shows as the program does: both are held against one list."""
    view = browser.new_context().new_page()
    view.goto((PACKET / "commissioning-sheet.html").as_uri())
    view.locator("details summary").first.click()
    line = view.locator("#readings p").first
    listed = (HERE / "tests" / "readings" / "meter-forms.txt").read_text(encoding="utf-8").splitlines()
    listed = [form.split("|") for form in listed if form and not form.startswith("#")]
    assert len(listed) > 60
    for unit, text, wanted in listed:
        field = line.locator("input").nth(0 if unit.strip() == "ohms" else 1)
        field.fill(text)
        found = re.search(r"(?:ohms=\(ohm\)|volts=\(V\)|(open)=#)(\S+)", view.input_value("#text"))
        said = (found.group(1) or found.group(2)) if found else "unclear"
        assert said == wanted.strip(), (unit, text, wanted, said)
        assert (said == "unclear") == ("not understood" in line.locator("output").inner_text()), text
        field.fill("")
    return len(listed)


def until(seen):
    """Waits for something; the page's policy lets no function of ours wait in it."""
    ends = time.monotonic() + 60
    while True:
        try:
            if seen():
                return
        except Error:
            # The page is just being loaded again.
            pass
        assert time.monotonic() < ends, "it was never seen"
        time.sleep(0.05)


def watching(browser, program):
    with tempfile.TemporaryDirectory() as folder:
        specs = pathlib.Path(folder) / "specs"
        shutil.copytree(HERE / "specs", specs)
        site = specs / "garden-flat" / "site.kdl"
        watch = subprocess.Popen([program, "watch", specs / "garden-flat"], stdout=subprocess.PIPE, text=True)
        try:
            address = watch.stdout.readline().split()[0]
            view = browser.new_page()
            view.goto(address)
            assert view.locator("#live").count() == 1
            title = re.search(r'title="([^"]+)"', site.read_text()).group(1)
            begun = time.monotonic()
            site.write_text(site.read_text().replace(title, "Another flat", 1))
            until(lambda: "Another flat" in view.title())
            taken = time.monotonic() - begun
            site.write_text(site.read_text() + "\nzone {")
            until(lambda: "error" in view.locator("#live").inner_text())
            assert "Another flat" in view.title(), "the last whole packet stays"
            request = urllib.request.Request(address, headers={"Host": "example.org"})
            try:
                urllib.request.urlopen(request)
                raise AssertionError("another host is served")
            except urllib.error.HTTPError as error:
                assert error.code == 403
        finally:
            watch.terminate()
            watch.wait()
    return taken


def main():
    program = pathlib.Path(sys.argv[1]).resolve()
    policies()
    with sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=shutil.which("chromium"), args=["--no-sandbox"])
        widths(browser)
        tables_on_paper(browser)
        accessible(browser)
        finding(browser)
        days(browser)
        typed, fits = readings(browser, program)
        shown = forms(browser)
        taken = watching(browser, program)
        browser.close()
    pages = len(list(PACKET.glob("*.html")))
    print(f"{pages} pages on four screens; {typed} readings typed, {fits} of them fit; {shown} forms of a display read; a change is seen after {taken:.1f} s")


main()
