"""Text with units as whole numbers of the smallest unit.

A length is a number of ticks of 1/2,032,000 inch, an angle a number of
microarcseconds, money a number of minor units. Nothing is a float.
"""

import re
from fractions import Fraction

INCH = 2_032_000
LENGTHS = {"ft": 12 * INCH, "in": INCH, "mm": 80_000}
DEGREE = 3_600_000_000
ANGLES = {"deg": DEGREE, "min": DEGREE // 60, "sec": DEGREE // 3600}


class Refused(Exception):
    """A plan makes a wrong claim."""

    def __init__(self, claim, why):
        super().__init__(f"{claim}: {why}")
        self.claim = claim


class Unreadable(Exception):
    """A document violates its format."""


def number(text):
    """A whole number, a decimal, a fraction, or a whole number and a fraction."""
    m = re.fullmatch(r"(?:(\d+)-)?(\d+)/(\d+)|(\d+(?:\.\d+)?)", text)
    if not m or m[3] and int(m[3]) == 0:
        raise Unreadable(f"{text!r} is not a number")
    if m[4]:
        return Fraction(m[4])
    return int(m[1] or 0) + Fraction(int(m[2]), int(m[3]))


def measured(text, units):
    """Text such as 7ft 4-3/4in or 22deg 30min, in the smallest unit."""
    if not isinstance(text, str):
        raise Unreadable(f"{text!r} is not text")
    sign, rest = (-1, text[1:]) if text.startswith("-") else (1, text)
    total = Fraction(0)
    for word in rest.split(" "):
        m = re.fullmatch(r"([\d./-]+)([a-z]+)", word)
        if not m or m[2] not in units:
            raise Unreadable(f"{text!r} has an unknown unit")
        total += number(m[1]) * units[m[2]]
    if total.denominator != 1:
        raise Unreadable(f"{text!r} lies between two ticks")
    return sign * int(total)


def length(o, key):
    """A length field of an object; zero if it is missing."""
    return measured(o[key], LENGTHS) if key in o else 0


def angle(o, key):
    return measured(o[key], ANGLES) if key in o else 0


def whole(o, key):
    """A whole-number field of an object; zero if it is missing."""
    v = o.get(key, 0)
    if type(v) is not int or not -(1 << 63) <= v < 1 << 63:
        raise Unreadable(f"{key}: {v!r} is not a whole number of 64 bits")
    return v
