"""Searches of problems without rules: the list of patterns, and the tree over their counts."""

from bisect import bisect_right

import ruled
from leaves import Leaves, pareto
from packing import take_forced
from patterns import LISTED, PRODUCTS, TRIED, TooMany
from proof import Body
from units import Refused

LIMIT = 1 << 62


def shows_cost(p, e):
    """What all leaves of a proof, with their searches, show of the cost; refuses it if that is less than LeafBound."""
    leaves, bound = Leaves(p), e.leaf_bound
    leaves.kind = e.kind
    searches = e.kind in ("enumeration", "packing")
    items = sorted({x.length for x in p.pieces})
    if searches and not p.ruled and e.items != len(items):
        raise Refused("proof.items", f"{e.items}, not {len(items)}")
    if e.forced:
        if e.kind != "packing":
            raise Refused("proof.kind", "forced sticks occur only in a packing")
        bound = take_forced(leaves, e, items)
    leaves.read(e, "proof", 0)
    least = None
    for k, leaf in enumerate(e.leaves):
        if leaf.search is not None:
            body = Body(leaf.search, e.items, e.classes)
            if p.ruled:
                ruled.Search(leaves, leaf, body, bound, e.items).run(f"proof.leaves[{k}].search")
            else:
                Search(leaves, items, leaf, body, bound).run(f"proof.leaves[{k}].search")
            least = bound if least is None else min(least, bound)
            continue
        shown = leaves.shows(e, k, bound)
        if shown is not None and shown < bound:
            raise Refused(f"proof.leaves[{k}]", f"it shows {shown}, not {bound}")
        if shown is not None:
            least = shown if least is None else min(least, shown)
    return None if least is None else least + e.leaf_bound - bound


class Pattern:
    __slots__ = ("k", "of", "cost", "uses", "cuts")

    def __init__(self, k, of, cost, uses, cuts):
        self.k, self.of, self.cost, self.uses, self.cuts = k, of, cost, uses, cuts


