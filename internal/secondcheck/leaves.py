"""What the leaves of a proof show."""

import patterns
from boxes import classes_of, covered
from patterns import TooMany
from sums import Totals
from units import Refused

FRONT = 2_000_000  # pairs of size and value that are looked at for one stick


class Leaves:
    """The leaves of proofs for one problem. Quantities, limits and the bound may be those that forced sticks
    leave."""

    def __init__(self, p):
        self.p = p
        self.classes = classes_of(p)
        self.caps = [c.cap for c in self.classes]
        self.quantity = [x.quantity for x in p.pieces]
        self.lots = list(dict.fromkeys(s.lot for s in p.sticks if s.limit != 0))
        self.lot_pieces = [(k, i) for k, g in enumerate(p.groups) if g["kind"] == "one lot" and not g.get("started")
                           for i in g["pieces"]]
        self.started = {i: g.get("lot", "") for g in p.groups if g.get("started") for i in g["pieces"]}
        self._items, self._sets, self.known = None, None, {}

    def items(self):
        if self._items is None:
            self._items = patterns.items_of(self.p)
        return self._items

    def sets(self):
        if self._sets is None:
            self._sets = patterns.sets(self.p, self.items())
        return self._sets

    def may_lie(self, item, c):
        """Whether the lot of a stick is that of all started groups in an item."""
        return all(self.started.get(j, c.s.lot) == c.s.lot for j in item.of)

    def read(self, e, at, weights):
        """Refuses leaves of the wrong form, and those that do not cover every plan. A row may end with the
        weights of some goals."""
        p, n, self.known = self.p, len(self.p.pieces), {}
        lots = len(self.lot_pieces) * len(self.lots)
        self.unit, self.with_lots = e.unit, lots > 0 and e.pieces == n + lots + weights
        if e.pieces != n + weights and not self.with_lots:
            raise Refused(at + ".leaves", "not one value for each piece")
        if e.classes != len(self.classes) or e.charges != len(p.charges):
            raise Refused(at + ".leaves", f"{e.classes} classes and {e.charges} charges, not {len(self.classes)}")
        if e.unit < 1 or any(x % e.unit for x in self.amounts()):
            raise Refused(at + ".unit", "it does not divide the cost of every stick and every charge")
        for k, leaf in enumerate(e.leaves):
            row = leaf.row
            if min(row.scale, row.spare, *row.values, *row.part_values.values(), 0) < 0:
                raise Refused(f"{at}.leaves[{k}]", "a value below zero")
            if any(u not in (-1, 0, 1) for u in leaf.used):
                raise Refused(f"{at}.leaves[{k}]", "a charge is neither paid, nor unpaid, nor open")
        paid = {0: (0, 1), 1: (1, 1), -1: (0, 0)}
        boxes = [list(zip(x.lo, x.hi)) + [paid[u] for u in x.used] for x in e.leaves]
        try:
            covered(self.caps + [1] * len(p.charges), boxes)
        except Refused as r:
            raise Refused(at + ".leaves", str(r))

    def amounts(self):
        """All that Unit has to divide. The prices of splices and of yard cuts are rounded down to it instead."""
        for c, cap in zip(self.classes, self.caps):
            if cap:
                yield self.p.cost_of(c.s, 1)
                if not self.p.by_length:
                    yield from (price for _, price in c.s.breaks)
        yield from (amount for _, amount in self.p.charges)

    # What one stick holds.

    def holds(self, k, row, goal=None):
        """K of a class, which is the same for all leaves with the same row."""
        if (k, id(row)) not in self.known:
            self.known[k, id(row)] = self.hold(k, row, goal)
        return self.known[k, id(row)]

    def hold(self, k, row, goal):
        """K of a class; None if nothing can be cut from its sticks and none is a spare."""
        p, c = self.p, self.classes[k]
        if not p.ruled:
            return self.knapsack(c, row)
        best = self.most(c, row, goal) if c.usable else None
        if goal is None:
            best = max(best or 0, 0)
        if best is not None and c.yard:
            best -= (goal.cost if goal else row.scale) * (p.yard_cut // self.unit)
        if c.spare:
            best = row.spare if best is None else max(best, row.spare)
        return best

    def material(self, c, row):
        """K for a proof by material: the value of the stick's length at the best rate of all pieces, or of all
        pieces that fit, if that is less."""
        room, total, rate = c.s.usable + self.p.kerf, 0, (0, 1)
        for x, v, n in zip(self.p.pieces, row.values, self.quantity):
            size = x.length + self.p.kerf
            if size <= room:
                total += v * n
                rate = (v, size) if v * rate[1] > rate[0] * size else rate
        return min(total, rate[0] * room // rate[1])

    def knapsack(self, c, row):
        """K of a problem without rules: the best pairs of size and value."""
        if self.kind == "material":
            return self.material(c, row)
        room, front, pairs = c.s.usable + self.p.kerf, [(0, 0)], 0
        worth = {}
        for x, v, n in zip(self.p.pieces, row.values, self.quantity):
            if v > 0 and n > 0:
                worth[x.length + self.p.kerf, v] = worth.get((x.length + self.p.kerf, v), 0) + n
        for (size, v), n in sorted(worth.items(), reverse=True):
            left, k = min(n, room // size), 1
            while left > 0:
                k = min(k, left)
                left -= k
                front = pareto(front, [(a + k * size, w + k * v) for a, w in front if a + k * size <= room])
                k *= 2
                pairs += len(front)
                if pairs > FRONT:
                    raise TooMany
        return front[-1][1]

    def value(self, chosen, c, row):
        """The value of some items on a stick of a class; None if one of them must not lie there."""
        total = 0
        for i, k in chosen:
            it = self.items()[i]
            if it.run is not None:
                total += row.part_values.get(self.p.runs[it.run].part(*it.span).length, 0) * k
                continue
            if not self.may_lie(it, c):
                return None
            total += sum(self.worth_of[j][c.s.lot] for j in it.of) * k
        return total

    def most(self, c, row, goal):
        """The greatest value of a pattern, clear stretch by clear stretch. A stick that is cut in the yard is one
        stretch with no piece longer than what can be transported."""
        p, s = self.p, c.s
        some, none = None, 0  # the most with pieces in some stretch, and without any
        for lo, hi in s.clear:
            width, full = hi - lo, None
            empty = goal.stretch(p, width, None) if goal else 0
            for x in self.sets():
                if not x.n or x.grade > s.grade or not x.fits(p, width):
                    continue
                if c.yard and x.longest > p.transport or p.hold and not c.yard and not x.holds(p, width, s.entire):
                    continue
                v = self.value(x.counts, c, row)
                if v is not None:
                    v += goal.stretch(p, width, x) if goal else 0
                    full = v if full is None else max(full, v)
            ways = [] if some is None else [some + empty]
            if full is not None:
                ways += [none + full] if some is None else [none + full, some + full]
            some = max(ways, default=None)
            none += empty
        if goal is None:
            return some
        return None if some is None else some - goal.sticks - goal.rack(p, s)

    # What one leaf shows.

    def pieces(self, row):
        """The value of all wanted pieces; sets what each is worth by lot."""
        n = len(self.p.pieces)
        self.worth_of = [{lot: v for lot in self.lots} for v in row.values[:n]]
        total, at, by = sum(v * q for v, q in zip(row.values, self.quantity)), n, {}
        for g, i in self.lot_pieces if self.with_lots else []:
            for lot in self.lots:
                self.worth_of[i][lot] += row.values[at]
                by[g, lot] = by.get((g, lot), 0) + row.values[at] * self.quantity[i]
                at += 1
        for g in {g for g, _ in by}:
            total += min(by[g, lot] for lot in self.lots)
        return total

    def ways(self, row, scale, weight):
        """The sum of the cheapest way of each run: parts by value, splices by price; None if a run has no way."""
        total, p = 0, self.p
        reach = max((hi - lo for c in self.classes for lo, hi in c.s.clear), default=0)
        for run in p.runs:
            edges, each = run.edges, scale * (run.price // self.unit) + weight
            best = {(0, 0): 0}  # by the last edge and the number of parts
            for j, b in enumerate(edges[1:], 1):
                for i in range(j):
                    part = run.part(edges[i], b)
                    if part.length > reach or not run.allowed(edges[i], b, p.nest):
                        continue
                    v = row.part_values.get(part.length, 0)
                    for n in range(run.splices + 1):
                        if (i, n) in best:
                            w = best[i, n] + v + (each if n else 0)
                            best[j, n + 1] = min(w, best.get((j, n + 1), w))
            ends = [w for (j, _), w in best.items() if j == len(edges) - 1]
            if not ends:
                return None
            total += min(ends)
        return total

    def boxed(self, leaf):
        """The counts of each class that the box allows; None if it is empty."""
        names, out = [name for name, _ in self.p.charges], []
        for c, cap, lo, hi in zip(self.classes, self.caps, leaf.lo, leaf.hi):
            lo, hi = max(lo, 0), min(hi, cap)
            if c.s.supplier in names and leaf.used[names.index(c.s.supplier)] == -1:
                hi = min(hi, 0)
            if lo > hi:
                return None
            out.append((lo, hi))
        return out

    def sum_of(self, leaf, scale, goal=None):
        """The sum in parentheses in the formula at Proof; None if the box is seen to contain no plan."""
        p, row, box = self.p, leaf.row, self.boxed(leaf)
        if box is None:
            return None
        runs = self.ways(row, scale, goal.splices if goal else 0)
        if runs is None:
            return None
        total = self.pieces(row) + row.spare * p.spare + runs
        least, must = {}, set()  # by supplier
        for k, (c, (lo, hi)) in enumerate(zip(self.classes, box)):
            f = self.least_of(k, lo, hi, scale, self.holds(k, row, goal) if hi > 0 else 0)
            if f is None:
                return None
            name = c.s.supplier
            least[name] = least.get(name, 0) + f
            if lo > 0:
                must.add(name)
        for (name, amount), u in zip(p.charges, leaf.used):
            charged = least.pop(name, 0) + scale * (amount // self.unit)
            if u == 1 or u == 0 and name in must:
                total += charged
            elif u == 0:
                total += min(charged, 0)
        return total + sum(least.values())

    def least_of(self, k, lo, hi, scale, hold):
        """The least over the counts of a class of the cost of the sticks less what they hold."""
        c = self.classes[k]
        if hold is None:
            return 0 if lo == 0 else None
        if c.s.linear:
            each = scale * (self.p.cost_of(c.s, 1) // self.unit) - hold
            return min(lo * each, hi * each)
        if hi - lo > 1 << 14:
            raise TooMany
        costs = [(n, c.cost(self.p, n)) for n in range(lo, hi + 1)]
        return min((scale * (x // self.unit) - n * hold for n, x in costs if x is not None), default=None)

    def totals(self, leaf):
        box = self.boxed(leaf)
        return None if box is None else Totals(self.p, self.classes, box, leaf.used)

    def dearest(self, leaf, bound):
        """The most units that a plan in the box of a leaf costs if it is cheaper than the bound; None if there is none."""
        if not leaf.sums:
            return (bound - 1) // self.unit
        top = self.totals(leaf).most(bound)
        return None if top is None else top // self.unit

    def shows(self, e, k, bound):
        """What a leaf shows of the cost; None if its box contains no plan. Below the bound that it should show,
        it is rounded up to the next total."""
        leaf = e.leaves[k]
        total, scale = self.sum_of(leaf, leaf.row.scale), leaf.row.scale
        if total is None or scale == 0 and total > 0:
            return None
        shown = max(0, -(-total // scale) * self.unit) if scale else 0
        if shown < bound and leaf.sums:
            totals = self.totals(leaf)
            return bound if totals is None else totals.least(shown, bound)
        return shown


def pareto(one, two):
    """Pairs of size and value of which no other is as small and worth as much."""
    out, best = [], -1
    for a, w in sorted(one + two, key=lambda t: (t[0], -t[1])):
        if w > best:
            out.append((a, w))
            best = w
    return out
