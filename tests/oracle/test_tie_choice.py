# SPDX-License-Identifier: GPL-3.0-or-later
"""The choice of ties against a mixed-integer programme solved by HiGHS (scipy.optimize.milp).

Everything of docs/maths.md "Ties: the choice" is written as linear constraints: held parts get one
unit of flow each from the body, parts that need two ties two units over ties of one unit, style terms
by a variable for each pair or place. First the parts held are maximised, then the wants met, then the
cost is minimised. Where the choice says that it is proven it must agree; elsewhere the gap is measured.
"""
import itertools
import json
import math
import random
import statistics
import subprocess

import numpy
import pytest
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import lil_matrix

from conftest import HOLDFAST

DUMP = HOLDFAST.parent / "tests" / "tools" / "choice_dump"
SHORT_RUN, LONG_RUN = 60, 1000
WEIGHTS = {"own": 1, "alike": 3, "opposed": 4, "odd": 1.5, "through": 2.5}


class Case:
    """A random task: needs[p], ties[t], conflicts."""

    def __init__(self, seed, parts, ties):
        rng = random.Random(seed)
        self.parts = parts
        self.weights = {k: w if seed % 3 else 0 for k, w in WEIGHTS.items()}
        self.needs = {p: {"ties": rng.choice([1, 1, 1, 2, 2, 3]), "spread": rng.choice([0, 1.5, 2.2]),
                          "twins": rng.randrange(3), "opposed": rng.randrange(2), "direct": rng.randrange(2)}
                      for p in range(1, parts + 1)}
        self.ties = []
        while len(self.ties) < ties:
            a = rng.randint(1, parts)
            b = rng.choice([0, 0, 1 + a % parts, 1 + (a + 1) % parts, rng.randint(1, parts)])
            if a != b:
                self.ties.append({"end": (a, b), "area": rng.randint(4000, 30000) / 1000,
                                  "style": rng.choice([0, 0, rng.randint(0, 4000) / 1000]),
                                  "angle": (rng.randrange(63) / 10, rng.randrange(63) / 10),
                                  "place": (rng.randrange(5), rng.randrange(5)),
                                  "mirror": (rng.randrange(5), rng.randrange(5))})
        pairs = list(itertools.combinations(range(ties), 2))
        self.conflicts = rng.sample(pairs, min(len(pairs), rng.randint(0, ties))) if seed % 5 else []

    def text(self):
        lines = [f"parts {self.parts}", "weights " + " ".join(str(self.weights[k]) for k in WEIGHTS)]
        lines += [f"need {p} {n['ties']} {n['spread']} {n['twins']} {n['opposed']} {n['direct']}"
                  for p, n in self.needs.items()]
        lines += ["tie " + " ".join(map(str, (*t["end"], t["area"], t["style"], *t["angle"], *t["place"], *t["mirror"])))
                  for t in self.ties]
        lines += [f"conflict {a} {b}" for a, b in self.conflicts]
        return "\n".join(lines) + "\n"

    def at(self, part):
        """[(tie, side)] on a part."""
        return [(t, s) for t, tie in enumerate(self.ties) for s in (0, 1) if tie["end"][s] == part]

    def reachable(self):
        seen = {0}
        while True:
            more = {e for tie in self.ties for e in tie["end"] if set(tie["end"]) & seen} | seen
            if more == seen:
                return seen
            seen = more


def apart(a, b):
    d = abs(a - b) % (2 * math.pi)
    return min(d, 2 * math.pi - d)


class Programme:
    """Variables with bounds; rows low <= sum(coefficient * variable) <= high."""

    def __init__(self):
        self.low, self.high, self.whole, self.rows = [], [], [], []

    def add(self, low=0.0, high=1.0, whole=False):
        self.low.append(low)
        self.high.append(high)
        self.whole.append(int(whole))
        return len(self.low) - 1

    def row(self, terms, low=-numpy.inf, high=numpy.inf):
        self.rows.append((terms, low, high))

    def least(self, objective):
        matrix = lil_matrix((len(self.rows), len(self.low)))
        for r, (terms, _, _) in enumerate(self.rows):
            for v, k in terms:
                matrix[r, v] += k
        cost = numpy.zeros(len(self.low))
        for v, k in objective:
            cost[v] += k
        done = milp(cost, integrality=numpy.array(self.whole), bounds=Bounds(self.low, self.high),
                    constraints=LinearConstraint(matrix.tocsr(), [r[1] for r in self.rows], [r[2] for r in self.rows]),
                    options={"mip_rel_gap": 0, "time_limit": 120})
        assert done.success, done.message
        return done.fun


