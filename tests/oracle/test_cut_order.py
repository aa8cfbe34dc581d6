# SPDX-License-Identifier: GPL-3.0-or-later
"""The order of a cut (src/tour) against published problems of its kind, by the folder cut-order of the yardsticks.

sheet: sheets of a cutting shop (Salman, Ekstedt, Damaschke 2020), their optima proven by an exact dynamic programme.
sop: the sequential ordering problems of TSPLIB95 and the best values known. gtsp: TSPLIB95's towns in clusters by the
rule of Fischetti, Salazar and Toth 1997; optima published, those used here proven by the same programme.
What comes out is not believed: order, clusters and cost are worked out anew from the file.
"""
import csv
import math
import subprocess
from pathlib import Path

import pytest


NEVER = 1e12
DUMP = Path(__file__).parents[2] / "build" / "tests" / "tools" / "tour_dump"
WORK = 5e8  # costs asked for: 2 s on a quiet processor


def degrees(x):
    whole = int(x)
    return 3.141592 * (whole + 5 * (x - whole) / 3) / 180


def distance(kind, a, b):
    """As TSPLIB95 says them (Reinelt, TSPLIB95, section 2)."""
    dx, dy = a[0] - b[0], a[1] - b[1]
    if kind == "EUC_2D":
        return int(math.hypot(dx, dy) + 0.5)
    if kind == "ATT":
        length = math.sqrt((dx * dx + dy * dy) / 10)
        return int(length + 0.5) + (int(length + 0.5) < length)
    assert kind == "GEO", kind
    (la, lo), (lb, lp) = map(degrees, a), map(degrees, b)
    q1, q2, q3 = math.cos(lo - lp), math.cos(la - lb), math.cos(la + lb)
    return int(6378.388 * math.acos(0.5 * ((1 + q1) * q2 - (1 - q1) * q3)) + 1)


def sections(path):
    """{section: its lines as lists of numbers}, and the head."""
    head, found, section = {}, {}, None
    for line in path.read_text().splitlines():
        line = line.strip()
        if not line or line == "EOF":
            continue
        if line[0].isalpha() and ":" in line:
            key, value = line.split(":", 1)
            head[key.strip()] = value.strip()
        elif line[0].isalpha():
            section = line
        else:
            found.setdefault(section, []).append([float(it) for it in line.split()])
    return head, found


def read(path):
    """(cluster of each node, pairs first, then; costs)."""
    head, found = sections(path)
    numbers = [it for line in found.get("EDGE_WEIGHT_SECTION", []) for it in line]
    if path.suffix == ".sop":
        n = int(numbers[0])
        costs = [numbers[1 + i * n:1 + (i + 1) * n] for i in range(n)]
        pairs = [(j, i) for i in range(n) for j in range(n) if costs[i][j] == -1 and j != 0]
        costs = [[NEVER if it == -1 else it for it in row] for row in costs]
        costs[n - 1][0] = 0  # from the end to the beginning: the path is closed for nothing
        return list(range(n)), pairs, costs
    n = int(head["DIMENSION"])
    points = [line[1:3] for line in found.get("NODE_COORD_SECTION", [])]
    if points:
        costs = [[distance(head["EDGE_WEIGHT_TYPE"], a, b) for b in points] for a in points]
    else:
        costs = [[NEVER if it < 0 else it for it in numbers[i * n:(i + 1) * n]] for i in range(n)]
    cluster = {int(node): int(line[0]) - 1 for line in found["GTSP_SET_SECTION"] for node in line[1:] if node > 0}
    pairs = [(int(line[0]) - 1, int(it) - 1) for line in found.get("GTSP_SET_ORDERING", []) for it in line[1:] if it > 0]
    return [cluster[i + 1] for i in range(n)], [pair for pair in pairs if pair[0] != 0], costs


def find(path, work):
    """The cost of the tour that is found, proven from the file."""
    cluster, pairs, costs = read(path)
    rows = [[len(cluster), max(cluster) + 1, len(pairs)], cluster, *pairs, *costs]
    text = "\n".join(" ".join(f"{it:.17g}" for it in row) for row in rows)
    out = subprocess.run([DUMP, str(work)], input=text, capture_output=True, text=True, timeout=300)
    assert out.returncode == 0, out.stderr
    said, nodes = out.stdout.splitlines()
    nodes = [int(it) for it in nodes.split()]
    place = {cluster[node]: i for i, node in enumerate(nodes)}
    assert sorted(cluster[node] for node in nodes) == list(range(max(cluster) + 1))
    assert place[0] == 0 and all(place[first] < place[then] for first, then in pairs)
    cost = sum(costs[a][b] for a, b in zip(nodes, nodes[1:] + nodes[:1]))
    assert math.isclose(cost, float(said), rel_tol=1e-9, abs_tol=1e-6)
    return cost


def best_known(data, table, column, folder, ending):
    with open(data / table, newline="") as file:
        rows = {data / folder / (row["instance"] + ending): row[column] for row in csv.DictReader(file)}
    return {path: float(value) for path, value in rows.items() if value and path.is_file()}


def over(paths, work):
    """How much over the best value each is, as a share."""
    return {path.name: find(path, work) / best - 1 for path, best in paths.items()}


def test_sheets_of_a_cutting_shop(yardsticks):
    """A published heuristic is 0.12 % above the optimum on average over 28 such sheets."""
    known = best_known(yardsticks / "cut-order", "pcgtsp-sheet-values.csv", "own_exact_DP_optimum", "sheet", ".pcglns")
    gaps = over(known, 1e8)
    assert len(gaps) == 12 and sum(gaps.values()) / len(gaps) <= 0.0012 and max(gaps.values()) <= 0.01, gaps
    assert min(gaps.values()) >= 0, ("below a proven optimum", gaps)


def orders(data, most):
    known = best_known(data, "sop-values.csv", "best_known_in_recent_study", "sop", ".sop")
    return {path: best for path, best in known.items() if len(read(path)[0]) <= most}


def test_small_orders(yardsticks):
    gaps = over(orders(yardsticks / "cut-order", 26), 5e7)
    assert len(gaps) == 5 and max(gaps.values()) <= 0.001, gaps


@pytest.mark.long
def test_orders_of_up_to_a_hundred(yardsticks):
    gaps = over(orders(yardsticks / "cut-order", 101), WORK)
    assert len(gaps) == 33 and sum(gaps.values()) / len(gaps) <= 0.01, gaps


@pytest.mark.long
def test_towns_in_clusters(yardsticks):
    data = yardsticks / "cut-order"
    with open(data / "gtsp-values.csv", newline="") as file:
        proven = {row["instance"] for row in csv.DictReader(file) if row["status"].startswith("verified")}
    known = best_known(data, "gtsp-values.csv", "optimum", "gtsp", ".gtsp")
    gaps = over({path: best for path, best in known.items() if path.stem in proven}, WORK / 2)
    assert len(gaps) == 16 and -1e-9 <= min(gaps.values()) and max(gaps.values()) <= 0.001, gaps
