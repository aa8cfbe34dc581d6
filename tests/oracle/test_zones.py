# SPDX-License-Identifier: GPL-3.0-or-later
"""Thin zones of random signs: found near facing edges (the hold check) against the full axis.

The full axis (Voronoi diagram of all edges, Boost.Polygon) is the slow, plain way; the hold check
must find the same zones with the same widths, none more and none less.
"""
import collections
import json
import pathlib
import subprocess
import sys

import pytest

from conftest import HOLDFAST

sys.path.insert(0, str(pathlib.Path(__file__).parent))
import random_signs  # noqa: E402

DUMP = HOLDFAST.parent / "tests" / "tools" / "zone_dump"
SHORT_RUN = 12
LONG_RUN = 230  # some are refused: at least 200 signs are compared


def zones(seed, folder):
    """{(of, limit): {axis: [zone]}} of one random sign, or None where the recipe is refused."""
    recipe = folder / f"{seed}.yaml"
    recipe.write_text(random_signs.recipe(seed)[0])
    done = subprocess.run([DUMP, recipe], capture_output=True, text=True)
    if done.returncode == 2:
        return None
    assert done.returncode == 0, f"seed {seed}: {done.stderr}"
    found = collections.defaultdict(lambda: {"near": [], "full": []})
    for line in done.stdout.splitlines():
        zone = json.loads(line)
        found[zone["of"], zone["limit"]][zone["axis"]].append(zone)
    return found


def differs(near, full):
    """Why two lists of zones are not the same; None when they are."""
    if len(near) != len(full):
        return f"{len(near)} zones, {len(full)} in the full axis"
    left = list(full)
    for zone in near:
        other = min(left, key=lambda z: (abs(z["width"] - zone["width"]) > 0.01, abs(z["length"] - zone["length"]),
                                         abs(z["x"] - zone["x"]) + abs(z["y"] - zone["y"])))
        left.remove(other)
        if abs(other["width"] - zone["width"]) > 0.005 or other["mouths"] != zone["mouths"] \
                or abs(other["length"] - zone["length"]) > 0.05 + 0.02 * zone["length"]:
            return f"{zone} is {other} in the full axis"
    return None


def compare(seeds, folder):
    compared, n_zones, bad = 0, 0, []
    for seed in seeds:
        found = zones(seed, folder)
        if found is None:
            continue
        compared += 1
        for key, axes in found.items():
            n_zones += len(axes["full"])
            why = differs(axes["near"], axes["full"])
            if why is not None:
                bad.append(f"seed {seed} {key}: {why}")
    print(compared, "signs", n_zones, "zones")
    assert not bad, "\n".join(bad)
    assert n_zones > compared  # a test of nothing would pass too
    return compared


def test_zones_short(tmp_path):
    assert compare(range(1, SHORT_RUN + 1), tmp_path) >= SHORT_RUN // 2


@pytest.mark.long
def test_zones_long(tmp_path):
    assert compare(range(1, LONG_RUN + 1), tmp_path) >= 200
