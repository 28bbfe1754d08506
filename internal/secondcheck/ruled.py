"""Searches of problems with rules: patterns of clear stretches, ways of runs, and the tree over their counts."""

from patterns import LISTED, PRODUCTS, TRIED, TooMany
from units import Refused


class Item:
    """What is cut in one: alike pieces, a group that stays together, or parts of runs."""

    def __init__(self, size=0, n=0, longest=0, grade=0, lot=None, alone=None):
        self.size, self.n, self.longest, self.grade, self.lot, self.alone = size, n, longest, grade, lot, alone
        self.demand = self.most = 0


class Column:
    """A pattern of a class, or a way of a run (k is None)."""

    __slots__ = ("k", "run", "of", "cost", "uses", "cuts", "passes")

    def __init__(self, k, run, of, cost, passes=()):
        self.k, self.run, self.of, self.cost, self.passes = k, run, of, cost, passes
        self.uses, self.cuts = 0, []


class Search:
    """A search of one leaf."""

    def __init__(self, leaves, leaf, body, bound, count):
        p = leaves.p
        if p.nest:
            raise TooMany
        self.leaves, self.p, self.leaf, self.given, self.bound = leaves, p, leaf, body, bound
        self.box = leaves.boxed(leaf)
        self.items, self.at = [], {}
        self.together = {i: k for k, g in enumerate(p.groups) if g["kind"] != "one lot" for i in g["pieces"]}
        self.of_lot = {i: k for k, g in enumerate(p.groups) if g["kind"] == "one lot" for i in g["pieces"]}
        self.reach = max((hi - lo for c in leaves.classes for lo, hi in c.s.clear), default=0)
        self.number()
        if count != len(self.items):
            raise Refused("proof.items", f"{count}, not {len(self.items)}")

    # Items.

    def item(self, piece, lot, square):
        key = (piece.grade, lot, piece.length, square if self.p.hold else None)
        if key not in self.at:
            self.at[key] = len(self.items)
            self.items.append(Item(piece.length + self.p.kerf, 1, piece.length, piece.grade, lot,
                                   piece.length if square else None))
        return self.at[key]

    def number(self):
        p, self.lot_items = self.p, {}
        for i, x in enumerate(p.pieces):
            g = self.of_lot.get(i)
            if i in self.together:
                continue
            if g is not None and not p.groups[g].get("started"):
                for lot in self.leaves.lots:
                    k = self.item(x, lot, x.square)
                    self.lot_items[i, lot] = k
                    self.items[k].most += x.quantity
            else:
                k = self.item(x, p.groups[g].get("lot", "") if g is not None else None, x.square)
                self.items[k].demand += x.quantity
                self.items[k].most += x.quantity
        for g in p.groups:
            if g["kind"] != "one lot":
                of = [p.pieces[i] for i in g["pieces"]]
                x = Item(sum(y.length + p.kerf for y in of), len(of), max(y.length for y in of), max(y.grade for y in of))
                x.demand = x.most = of[0].quantity
                self.items.append(x)
        self.square = {}  # by length: whether some part is square at both ends
        for run in p.runs:
            for part in self.possible(run).values():
                self.square[part.length] = self.square.get(part.length, False) or part.square
        self.runs = [self.parts(run) for run in p.runs]
        self.spare = None
        if p.spare:
            self.spare = len(self.items)
            self.items.append(Item(grade=None))
            self.items[-1].demand = self.items[-1].most = p.spare
        self.stretches = {}
        for k, c in enumerate(self.leaves.classes):
            if len(c.s.clear) > 1:
                for j in range(len(c.s.clear)):
                    self.stretches[k, j] = len(self.items)
                    self.items.append(Item(grade=None))

    @staticmethod
    def possible(run):
        """All parts of a run, by the two nodes at their ends, also those that are longer than any stick."""
        edges = run.edges
        return {(i, j): run.part(edges[i], b) for j, b in enumerate(edges) for i in reversed(range(j))
                if run.allowed(edges[i], b, False)}

    def parts(self, run):
        """The items of the parts of a run that sticks can hold, by the two nodes at their ends."""
        out, ends = {}, {}
        for (i, j), part in self.possible(run).items():
            k = self.item(part, None, self.square[part.length])
            if part.length <= self.reach:
                out[i, j] = k
            n, last = ends.get(k, (0, 0))  # by the node at the end: as many as there are without an overlap
            if n == 0 or i >= last:
                ends[k] = n + 1, j
        for k, (n, _) in ends.items():
            self.items[k].most += n
        return out

    # Columns.

    def ways(self):
        """All ways of each run and of each group of one lot."""
        out, p = [], self.p
        for r, run in enumerate(p.runs):
            mine, stack = [], [(0, (), (0,))]
            while stack:
                at, of, passed = stack.pop()
                if len(mine) > LISTED:
                    raise TooMany
                if at == len(run.edges) - 1:
                    mine.append(self.column(None, r, of, -1, (len(of) - 1) * (run.price // self.leaves.unit), passed))
                    continue
                for (i, j), k in self.runs[r].items():
                    if i == at and len(of) <= run.splices:
                        stack.append((j, of + (k,), passed + (j,)))
            out.append(mine)
        for k, g in enumerate(p.groups):
            if g["kind"] == "one lot" and not g.get("started"):
                mine = []
                for n, lot in enumerate(self.leaves.lots):
                    of = [self.lot_items[i, lot] for i in g["pieces"] for _ in range(p.pieces[i].quantity)]
                    mine.append(self.column(None, len(out), of, -1, 0, (n,)))
                out.append(mine)
        return out

    def column(self, k, run, of, sign, cost, passes=()):
        counts = {}
        for i in of:
            counts[i] = counts.get(i, 0) + sign
        return Column(k, run, tuple(sorted(counts.items())), cost, passes)

    def patterns(self, k):
        """The items that may lie on a class's sticks and, for each stretch, all sets of them that it yields."""
        p, c = self.p, self.leaves.classes[k]
        out, steps = [], 0
        fit = [i for i, x in enumerate(self.items) if x.grade is not None and x.grade <= c.s.grade and x.lot in (None, c.s.lot)
               and x.most and not (c.yard and x.longest > p.transport)]
        for lo, hi in c.s.clear:
            room, found, stack = hi - lo + p.kerf, {}, [(0, 0, 0, ())]
            while stack:
                at, need, n, of = stack.pop()
                steps += 1
                if steps > TRIED // 10:
                    raise TooMany
                if at == len(fit):
                    if self.holds(c, hi - lo, need, of):
                        found[of] = True
                    continue
                x = self.items[fit[at]]
                for a in range(x.most + 1):
                    if need + a * x.size > room or p.max_pieces and n + a * x.n > p.max_pieces:
                        break
                    stack.append((at + 1, need + a * x.size, n + a * x.n, of + ((fit[at], a),) if a else of))
            out.append(found)
        return fit, out

    def holds(self, c, width, need, of):
        if not of or not self.p.hold or c.yard:
            return True
        if max(self.items[i].longest for i, _ in of) >= self.p.hold or width - need >= self.p.hold:
            return True
        return len(of) == 1 and of[0][1] == 1 and self.items[of[0][0]].alone == c.s.entire is not None

    # The search.

    def run(self, at):
        self.name = at
        if self.box is None:
            return
        self.top = self.leaves.dearest(self.leaf, self.bound)
        if self.top is None:
            return
        ways = self.ways()
        found = {k: self.patterns(k) for k, (_, hi) in enumerate(self.box) if hi > 0}
        columns = self.columns(found)
        if not self.given.filters:
            raise Refused(at, "no filter")
        for scale, u in self.given.filters:
            if scale < 1 or min(u, default=0) < 0 or any(u[i] for i in self.stretches.values()):
                raise Refused(at, "a filter with a wrong value")
            left = self.passing(scale, u, ways, found, columns)
            if left is None:
                return
            ways, columns = left
        self.halves = [-(-sum(self.items[i].demand for i in cut) // 2) for cut in self.given.cuts]
        for x in columns + [w for mine in ways for w in mine]:
            x.cuts = [-(-sum(a for i, a in x.of if i in cut) // 2) for cut in self.given.cuts]
        self.done = 0
        lo, hi = [x for x, _ in self.box], [x for _, x in self.box]
        self.tree(columns, ways, lo, hi)

    def columns(self, found):
        """The maximal patterns of all classes."""
        out = []
        for k, (fit, stretches) in found.items():
            c = self.leaves.classes[k]
            cost = self.p.yard_cut // self.leaves.unit if c.yard else 0
            for j, sets in enumerate(stretches):
                for of in sets:
                    if of and self.maximal(fit, sets, of):
                        line = of + ((self.stretches[k, j], -1),) if (k, j) in self.stretches else of
                        out.append(Column(k, j, line, cost))
            if self.spare is not None and c.spare:
                out.append(Column(k, 0, ((self.spare, 1),), 0))
        for x in out:
            x.uses = min(self.box[x.k][1], max(-(-self.items[i].most // a) for i, a in x.of if a > 0))
        return out

    def maximal(self, fit, sets, of):
        have = dict(of)
        for i in fit:
            if have.get(i, 0) < self.items[i].most and tuple(sorted({**have, i: have.get(i, 0) + 1}.items())) in sets:
                return False
        return True

    def passing(self, scale, u, ways, found, columns):
        """The ways and patterns that pass a filter; None if it shows that there is no such plan."""
        unit, least = self.leaves.unit, sum(v * x.demand for v, x in zip(u, self.items))
        def dear(w):
            return scale * w.cost - sum(u[i] * a for i, a in w.of)
        for mine in ways:
            if not mine:
                return None
            least += min(map(dear, mine))
        hold, alone, more = {}, {}, {}
        for k, (_, stretches) in found.items():
            c = self.leaves.classes[k]
            for j, sets in enumerate(stretches):
                alone[k, j] = max((sum(u[i] * a for i, a in of) for of in sets), default=0)
            hold[k] = sum(alone[k, j] for j in range(len(stretches))) - (scale * (self.p.yard_cut // unit) if c.yard else 0)
            if self.spare is not None and c.spare:
                hold[k] = max(hold[k], u[self.spare])
            if len(stretches) == 1:
                alone[k, 0] = hold[k]
            lo, hi = self.box[k]
            t, t1 = self.leaves.least_of(k, lo, hi, scale, hold[k]), self.leaves.least_of(k, max(lo, 1), hi, scale, hold[k])
            more[k] = None if t is None or t1 is None else t1 - t
        classes = self.classes(self.box, scale, hold)
        if classes is None:
            return None
        gap = scale * self.top - least - classes
        if gap < 0:
            return None
        left = [[w for w in mine if dear(w) - min(map(dear, mine)) <= gap] for mine in ways]
        kept = [x for x in columns if more[x.k] is not None and
                sum(u[i] * a for i, a in x.of if a > 0) - scale * x.cost >= alone[x.k, x.run] + more[x.k] - gap]
        return left, kept

    def classes(self, box, scale, hold):
        """The least of all classes' costs less what their sticks hold, with the charges."""
        least, must, total = {}, set(), 0
        for k, (lo, hi) in enumerate(box):
            f = self.leaves.least_of(k, lo, hi, scale, hold.get(k, 0)) if hi > 0 else 0
            if f is None or lo > hi:
                return None
            name = self.leaves.classes[k].s.supplier
            least[name] = least.get(name, 0) + f
            if lo > 0:
                must.add(name)
        for (name, amount), u in zip(self.p.charges, self.leaf.used):
            charged = least.pop(name, 0) + scale * (amount // self.leaves.unit)
            if u == 1 or u == 0 and name in must:
                total += charged
            elif u == 0:
                total += min(charged, 0)
        return total + sum(least.values())

    def tree(self, columns, ways, lo, hi):
        stack = [(columns, ways, lo, hi, [])]
        for kind, what in self.given.nodes:
            left, ways, lo, hi, path = stack.pop()
            if kind == 3:
                r, number = what
                if r >= len(ways):
                    raise Refused(self.name, "an unknown run")
                for keep in (True, False):  # the first child is popped first
                    mine = [w for w in ways[r] if (number in w.passes) == keep]
                    stack.append((left, ways[:r] + [mine] + ways[r + 1:], lo, hi, path))
                continue
            if kind == 2:
                k, line, at = what
                if k >= 0 and not line:
                    under, over = list(hi), list(lo)
                    under[k], over[k] = min(hi[k], at), max(lo[k], at + 1)
                    stack += [(left, ways, over, hi, path), (left, ways, lo, under, path)]
                    continue
                counted = {id(x) for x in left if (k < 0 or x.k == k) and self.contains(x, line)}
                stack += [(left, ways, lo, hi, path + [(counted, at + 1, 1)]), (left, ways, lo, hi, path + [(counted, at, -1)])]
                continue
            scale = what[0]
            shown, costs, dear = self.vector(what, left, ways, lo, hi, path)
            if kind == 0 and shown is not None and shown <= scale * self.top:
                raise Refused(self.name, "a leaf of the tree does not hold")
            if kind == 1:
                if scale < 1:
                    raise Refused(self.name, "a fixing without a scale")
                if shown is None:
                    stack.append(([], [[] for _ in ways], lo, hi, path))
                    continue
                most = scale * self.top - shown
                ways = [[w for w, r in zip(mine, rs) if r <= most] for mine, rs in zip(ways, dear)]
                stack.append(([x for x, r in zip(left, costs) if r <= most], ways, lo, hi, path))

    def contains(self, x, line):
        """Whether a pattern holds so many of the items; that it has the item of a stretch means that it lies there."""
        have, own = dict(x.of), set(self.stretches.values())
        return all(abs(have.get(i, 0)) >= n if i in own else have.get(i, 0) >= n for i, n in line)

    def vector(self, what, left, ways, lo, hi, path):
        scale, u, z, y, cuts = what
        if scale < 0 or min(u, default=0) < 0 or any(w < 0 for _, w in cuts) or any(t >= len(self.halves) for t, _ in cuts):
            raise Refused(self.name, "a vector with a value below zero, or of an unknown cut")
        if any(v * sign < 0 for v, (_, _, sign) in zip(y, path)) or any(z[k] for k, _ in self.stretches):
            raise Refused(self.name, "a vector with a value of the wrong sign")
        shown = sum(v * x.demand for v, x in zip(u, self.items)) + sum(w * self.halves[t] for t, w in cuts)
        shown += sum(v * at for v, (_, at, _) in zip(y, path))
        worth = {k: v for k, v in enumerate(z)}
        for (k, _), i in self.stretches.items():
            worth[k] += u[i]
        classes = self.classes(list(zip(lo, hi)), scale, worth)

        def reduced(x):
            r = scale * x.cost - sum(u[i] * a for i, a in x.of) - sum(w * x.cuts[t] for t, w in cuts)
            if x.k is not None:
                r += z[x.k] - sum(v for v, (counted, _, _) in zip(y, path) if v and id(x) in counted)
            return r

        costs, dear = [reduced(x) for x in left], [[reduced(w) for w in mine] for mine in ways]
        self.done += sum(len(x.of) + len(cuts) + len(path) for x in left)
        if self.done > PRODUCTS:
            raise TooMany
        if classes is None or not all(dear):
            return None, costs, dear
        shown += classes + sum(min(rs) for rs in dear)
        shown += sum(r * min(x.uses, hi[x.k]) for x, r in zip(left, costs) if r < 0)
        return shown, costs, [[r - min(rs) for r in rs] for rs in dear]
