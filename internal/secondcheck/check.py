"""A second checker of plans and proofs: see README.md.

    python3 check.py FILE...

Each file, or the standard input, has one document of cutsheet.Sheet.WriteJSON or
one a line. For each document one line of JSON is printed: whether the plan is
accepted, and the bound on its cost that its proof shows, with what stays open; or
the claim that is wrong, and why. The exit status is 1 if a plan is refused.
"""

import json
import sys
from pathlib import Path

from goals import shows_goal, trivial
from leaves import Leaves
from patterns import TooMany
from plan import Plan
from problem import Problem
from proof import Evidence
from search import shows_cost
from units import Refused, Unreadable

LEAVES = {"material": (1, 1), "dual": (1, 1), "none": (0, 0), "omitted": (0, 0)}


def check(doc):
    """The verdict on one document, as a dictionary."""
    try:
        if doc.get("format") != "longpoint cut sheet" or doc.get("version") != 3:
            raise Unreadable("not a cut sheet of version 3")
        p = Problem(doc["problem"])
        plan = Plan(p, doc["plan"])
        shown, left = bound(p, plan)
        return {"accepted": True, "shown": shown, "open": left + goals(p, plan)}
    except Refused as e:
        return {"accepted": False, "claim": e.claim, "why": str(e)}
    except Unreadable as e:
        return {"accepted": False, "claim": "", "why": f"unreadable: {e}"}


def bound(p, plan):
    """The bound on the cost that the proof shows, and what stays open of the claim."""
    e = Evidence(plan.o.get("proof"))
    least, most = LEAVES.get(e.kind, (0, len(e.leaves)))
    if not least <= len(e.leaves) <= most:
        raise Refused("proof.leaves", f"{len(e.leaves)} for a proof of kind {e.kind}")
    if not e.leaves and e.leaf_bound > 0:
        raise Refused("proof.leaf_bound", f"{e.leaf_bound} without leaves")
    shown, left = 0, []
    try:
        if e.leaves:
            shown = shows_cost(p, e)
            shown = plan.bound if shown is None else min(shown, plan.bound)
    except TooMany:
        left = ["beyond this program"]
    if e.kind == "omitted":
        return 0, ["nothing stored"] * (plan.bound > 0)
    if e.kind == "exhausted search":
        if plan.bound < e.leaf_bound:
            raise Refused("bound", f"{plan.bound}, the proof shows {e.leaf_bound}")
        return shown, left or ["exhausted search"] * (plan.bound > shown)
    if plan.bound != e.leaf_bound:
        raise Refused("bound", f"{plan.bound}, the proof shows {e.leaf_bound}")
    return shown, left


def goals(p, plan):
    """The goals after the cost whose bounds are not shown."""
    leaves, left = Leaves(p), []
    for g, result in enumerate(plan.o.get("goals") or []):
        e, goal = Evidence(result.get("proof")), p.goals[g]
        if g == 0 and not result.get("proof"):
            continue
        try:
            if e.kind != "none":
                shows_goal(leaves, e, f"goals[{g}].proof", plan, g, result["bound"])
            elif not trivial(leaves, goal, result["bound"]):
                left.append(goal)
        except TooMany:
            left.append(goal)
    return left


def documents(paths):
    for path in paths or ["-"]:
        text = sys.stdin.read() if path == "-" else Path(path).read_text(encoding="utf-8")
        try:
            yield json.loads(text)
        except ValueError:
            for line in text.splitlines():
                if line.strip():
                    yield json.loads(line)


def main():
    good = True
    for doc in documents(sys.argv[1:]):
        verdict = check(doc)
        good = good and verdict["accepted"]
        print(json.dumps(verdict))
    return 0 if good else 1


if __name__ == "__main__":
    sys.exit(main())
