"""Answers questions about resistors, one a line on standard input, one answer a line.

The preferred values are those of the PyPI library `eseries`; markings and colour bands are read by the printed tables of
IEC 60062, written down here a second time.

    series e24             the values of a decade
    neighbours e24 4.5     the values at or below and at or above
    marking 4k7J           ohms, and the tolerance where a letter gives one
    bands YE VT RD GD      ohms and tolerance

With --version it names the library.
"""

import importlib.metadata
import re
import sys

import eseries

SERIES = {"e24": eseries.E24, "e96": eseries.E96}
DIGITS = ["BK", "BN", "RD", "OG", "YE", "GN", "BU", "VT", "GY", "WH"]
POWERS = {code: power for power, code in enumerate(DIGITS)} | {"GD": -1, "SR": -2, "PK": -3}
TOLERANCES = {"BN": 0.01, "RD": 0.02, "GD": 0.05, "SR": 0.10}
LETTERS = {"F": 0.01, "G": 0.02, "J": 0.05, "K": 0.10}
MULTIPLIERS = {"R": 1, "k": 1e3, "M": 1e6, "G": 1e9}


def series(name):
    return eseries.series(SERIES[name])


def neighbours(name, value):
    key, value = SERIES[name], float(value)
    return eseries.find_less_than_or_equal(key, value), eseries.find_greater_than_or_equal(key, value)


def marking(text):
    whole, letter, fraction, tolerance = re.fullmatch(r"(\d*)([RkMG])(\d*)([FGJK]?)", text).groups()
    ohms = float(f"{whole or 0}.{fraction or 0}") * MULTIPLIERS[letter]
    return (ohms, LETTERS[tolerance]) if tolerance else (ohms,)


def bands(*codes):
    *digits, power, tolerance = codes
    number = int("".join(str(DIGITS.index(digit)) for digit in digits))
    return number * 10.0 ** POWERS[power], TOLERANCES[tolerance]


if sys.argv[1:] == ["--version"]:
    print(f"eseries {importlib.metadata.version('eseries')}, Python {sys.version.split()[0]}")
    sys.exit()
for line in sys.stdin:
    kind, *words = line.split()
    answer = {"series": series, "neighbours": neighbours, "marking": marking, "bands": bands}[kind](*words)
    print(*answer)
