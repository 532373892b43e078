"""Time and memory of the program over made-up sites that grow in one thing each.

    cargo build --release
    python3 tests/benches/growth.py target/release/loopwright > tests/growth.md

Families may be named behind the program. Each doubles three times, up to the most that a site may have of that thing, or to
what fits its files. Unix only.
"""

import math
import os
import resource
import subprocess
import sys
import shutil
import tempfile
from pathlib import Path

SPECS = Path(__file__).resolve().parents[2] / "specs"
MOST_SECONDS = int(os.environ.get("GROWTH_SECONDS", "60"))
MOST_MEMORY = 4 << 30

HEAD = """site "large"
include "../parts/generic.kdl"
level "l" { room "hall" }
area "all"
"""
PANEL = 'panel "main" part="control-16" room="hall"\n'
MEBIBYTE = 1 << 20

FAMILIES = {}


def family(largest, *commands):
    """A function of a size that gives the text of site.kdl, or the texts of several files by name."""

    def enter(make):
        FAMILIES[make.__name__.replace("_", " ")] = (largest, commands or ("check",), make)
        return make

    return enter


def zone(number, loop, board="main", wiring="end-of-line", kind="perimeter"):
    return f'zone {number} "Zone {number}" type="{kind}" area="all" {{ loop "{wiring}" board="{board}" {{ {loop} }}; }}\n'


def run(inside="", cable="station-2", more=""):
    return f'run "{cable}" length=(ft)9 room="hall" {more} {{ {inside} }}; '


def lines(count, line):
    return "".join(line(number) for number in range(1, count + 1))


