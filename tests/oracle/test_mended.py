# SPDX-License-Identifier: GPL-3.0-or-later
"""The rule `mend` on random signs: what it is asked to mend is gone, and no stop comes instead.

Compared are the two reports, the sign as it is and with the rule; a stop is new when there was none
of its kind within 3 mm; of loose parts, when there are more. Run as a program it tells the shares: test_mended.py HOLDFAST FIRST LAST.
"""
import collections
import json
import math
import pathlib
import subprocess
import sys
import tempfile

import pytest

import near_signs
import random_signs

WEBS = ("thin-web", "thin-long-web", "weak-joint")
GROUPS = {**{k: "web" for k in WEBS}, "narrow-gap": "gap", "small-opening": "opening", "sharp-point": "point",
          "loose-part": "part", "stands-alone": "part"}
TARGETS = ("web", "gap", "opening", "point")


def stops(report, also=()):
    return [(GROUPS.get(f["key"], f["key"]), p["x"], p["y"], f) for f in report["findings"]
            if f["gravity"] == "stop" or f["key"] in also for p in f["places"]]


def is_near(one, others, reach=3):
    return any(one[0] == o[0] and math.hypot(one[1] - o[1], one[2] - o[2]) < reach for o in others)


def made(holdfast, text, folder):
    recipe = pathlib.Path(folder) / "sign.yaml"
    recipe.write_text(text)
    done = subprocess.run([str(holdfast), "make", recipe, "-o", pathlib.Path(folder) / "out"],
                          capture_output=True, text=True, timeout=300)
    if done.returncode > 1:
        return None
    return json.loads((pathlib.Path(folder) / "out" / "sign" / "report.json").read_text())


def compare(holdfast, text, rule="{fill: yes, thicken: yes, round: 3 mm}"):
    """(targets before, of those left, new stops); None: can't be laid, or nothing to mend."""
    with tempfile.TemporaryDirectory() as folder:
        before = made(holdfast, text, folder)
        if before is None:
            return None
        old = stops(before, ("sharp-point",))
        targets = [s for s in old if s[0] in TARGETS]
        if not targets:
            return None
        after = made(holdfast, text + f"  - mend: {rule}\n", folder)
    if after is None:
        return targets, targets, [("failed", 0, 0, {})]
    now = stops(after, ("sharp-point",))
    left = [s for s in now if s[0] in TARGETS]
    parts = [sum(s[0] == "part" for s in some) for some in (old, now)]
    new = [s for s in stops(after) if not is_near(s, old) and (s[0] != "part" or parts[1] > parts[0])]
    return targets, left, new


@pytest.mark.long
def test_a_net_that_is_too_much_says_so():
    """Bars that cross anyhow, all under their limit: it ends, brings no stop, and what it did not come to says so."""
    from conftest import HOLDFAST
    text = near_signs.Near(48).text
    rule = "  - mend: {fill: yes, thicken: yes, round: 3 mm}\n"
    assert rule in text
    with tempfile.TemporaryDirectory() as folder:
        before = made(HOLDFAST, text.replace(rule, ""), folder)
        after = made(HOLDFAST, text, folder)
    old, now = stops(before), stops(after)
    assert [s for s in now if not is_near(s, old) and s[0] != "part"] == []
    said = [f for f in after["findings"] if "mending did not come to it" in json.dumps(f)]
    assert sum(f["count"] for f in said) > 100


def test_random_signs_are_mended():
    from conftest import HOLDFAST, LONG
    signs = clean = new_stops = 0
    for seed in range(400 if LONG else 30):
        outcome = compare(HOLDFAST, random_signs.recipe(seed)[0])
        if outcome is None:
            continue
        signs += 1
        clean += not outcome[1]
        new_stops += bool(outcome[2])
    assert signs > 10
    assert new_stops == 0
    # Of the rest a plate's, ring's or bar's edge would have to move, or a letter would lose a piece or a counter
    # (test_mended_letters.py): 19 of 33 of the first 60 came out clean when this was written; in 7 of the others a bar or
    # ring is itself under the limit, and what is left says so.
    assert clean >= 0.45 * signs, (clean, signs)


if __name__ == "__main__":
    holdfast, first, last = sys.argv[1], int(sys.argv[2]), int(sys.argv[3])
    n = clean = fresh = 0
    was, stays = collections.Counter(), collections.Counter()
    for seed in range(first, last):
        outcome = compare(holdfast, random_signs.recipe(seed)[0])
        if outcome is None:
            continue
        n += 1
        clean += not outcome[1]
        fresh += bool(outcome[2])
        was.update(s[0] for s in outcome[0])
        stays.update(s[0] for s in outcome[1])
        if outcome[1] or outcome[2]:
            print(seed, "left", [(s[3]["text"][:110], round(s[1]), round(s[2])) for s in outcome[1]][:3],
                  "new", [(s[0], s[3].get("text", "")[:90]) for s in outcome[2]][:3])
    print(f"{n} signs, {clean} clean, {fresh} with new stops; before {dict(was)}, left {dict(stays)}")
