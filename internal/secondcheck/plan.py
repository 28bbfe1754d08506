"""What a plan says besides its bounds: cuts, purchases, cost, and the values of the goals."""

from collections import Counter

from ends import shared
from problem import Piece
from units import LENGTHS, Refused, Unreadable, length, measured, whole

TURNS = {"as given", "turned end for end", "rolled over", "turned and rolled"}


class Laid:
    """The pieces that lie side by side in one stretch: their length with the cut after them, and the offcut."""

    def __init__(self, p, pieces, turns, width):
        need, last = 0, None
        for piece, turn in zip(pieces, turns):
            if p.nest:
                left, right, takes = piece.lies(turn, p.kerf)
                need += takes - (shared(last, left) if last else 0)
                last = right
            else:
                need += piece.length + p.kerf
        self.pieces, self.need, self.width = pieces, need, width
        self.fits = not pieces or need <= width + p.kerf
        self.offcut = max(0, width - need) if pieces else width

    def cuts(self):
        return len(self.pieces) - 1 + (self.offcut > 0) if self.pieces else 0

    def holds(self, p, entire):
        """Whether the saw holds them safely; entire is the length of a piece that needs no cut, or None."""
        if not self.pieces or max(x.length for x in self.pieces) >= p.hold or self.offcut >= p.hold:
            return True
        return len(self.pieces) == 1 and self.pieces[0].length == entire and self.pieces[0].square


class Pattern:
    def __init__(self, p, o, k, pieces):
        at = f"patterns[{k}]"
        self.stick, self.count = whole(o, "stick"), whole(o, "count")
        if not 0 <= self.stick < len(p.sticks):
            raise Refused(at + ".stick", "there is no such stick")
        if self.count < 1:
            raise Refused(at + ".count", "less than one")
        self.of = o.get("pieces") or []
        if not self.of:
            raise Refused(at + ".pieces", "none")
        for i in self.of:
            if type(i) is not int or not 0 <= i < len(pieces):
                raise Refused(at + ".pieces", f"there is no piece {i}")
        s = p.sticks[self.stick]
        for i in self.of:
            if pieces[i].grade > s.grade:
                raise Refused(at + ".pieces", f"piece {i} is of a better grade")
        turned = o.get("turned")
        self.turned = turned or ["as given"] * len(self.of)
        if len(self.turned) != len(self.of):
            raise Refused(at + ".turned", "not one for each piece")
        for j, t in enumerate(self.turned):
            if t not in TURNS:
                raise Unreadable(f"{t!r} is no turn")
            if t not in pieces[self.of[j]].turns() or t != "as given" and not p.nest:
                raise Refused(f"{at}.turned[{j}]", "the piece may not be turned so")
        self.stretch = o.get("stretch") or []
        if s.defects:
            if len(self.stretch) != len(self.of) or sorted(self.stretch) != self.stretch:
                raise Refused(at + ".stretch", "not one for each piece, in order")
            if not all(0 <= x < len(s.clear) for x in self.stretch):
                raise Refused(at + ".stretch", "there is no such stretch")
        elif self.stretch:
            raise Refused(at + ".stretch", "the stick has no defects")
        self.after = whole(o, "yard_after")
        if self.after and not p.yard(s) or not 0 <= self.after <= len(self.of):
            raise Refused(at + ".yard_after", "there is no such cut")
        self.lay(p, s, pieces, at)
        offcut = length(o, "offcut")
        if offcut != max((x.offcut for x in self.laid), default=0):
            raise Refused(at + ".offcut", f"{offcut}, not {max((x.offcut for x in self.laid), default=0)}")
        self.sets(p, at)

    def lay(self, p, s, pieces, at):
        """Lays the pieces into the stretches of the stick, or of its two parts."""
        clear = s.clear if s.defects else [(s.start, s.length - s.end)]
        where = self.stretch or [0] * len(self.of)
        pieces = [pieces[i] for i in self.of]
        spans = [(lo, hi, k, 0, len(pieces), s.length if not s.defects and s.usable == s.length else None)
                 for k, (lo, hi) in enumerate(clear)]
        if p.yard(s):
            spans = self.parts(p, s, clear, where, pieces, at)
        self.laid, self.groups_at = [], []
        for lo, hi, k, first, stop, entire in spans:
            here = [j for j in range(first, stop) if where[j] == k]
            laid = Laid(p, [pieces[j] for j in here], [self.turned[j] for j in here], max(0, hi - lo))
            if not laid.fits:
                raise Refused(at + ".pieces", "do not fit")
            if p.hold and not laid.holds(p, entire):
                raise Refused(at + ".pieces", "the saw cannot hold them")
            self.laid.append(laid)
            self.groups_at.append(here)
        if p.max_pieces:
            for k in set(where):
                if where.count(k) > p.max_pieces:
                    raise Refused(at + ".pieces", "too many")

    def parts(self, p, s, clear, where, pieces, at):
        """The stretches of the two parts of a stick that is cut in the yard, at the first position that will do."""
        x = s.length - p.kerf - p.transport
        if self.after:
            last = where[self.after - 1]
            js = [j for j in range(self.after) if where[j] == last]
            first = Laid(p, [pieces[j] for j in js], [self.turned[j] for j in js], 0)
            x = max(x, clear[last][0] + first.need - end_kerf(p, pieces, self.turned, js))
        if x > p.transport:
            raise Refused(at + ".yard_after", "the parts cannot be transported")
        cut = min(s.length, x + p.kerf)
        plain = not s.defects
        one = x if plain and s.start == 0 and x <= s.length - s.end else None
        two = s.length - cut if plain and s.end == 0 and cut >= s.start else None
        spans = [(lo, min(hi, x), k, 0, self.after, one) for k, (lo, hi) in enumerate(clear) if lo < x or self.after]
        return spans + [(max(lo, cut), hi, k, self.after, len(pieces), two) for k, (lo, hi) in enumerate(clear)]

    def sets(self, p, at):
        """Groups that come from one stick: as many of each piece in every stretch, in sequence if so."""
        for g in p.groups:
            of = g["pieces"]
            if g["kind"] == "one lot":
                continue
            for here in self.groups_at:
                line = [self.of[j] for j in here]
                if len({line.count(i) for i in of}) > 1:
                    raise Refused(at + ".pieces", "a group is not together")
                if g["kind"] == "in sequence":
                    k = 0
                    while k < len(line):
                        if line[k] in of:
                            if line[k:k + len(of)] != of:
                                raise Refused(at + ".pieces", "a group is not in sequence")
                            if any(self.turned[j] != "as given" for j in here[k:k + len(of)]):
                                raise Refused(at + ".turned", "a piece of a sequence is turned")
                            k += len(of)
                        else:
                            k += 1