def flow(p, case, x, want, capacity):
    """A flow from the body over chosen ties; want[part]: [(variable, units)] that it swallows."""
    arcs = [p.add(-capacity, capacity) for _ in case.ties]  # from end 0 to end 1
    for t, arc in enumerate(arcs):
        p.row([(arc, 1), (x[t], -capacity)], high=0)
        p.row([(arc, 1), (x[t], capacity)], low=0)
    for part in case.needs:
        into = [(arcs[t], 1 if side == 1 else -1) for t, side in case.at(part)]
        p.row(into + [(v, -units) for v, units in want.get(part, [])], 0, 0)


def pairs_at(case, part):
    for (t, s), (u, r) in itertools.combinations(case.at(part), 2):
        yield t, u, apart(case.ties[t]["angle"][s], case.ties[u]["angle"][r])


def add_needs(p, case, x, held):
    """Rows for what each part needs; returns the variables that count what is lacking."""
    lacks = []
    for part, need in case.needs.items():
        short = p.add(0, need["ties"])
        lacks.append(short)
        p.row([(x[t], 1) for t, _ in case.at(part)] + [(held[part], -need["ties"]), (short, 1)], low=0)
        if need["ties"] < 2:
            continue
        one_way = p.add(whole=True)
        lacks.append(one_way)
        both = p.add(whole=True)
        p.row([(both, 1), (held[part], -1), (one_way, 1)], low=0)
        flow(p, case, x, {part: [(both, 2)]}, 1)
        if need["spread"] > 0:
            crowded, far = p.add(whole=True), []
            lacks.append(crowded)
            for t, u, angle in pairs_at(case, part):
                if angle >= need["spread"] - 1e-9:
                    far.append(p.add())
                    p.row([(far[-1], 1), (x[t], -1)], high=0)
                    p.row([(far[-1], 1), (x[u], -1)], high=0)
            p.row([(f, 1) for f in far] + [(held[part], -1), (crowded, 1)], low=0)
    return lacks


def add_style(p, case, x, held):
    """Objective terms of style: [(variable, mm2)]."""
    cost, w = [], case.weights
    for part, need in case.needs.items():
        here = case.at(part)
        for t, s in here:
            mirror = case.ties[t]["mirror"][s]
            if mirror:
                odd = p.add()
                cost.append((odd, w["odd"]))
                p.row([(odd, 1), (x[t], -1)] + [(x[u], 1) for u, r in here if case.ties[u]["place"][r] == mirror], low=0)
        if need["direct"]:
            through = p.add()
            cost.append((through, w["through"]))
            p.row([(through, 1), (held[part], -1)] + [(x[t], 1) for t, s in here if case.ties[t]["end"][1 - s] == 0], low=0)
        if need["opposed"] and len(here) > 1:
            several, widest = p.add(whole=True), []
            p.row([(x[t], 1) for t, _ in here] + [(several, -len(here))], high=1)
            for t, u, angle in pairs_at(case, part):
                pair = p.add()
                widest.append(pair)
                cost.append((pair, round(1000 * w["opposed"] * (1 - angle / math.pi)) / 1000))
                p.row([(pair, 1), (x[t], -1)], high=0)
                p.row([(pair, 1), (x[u], -1)], high=0)
            p.row([(v, 1) for v in widest] + [(several, -1)], low=0)
    return cost + add_twins(p, case, x)