class Search:
    """A search of one leaf."""

    def __init__(self, leaves, items, leaf, body, bound):
        p = leaves.p
        self.leaves, self.leaf, self.given, self.bound = leaves, leaf, body, bound
        self.size = [x + p.kerf for x in items]
        at = {x: i for i, x in enumerate(items)}
        self.demand = [0] * len(items)
        for x, q in zip(p.pieces, leaves.quantity):
            self.demand[at[x.length]] += q
        self.cost = [p.cost_of(c.s, 1) // leaves.unit for c in leaves.classes]
        self.room = [c.s.usable + p.kerf for c in leaves.classes]
        self.box = leaves.boxed(leaf)

    def run(self, at):
        self.at = at
        if self.box is None:
            return
        self.top = self.leaves.dearest(self.leaf, self.bound)
        if self.top is None:
            return
        filters = self.filters()
        if filters is None:
            return
        self.halves = [-(-sum(self.demand[i] for i in cut) // 2) for cut in self.given.cuts]
        patterns = self.listed(filters)
        self.most_pieces = max((sum(a for _, a in x.of) for x in patterns), default=0)
        self.done = 0
        lo, hi = [x for x, _ in self.box], [x for _, x in self.box]
        self.tree(patterns, lo, hi)

    # The list of patterns.

    def filters(self):
        """For each filter its values and, for each class, what a pattern must be worth to pass; None if a filter
        shows that the box contains no such plan."""
        if not self.given.filters:
            raise Refused(self.at, "no filter")
        out = []
        for scale, u in self.given.filters:
            if scale < 1 or min(u, default=0) < 0:
                raise Refused(self.at, "a filter with a scale or a value below zero")
            fronts = [self.fronts(k, u) if hi > 0 else None for k, (_, hi) in enumerate(self.box)]
            least, hold = sum(v * d for v, d in zip(u, self.demand)), []
            for k, (lo, hi) in enumerate(self.box):
                hold.append(fronts[k][-1][-1][1] if hi > 0 else 0)
                each = scale * self.cost[k] - hold[k]
                least += min(lo * each, hi * each)
            gap = scale * self.top - least
            if gap < 0:
                return None
            need = [max(hold[k], scale * self.cost[k] if lo == 0 else 0) - gap for k, (lo, _) in enumerate(self.box)]
            out.append((u, fronts, need))
        return out

    def fronts(self, k, u):
        """For each number n, what the first n items can be worth in a stick: the best pairs of size and value."""
        front, out, pairs = [(0, 0)], [[(0, 0)]], 0
        for size, v, d in zip(self.size, u, self.demand):
            left, n = min(d, self.room[k] // size), 1
            while left > 0 and v > 0:
                n = min(n, left)
                left -= n
                front = pareto(front, [(a + n * size, w + n * v) for a, w in front if a + n * size <= self.room[k]])
                n *= 2
            pairs += len(front)
            if pairs > TRIED:
                raise TooMany
            out.append(front)
        return out

    def listed(self, filters):
        """All patterns that pass all filters."""
        out, steps = [], 0
        for k, (_, hi) in enumerate(self.box):
            if hi == 0:
                continue
            mine = [(u, [([a for a, _ in f], f) for f in fronts[k]], need[k]) for u, fronts, need in filters]
            stack = [(len(self.size), self.room[k], (), [0] * len(mine))]
            while stack:
                i, room, of, worth = stack.pop()
                steps += 1
                if steps > TRIED:
                    raise TooMany
                if i == 0:
                    if self.maximal(room, of):
                        out.append(self.pattern(k, of))
                        if len(out) > LISTED:
                            raise TooMany
                    continue
                i -= 1
                for n in range(min(self.demand[i], room // self.size[i]) + 1):
                    left, passes, w = room - n * self.size[i], True, []
                    for (u, fronts, need), v in zip(mine, worth):
                        v += n * u[i]
                        sizes, front = fronts[i]
                        if v + front[bisect_right(sizes, left) - 1][1] < need:
                            passes = False
                            break
                        w.append(v)
                    if passes:
                        stack.append((i, left, of + ((i, n),) if n else of, w))
        return out

    def maximal(self, room, of):
        have = dict(of)
        return all(self.size[i] > room or have.get(i, 0) >= d for i, d in enumerate(self.demand))

    def pattern(self, k, of):
        uses = max((-(-self.demand[i] // a) for i, a in of), default=0)
        cuts = []
        for cut in self.given.cuts:
            cuts.append(-(-sum(a for i, a in of if i in cut) // 2))
        return Pattern(k, of, self.cost[k], min(self.box[k][1], uses), cuts)

    # The tree.

    def tree(self, patterns, lo, hi):
        """Verifies all nodes, which are in the order in which they are written."""
        stack = [(patterns, lo, hi, [])]
        for kind, what in self.given.nodes:
            left, lo, hi, path = stack.pop()
            if kind == 3:
                raise Refused(self.at, "a choice among the ways of a run, of which there is none")
            if kind == 2:
                stack += self.branch(what, left, lo, hi, path)
                continue
            scale = what[0]
            shown, costs = self.vector(what, left, lo, hi, path)
            if kind == 0 and shown <= scale * self.top:
                raise Refused(self.at, "a leaf of the tree does not hold")
            if kind == 1:
                if scale < 1:
                    raise Refused(self.at, "a fixing without a scale")
                most = scale * self.top - shown
                stack.append(([x for x, r in zip(left, costs) if r <= most], lo, hi, path))

    def branch(self, what, left, lo, hi, path):
        """The two children of a node; the first one is popped first."""
        k, line, at = what
        if k >= 0 and not line:
            under, over = list(hi), list(lo)
            under[k], over[k] = min(hi[k], at), max(lo[k], at + 1)
            return [(left, over, hi, path), (left, lo, under, path)]
        counted = {id(x) for x in left if (k < 0 or x.k == k) and self.contains(x, line)}
        return [(left, lo, hi, path + [(counted, at + 1, 1)]), (left, lo, hi, path + [(counted, at, -1)])]

    @staticmethod
    def contains(x, line):
        have = dict(x.of)
        return all(have.get(i, 0) >= n for i, n in line)

    def vector(self, what, left, lo, hi, path):
        """What a vector shows, and the reduced cost of every pattern."""
        scale, u, z, y, cuts = what
        if scale < 0 or min(u, default=0) < 0 or any(w < 0 for _, w in cuts) or any(t >= len(self.halves) for t, _ in cuts):
            raise Refused(self.at, "a vector with a value below zero, or of an unknown cut")
        if any(v * sign < 0 for v, (_, _, sign) in zip(y, path)):
            raise Refused(self.at, "a vector with a value of the wrong sign for a row")
        size = (max(u, default=0) + sum(w for _, w in cuts)) * self.most_pieces + scale * max(self.cost, default=0)
        if size + sum(map(abs, z)) + sum(map(abs, y)) >= LIMIT:
            raise Refused(self.at, "a vector beyond the range")
        shown = sum(v * d for v, d in zip(u, self.demand)) + sum(w * self.halves[t] for t, w in cuts)
        shown += sum(v * (lo[k] if v > 0 else hi[k]) for k, v in enumerate(z))
        shown += sum(v * at for v, (_, at, _) in zip(y, path))
        costs = []
        for x in left:
            r = scale * x.cost - z[x.k] - sum(u[i] * a for i, a in x.of) - sum(w * x.cuts[t] for t, w in cuts)
            for v, (counted, _, _) in zip(y, path):
                if v and id(x) in counted:
                    r -= v
            costs.append(r)
            if r < 0:
                shown += r * min(x.uses, hi[x.k])
        self.done += sum(len(x.of) + len(cuts) + len(path) for x in left)
        if self.done > PRODUCTS:
            raise TooMany
        return shown, costs
