#!/usr/bin/env bash
# Prints every sheet of the demo's packet with a real browser, and looks for what must be on the paper.
set -euo pipefail
cd "$(dirname "$0")/../.."
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
for sheet in out/alder-mill/*.html; do
    name=$(basename "$sheet" .html)
    chromium --headless --no-sandbox --disable-gpu --disable-quic --no-first-run --disable-background-networking \
        --disable-component-update --disable-sync --user-data-dir="$work/profile-$name" --no-pdf-header-footer \
        --print-to-pdf="$work/$name.pdf" "file://$PWD/$sheet" >/dev/null 2>&1
    pdftotext -layout "$work/$name.pdf" "$work/$name.txt"
    # On paper with labels stands nothing else.
    [ "$name" = label-sheets ] || grep -q "Alder Mill" "$work/$name.txt" || { echo "$name: the site's name is not on the paper"; exit 1; }
done
# The guide is one page on either paper, with a wide font too.
for paper in Letter A4; do
    sed -e "s/size: portrait/size: $paper portrait/" -e "s/\"Liberation Sans\", //" out/alder-mill/owners-guide.html > "$work/guide-$paper.html"
    chromium --headless --no-sandbox --disable-gpu --user-data-dir="$work/profile-$paper" --no-pdf-header-footer \
        --print-to-pdf="$work/guide-$paper.pdf" "file://$work/guide-$paper.html" >/dev/null 2>&1
    pdfinfo "$work/guide-$paper.pdf" | grep -qE "^Pages: +1$" || { echo "the household's guide is not one page on $paper"; exit 1; }
done
# The head of the schedule's table is repeated: as many heads as pages, or more.
pages=$(pdfinfo "$work/terminal-schedule.pdf" | awk '/^Pages/ {print $2}')
heads=$(grep -cE "^ *(terminal|cable) +" "$work/terminal-schedule.txt" || true)
[ "$heads" -ge "$pages" ] || { echo "terminal schedule: $heads table heads on $pages pages"; exit 1; }
# The drawing is on the first page of its sheet, in whole, with letters that can be found.
pdftotext -layout -l 1 "$work/bus-sheet.pdf" "$work/bus-first.txt"
grep -q "not to scale" "$work/bus-first.txt" || { echo "bus sheet: no drawing on its first page"; exit 1; }
grep -q "meter from A to B: what it shows" "$work/bus-first.txt" || { echo "bus sheet: the drawing is cut"; exit 1; }
# Every page of a joined file says what it belongs to.
for joined in "$work"/for-*.pdf; do
    of=$(pdfinfo "$joined" | awk '/^Pages/ {print $2}')
    # A long foot is broken into lines.
    feet=$(pdftotext -layout "$joined" - | perl -0777 -ne 'print scalar grep { /\bspec\b/ && /\b[0-9a-f]{8}\b/ } split /\f/')
    [ "$feet" -ge "$of" ] || { echo "$joined: $feet feet on $of pages"; exit 1; }
    # No label is broken, no unit is apart, no heading alone, nothing off the page.
    python3 tests/outside/paper.py "out/alder-mill/$(basename "$joined" .pdf).html" "$joined" out/alder-mill/wire-labels.csv
done
# The program prints the same by itself, and the same bytes twice.
program=${1:-target/debug/loopwright}
for run in one two; do
    mkdir "$work/$run"
    "$program" compile specs/garden-flat --out "$work/$run" --pdf >/dev/null
done
for pdf in "$work"/one/garden-flat/*.pdf; do
    # A browser numbers cells for screen readers as it comes to them: all but these numbers is the same.
    python3 - "$pdf" "$work/two/garden-flat/$(basename "$pdf")" <<'END'
import re, sys
def fixed(path):
    data = open(path, "rb").read()
    data = re.sub(rb"/Limits \[\(node\d{8}\) \(node\d{8}\)\]\n/Names \[[^\]]*\]", lambda m: b"%d" % len(m[0]), data)
    return re.sub(rb"\(node\d{8}\)", b"(node)", data)
if fixed(sys.argv[1]) != fixed(sys.argv[2]):
    sys.exit(f"{sys.argv[1]} and {sys.argv[2]} differ")
END
    pdfinfo "$pdf" | grep -q "^Pages"
done
[ "$(ls "$work"/one/garden-flat/*.pdf | wc -l)" -eq 4 ]
if LOOPWRIGHT_BROWSER=/nowhere "$program" compile specs/garden-flat --out "$work/three" --pdf >/dev/null 2>"$work/said"; then exit 1; fi
grep -q "no browser on this machine" "$work/said" && [ ! -e "$work/three" ]
echo "printed $(ls "$work"/*.pdf | wc -l) sheets; the terminal schedule has $pages pages"
