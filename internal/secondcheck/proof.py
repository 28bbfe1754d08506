"""The bytes of a proof, as package optimize describes them at Proof."""

import base64
import binascii

from units import Unreadable

KINDS = {"none", "material", "dual", "tree", "exhausted search", "omitted", "enumeration", "packing"}


class Bytes:
    def __init__(self, data):
        self.data, self.at = data, 0

    def count(self):
        n = shift = 0
        while True:
            if self.at >= len(self.data) or shift > 63:
                raise Unreadable("the proof ends within a count")
            b = self.data[self.at]
            self.at += 1
            n |= (b & 127) << shift
            if b < 128:
                if n >= 1 << 64:
                    raise Unreadable("a count of the proof is above 64 bits")
                return n
            shift += 7

    def number(self):
        n = self.count()
        return ~(n >> 1) if n & 1 else n >> 1

    def many(self):
        """How many of something follow, each of which takes a byte at least."""
        n = self.count()
        if n > len(self.data) - self.at:
            raise Unreadable("the proof ends too early")
        return n

    def rising(self, n):
        out, last = [], 0
        for _ in range(n):
            last = wrap(last + self.number())
            out.append(last)
        return out


def wrap(n):
    if not -(1 << 63) <= n < 1 << 63:
        raise Unreadable("a value of the proof is above 64 bits")
    return n


class Row:
    def __init__(self, b, pieces, lists, order):
        self.scale, self.spare = b.number(), b.number()
        k = b.count()
        if k > len(lists):
            raise Unreadable("the proof has no such list")
        self.parts = lists[k - 1] if k else []
        line = b.rising(pieces + len(self.parts))
        values = line[:pieces]
        if order is not None:
            values = [0] * pieces
            for i, v in zip(order, line):
                values[i] = v
        self.values, self.part_values = values, dict(zip(self.parts, line[pieces:]))


class Leaf:
    def __init__(self, row, sums, lo, hi, used):
        self.row, self.sums, self.lo, self.hi, self.used = row, sums, lo, hi, used
        self.search = None


class Evidence:
    """A proof as it is read; the kind says whether more follows its leaves."""

    def __init__(self, o):
        self.kind = o.get("kind", "none") if o else "none"
        if self.kind not in KINDS or o and o.get("version", 1) != 1:
            raise Unreadable("a proof of an unknown kind or version")
        self.unit = self.leaf_bound = 0
        self.leaves, self.forced, self.items = [], [], 0
        self.classes = self.pieces = self.charges = 0
        try:
            data = base64.b64decode((o or {}).get("data", ""), validate=True)
        except (binascii.Error, ValueError) as e:
            raise Unreadable(f"the proof: {e}")
        self.size = len(data)
        if not data:
            return
        b = Bytes(data)
        self.unit, self.leaf_bound = b.number(), b.number()
        self.classes, self.pieces, self.charges = b.count(), b.count(), b.count()
        if self.classes + self.pieces + self.charges > 64 * len(data):
            raise Unreadable("the proof takes too much memory")
        lists = [b.rising(b.many()) for _ in range(b.many())]
        rows, order = [], None
        for _ in range(b.many()):
            rows.append(Row(b, self.pieces, lists, order))
            if order is None:
                first = rows[0].values
                order = sorted(range(self.pieces), key=lambda i: first[i])
        for _ in range(b.many()):
            self.leaf(b, rows)
        if self.kind in ("enumeration", "packing"):
            self.more(b)
        if b.at != len(data):
            raise Unreadable("the proof goes on after its end")

    def leaf(self, b, rows):
        head = b.count()
        if head >> 1 >= len(rows):
            raise Unreadable("the proof has no such row")
        row = rows[head >> 1]
        if not self.leaves:
            lo, hi = [], []
            for _ in range(self.classes):
                lo.append(b.number())
                hi.append(b.number())
            used = [b.number() for _ in range(self.charges)]
        else:
            last = self.leaves[-1]
            lo, hi, used = list(last.lo), list(last.hi), list(last.used)
            for _ in range(b.many()):
                k = b.count()
                if k < self.classes:
                    lo[k], hi[k] = b.number(), b.number()
                elif k < self.classes + self.charges:
                    used[k - self.classes] = b.number()
                else:
                    raise Unreadable("the proof has no such class")
        self.leaves.append(Leaf(row, head & 1, lo, hi, used))

    def more(self, b):
        self.items = b.count()
        if self.items > 64 * self.size:
            raise Unreadable("the proof takes too much memory")
        for _ in range(b.many()):
            self.forced.append((b.count(), b.count(), b.count()))
        at = 0
        for _ in range(b.many()):
            at += b.count()
            if at >= len(self.leaves):
                raise Unreadable("the proof has no such leaf")
            size = b.many()
            self.leaves[at].search = b.data[b.at:b.at + size]
            b.at += size
            at += 1


class Body:
    """The body of a search. Its tree is a list of nodes in the order in which they are written."""

    def __init__(self, body, items, classes):
        b = Bytes(body)
        self.cuts = []
        for _ in range(b.many()):
            cut, at = [], 0
            for _ in range(b.many()):
                at += b.count()
                if at >= items:
                    raise Unreadable("a cut has no such item")
                cut.append(at)
                at += 1
            self.cuts.append(cut)
        self.filters = [(b.number(), b.rising(items)) for _ in range(b.many())]
        self.nodes = []
        stack = [0]  # for each node still to come, how many rows are on its way
        while stack:
            rows = stack.pop()
            kind = b.count()
            if kind in (0, 1):
                self.nodes.append((kind, self.vector(b, items, classes, rows)))
                if kind:
                    stack.append(rows)
            elif kind == 2:
                c, line, at = b.count(), [], 0
                for _ in range(b.many()):
                    at = b.count()
                    line.append((at, b.number()))
                    if at >= items:
                        raise Unreadable("a row has no such item")
                if c > classes:
                    raise Unreadable("a row has no such class")
                counts = bool(line) or c == 0
                self.nodes.append((2, (c - 1, line, b.number())))
                stack += [rows + counts, rows + counts]
            elif kind == 3:
                self.nodes.append((3, (b.count(), b.count())))
                stack += [rows, rows]
            else:
                raise Unreadable("a search has no such node")
        if b.at != len(b.data):
            raise Unreadable("a search goes on after its end")

    @staticmethod
    def vector(b, items, classes, rows):
        scale, u = b.number(), b.rising(items)
        z = [b.number() for _ in range(classes)]
        y = [b.number() for _ in range(rows)]
        return scale, u, z, y, [(b.count(), b.number()) for _ in range(b.many())]