def houses(count, inside):
    """Zones, sixteen to a panel."""
    panels = lines((count + 15) // 16, lambda p: f'panel "p{p}" part="control-16" room="hall"\n')
    return HEAD + panels + lines(count, lambda z: zone(z, inside(z), f"p{(z + 15) // 16}"))


REED = 'contact "reed-surface"; '


@family(999, "check", "why zone=1")
def resistors_in_a_loop(n):
    return HEAD + PANEL + zone(1, run('resistor "100R"; ' * n))


@family(999, "check", "why zone=1")
def contacts_in_a_loop(n):
    return HEAD + PANEL + zone(1, run(REED * n + 'resistor "2k2"'))


@family(600, "check", "why zone=1", "compile")
def runs_in_a_loop(n):
    return HEAD + PANEL + zone(1, run(REED) * (n - 1) + run('resistor "2k2"'))


@family(600, "check")
def branches_in_a_loop(n):
    return HEAD + PANEL + zone(1, run(run() * (n - 2) + run('resistor "2k2"')))


@family(600, "check")
def joints_at_a_board(n):
    return HEAD + PANEL + zone(1, run(REED, more='from="board"') * (n - 1) + run('resistor "2k2"', more='from="board"'))


@family(960, "check", "compile")
def zones(n):
    return houses(n, lambda z: run(REED + 'resistor "2k2"'))


@family(1000, "check")
def zones_past_the_last_number(n):
    return HEAD + PANEL + lines(n, lambda z: zone(999 + z, run(REED + 'resistor "2k2"')))


@family(11, "check", "compile")
def nine_hundred_zones_of_so_many_runs(n):
    return houses(900, lambda z: run(REED) * (n - 1) + run('resistor "2k2"'))


@family(250, "check", "compile")
def panels(n):
    return HEAD + lines(n, lambda p: f'panel "p{p}" part="control-16" room="hall"\n')


@family(250, "check")
def panels_with_batteries(n):
    more = "{ battery capacity=(Ah)7; transformer volts=(V)16.5 rating=(VA)40; }"
    return HEAD + lines(n, lambda p: f'panel "p{p}" part="control-16" room="hall" {more}\n')


@family(250, "check")
def strips(n):
    return HEAD + PANEL + lines(n, lambda s: f'strip "s{s}" board="main" output="aux" ways=10\n')


@family(500, "check")
def areas(n):
    return HEAD + PANEL + lines(n, lambda a: f'area "a{a}" number={a % 99 + 1}\n')


@family(250, "check")
def buses(n):
    return HEAD + PANEL + lines(n, lambda b: f'bus "b{b}" board="main" port="bus" rate=(baud)9600 {{ {run(cable="bus-4")} }}\n')


@family(250, "check", "compile")
def modules_on_a_bus(n):
    modules = lines(n, lambda m: run(f'module "m{m}" part="expander-12" address={m % 256}', "bus-4"))
    return HEAD + PANEL + f'bus "data" board="main" port="bus" rate=(baud)9600 {{ {modules} }}\n'


@family(250, "check")
def modules_at_one_place(n):
    modules = lines(n, lambda m: f'module "m{m}" part="expander-12" address={m % 256}; ')
    return HEAD + PANEL + f'bus "data" board="main" port="bus" rate=(baud)9600 {{ {run(modules, "bus-4")} }}\n'


@family(2000, "check", "compile")
def circuits(n):
    return HEAD + PANEL + lines(n, lambda c: f'circuit "c{c}" board="main" output="siren" {{ {run("sounder #sounder-inside#".replace("#", chr(34)), "heavy-2")} }}\n')


@family(2000, "check")
def circuits_behind_a_relay(n):
    load = run("load #indicator#".replace("#", chr(34)), "heavy-2")
    return HEAD + PANEL + lines(n, lambda c: f'circuit "c{c}" board="main" output="aux" switch="relay-1" {{ drive "alarm"; {load} }}\n')


@family(1000, "check")
def sounders_at_one_place(n):
    return HEAD + PANEL + f'circuit "c" board="main" output="siren" {{ {run("sounder #sounder-inside#; ".replace("#", chr(34)) * n, "heavy-2")} }}\n'


@family(999, "check", "why zone=1", "compile")
def detectors_in_a_loop(n):
    return HEAD + PANEL + zone(1, run('detector "motion" supply="aux"; ' * n + 'resistor "2k2"', "station-4"))


@family(999, "check")
def detectors_fed_by_a_circuit(n):
    detectors = lines(n, lambda d: f'detector "motion" name="d{d}"; ')
    feeds = lines(n, lambda d: f'feed "d{d}"; ')
    circuit = f'circuit "c" board="main" output="aux" {{ {run(feeds, "heavy-2")} }}\n'
    return HEAD + PANEL + zone(1, run(detectors + 'resistor "2k2"', "station-4")) + circuit


@family(600, "check")
def feeds_on_so_many_runs(n):
    detectors = lines(n, lambda d: f'detector "motion" name="d{d}"; ')
    feeds = lines(n, lambda d: run(f'feed "d{d}"', "heavy-2"))
    return HEAD + PANEL + zone(1, run(detectors + 'resistor "2k2"', "station-4")) + f'circuit "c" board="main" output="aux" {{ {feeds} }}\n'


@family(2000, "check")
def guests_in_a_cable(n):
    guests = run(more='along="host"')
    circuits = lines(n, lambda c: f'circuit "c{c}" board="main" output="siren" {{ {guests} }}\n')
    return HEAD + PANEL + zone(1, run('resistor "2k2"', more='name="host"')) + circuits


@family(1999, "check", "compile")
def rooms(n):
    return HEAD + PANEL + f'level "x" {{ {lines(n, lambda r: f"""room "r{r}" {{ rect (ft){r} (ft)0 (ft)1 (ft)1; }}; """)} }}\n'


def plan(rooms, more=""):
    """A level of rooms, each with its corner, its size and what is in it, in feet."""
    room = lambda r, at, inside: f'room "r{r}" {{ rect (ft){at[0]} (ft){at[1]} (ft){at[2]} (ft){at[3]}; {inside} }}\n'
    return HEAD + PANEL + f'level "x" {{ {"".join(room(r, *one) for r, one in enumerate(rooms, 1))} }}\n' + more


@family(1999, "check", "compile")
def rooms_on_each_other(n):
    return plan([((0, 0, 30, 20), "")] * n)


@family(1999, "check", "compile")
def rooms_that_overlap(n):
    return plan([((r % 20, r // 20 % 20, 3, 3), "") for r in range(n)])


@family(1999, "check", "compile")
def rooms_far_from_each_other(n):
    return plan([((r % 45 * 70, r // 45 * 70, 9, 9), "") for r in range(n)])


def spots(n, places, rooms, cable="station-4"):
    """Detectors in rooms, each with its own cable, at places that are given by its number."""
    part = 'part "eye" senses="motion" { basis "generic"; coverage range=(ft)40 angle=90; contact form="NC"; }\n'
    detector = lambda d: f'detector "eye" {{ spot (ft){places(d)[0]} (ft){places(d)[1]} looks="east"; }}; '
    at = lambda d: f'run "{cable}" length=(ft)9 room="r{rooms(d)}" {{ {detector(d)} }}; '
    return part + zone(1, "".join(at(d) for d in range(n)) + run('resistor "2k2"'), kind="interior")


@family(590, "check", "compile")
def detectors_at_one_spot(n):
    return plan([((0, 0, 30, 20), "")], spots(n, lambda d: (9, 9), lambda d: 1))


@family(590, "check", "compile")
def detectors_in_rooms_at_their_spots(n):
    corner = lambda r: (r % 10 * 12, r // 10 * 12)
    rooms = [((*corner(r), 12, 12), "") for r in range((n + 5) // 6)]
    place = lambda d: (corner(d // 6)[0] + 2 + d % 3 * 4, corner(d // 6)[1] + 3 + d // 3 % 2 * 6)
    return plan(rooms, spots(n, place, lambda d: d // 6 + 1))


@family(1999, "check", "compile")
def cables_with_a_way(n):
    point = lambda c, p: f"point (ft){(c * 7 + p * 5) % 30} (ft){(c * 3 + p * 11) % 20}; "
    way = lambda c: "way { " + "".join(point(c, p) for p in range(4)) + "}; "
    spares = lines(n, lambda c: f'spare-cable "c{c}" board="main" {{ run "station-2" length=(ft)90 room="r1" {{ {way(c)} }}; }}\n')
    return plan([((0, 0, 30, 20), "")], spares)


@family((1, 12, 25, 50, 100), "check", "compile")
def points_of_a_hundred_ways(n):
    way = "way { " + "".join(f"point (ft){p * 7 % 30} (ft){p * 11 % 20}; " for p in range(n)) + "}; "
    spares = lines(100, lambda c: f'spare-cable "c{c}" board="main" {{ run "station-2" length=(ft)9000 room="r1" {{ {way} }}; }}\n')
    return plan([((0, 0, 30, 20), "")], spares)


@family(2000, "check", "compile")
def openings_in_walls(n):
    window = lambda r, w: f'window "w{r}-{w}" wall="{("north", "east", "south", "west")[w % 4]}" at=(ft){w % 11}; '
    return plan([((r % 10 * 12, r // 10 * 12, 12, 12), "".join(window(r, w) for w in range(n // 50))) for r in range(50)])


@family(99, "check", "compile")
def levels(n):
    return HEAD + PANEL + lines(n, lambda r: f'level "x{r}" {{ room "r{r}"; }}\n')


@family(2000, "check")
def openings(n):
    return HEAD + PANEL + f'level "x" {{ room "r" {{ {lines(n, lambda o: f"""window "w{o}"; """)} }}; }}\n'


@family(999, "check")
def openings_watched(n):
    openings = f'level "x" {{ room "r" {{ {lines(n, lambda o: f"""window "w{o}"; """)} }}; }}\n'
    contacts = lines(n, lambda o: f'contact "reed-surface" on="w{o}"; ')
    return HEAD + PANEL + openings + zone(1, run(contacts + 'resistor "2k2"'))


@family(1900, "check")
def parts(n):
    return HEAD + PANEL + lines(n, lambda p: f'part "p{p}" {{ basis "sheet"; contact form="NC"; }}\n')


@family(999, "check", "compile")
def parts_in_use(n):
    parts = lines(n, lambda p: f'part "p{p}" senses="motion" {{ basis "generic"; contact form="NC"; }}\n')
    return HEAD + PANEL + parts + zone(1, run(lines(n, lambda p: f'contact "p{p}"; ') + 'resistor "2k2"'))


@family(480, "check")
def cable_types(n):
    return HEAD + PANEL + lines(n, lambda c: f'cable "c{c}" conductors=2 size=(AWG)22\n')


@family(100, "check")
def conductors_of_a_cable(n):
    return HEAD + PANEL + f'cable "c" conductors=2 size=(AWG)22 {{ {"conductor #RD#; ".replace("#", chr(34)) * n} }}\n'


@family(999, "check", "compile")
def inputs_of_a_part(n):
    inputs = lines(n, lambda i: f'input {i} signal="I{i}" return="R"; ')
    part = f'part "big" {{ basis "sheet"; {inputs} sensing supply=(V)5 pull-up=(ohm)2200 {{ band "normal" min=(V)1; }}; screw wires=2; }}\n'
    zones = lines(n, lambda z: zone(z, run(REED + 'resistor "2k2"')))
    return HEAD + part + 'panel "main" part="big" room="hall"\n' + zones


@family(1000, "check")
def terminals_of_a_part(n):
    marks = " ".join(f'"T{t}"' for t in range(n))
    return HEAD + f'part "big" {{ basis "sheet"; terminals {marks}; }}\npanel "main" part="big" room="hall"\n'


@family(60, "check")
def outputs_of_a_part(n):
    outputs = lines(n, lambda o: f'output "o{o}" positive="P{o}" negative="N{o}" volts=(V)13.8 limit=(mA)500; ')
    return HEAD + f'part "big" {{ basis "sheet"; {outputs} draw idle=(mA)9; charger current=(mA)400; }}\npanel "main" part="big" room="hall"\n'


@family(20, "check")
def bus_ports_of_a_part(n):
    ports = lines(n, lambda o: f'bus-port "o{o}" plus="P{o}" minus="N{o}" a="A{o}" b="B{o}"; ')
    return HEAD + f'part "big" {{ basis "sheet"; {ports} }}\npanel "main" part="big" room="hall"\n'


@family(20, "check")
def bands_of_a_part(n):
    bands = lines(n, lambda b: f'band "normal" min=(ohm){b * 10} max=(ohm){b * 10 + 5}; ')
    part = f'part "big" {{ basis "sheet"; input 1 signal="I" return="R"; sensing supply=(V)5 pull-up=(ohm)2200 {{ {bands} }}; }}\n'
    return HEAD + part + 'panel "main" part="big" room="hall"\n' + zone(1, run(REED + 'resistor "2k2"'))


@family(50, "check")
def communicators(n):
    return HEAD + PANEL + lines(n, lambda c: f'communicator "c{c}" type="telephone" service="copper" board="main" {{ {run(cable="line-4")} }}\n')


@family(20, "check")
def hops_of_a_communicator(n):
    return HEAD + PANEL + f'communicator "c" type="internet" board="main" {{ {lines(n, lambda h: f"""hop "h{h}" backup=(h)4; """)} }}\n'


@family(50000, "check")
def readings_of_a_loop(n):
    measured = lines(n, lambda m: 'loop 1 "rest" ohms=(ohm)2200; ')
    return HEAD + PANEL + zone(1, run(REED + 'resistor "2k2"')) + f'measured date="2027-03-14" {{ {measured} }}\n'


@family(2000, "check", "compile")
def days_of_readings(n):
    day = lambda d: f'measured date="{2000 + d // 336}-{d // 28 % 12 + 1:02}-{d % 28 + 1:02}" {{ loop 1 "rest" ohms=(ohm)2200; battery "main" volts=(V)13.6; }}\n'
    return HEAD + PANEL + zone(1, run(REED + 'resistor "2k2"')) + lines(n, day)


@family(999, "check")
def readings_of_devices(n):
    detectors = lines(n, lambda d: f'detector "motion" name="d{d}" supply="aux"; ')
    read = lines(n, lambda d: f'device "d{d}" volts=(V)13; ')
    return HEAD + PANEL + zone(1, run(detectors + 'resistor "2k2"', "station-4")) + f'measured date="2027-03-14" {{ {read} }}\n'


@family(5000, "check")
def accepts_without_finding(n):
    return HEAD + PANEL + lines(n, lambda a: f'accept "opening-unwatched" name="w{a}" because="so"\n')


@family(2000, "check", "check --format json")
def accepts_of_findings(n):
    openings = f'level "x" {{ room "r" {{ {lines(n, lambda o: f"""window "w{o}"; """)} }}; }}\n'
    return HEAD + PANEL + openings + lines(n, lambda a: f'accept "opening-unwatched" name="w{a}" because="so"\n')


@family(20, "check")
def handlings(n):
    return HEAD + PANEL + f'monitoring format="sia-dc-05" {{ {"handling #fire# #go#; ".replace("#", chr(34)) * n} }}\n'


@family(250, "check")
def unknown_rooms(n):
    return HEAD + PANEL + lines(n, lambda p: f'panel "p{p}" part="control-16" room="r{p}x"\n')


@family(250, "check")
def unknown_rooms_among_as_many(n):
    rooms = lines(n, lambda r: f'room "r{r}"; ')
    return HEAD + f'level "x" {{ {rooms} }}\n' + lines(n, lambda p: f'panel "p{p}" part="control-16" room="q{p}z"\n')


@family(999, "check")
def unknown_openings_in_a_loop(n):
    return HEAD + PANEL + zone(1, run(lines(n, lambda c: f'contact "reed-surface" on="w{c}"; ') + 'resistor "2k2"'))


@family(9600, "check")
def unknown_openings_among_two_thousand(n):
    windows = f'level "x" {{ room "r" {{ {lines(2000, lambda o: f"""window "window-{o}"; """)} }}; }}\n'
    contacts = lambda z: lines(n // 960, lambda c: f'contact "reed-surface" on="windows-{z}-{c}"; ')
    return houses(960, lambda z: run(contacts(z) + 'resistor "2k2"')) + windows


@family(999, "check")
def wrong_resistor_behind_so_many_contacts(n):
    return HEAD + PANEL + zone(1, run(REED * (n - 1) + 'resistor "470R"'))


@family(999, "check")
def buttons_behind_a_resistor(n):
    return HEAD + PANEL + zone(1, run(REED + 'resistor "2k2"; ' + 'contact "panic-button"; ' * (n - 2)))


@family(999, "check")
def contacts_and_resistors_in_turn(n):
    return HEAD + PANEL + zone(1, run((REED + 'resistor "100R"; ') * (n // 2)))


@family(999, "check")
def contacts_with_shunts(n):
    shunted = 'contact "reed-surface" shunt="1k"; '
    part = 'part "double" { basis "sheet"; input 1 signal="I1" return="R1"; sensing supply=(V)5 pull-up=(ohm)2200 { band "short" max=(V)1.6; band "normal" min=(V)2 max=(V)2.85; band "alarm" min=(V)3.05 max=(V)4.1; band "tamper" min=(V)4.4; }; }\n'
    return HEAD + part + 'panel "main" part="double" room="hall"\n' + zone(1, run(shunted * (n - 1) + 'resistor "2k2"'), wiring="double-end-of-line")


@family(960, "check")
def zones_of_wrong_resistors(n):
    return houses(n, lambda z: run(REED + 'resistor "470R"'))


@family(9600, "check", "compile")
def contacts_of_960_zones(n):
    return houses(960, lambda z: run(REED * (n // 960) + 'resistor "2k2"'))


@family(1000, "check")
def one_unknown_part_often(n):
    return HEAD + PANEL + zone(1, run('contact "nothing"; ' * n))


@family(500, "check")
def names_given_twice(n):
    return HEAD + PANEL + "area \"twice\"\n" * n


@family(64000, "check", "check --format json", "check --format short")
def unknown_nodes(n):
    return HEAD + "unknown-node 1\n" * n


@family(32000, "check", "check --format json")
def unknown_properties_on_one_line(n):
    return HEAD + 'panel "main" part="control-16" room="hall" ' + " ".join(f"x{p}=1" for p in range(n)) + "\n"


@family(32000, "check", "check --format json")
def faults_on_one_line(n):
    return HEAD + "unknown-node 1;" * n + "\n"


@family(32000, "check")
def broken_nodes(n):
    return HEAD + "zone = 1 } \n" * n


@family(32000, "check")
def braces_that_stay_open(n):
    return HEAD + 'level "x" {\n' * n


@family(32000, "check")
def braces_too_deep_on_one_line(n):
    return HEAD + "a {" * n + "}" * n + "\n"


@family(64000, "check")
def comments_in_comments(n):
    return HEAD + "/*" * n + "*/" * n + "\n"


@family(1000000, "check")
def one_long_string(n):
    return HEAD + f'area "x" title="{"y" * n}"\n'


@family(250000, "check")
def escapes_in_a_string(n):
    return HEAD + f'area "x" title="{chr(92)}t{"" * 0}' + "\\t" * n + '"\n'


@family(1000000, "check")
def one_long_name(n):
    return HEAD + f'area "{"y" * n}"\n' + PANEL


@family(1000000, "check")
def one_long_number(n):
    return HEAD + f'area "x" number={"9" * n}\n'


@family(1000000, "check")
def one_long_comment(n):
    return HEAD + f'// {"y " * (n // 2)}\n'


@family(500000, "check")
def one_string_of_digits_and_words(n):
    return HEAD + f'area "x" title="{"code 1234 " * (n // 10)}"\n'


@family(16000, "check")
def secrets(n):
    return HEAD + lines(n, lambda s: f'// user code {s + 1000}\n')


@family(140000, "check")
def quotes_without_partner(n):
    return HEAD + 'area "' * n + "\n"


@family(200000, "check")
def line_ends(n):
    return HEAD + "\n" * n + "}"


@family(62, "check")
def files(n):
    site = HEAD + PANEL + lines(n, lambda f: f'include "f{f}.kdl"\n')
    return {"site.kdl": site, **{f"f{f}.kdl": "".join(f'include "f{g}.kdl"\n' for g in range(1, n + 1)) for f in range(1, n + 1)}}


@family((1, 2, 3, 4), "check")
def files_of_half_a_mebibyte_of_areas(n):
    def file(number):
        area = lambda a: f'area "a{number}-{a}" title="The area with the number {a} of this file"\n'
        return lines(MEBIBYTE // 144, area)[: MEBIBYTE // 2].rsplit("\n", 1)[0] + "\n"

    site = HEAD + PANEL + lines(n, lambda f: f'include "f{f}.kdl"\n')
    return {"site.kdl": site, **{f"f{f}.kdl": file(f) for f in range(1, n + 1)}}


@family((1, 2, 3, 4), "check")
def files_of_half_a_mebibyte_of_comment(n):
    site = HEAD + PANEL + lines(n, lambda f: f'include "f{f}.kdl"\n')
    return {"site.kdl": site, **{f"f{f}.kdl": "// so it is said\n" * (MEBIBYTE // 34) for f in range(1, n + 1)}}


@family((1, 2, 3, 4), "check")
def files_of_half_a_mebibyte_of_unknown_nodes(n):
    site = HEAD + PANEL + lines(n, lambda f: f'include "f{f}.kdl"\n')
    return {"site.kdl": site, **{f"f{f}.kdl": "x 1\n" * (MEBIBYTE // 8) for f in range(1, n + 1)}}


def with_register(n, entries):
    return {"site.kdl": HEAD + PANEL, "register.kdl": "register version=1\n" + lines(n, entries)}


@family(30000, "check", "compile")
def dead_cables_of_the_register(n):
    wires = 'wire 1 "loop-out" near="main I1"; wire 2 "loop-back" near="main R1"'
    return with_register(n, lambda e: f'label "Z{e}" of="zone {e}" cable="station-2" room="hall" dead="gone" {{ {wires} }}\n')


@family(50000, "check", "compile")
def spent_labels_of_the_register(n):
    return with_register(n, lambda e: f'spent "Z{e}"\n')


@family(20000, "check")
def inputs_of_the_register(n):
    return with_register(n, lambda e: f'input {e % 999 + 1} board="b{e // 999}" zone={e % 999 + 1}\n')


@family(1000, "check")
def wires_of_a_label(n):
    wires = lines(n, lambda w: f'wire {w % 999 + 1} "loop-out" near="main I1"; ')
    return with_register(1, lambda e: f'label "Z1" of="zone 1" cable="station-2" {{ {wires} }}\n')


@family(30000, "check")
def labels_of_one_owner(n):
    return with_register(n, lambda e: f'label "Z1-{e}" of="zone 1" cable="station-2" room="hall" {{ wire 1 "loop-out" near="main I1"; }}\n') | {
        "site.kdl": HEAD + PANEL + zone(1, run(REED) * 99 + run('resistor "2k2"'))
    }


@family(960, "diff", "diff --as html")
def zones_of_two_sites(n):
    return houses(n, lambda z: run(REED + 'resistor "2k2"'))


@family(250, "diff")
def panels_of_two_sites(n):
    return HEAD + lines(n, lambda p: f'panel "p{p}" part="control-16" room="hall"\n')


@family(16000, "textconv")
def zones_of_one_file(n):
    return lines(n, lambda z: zone(z, run(REED + 'resistor "2k2"')))


def write(folder, texts):
    texts = {"site.kdl": texts} if isinstance(texts, str) else texts
    folder.mkdir(parents=True)
    for name, text in texts.items():
        if name == "site.kdl" and len(text) >= MEBIBYTE:
            text = divided(folder, text)
        (folder / name).write_text(text)


def divided(folder, text):
    """Writes a text that is too long for one file to several, and gives one that includes them."""
    pieces = [""]
    for line in text.splitlines(keepends=True):
        if len(pieces[-1]) + len(line) >= MEBIBYTE:
            pieces.append("")
        pieces[-1] += line
    for number, piece in enumerate(pieces):
        (folder / f"piece-{number}.kdl").write_text(piece)
    return lines(len(pieces), lambda piece: f'include "piece-{piece - 1}.kdl"\n')


def words(command, folder):
    """The program's arguments for a command on the site in a folder."""
    first, *more = command.split()
    if first == "diff":
        other = folder.parent / "other"
        write(other, (folder / "site.kdl").read_text().replace("(ft)9", "(ft)12").replace('"p7"', '"p7-new"'))
        return ["diff", other, folder, *more]
    if first == "textconv":
        return ["textconv", folder / "site.kdl"]
    if first == "compile":
        return ["compile", folder, "--out", folder.parent / "out"]
    return [first, folder, *more]


def measure(program, command, texts):
    """Seconds, mebibytes and exit code of one run."""
    with tempfile.TemporaryDirectory() as root:
        root = Path(root)
        shutil.copytree(SPECS / "parts", root / "parts")
        write(root / "site", texts)
        arguments = words(command, root / "site")
        def bound():
            resource.setrlimit(resource.RLIMIT_AS, (MOST_MEMORY, MOST_MEMORY))
            resource.setrlimit(resource.RLIMIT_CPU, (MOST_SECONDS, MOST_SECONDS))

        with open(root / "said", "w") as said:
            child = subprocess.Popen([program, *map(str, arguments)], stdout=said, stderr=said, preexec_fn=bound)
        _, status, used = os.wait4(child.pid, 0)
        if os.environ.get("GROWTH_SHOW"):
            print((root / "said").read_text()[: int(os.environ["GROWTH_SHOW"])])
        code = os.waitstatus_to_exitcode(status)
        return used.ru_utime + used.ru_stime, used.ru_maxrss / 1024, code


HEADING = """Time and memory over made-up sites that grow in one thing each, up to its limit: written by `tests/benches/growth.py`.

CPU seconds (user and system) and peak memory of one run of the release build, with other work on the machine; below a
tenth of a second and 20 MiB the start of the program and of the measuring process is most of it. An exponent is the slope from
the size before: 1 where twice the size takes twice as long. Exit 0: no errors; 1: the site has errors, as some families must.
"""


def main():
    program, *wanted = sys.argv[1:]
    program = str(Path(program).resolve())
    print(HEADING)
    print("| family | command | size | seconds | MiB | exponent of time | of memory | exit |")
    print("| --- | --- | --- | --- | --- | --- | --- | --- |")
    for name, (largest, commands, make) in FAMILIES.items():
        if wanted and name not in wanted and name.replace(" ", "_") not in wanted:
            continue
        for command in commands:
            before = last = None
            sizes = largest if isinstance(largest, tuple) else [max(1, largest >> halved) for halved in (3, 2, 1, 0)]
            for size in sizes:
                taken = measure(program, command, make(size))
                slope = lambda at: f"{math.log(taken[at] / before[at], size / last):.2f}" if before and taken[at] and before[at] else ""
                print(f"| {name} | `{command}` | {size} | {taken[0]:.2f} | {taken[1]:.0f} | {slope(0)} | {slope(1)} | {taken[2]} |", flush=True)
                if taken[2] not in (0, 1):
                    break
                before, last = taken, size


if __name__ == "__main__":
    main()
