# SPDX-License-Identifier: GPL-3.0-or-later
"""Held or not: random signs against an independent reading of their outlines.

Source of the reading: scipy.ndimage (labels, exact Euclidean distance) at 0.1 mm a pixel; see
reading.py for what counts. A sign called whole that the reading finds loose, thin or with a closed
gap fails the test. Where holdfast stops and the reading sees nothing, each stop is measured again in
the pixels at its own place: it must be there.
"""
import concurrent.futures
import json
import os
import pathlib
import subprocess
import sys
import tempfile

import pytest

from conftest import HOLDFAST

sys.path.insert(0, str(pathlib.Path(__file__).parent))
import random_signs  # noqa: E402
from reading import Reading, rings_of_svg  # noqa: E402

SHORT_RUN = 20
LONG_RUN = 1000
HELD = {"loose-part", "stands-alone", "thin-web", "thin-long-web", "weak-joint"}


def short_web(t, k):
    """Stop of a short web: max(t, 1.5 k, 2 mm); common practice, no source (handbook 3.1)."""
    return max(t, 1.5 * k, 2)


def again_in_pixels(reading, finding, box):
    """Is this stop really there, by its measure? Returns None when it is, else what was seen."""
    key, place, measured = finding["key"], finding["place"], finding["measured"]
    if key not in HELD or measured is None:
        return None
    # the report has y up from the sign's own origin, the SVG y down from the upper left corner
    x, y = place["x"] - box["x"], box["y"] + box["height"] - place["y"]
    seen = reading.width_at(x, y)
    # two pixels, and 0.14 mm of walking about the place, along which a depth changes by no more
    if seen <= measured + 0.2 + 2 * 0.15:
        return None
    return f"{key} says {measured} mm, pixels say {seen:.2f} mm at {place}"


def judge(seed):
    """One sign: (seed, kind, words). kind: whole, not whole, refused, FALSE WHOLE, UNEXPLAINED."""
    text, facts = random_signs.recipe(seed)
    with tempfile.TemporaryDirectory() as folder:
        recipe = pathlib.Path(folder) / "sign.yaml"
        recipe.write_text(text)
        done = subprocess.run([HOLDFAST, "make", recipe, "-o", folder, "--pixels", "200", "--quiet"], capture_output=True, text=True)
        if done.returncode == 2:
            return seed, "refused", done.stderr.strip()
        if done.returncode not in (0, 1):
            return seed, "FAILED", f"exit {done.returncode}: {done.stderr.strip()}"
        out = pathlib.Path(folder) / "sign"
        report = json.loads((out / "report.json").read_text())
        whole = report["verdict"] == "whole"
        assert whole == (done.returncode == 0) == (out / "metal.svg").exists()
        reading = Reading(rings_of_svg(out / ("metal.svg" if whole else "not-to-be-cut.svg")))
    limit = short_web(facts["t"], facts["k"])
    more_gaps, vanished = reading.closed_gaps(facts["k"])
    seen = {"parts": reading.parts(), "eroded": reading.eroded_parts(limit), "thin": reading.thin(limit),
            "gaps": more_gaps, "vanished": vanished}
    troubled = seen["parts"] != 1 or seen["eroded"] != 1 or seen["thin"] > 0.5 or more_gaps > 0 or vanished > 0
    if whole and troubled:
        return seed, "FALSE WHOLE", f"{facts} {seen}"
    stops = [f for f in report["findings"] if f["gravity"] == "stop"]
    if not whole and not troubled:
        for finding in stops:
            why = again_in_pixels(reading, finding, report["figures"]["box"])
            if why is not None:
                return seed, "UNEXPLAINED", f"{facts} {seen} {why}"
            if finding["key"] in ("loose-part", "stands-alone"):
                joined_thinly = any(f["key"] in ("weak-joint", "thin-web", "thin-long-web") for f in stops)
                if not joined_thinly:
                    return seed, "UNEXPLAINED", f"{facts} {seen} {finding['text']}"
    return seed, "whole" if whole else "not whole", ""


def run(seeds):
    with concurrent.futures.ProcessPoolExecutor(os.cpu_count()) as pool:
        return list(pool.map(judge, seeds, chunksize=4))


def assert_agree(results):
    count = {}
    for _, kind, _ in results:
        count[kind] = count.get(kind, 0) + 1
    print(count)
    bad = [f"{seed}: {kind}: {why}" for seed, kind, why in results if kind not in ("whole", "not whole", "refused")]
    assert not bad, "\n".join(bad)
    # the generator must keep making both kinds, or the test says nothing
    assert count.get("whole", 0) >= len(results) // 10 and count.get("not whole", 0) >= len(results) // 10
    assert count.get("refused", 0) <= len(results) // 4


# A board with a spike of 2 mm at its root: a wedge, a tail that stays as wide, one with a head.
SPIKES = {"wedge": [(30, 19), (50, 20), (30, 21)], "tail": [(30, 19), (50, 19), (50, 21), (30, 21)],
          "head": [(30, 19.5), (50, 18), (50, 22), (30, 20.5)]}


@pytest.mark.parametrize("spike, thin", [("wedge", False), ("tail", True), ("head", True)])
def test_reading_of_spikes(spike, thin):
    board = [(0, 0), (30, 0), *SPIKES[spike], (30, 40), (0, 40)]
    assert (Reading([board]).thin(3) > 0.5) == thin


def test_held_short():
    assert_agree(run(range(1, SHORT_RUN + 1)))


@pytest.mark.long
def test_held_long():
    assert_agree(run(range(SHORT_RUN + 1, LONG_RUN + 1)))
