"""Ends of pieces: their angle, where they are longest, and the stick that a cut takes."""

from fractions import Fraction

from units import DEGREE, INCH, Unreadable, angle, length

MITERED = {"cope", "inside miter", "outside miter", "return", "flat miter"}
RAKED = {"plumb cut", "level cut", "rake miter"}
SCARFED = {"scarf over", "scarf under"}
SQUARE = {"square", "scribe"}
OPPOSITE = {"back": "face", "face": "back", "outer": "inner", "inner": "outer"}
LONGEST = {"cope": "back", "inside miter": "back", "scarf under": "back", "outside miter": "face",
           "return": "face", "scarf over": "face", "flat miter": "outer"}


class End:
    """One end of a piece. The angle from square is kept in halves of a microarcsecond, so that half of an
    odd corner angle is exact."""

    def __init__(self, o):
        self.kind, self.setback = o.get("kind", "square"), length(o, "setback")
        corner = angle(o, "angle")
        if self.kind in SCARFED:
            corner = corner or 45 * DEGREE
            self.halves = 2 * abs(corner)
        elif self.kind in RAKED:
            self.halves = 2 * abs(corner)
        elif self.kind in MITERED:
            corner = corner or 90 * DEGREE
            self.halves = 180 * DEGREE - corner
        elif self.kind == "butt":
            corner = corner or 90 * DEGREE
            self.halves = 2 * abs(90 * DEGREE - corner)
        elif self.kind in SQUARE:
            corner = corner or 90 * DEGREE
            self.halves = 0
        else:
            raise Unreadable(f"{self.kind!r} is not a kind of end")
        self.corner, self.long = corner, self.longest(corner)

    def longest(self, corner):
        """The side of the section at which the end is longest; None for a square cut."""
        if self.halves == 0:
            return None
        if self.kind in RAKED:
            return "outer" if corner > 0 else "inner"
        if self.kind == "butt":
            return "face" if corner > 90 * DEGREE else "back"
        return LONGEST[self.kind]

    def same(self, other):
        return (self.kind, self.corner, self.setback) == (other.kind, other.corner, other.setback)

    @property
    def square(self):
        return self.halves == 0

    def shape(self, end_for_end, rolled):
        """The end as it lies on the stick: its angle, its setback, and where it is longest."""
        long = self.long
        if long in ("back", "face") and rolled:
            long = OPPOSITE[long]
        if long in ("outer", "inner") and end_for_end != rolled:
            long = OPPOSITE[long]
        return (self.halves, self.setback, long)


def shared(right, left):
    """The length that one cut saves between the right end of a piece and the left end of the next one."""
    if right[0] == 0 or right[:2] != left[:2] or OPPOSITE[right[2]] != left[2]:
        return 0
    return right[1]


def cosine(halves, digits):
    """Bounds on the cosine of an angle below a right angle: pi by Machin's formula, then the power series,
    whose error is below its next term."""
    one = 10 ** (digits + 10)

    def arctan(n):
        total = term = one // n
        k, sign = 1, -1
        while term:
            term //= n * n
            k += 2
            total += sign * (term // k)
            sign = -sign
        return total

    pi = 4 * (4 * arctan(5) - arctan(239))
    x = Fraction(int(Fraction(pi, one) * Fraction(halves, 2 * 180 * DEGREE) * one), one)
    term, total, k = Fraction(1), Fraction(1), 0
    while abs(term) > Fraction(1, one):
        k += 2
        term = Fraction(int(-term * x * x / (k * (k - 1)) * one), one)
        total += term
    slack = Fraction(1, 10**digits)
    return total - slack, total + slack


KERFS = {}


def kerf_along(shape, kerf):
    """The length of stick that the cut at an end takes: kerf over cosine, rounded up to 1/64 in, without an excess
    of less than a millionth of that."""
    halves = shape[0]
    if halves == 0 or kerf == 0 or halves >= 180 * DEGREE:
        return kerf
    if (halves, kerf) not in KERFS:
        KERFS[halves, kerf] = bevel_kerf(halves, kerf)
    return KERFS[halves, kerf]


def bevel_kerf(halves, kerf):
    mark, digits, little = INCH // 64, 30, Fraction(1, 1_000_000)
    while True:
        low, high = cosine(halves, digits)
        if low > 0:
            most, least = (-((little - Fraction(kerf, mark) / x) // 1) for x in (low, high))
            if most == least:
                return max(kerf, int(most) * mark)
        digits *= 2
