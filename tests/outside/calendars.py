"""Reads the calendar of upkeep by the PyPI library `icalendar`, expands ten years of it by `recurring-ical-events`, and compares
with days that are computed here from `site.json`. Usage: calendars.py PROGRAM"""

import calendar
import datetime
import json
import pathlib
import subprocess
import sys
import tempfile

import icalendar
import recurring_ical_events

YEARS = 10
MONTH = 2_629_800
DAY = datetime.timedelta(days=1)


def later(day, seconds, times):
    """The day so many lives later: months by the calendar, the last day of a month that is too short; other lives in days."""
    if seconds >= MONTH and seconds % MONTH == 0:
        months = day.month - 1 + times * int(seconds // MONTH)
        year, month = day.year + months // 12, months % 12 + 1
        return datetime.date(year, month, min(day.day, calendar.monthrange(year, month)[1]))
    return day + DAY * int(seconds // 86_400) * times


def expected(site):
    """What is due, by kind: a sorted list of days for each thing."""
    # Whoever measured the house was there later than its revision.
    measured = [record["date"] for record in site.get("measured", [])]
    began = datetime.date.fromisoformat(max([site["revision"]["date"], *measured]))
    end = datetime.date(began.year + YEARS, 12, 31)

    def series(since, seconds):
        days = (later(since, seconds, nth) for nth in range(1, 5000))
        found = []
        for day in days:
            if day > end:
                return found
            found.append(day)

    upkeep = site.get("upkeep", {})
    # What comes again is counted from the first battery that was put in, and entered from the revision's day or the last readings on.
    banks = [board.get("battery", {}) for board in site["boards"]]
    devices = [device for owner in [*site["zones"], *site["circuits"]] for device in owner.get("devices", [])]
    put_in = [one.get("installed") for bank in banks for one in [bank, *bank.get("others", [])]]
    put_in += [device.get("battery-installed") for device in devices]
    first = min([datetime.date.fromisoformat(day) for day in put_in if day], default=began)
    again = lambda seconds: [day for day in series(min(first, began), seconds) if day > began]
    due = {
        "test": [again(upkeep.get("test-every-seconds", MONTH))],
        "cleaning": [again(upkeep.get("clean-every-seconds", 12 * MONTH))],
        "permit": [], "board-battery": [], "device-battery": [], "detector": [],
    }
    if "permit-ends" in upkeep:
        due["permit"].append([datetime.date.fromisoformat(upkeep["permit-ends"])])
    for battery in banks:
        for one in [battery, *battery.get("others", [])]:
            if "installed" in one:
                life = battery.get("replace-after-seconds", 60 * MONTH)
                due["board-battery"].append(series(datetime.date.fromisoformat(one["installed"]), life))
    parts = {part["name"]: part for part in site["parts"]}
    for device in devices:
        part = parts[device["part"]] if "part" in device else {}
        if "battery-installed" in device:
            wireless = device["kind"] == "wireless"
            life = part.get("radio", {}).get("battery-life-seconds", 36 * MONTH) if wireless else 60 * MONTH
            due["device-battery"].append(series(datetime.date.fromisoformat(device["battery-installed"]), life))
        if "made" in device and "replace-after-seconds" in part:
            due["detector"].append(series(datetime.date.fromisoformat(device["made"]), part["replace-after-seconds"]))
    return {kind: sorted(found) for kind, found in due.items()}, began, end


def check(folder):
    """Holds a packet's calendar against its record; the identities in it, and the number of days."""
    bytes_ = (folder / "maintenance.ics").read_bytes()
    lines = bytes_.split(b"\r\n")
    assert lines[-1] == b"" and b"\n" not in b"".join(lines), "a line does not end with CRLF"
    assert all(len(line) <= 75 for line in lines), "a line is longer than 75 octets"
    assert all(line.decode("utf-8") is not None for line in lines)
    read = icalendar.Calendar.from_ical(bytes_)
    assert not read.errors and not any(event.errors for event in read.walk("VEVENT")), "the library found faults"
    site = json.loads((folder / "site.json").read_text())
    due, began, end = expected(site)
    found = {kind: {} for kind in due}
    uids = {str(event["UID"]): int(event["SEQUENCE"]) for event in read.walk("VEVENT")}
    assert len(uids) == len(read.walk("VEVENT")), "an identity twice"
    for event in recurring_ical_events.of(read).between(datetime.date(1990, 1, 1), end + DAY):
        uid, start = str(event["UID"]), event["DTSTART"].dt
        kind = uid.removeprefix(site["name"] + ".").split("@")[0].split(".")[0]
        assert type(start) is datetime.date, f"{uid} has a time of the day"
        found[kind].setdefault(uid, []).append(start)
    # What comes only after these years has no day in them.
    days = {kind: sorted(sorted(days) for days in by_uid.values()) for kind, by_uid in found.items()}
    wanted = {kind: [days for days in series if days] for kind, series in due.items()}
    assert days == wanted, f"{folder}: {days} and not {wanted}"
    for event in read.walk("VEVENT"):
        assert event["DTSTAMP"].dt.date() == datetime.date.fromisoformat(site["revision"]["date"])
    return uids, sum(map(len, (day for series in days.values() for day in series)))


SITE = """site "days" title="Days; of all, kinds \\\\ und Grüße aus der längsten Straße der ganzen Gemeinde am Fluß" {{
    revision "A" date="{revision}"
}}
include "../parts/generic.kdl"
upkeep test-every=(month)1 clean-every=(year)1 permit-ends="2029-02-28"
level "base" {{ room "hall" title="Hall" }}
panel "main" part="control-16" room="hall" {{
    battery capacity=(Ah)7 wired="parallel" installed="{battery}" replace-after=(year)3 {{ another capacity=(Ah)7 installed="2027-08-31" }}
    transformer volts=(V)16.5 rating=(VA)40
}}
bus "data" board="main" rate=(baud)9600 {{
    run "bus-4" length=(ft)9 room="hall" {{ receiver "receiver" part="receiver-32" address=1; terminator (ohm)120 }}
}}
area "all"
part "gas" senses="gas" replace-after=(month)18 {{ basis "sheet"; radio "transmitter" battery-life=(day)400 }}
zone 1 "Gas" type="gas" area="all" {{
    wireless "gas" title="Gas, hall" room="hall" receiver="receiver" battery="2027-12-30" made="2027-08-31"
}}
zone 2 "Hall" type="interior" area="all" {{
    wireless "motion-wireless" title="Motion, hall" room="hall" receiver="receiver" battery="2028-02-29"
}}
"""


def made(program, top, revision, battery):
    """Compiles the made-up site; the folder of its packet."""
    folder = top / "specs/days"
    folder.mkdir(parents=True, exist_ok=True)
    (folder / "site.kdl").write_text(SITE.format(revision=revision, battery=battery))
    subprocess.run([program, "compile", folder, "--out", top / "out"], check=True, capture_output=True)
    return top / "out/days"


program = str(pathlib.Path(sys.argv[1]).resolve())
root = pathlib.Path(__file__).resolve().parents[2]
_, count = check(root / "out/alder-mill")
with tempfile.TemporaryDirectory() as top:
    top = pathlib.Path(top)
    (top / "specs").mkdir()
    subprocess.run(["cp", "-r", root / "specs/parts", top / "specs/parts"], check=True)
    for revision in ["2028-01-31", "2028-02-29", "2028-04-30"]:
        count += check(made(program, top, revision, "2028-01-31"))[1]
    before, _ = check(made(program, top, "2028-03-01", "2028-02-29"))
    same = (top / "out/days/maintenance.ics").read_bytes()
    again, _ = check(made(program, top, "2028-03-01", "2028-02-29"))
    assert (top / "out/days/maintenance.ics").read_bytes() == same and before == again
    # A new battery on a new day: every identity stays, and every sequence grows.
    after, _ = check(made(program, top, "2031-03-05", "2031-03-02"))
    assert before.keys() == after.keys(), before.keys() ^ after.keys()
    assert all(after[uid] > sequence for uid, sequence in before.items())
print(f"{count} days of ten years are as computed; {len(before)} identities stay")