def add_twins(p, case, x):
    cost, alike, can = [], case.weights["alike"], case.reachable()
    for twins in (1, 2):
        members = [part for part, need in case.needs.items() if need["twins"] == twins and part in can]
        if len(members) < 2:
            continue
        places = {case.ties[t]["place"][s] for part in members for t, s in case.at(part)}
        cost += [(x[t], alike) for part in members for t, s in case.at(part) if case.ties[t]["place"][s] == 0]
        for place in places - {0}:
            usual = p.add(whole=True)
            for part in members:
                seats = [x[t] for t, s in case.at(part) if case.ties[t]["place"][s] == place]
                taken, differs = p.add(whole=True), p.add()
                cost.append((differs, alike))
                p.row([(taken, 1)] + [(seat, -1) for seat in seats], high=0)
                for seat in seats:
                    p.row([(taken, 1), (seat, -1)], low=0)
                p.row([(differs, 1), (taken, -1), (usual, 1)], low=0)
                p.row([(differs, 1), (taken, 1), (usual, -1)], low=0)
    return cost


def optimum(case):
    """(unheld, lacking, cost): the least of each in that order."""
    p = Programme()
    x = [p.add(whole=True) for _ in case.ties]
    held = {part: p.add(whole=True) for part in case.needs}
    for t, tie in enumerate(case.ties):
        for end in tie["end"]:
            if end:
                p.row([(x[t], 1), (held[end], -1)], high=0)
    for a, b in case.conflicts:
        p.row([(x[a], 1), (x[b], 1)], high=1)
    flow(p, case, x, {part: [(held[part], 1)] for part in case.needs}, case.parts)
    lacks = add_needs(p, case, x, held)
    style = add_style(p, case, x, held)
    n_held = round(-p.least([(v, -1) for v in held.values()]))
    p.row([(v, 1) for v in held.values()], low=n_held)
    n_lacks = round(p.least([(v, 1) for v in lacks]))
    p.row([(v, 1) for v in lacks], high=n_lacks)
    cost = p.least(style + [(x[t], tie["area"] + case.weights["own"] * tie["style"]) for t, tie in enumerate(case.ties)])
    return case.parts - n_held, n_lacks, cost


def chosen(case):
    done = subprocess.run([DUMP], input=case.text(), capture_output=True, text=True, check=True)
    return json.loads(done.stdout)


def compare(seed):
    """Against the optimum: (proven, cost ratio); and the bound, when style is off."""
    large = seed % 4 == 3
    case = Case(seed, 6 + seed % 7 if large else 2 + seed % 5, 24 + 2 * (seed % 9) if large else 6 + seed % 17)
    got, best = chosen(case), optimum(case)
    lacks = sum(sum(lack[1:]) for lack in got["lacking"])
    found = (len(got["unheld"]), lacks, got["cost"])
    assert found >= (*best[:2], best[2] - 1e-4), f"seed {seed}: {found} is better than the optimum {best}"
    if got["optimal"]:
        assert found[:2] == best[:2] and found[2] == pytest.approx(best[2], abs=1e-3), f"seed {seed}: {found} {best}"
    if not case.weights["own"] and found[:2] == best[:2]:
        assert got["bound"] <= best[2] + 1e-4, f"seed {seed}: bound {got['bound']}, optimum {best[2]}"
    return got["optimal"], found[:2] == best[:2], found[2] / best[2] if best[2] > 0 else 1.0


def check(seeds):
    results = [compare(seed) for seed in seeds]
    open_ones = [r for r in results if not r[0]]
    print(f"{len(results)} tasks, {len(results) - len(open_ones)} proven")
    if open_ones:
        ratios = [r[2] for r in open_ones if r[1]]
        print(f"not proven: {len(open_ones)}, as many wants met in {len(ratios)}, cost / optimum median "
              f"{statistics.median(ratios):.4f}, worst {max(ratios):.4f}")
        assert statistics.median(ratios) <= 1.05
    assert len(results) - len(open_ones) >= len(results) / 2


def test_choice_is_the_optimum():
    check(range(SHORT_RUN))


@pytest.mark.long
def test_choice_is_the_optimum_long():
    check(range(SHORT_RUN, LONG_RUN))
