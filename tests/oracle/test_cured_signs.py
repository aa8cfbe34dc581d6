# SPDX-License-Identifier: GPL-3.0-or-later
"""The best cure on a corpus of seeded signs: whole, or with an exact reason; never falsely whole.

Source of the second opinion: scipy.ndimage on pixels of metal.svg (reading.py), which knows nothing of
holdfast. Tie widths: the full medial axis of the finished metal (tests/tools/tie_dump.c), not the input.
Limits of metal added, 6 % and 15 % of the words' area: asked of this project, no outside source.
"""
import concurrent.futures
import json
import os
import pathlib
import statistics
import subprocess
import sys
import tempfile

import pytest

from conftest import HOLDFAST, TOP

sys.path.insert(0, str(pathlib.Path(__file__).parent))
import cure_signs  # noqa: E402
from reading import Reading, rings_of_svg  # noqa: E402

TIE_DUMP = TOP / "build" / "tests" / "tools" / "tie_dump"
SHORT_RUN, SHORT_FROM = 16, 120
LONG_RUN = 500


def short_web(t, k):
    """Stop of a short web: max(t, 1.5 k, 2 mm); common practice, no source (handbook 3.1)."""
    return max(t, 1.5 * k, 2)


def extent(rings):
    xs, ys = [x for ring in rings for x, _ in ring], [y for ring in rings for _, y in ring]
    return max(max(xs) - min(xs), max(ys) - min(ys))


def read_at(rings, facts, pixel):
    limit, reading = short_web(facts["t"], facts["k"]), Reading(rings, pixel=pixel)
    more_gaps, vanished = reading.closed_gaps(facts["k"])
    seen = {"parts": reading.parts(), "eroded": reading.eroded_parts(limit), "thin": reading.thin(limit), "gaps": more_gaps,
            "vanished": vanished}
    return seen if seen["parts"] != 1 or seen["eroded"] != 1 or seen["thin"] > 0.5 or more_gaps > 0 or vanished > 0 else None


def second_opinion(svg, facts):
    """What an independent reading finds wrong with a sign that is called whole.

    What is wrong is wrong on any grid. PIL fills a row of a crescent from tip to tip where the row just meets a
    corner (seed 389; shapely says one piece), and on another grid it does not.
    """
    rings = rings_of_svg(svg)
    pixel = min(max(0.1, extent(rings) / 3000), short_web(facts["t"], facts["k"]) / 10, facts["k"] / 5)
    return read_at(rings, facts, pixel) and read_at(rings, facts, 0.93 * pixel)


def judge(seed):
    """One sign: a dict with kind (whole as it is, cured, reason, refused, FALSE WHOLE, NO REASON) and figures."""
    text, facts = cure_signs.recipe(seed, HOLDFAST)
    with tempfile.TemporaryDirectory() as folder:
        recipe = pathlib.Path(folder) / "sign.yaml"
        recipe.write_text(text)
        done = subprocess.run([HOLDFAST, "make", recipe, "--cure", "best", "-o", folder, "--pixels", "200", "--quiet"],
                              capture_output=True, text=True, timeout=300)
        if done.returncode == 2:
            return {**facts, "kind": "refused", "why": done.stderr.strip()}
        assert done.returncode in (0, 1), f"seed {seed}: exit {done.returncode}: {done.stderr}"
        out = pathlib.Path(folder) / "sign"
        report = json.loads((out / "report.json").read_text())
        if done.returncode == 1:
            stops = [f["text"] for f in report["findings"] if f["gravity"] == "stop"]
            return {**facts, "kind": "reason" if stops and all(stops) else "NO REASON", "why": stops}
        wrong = second_opinion(out / "metal.svg", facts)
        if wrong is not None:
            return {**facts, "kind": "FALSE WHOLE", "why": wrong}
        if not (out / "cured.yaml").exists():
            return {**facts, "kind": "whole as it is"}
        dumped = json.loads(subprocess.run([TIE_DUMP, out / "cured.yaml"], capture_output=True, text=True, check=True).stdout)
        assert dumped["whole"], f"seed {seed}: cured.yaml does not make the sign that was called whole"
    ties = [tie for rule in dumped["rules"] for tie in rule["ties"]]
    return {**facts, "kind": "cured", "ties": ties, "area": sum(tie["area"] for tie in ties), "words": dumped["words_area"],
            "rules": dumped["rules"]}


def run(seeds):
    with concurrent.futures.ProcessPoolExecutor(os.cpu_count()) as pool:
        return list(pool.map(judge, seeds))


def check(seeds):
    results = run(seeds)
    count = {}
    for r in results:
        count[r["kind"]] = count.get(r["kind"], 0) + 1
    print(count)
    for r in results:
        if r["kind"] == "reason":
            print(f"  seed {r['seed']} {r['shape']} {r['face']} {r['text']} {r['h']} mm: {r['why'][0]}")
    bad = [f"seed {r['seed']}: {r['kind']}: {r['why']}" for r in results if r["kind"] in ("FALSE WHOLE", "NO REASON")]
    assert not bad, "\n".join(bad)
    tied = [r for r in results if r["kind"] == "cured" and r["ties"]]
    for r in tied:
        for tie in r["ties"]:
            assert tie["found"] is not None and tie["found"] >= tie["width"] - 0.01, (r["seed"], tie)
    shares = sorted(r["area"] / r["words"] for r in tied)
    median, high = statistics.median(shares), shares[int(0.95 * (len(shares) - 1))]
    print(f"{len(tied)} tied; metal added over the words' area: median {median:.1%}, 95th percentile {high:.1%}, most {shares[-1]:.1%}")
    return count, median, high


def picked():
    """Seeds of the short run: of the first so many those that bring a face, or a script in a shape, which was not there
    yet; the smallest first: the time goes into pixels."""
    signs = sorted((cure_signs.recipe(seed, HOLDFAST)[1] for seed in range(1, SHORT_FROM + 1)), key=lambda it: it["h"] * len(it["text"]))
    had, seeds = set(), []
    for it in signs:
        brings = {it["face"], (it["script"], it["shape"])}
        if not brings <= had and len(seeds) < SHORT_RUN:
            seeds.append(it["seed"])
            had |= brings
    return seeds


def share_cured(count):
    """Of those that need a cure and can be laid out. Our own mark: what was reached, with a little room; no source."""
    cured = count.get("cured", 0)
    return cured / (cured + count.get("reason", 0))


def test_cured_signs_short():
    seeds = picked()
    assert len(seeds) == SHORT_RUN
    count, median, high = check(seeds)
    assert share_cured(count) >= 0.6  # 8 of 11; the odd faces and scripts are over-represented
    assert median <= 0.06 and high <= 0.15


@pytest.mark.long
def test_cured_signs_long():
    count, median, high = check(range(1, LONG_RUN + 1))
    assert share_cured(count) >= 0.85  # of seeds 1 to 80, 62 of 67
    assert median <= 0.06 and high <= 0.15
