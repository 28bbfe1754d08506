"""Every set of pieces that one stretch of a stick can hold, with the least length that it takes."""

from ends import shared

LISTED = 131_072  # patterns of one search
TRIED = 5_000_000  # steps to make their list
PRODUCTS = 100_000_000  # reduced costs, counted by items
ENOUGH = 400_000  # sets of pieces; with more the bound is not verified


class TooMany(Exception):
    """Verifying takes more steps than this program has."""


class Item:
    """A piece, a part of a run, or a set of pieces that stay together, as it may lie on a stick."""

    def __init__(self, of, quantity, pieces, turns, p):
        self.of, self.quantity, self.n = of, quantity, len(pieces)
        self.longest, self.grade = max(x.length for x in pieces), max(x.grade for x in pieces)
        self.alone = pieces[0].length if len(pieces) == 1 and pieces[0].square else None
        self.run = self.span = None
        self.lies = set()
        for turn in turns:
            first = last = None
            need = 0
            for x in pieces:
                left, right, takes = x.lies(turn, p.kerf) if p.nest else (None, None, x.length + p.kerf)
                need += takes - (shared(last, left) if p.nest and last else 0)
                first, last = first or left, right
            self.lies.add((first, last, need))
        self.lies = sorted(self.lies, key=repr)


class Set:
    """Pieces that lie in one stretch in some order: their number of each item, and what they take."""

    __slots__ = ("counts", "need", "n", "longest", "grade", "alone")

    def __init__(self, counts, need, items):
        self.counts, self.need = counts, need
        self.n = sum(items[i].n * k for i, k in counts)
        self.longest = max((items[i].longest for i, _ in counts), default=0)
        self.grade = max((items[i].grade for i, _ in counts), default=-(1 << 62))
        self.alone = items[counts[0][0]].alone if self.n == 1 else None

    def offcut(self, width):
        return max(0, width - self.need) if self.n else width

    def cuts(self, width):
        return self.n - 1 + (self.need < width) if self.n else 0

    def fits(self, p, width):
        return not self.n or self.need <= width + p.kerf

    def holds(self, p, width, entire):
        return not self.n or self.longest >= p.hold or self.offcut(width) >= p.hold or (
            self.alone is not None and self.alone == entire)


def items_of(p):
    """The items of a problem. Parts of one run never overlap."""
    items, grouped = [], {}
    for g in p.groups:
        if g["kind"] != "one lot":
            for i in g["pieces"]:
                grouped[i] = g
    done = []
    for i, x in enumerate(p.pieces):
        g = grouped.get(i)
        if g is None:
            items.append(Item([i], x.quantity, [x], list(x.turns()) if p.nest else ["as given"], p))
        elif g not in done:
            done.append(g)
            items.append(Item(g["pieces"], x.quantity, [p.pieces[j] for j in g["pieces"]], ["as given"], p))
    for r, run in enumerate(p.runs):
        edges = [0, *run.at, run.length]
        for j, a in enumerate(edges):
            for b in edges[j + 1:]:
                if run.allowed(a, b, p.nest):
                    part = run.part(a, b)
                    it = Item([], 1, [part], ["as given"], p)
                    it.run, it.span = r, (a, b)
                    items.append(it)
    return items


def sets(p, items):
    """All sets of pieces that fit the longest stretch of a stick, the empty one first."""
    width = max((hi - lo for s in p.sticks if s.limit != 0 for lo, hi in s.clear), default=0)
    return (nested if p.nest else side_by_side)(p, items, width + p.kerf)


def clash(items, chosen, i):
    """Whether an item is a part of a run that overlaps a chosen one."""
    it = items[i]
    return it.run is not None and any(
        items[j].run == it.run and items[j].span[0] < it.span[1] and it.span[0] < items[j].span[1] for j, _ in chosen)


def side_by_side(p, items, room):
    out = []

    def grow(i, chosen, need, n):
        if i == len(items):
            out.append(Set(tuple(chosen), need, items))
            if len(out) > ENOUGH:
                raise TooMany
            return
        it = items[i]
        takes = it.lies[0][2]
        grow(i + 1, chosen, need, n)
        if clash(items, chosen, i):
            return
        for k in range(1, it.quantity + 1):
            if need + k * takes > room or p.max_pieces and n + k * it.n > p.max_pieces:
                break
            grow(i + 1, chosen + [(i, k)], need + k * takes, n + k * it.n)

    grow(0, [], 0, 0)
    return out


def nested(p, items, room):
    """As side_by_side, but the order matters if ends are parallel, and how each piece is turned."""
    kinds = [(i, lie) for i, it in enumerate(items) for lie in it.lies]
    layer, best = {((), None): 0}, {}
    out = [Set((), 0, items)]
    while layer:
        after = {}
        for (counts, last), need in layer.items():
            have, of = {}, dict(counts)
            for k, c in counts:
                have[kinds[k][0]] = have.get(kinds[k][0], 0) + c
            chosen = sorted(have.items())
            n = sum(items[i].n * c for i, c in chosen)
            for k, (i, (left, right, takes)) in enumerate(kinds):
                if have.get(i, 0) >= items[i].quantity or clash(items, chosen, i):
                    continue
                if p.max_pieces and n + items[i].n > p.max_pieces:
                    continue
                total = need + takes - (shared(last, left) if last else 0)
                # A neighbor with parallel ends may make it shorter again.
                if total > room + slack(items):
                    continue
                line = tuple(sorted({**of, k: of.get(k, 0) + 1}.items()))
                key = (line, right)
                if total < after.get(key, total + 1):
                    after[key] = total
        if len(best) + len(after) > ENOUGH // 4:
            raise TooMany
        for (line, last), need in after.items():
            if need <= room:
                best[line] = min(need, best.get(line, need))
        layer = after
    for line, need in best.items():
        have = {}
        for k, c in line:
            have[kinds[k][0]] = have.get(kinds[k][0], 0) + c
        out.append(Set(tuple(sorted(have.items())), need, items))
    return out


def slack(items):
    return 2 * max((s[1] for it in items for lie in it.lies for s in lie[:2]), default=0)
