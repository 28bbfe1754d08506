"""A problem: sticks, pieces, runs and rules."""

from ends import End, kerf_along
from units import LENGTHS, angle, length, measured, whole


class Stick:
    def __init__(self, o, i):
        self.i = i
        self.length, self.price = length(o, "length"), whole(o, "price")
        self.limit = 0 if o.get("limit") == "sold out" else whole(o, "limit") or None
        self.start, self.end = length(o, "trim_start"), length(o, "trim_end")
        self.usable = self.length - self.start - self.end
        self.rack, self.grade = o.get("rack", False), whole(o, "grade")
        self.lot, self.supplier = o.get("lot", ""), o.get("supplier", "")
        self.bundle, self.minimum = whole(o, "bundle") or 1, whole(o, "minimum") or 1
        self.breaks = [(whole(b, "from"), whole(b, "price")) for b in o.get("breaks") or []]
        self.defects = sorted((length(d, "from"), length(d, "to")) for d in o.get("defects") or [])
        self.clear = self.stretches() if self.defects else [(self.start, self.length - self.end)]

    def stretches(self):
        """The clear stretches from the stick's start, as pairs of positions."""
        out, at, stop = [], self.start, self.length - self.end
        for a, b in self.defects:
            if min(a, stop) > at:
                out.append((at, min(a, stop)))
            at = max(at, b)
        if stop > at:
            out.append((at, stop))
        return out

    @property
    def linear(self):
        """Whether n sticks cost n times as much as one, and any number can be bought."""
        return self.bundle == 1 and self.minimum == 1 and not self.breaks

    @property
    def entire(self):
        """The length of a piece for which no saw has to touch the stick; None if there is none."""
        return self.length if not self.defects and self.usable == self.length else None

    def price_of(self, count):
        price = self.price
        for start, each in self.breaks:
            if count >= start:
                price = each
        return price * count


class Piece:
    def __init__(self, o):
        self.length, self.quantity = length(o, "length"), whole(o, "quantity") or 1
        self.grade, self.symmetry = whole(o, "grade"), o.get("symmetry", "one way")
        self.left, self.right = End(o.get("left") or {}), End(o.get("right") or {})

    @property
    def square(self):
        return self.left.square and self.right.square

    def lies(self, turn, kerf):
        """The shapes of the left and the right end as the piece lies, and its length with the cut at its right."""
        end_for_end = turn in ("turned end for end", "turned and rolled")
        rolled = turn in ("rolled over", "turned and rolled")
        left, right = self.left.shape(end_for_end, rolled), self.right.shape(end_for_end, rolled)
        if end_for_end:
            left, right = right, left
        return left, right, self.length + kerf_along(right, kerf)

    def turns(self):
        yield "as given"
        if self.symmetry in ("end for end", "any way"):
            yield "turned end for end"
        if self.symmetry == "any way":
            yield "rolled over"
            yield "turned and rolled"

    def crossed(self):
        """Whether some edge has a length below zero, or all have none."""
        a, b = self.left, self.right
        if {a.long, b.long} in ({"back", "face"}, {"outer", "inner"}):  # they lean the same way
            return max(a.setback, b.setback) > self.length or min(a.setback, b.setback) == self.length
        return a.setback + b.setback > self.length


class Run:
    def __init__(self, o):
        self.length = length(o, "length")
        self.left, self.right = End(o.get("left") or {}), End(o.get("right") or {})
        s = o.get("splice") or {}
        self.at = [measured(x, LENGTHS) for x in s.get("at") or []]
        self.overlap, self.least = length(s, "overlap"), length(s, "min_part")
        self.bevel, self.right_over = angle(s, "bevel"), s.get("right_over", False)
        self.most, self.price = whole(s, "max_splices") or None, whole(s, "price")

    @property
    def edges(self):
        return [0, *self.at, self.length]

    @property
    def splices(self):
        """The most splices that the run can have."""
        return len(self.at) if self.most is None else min(self.most, len(self.at))

    def scarf(self, of_left_part):
        """The end of the part to the left, or to the right, of a splice."""
        if self.bevel == 0:
            return End({})
        e = End({"kind": "scarf under" if of_left_part == self.right_over else "scarf over"})
        e.corner, e.halves, e.setback = self.bevel, 2 * self.bevel, max(0, self.overlap)
        return e

    def part(self, a, b):
        """The part between two positions, each an end of the run or a splice."""
        half = abs(self.overlap) // 2 * (1 if self.overlap >= 0 else -1)
        p = Piece({})
        p.length = b - a + (half if b < self.length else 0) + (self.overlap - half if a > 0 else 0)
        p.left = self.left if a == 0 else self.scarf(False)
        p.right = self.right if b == self.length else self.scarf(True)
        return p

    def allowed(self, a, b, nest):
        if (a, b) == (0, self.length):
            return True
        p = self.part(a, b)
        return p.length > 0 and p.length >= self.least and not (nest and p.crossed())


class Problem:
    def __init__(self, o):
        self.sticks = [Stick(s, i) for i, s in enumerate(o.get("sticks") or [])]
        self.pieces = [Piece(p) for p in o.get("pieces") or []]
        self.runs = [Run(r) for r in o.get("runs") or []]
        self.kerf = length(o, "kerf")
        r = o.get("rules") or {}
        self.max_pieces, self.hold = whole(r, "max_pieces") or None, length(r, "min_hold")
        self.nest, self.transport = r.get("nest", False), length(r, "max_transport") or None
        self.yard_cut, self.spare = whole(r, "yard_cut"), whole(r, "spare")
        self.groups = r.get("groups") or []
        self.charges = [(c["supplier"], whole(c, "amount")) for c in r.get("charges") or []]
        self.values = [(length(v, "length"), whole(v, "value")) for v in r.get("offcut_values") or []]
        self.goals = r.get("goals") or []
        money = [s.price for s in self.sticks] + [p for s in self.sticks for _, p in s.breaks]
        money += [a for _, a in self.charges] + [r.price for r in self.runs] + [self.yard_cut]
        self.by_length = not any(money)
        self.ruled = self.has_rules()

    def has_rules(self):
        if (self.max_pieces or self.hold or self.nest or self.transport or self.yard_cut or self.spare or self.groups
                or self.charges or self.values or self.goals or self.runs):
            return True
        return any(p.grade for p in self.pieces) or any(
            s.grade < 0 or s.defects or not s.linear for s in self.sticks)

    def worth(self, offcut):
        value = 0
        for least, v in self.values:
            if offcut >= least:
                value = v
        return value

    def yard(self, s):
        """Whether a stick is cut in the yard if it is cut at all."""
        return self.transport is not None and not s.rack and s.length > self.transport

    def cost_of(self, s, count):
        """The cost of count sticks that are bought together."""
        return s.length * count if self.by_length else s.price_of(count)

    def spare_from(self, s):
        """Whether the stick can be kept as a spare."""
        longest = max((p.length for p in self.pieces), default=0)
        return not s.defects and s.usable >= longest and not self.yard(s)
