"""Checks preferred values, markings and colour bands, given as JSON on standard input.

The series are compared with the PyPI library `eseries`; markings and bands are read back by the printed tables of
IEC 60062, written down here a second time. Prints one line for each difference and exits with 1 if there is any.
"""

import json
import math
import re
import sys

try:
    import eseries
except ImportError:
    sys.exit("the Python library eseries is missing; install it with: pip install eseries")

SERIES = {"e24": eseries.E24, "e96": eseries.E96}
DIGITS = ["BK", "BN", "RD", "OG", "YE", "GN", "BU", "VT", "GY", "WH"]
POWERS = {code: power for power, code in enumerate(DIGITS)} | {"GD": -1, "SR": -2, "PK": -3}
TOLERANCES = {"BN": 0.01, "RD": 0.02, "GD": 0.05, "SR": 0.10}
LETTERS = {"F": 0.01, "G": 0.02, "J": 0.05, "K": 0.10}
MULTIPLIERS = {"R": 1, "k": 1e3, "M": 1e6, "G": 1e9}


def same(one, other):
    return math.isclose(one, other, rel_tol=1e-9)


def read_marking(marking):
    """Value of a marking, and its tolerance where a letter gives one."""
    whole, letter, fraction, tolerance = re.fullmatch(r"(\d*)([RkMG])(\d*)([FGJK]?)", marking).groups()
    return float(f"{whole or 0}.{fraction or 0}") * MULTIPLIERS[letter], LETTERS.get(tolerance)


def read_bands(bands):
    """Value and tolerance of four or five bands."""
    *digits, power, tolerance = bands.split()
    number = int("".join(str(DIGITS.index(digit)) for digit in digits))
    return number * 10.0 ** POWERS[power], TOLERANCES[tolerance]


def differences(ours):
    for name, key in SERIES.items():
        if ours[name] != list(eseries.series(key)):
            yield f"{name}: the tables differ"
    for row in ours["neighbours"]:
        key, value = SERIES[row["series"]], row["value"]
        below, above = eseries.find_less_than_or_equal(key, value), eseries.find_greater_than_or_equal(key, value)
        if not (same(row["below"], below) and same(row["above"], above)):
            yield f"{row}: eseries gives {below} and {above}"
    for row in ours["resistors"]:
        value, tolerance = read_marking(row["marking"])
        if not same(value, row["ohms"]) or (tolerance is not None and not same(tolerance, row["tolerance"])):
            yield f"{row}: the marking reads {value} {tolerance}"
        if row["bands"] is not None:
            value, tolerance = read_bands(row["bands"])
            if not (same(value, row["ohms"]) and same(tolerance, row["tolerance"])):
                yield f"{row}: the bands read {value} {tolerance}"


ours = json.load(sys.stdin)
found = list(differences(ours))
print("\n".join(found))
print(f"checked {len(ours['neighbours'])} neighbours and {len(ours['resistors'])} resistors")
sys.exit(1 if found else 0)
