"""Classes of sticks, and whether the boxes of the leaves cover every plan."""

from patterns import TooMany
from units import Refused

NODES = 200_000  # boxes that are looked at; with more it stays open whether every plan is covered


class Class:
    """Sticks that are alike: one of them, and how many of them can be used."""

    def __init__(self, p, s, pieces):
        self.s, self.limit, self.most = s, s.limit, pieces
        self.yard = p.yard(s)
        self.usable = not self.yard or s.length - p.kerf <= 2 * p.transport
        self.spare = p.spare > 0 and p.spare_from(s)
        self.costs = {}

    def join(self, s):
        self.limit = None if self.limit is None or s.limit is None else self.limit + s.limit

    @property
    def cap(self):
        """The greatest number of its sticks in any plan."""
        if not self.usable:
            return 0
        if self.limit is None:
            return self.most
        sold = self.limit // self.s.bundle * self.s.bundle
        return min(sold if sold >= self.s.minimum else 0, self.most)

    def cost(self, p, n):
        """The least cost of n sticks and of all that must be bought with them; None if they are not sold."""
        if n == 0:
            return 0
        if self.s.linear:
            return p.cost_of(self.s, n)
        if n not in self.costs:
            s, costs = self.s, []
            for start in [0] + [b for b, _ in s.breaks]:
                m = -(-max(n, s.minimum, start) // s.bundle) * s.bundle
                if s.limit is None or m <= s.limit:
                    costs.append(p.cost_of(s, m))
            self.costs[n] = min(costs, default=None)
        return self.costs[n]


def alike(p, s):
    """What sticks of one class have in common."""
    if not p.ruled:
        return (s.usable, p.cost_of(s, 1))
    if not s.linear or s.defects:
        return s.i
    return (s.length, s.start, s.end, s.price, s.supplier, s.lot, s.grade, s.rack)


def classes_of(p):
    most = sum(x.quantity for x in p.pieces) + sum(r.splices + 1 for r in p.runs) + p.spare
    out = {}
    for s in p.sticks:
        if s.limit != 0:
            key = alike(p, s)
            if key in out:
                out[key].join(s)
            else:
                out[key] = Class(p, s, most)
    return list(out.values())


def covered(caps, boxes):
    """Refuses boxes that leave a gap in the space of all counts up to the caps, which it divides until each
    part lies in one box."""
    stack, nodes = [([(0, cap) for cap in caps], boxes)], 0
    while stack:
        nodes += 1
        if nodes > NODES:
            raise TooMany
        part, left = stack.pop()
        left = [b for b in left if all(x[0] <= y[1] and y[0] <= x[1] for x, y in zip(b, part))]
        if not left:
            raise Refused("leaves", f"the counts {part} are in no box")
        if any(all(x[0] <= y[0] and y[1] <= x[1] for x, y in zip(b, part)) for b in left):
            continue
        k, at = cut(part, left)
        stack.append((part[:k] + [(part[k][0], at)] + part[k + 1:], left))
        stack.append((part[:k] + [(at + 1, part[k][1])] + part[k + 1:], left))


def cut(part, boxes):
    """The class and the count at which to divide a part, through as few boxes as possible."""
    best = None
    for b in boxes:
        for k, (x, y) in enumerate(zip(b, part)):
            for at in (x[0] - 1, x[1]):
                if y[0] <= at < y[1]:
                    through = sum(z[k][0] <= at < z[k][1] for z in boxes)
                    if best is None or through < best[0]:
                        best = (through, k, at)
    return best[1:]
