"""Proofs of the bounds of goals after the cost."""

from units import Refused


class Weights:
    """The weights of the goals in one row, and what follows from them."""

    def __init__(self, p, plan, g, row, bound):
        self.p, self.plan, self.row, self.bound = p, plan, row, bound
        self.own, self.before = p.goals[g], row.values[len(row.values) - g:]
        weight = dict(zip(p.goals, self.before))
        weight[self.own] = row.scale
        self.cost, self.sticks = weight.get("least cost", 0), weight.get("fewest sticks", 0)
        self.cuts, self.splices = weight.get("fewest cuts", 0), weight.get("fewest splices", 0)
        self.worth, self.longest = weight.get("most worth", 0), weight.get("longest offcut", 0)
        if self.longest:
            self.least = bound + 1 if self.own == "longest offcut" else plan.values[p.goals.index("longest offcut")]

    def stretch(self, p, width, x):
        """What a stretch adds to the value of the pieces in it; x is None if there are none."""
        offcut = x.offcut(width) if x else width
        v = self.worth * p.worth(offcut) - (self.cuts * x.cuts(width) if x else 0)
        return v + self.longest if self.longest and offcut >= self.least else v

    def rack(self, p, s):
        """The weight of the worth that a stick on the rack has before it is cut."""
        if not s.rack:
            return 0
        whole = [s.length] if not s.defects else [hi - lo for lo, hi in s.clear]
        return self.worth * sum(map(p.worth, whole))

    def rest(self, unit):
        """What the earlier goals and the goal itself add to the sum of a leaf."""
        total = 0
        for name, w, value in zip(self.p.goals, self.before, self.plan.values):
            if name == "least cost":
                total -= w * (value // unit)
            elif name == "most worth":
                total += w * value
            elif name == "longest offcut":
                total += w
            elif name != "fewest patterns":
                total -= w * value
        if self.own == "most worth":
            return total + self.row.scale * (self.bound + 1)
        if self.own == "longest offcut":
            return total + self.row.scale
        return total - self.row.scale * (self.bound - 1)


def shows_goal(leaves, e, at, plan, g, bound):
    """Refuses the proof of a goal's bound unless no leaf contains a better plan."""
    p, several = leaves.p, len(e.leaves) > 1
    if p.goals[g] in ("least cost", "fewest patterns") or e.kind != ("tree" if several else "dual"):
        raise Refused(at + ".kind", "not that of such a goal or of so many leaves")
    if e.leaf_bound != bound:
        raise Refused(at + ".leaf_bound", "not the bound of the goal")
    leaves.kind = e.kind
    leaves.read(e, at, g)
    for k, leaf in enumerate(e.leaves):
        goal = Weights(p, plan, g, leaf.row, bound)
        total = leaves.sum_of(leaf, goal.cost, goal)
        if total is None:
            continue
        total += goal.rest(e.unit)
        if total > 0 or leaf.sums and too_dear(leaves, leaf, total, goal.cost, plan.values[0]):
            continue
        raise Refused(f"{at}.leaves[{k}]", f"it does not show the bound of the goal {p.goals[g]}")


def too_dear(leaves, leaf, total, weight, cost):
    """Whether every plan in the box that is good enough costs more than this plan."""
    low, totals = 0, leaves.totals(leaf)
    if weight:
        low = max(0, -(-(total + weight * (cost // leaves.unit)) // weight) * leaves.unit)
    return totals is None or totals.least(low, cost + 1) > cost


def trivial(leaves, goal, bound):
    """Whether the bound of a goal needs no proof."""
    p = leaves.p
    room = max((hi - lo for s in p.sticks for lo, hi in s.clear), default=0)
    if goal in ("fewest sticks", "fewest patterns"):
        return bound <= 1
    if goal == "fewest cuts":
        return bound <= 0
    if goal == "fewest splices":
        return bound <= sum(run.length > room for run in p.runs)
    if goal == "most worth":
        return bound >= 0 and not p.worth(room)
    return bound >= room or bound >= beside_one(leaves)


def beside_one(leaves):
    """The longest offcut that one piece leaves of any stick, or a stretch without a piece of a stick with
    several. Of a piece whose ends nest, half of the setbacks of its two ends may be saved."""
    best = 0
    for c in leaves.classes:
        sizes = [2 * need - first[1] - last[1] if leaves.p.nest else 2 * need
                 for it in leaves.items() if it.grade <= c.s.grade and leaves.may_lie(it, c)
                 for first, last, need in it.lies]
        for lo, hi in c.s.clear:
            left = 2 * (hi - lo)
            if len(c.s.clear) == 1:
                if not sizes or min(sizes) > left + 2 * leaves.p.kerf:
                    continue
                left -= min(sizes)
            best = max(best, left // 2)
    return best
