"""The total costs that sticks can have whose counts lie in a box."""

from math import gcd

MULTIPLES = 2_097_152
COUNTS = 1_024  # counts of one class with bundles or price breaks that are listed


class Totals:
    """A least total, and what can be added to it: a step up to a number of times, or one of some amounts."""

    def __init__(self, p, classes, box, used):
        self.base, self.series, self.choices, self.known = 0, [], [], True
        for c, (lo, hi) in zip(classes, box):
            if c.yard and hi > 0:
                self.series.append((p.yard_cut, None))
            if c.s.linear:
                each = p.cost_of(c.s, 1)
                self.base += lo * each
                self.series.append((each, hi - lo))
            else:
                self.choose(p, c, lo, hi)
        for (_, amount), u in zip(p.charges, used):
            if u == 1:
                self.base += amount
            elif u == 0:
                self.choices.append([0, amount])
        for run in p.runs:
            self.series.append((run.price, None))
        self.unit = 0
        for step, most in self.series:
            self.unit = gcd(self.unit, step if most != 0 else 0)
        for amounts in self.choices:
            self.unit = gcd(self.unit, *amounts)
        self.reach = None, 0

    def choose(self, p, c, lo, hi):
        if hi - lo > COUNTS:
            self.known = False
            return
        costs = {c.cost(p, n) for n in range(lo, hi + 1)} - {None}
        if not costs:
            self.known = False
            return
        self.base += min(costs)
        self.choices.append([x - min(costs) for x in costs])

    def totals(self, width):
        """The set of all multiples of the unit above the base, up to width, as the bits of a number."""
        if self.reach[0] != width:
            reach, mask = 1, (1 << width + 1) - 1
            for step, most in self.series:
                if step and most != 0:
                    reach = several(reach, step // self.unit, most, width) & mask
            for amounts in self.choices:
                shifted = 0
                for x in amounts:
                    if x // self.unit <= width:
                        shifted |= reach << x // self.unit
                reach = shifted & mask
            self.reach = width, reach
        return self.reach[1]

    def least(self, low, below):
        """The least total from low on that is less than a number; that number if there is none."""
        if not self.known:
            return low
        if low >= below or self.base >= below:
            return max(low, below)
        if self.unit == 0:
            return self.base if low <= self.base else below
        width, first = (below - 1 - self.base) // self.unit, max(0, -(-(low - self.base) // self.unit))
        if first > width:
            return below
        if width >= MULTIPLES:
            return self.base + first * self.unit
        left = self.totals(width) >> first
        return self.base + (first + (left & -left).bit_length() - 1) * self.unit if left else below

    def most(self, below):
        """The greatest total that is less than a number; None if there is none."""
        if not self.known:
            return below - 1
        if self.base >= below:
            return None
        if self.unit == 0:
            return self.base
        width = (below - 1 - self.base) // self.unit
        if width >= MULTIPLES:
            return self.base + width * self.unit
        return self.base + (self.totals(width).bit_length() - 1) * self.unit


def several(reach, each, count, width):
    """A set of sums, to each of which an amount is added up to count times; None is any number of times."""
    left = width // each if count is None else min(count, width // each)
    k = 1
    while left > 0:
        k = min(k, left)
        reach |= reach << k * each
        left -= k
        k *= 2
    return reach