def end_kerf(p, pieces, turned, js):
    """The kerf after the last of some pieces, which the yard's cut takes in its place."""
    if not p.nest:
        return p.kerf
    piece = pieces[js[-1]]
    return piece.lies(turned[js[-1]], p.kerf)[2] - piece.length


class Plan:
    def __init__(self, p, o):
        self.p, self.o = p, o
        self.cost, self.bound = whole(o, "cost"), whole(o, "bound")
        self.proven, self.stop = o.get("proven", False), o.get("stop", "not said")
        self.splices = self.read_runs()
        self.pieces = p.pieces + self.parts
        self.patterns = [Pattern(p, x, k, self.pieces) for k, x in enumerate(o.get("patterns") or [])]
        self.demand()
        self.lots()
        self.purchase()
        self.goals()
        self.claims()

    def read_runs(self):
        p, o = self.p, self.o
        self.parts = [Piece(x) for x in o.get("parts") or []]
        spliced, seen, splices = o.get("spliced") or [], [], 0
        if len(spliced) != len(p.runs):
            raise Refused("spliced", "not one for each run")
        for k, x in enumerate(spliced):
            at, run = f"spliced[{k}]", p.runs[k]
            if whole(x, "run") != k:
                raise Refused(at + ".run", "not in the order of the runs")
            pos = [measured(y, LENGTHS) for y in x.get("at") or []]
            if any(a >= b for a, b in zip(pos, pos[1:])) or not set(pos) <= set(run.at):
                raise Refused(at + ".at", "no such position")
            if run.most is not None and len(pos) > run.most:
                raise Refused(at + ".at", "too many splices")
            of = x.get("pieces") or []
            edges = [0, *pos, run.length]
            if len(of) != len(edges) - 1:
                raise Refused(at + ".pieces", "not one for each part")
            for i, a, b in zip(of, edges, edges[1:]):
                want, j = run.part(a, b), i - len(p.pieces)
                if not run.allowed(a, b, p.nest):
                    raise Refused(at + ".at", "a part is too short")
                if not 0 <= j < len(self.parts) or j in seen:
                    raise Refused(at + ".pieces", f"{i} is no part of this run")
                seen.append(j)
                part = self.parts[j]
                if (part.length, part.grade, part.quantity, part.symmetry) != (want.length, 0, 1, "one way"):
                    raise Refused(f"parts[{j}]", "not what the splices make of the run")
                if not part.left.same(want.left) or not part.right.same(want.right):
                    raise Refused(f"parts[{j}]", "another end")
            splices += len(pos)
        if len(seen) != len(self.parts):
            raise Refused("parts", "some belong to no run")
        self.splice_cost = sum(len(x.get("at") or []) * r.price for x, r in zip(spliced, p.runs))
        return splices

    def demand(self):
        made = Counter()
        for pat in self.patterns:
            for i in pat.of:
                made[i] += pat.count
        for i, piece in enumerate(self.pieces):
            if made[i] != piece.quantity:
                raise Refused("patterns", f"{made[i]} of piece {i}, not {piece.quantity}")

    def lots(self):
        for k, g in enumerate(self.p.groups):
            if g["kind"] != "one lot":
                continue
            of = {self.p.sticks[pat.stick].lot for pat in self.patterns if set(pat.of) & set(g["pieces"])}
            if g.get("started"):
                of.add(g.get("lot", ""))
            if len(of) > 1:
                raise Refused("patterns", f"group {k} is of more than one lot")

    def purchase(self):
        p, cut, last, total, spare = self.p, Counter(), -1, 0, 0
        for pat in self.patterns:
            cut[pat.stick] += pat.count
        bought, suppliers = set(), set()
        for k, b in enumerate(self.o.get("buy") or []):
            at, i, n = f"buy[{k}]", whole(b, "stick"), whole(b, "count")
            if not last < i < len(p.sticks):
                raise Refused(at + ".stick", "no such stick, or not in order")
            last, s = i, p.sticks[i]
            bought.add(i)
            suppliers.add(s.supplier)
            if n < 1 or n < cut[i] or n % s.bundle or n < s.minimum or s.limit is not None and n > s.limit:
                raise Refused(at + ".count", "so many are not sold, or are not enough")
            cost = p.cost_of(s, n) + (p.yard_cut * cut[i] if p.yard(s) else 0)
            if whole(b, "cost") != cost:
                raise Refused(at + ".cost", f"{b.get('cost')}, not {cost}")
            total += cost
            if p.spare_from(s):
                spare += n - cut[i]
        if set(cut) - bought:
            raise Refused("buy", "a stick that is cut is not bought")
        if spare < p.spare:
            raise Refused("buy", "too few spare sticks")
        if self.o.get("by_length", False) != p.by_length:
            raise Refused("by_length", "the other unit")
        total += self.splice_cost + sum(a for name, a in p.charges if name in suppliers)
        if self.cost != total:
            raise Refused("cost", f"{self.cost}, not {total}")

    def value(self, goal):
        p = self.p
        if goal == "least cost":
            return self.cost
        if goal == "fewest sticks":
            return sum(pat.count for pat in self.patterns)
        if goal == "most worth":
            total = 0
            for pat in self.patterns:
                s = p.sticks[pat.stick]
                total += pat.count * sum(p.worth(x.offcut) for x in pat.laid)
                if s.rack:
                    whole_stick = [s.length] if not s.defects else [b - a for a, b in s.clear]
                    total -= pat.count * sum(map(p.worth, whole_stick))
            return total
        if goal == "longest offcut":
            return max((x.offcut for pat in self.patterns for x in pat.laid), default=0)
        if goal == "fewest patterns":
            return len({self.look(pat) for pat in self.patterns})
        if goal == "fewest cuts":
            return sum(pat.count * sum(x.cuts() for x in pat.laid) for pat in self.patterns)
        if goal == "fewest splices":
            return self.splices
        raise Unreadable(f"{goal!r} is no goal")

    def look(self, pat):
        s = self.p.sticks[pat.stick]
        return (s.usable, tuple((x.width, tuple(sorted(y.length for y in x.pieces))) for x in pat.laid))

    def goals(self):
        results = self.o.get("goals") or []
        if [g.get("goal", "least cost") for g in results] != list(self.p.goals):
            raise Refused("goals", "not those of the problem")
        self.values, proven = [], True
        for k, g in enumerate(results):
            at, goal, bound = f"goals[{k}]", self.p.goals[k], whole(g, "bound")
            value = self.value(goal)
            if whole(g, "value") != value:
                raise Refused(at + ".value", f"{g.get('value')}, not {value}")
            self.values.append(value)
            if goal == "least cost":
                if bound != self.bound:
                    raise Refused(at + ".bound", "not that of the plan")
            elif (bound < value) if goal in ("most worth", "longest offcut") else (bound > value):
                raise Refused(at + ".bound", "beyond the value")
            proven = proven and bound == value
            if g.get("proven", False) != (proven and not self.omitted()):
                raise Refused(at + ".proven", "it is not, or it is")

    def omitted(self):
        return self.o.get("proof", {}).get("kind", "none") == "omitted"

    def claims(self):
        if not 0 <= self.bound <= self.cost:
            raise Refused("bound", "below zero or above the cost")
        if self.proven != (self.bound == self.cost and not self.omitted()):
            raise Refused("proven", "it is not, or it is")
        if whole(self.o, "work") < 0:
            raise Refused("work", "below zero")
        done = self.proven and all(g.get("proven") for g in self.o.get("goals") or [])
        if self.stop not in ("not said", "proven", "work limit", "deadline", "canceled", "methods exhausted",
                             "stopped by the caller"):
            raise Refused("stop", "unknown")
        if self.stop == "proven" and self.bound != self.cost:
            raise Refused("stop", "it is not proven")
        if not self.omitted():
            if done and self.stop not in ("proven", "not said"):
                raise Refused("stop", "it is proven")
