"""Forced sticks: sticks that are in some plan of one stick less than the bound says, if there is any."""

from math import gcd

from patterns import TooMany
from sums import several
from units import Refused

ROOM = 4_194_304


def take_forced(leaves, e, items):
    """Verifies the forced sticks, takes their pieces off the quantities, and returns the bound that is left."""
    p, at = leaves.p, "proof.forced"
    if p.ruled or len(leaves.classes) != 1 or p.cost_of(leaves.classes[0].s, 1) < 1:
        raise Refused(at, "the sticks are not one class of a cost above zero")
    c, left = leaves.classes[0], {x: 0 for x in items}
    cost, room = p.cost_of(c.s, 1), c.s.usable + p.kerf
    for x in p.pieces:
        left[x.length] += x.quantity
    n = (e.leaf_bound - 1) // cost
    slack = n * room - sum((x + p.kerf) * d for x, d in left.items())
    if slack < 0:
        raise Refused(at, "so few sticks cannot hold all pieces")
    for k, (a, b, third) in enumerate(e.forced):
        of = [a, b] + [third - 1] * (third > 0)
        if any(i >= len(items) for i in of):
            raise Refused(f"{at}[{k}]", "it has an unknown item")
        for i in of:
            left[items[i]] -= 1
        if min(left.values()) < 0:
            raise Refused(f"{at}[{k}]", "its pieces are not needed")
        if sum(items[i] + p.kerf for i in of) != room:
            raise Refused(f"{at}[{k}]", "its pieces do not fill it")
        if third:
            rest = room - items[a] - p.kerf
            if some_sum(left, p.kerf, max(0, rest - slack), rest):
                raise Refused(f"{at}[{k}]", "other pieces may lie beside its first one")
    take_off(leaves, left)
    leaves.caps = [min(max(0, leaves.caps[0] - len(e.forced)), sum(left.values()))]
    return e.leaf_bound - len(e.forced) * cost


def take_off(leaves, left):
    """Leaves only the quantities that are still needed, those of the last pieces of a length."""
    left = dict(left)
    for i in reversed(range(len(leaves.quantity))):
        x = leaves.p.pieces[i].length
        leaves.quantity[i] = min(leaves.quantity[i], left[x])
        left[x] -= leaves.quantity[i]


def some_sum(left, kerf, low, high):
    """Whether some of the pieces have a total size from low to high."""
    if low == 0:
        return True
    unit = gcd(*(x + kerf for x in left))
    low, high = -(-low // unit), high // unit
    if high > ROOM:
        raise TooMany
    sums = 1  # as bits
    for x, d in left.items():
        sums = several(sums, (x + kerf) // unit, d, high) & (1 << high + 1) - 1
    return sums >> low != 0
