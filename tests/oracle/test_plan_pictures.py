# SPDX-License-Identifier: GPL-3.0-or-later
"""Pictures of a plan from outside: against the program's own lines, and the measure of heat worked out again (docs/maths.md#order)."""
import json
import math
import re
import xml.etree.ElementTree as xml

import pytest

from conftest import TOP, holdfast

SVG = "{http://www.w3.org/2000/svg}"


@pytest.fixture(scope="module")
def made(tmp_path_factory):
    folder = tmp_path_factory.mktemp("plan")
    done = holdfast("make", TOP / "examples" / "bakery.yaml", "-o", folder, "--pixels", "200", "--also", "moving", "--also", "heat")
    assert done.returncode == 0, done.stderr
    return folder / "bakery"


def boxes(folder):
    """Of each cut of the program without its way in, arcs by their points."""
    found, here = [], (0.0, 0.0)
    for line in (folder / "cut.nc").read_text().splitlines():
        if re.match(r"\(\d+: ", line):
            found.append([])
        if not re.match(r"G[0-3]\b", line):
            continue
        words = {axis: float(value) for axis, value in re.findall(r"([XYIJ])(-?[\d.]+)", line)}
        to = (words.get("X", here[0]), words.get("Y", here[1]))
        if line[1] in "123" and found:
            points = [here, to]
            if line[1] in "23":
                c = (here[0] + words.get("I", 0), here[1] + words.get("J", 0))
                r, a = math.dist(c, here), math.atan2(here[1] - c[1], here[0] - c[0])
                turn = (math.atan2(to[1] - c[1], to[0] - c[0]) - a) % math.tau
                turn = turn or math.tau
                turn -= math.tau if line[1] == "2" and turn < math.tau else 0
                points = [(c[0] + r * math.cos(a + turn * i / 90), c[1] + r * math.sin(a + turn * i / 90)) for i in range(91)]
            found[-1].append(points)
        here = to
    flat = [[p for move in cut[1:] for p in move] for cut in found]
    return [(min(x for x, _ in cut), min(y for _, y in cut), max(x for x, _ in cut), max(y for _, y in cut)) for cut in flat]


def warmth(a, b):
    within = max(min(p[0] - q[0], q[2] - p[2], p[1] - q[1], q[3] - p[3]) for p, q in ((a, b), (b, a)))
    gap = within if within > 0 else math.hypot(max(a[0] - b[2], b[0] - a[2], 0), max(a[1] - b[3], b[1] - a[3], 0))
    return max(0, 1 - gap / 10)


def test_a_legend(made):
    text = [it.text for it in xml.parse(made / "plan.svg").iter(SVG + "text")]
    for words in ("way in", "travel, arc off", "pierce, and the number of the cut", "its drop may tip up on the slats"):
        assert words in text
    root = xml.parse(made / "plan.svg").getroot()
    low = float(root.get("viewBox").split()[3])
    for group in root.iter(SVG + "g"):
        if group.get("class") == "legend":
            assert float(re.search(r"translate\(\S+ (\S+)\)", group.get("transform"))[1]) < low


def test_heat(made):
    told = [it.text for it in xml.parse(made / "plan-heat.svg").iter(SVG + "title")][1:]
    shares = [int(re.search(r"(\d+) %", it)[1]) if "%" in it else 0 for it in told]
    cut = boxes(made)
    assert len(told) == len(cut) and "the first" in told[0]
    for i in range(1, len(cut) - 1):  # the outside has a way out as well
        assert shares[i] == pytest.approx(100 * warmth(cut[i - 1], cut[i]), abs=2), told[i]
    assert any(shares)


def test_moving(made):
    report = json.loads((made / "report.json").read_text())["cut"][0]
    root = xml.parse(made / "plan-moving.svg").getroot()
    n = report["pierces"]

    def when(it):
        return tuple(float(re.search(rf"animation-{what}:([\d.]+)s", it.get("style"))[1]) for what in ("delay", "duration"))

    kerfs = [when(it) for it in root.iter(SVG + "path") if it.get("class") == "kerf"]
    assert len(kerfs) == n and all(it.get("pathLength") == "1" for it in root.iter(SVG + "path") if it.get("class") == "kerf")
    assert all(a[0] + a[1] <= b[0] for a, b in zip(kerfs, kerfs[1:])), "one after another"
    fast = int(next(re.match(r"(\d+) times", it.text)[1] for it in root.iter(SVG + "text") if it.text and "times as fast" in it.text))
    for kerf, cut in zip(kerfs, report["cuts"]):
        assert kerf[1] * fast == pytest.approx(cut["seconds"]["usual"], rel=0.1, abs=0.1 * fast)
    end = kerfs[-1][0] + kerfs[-1][1]
    assert 11.9 < end < 91 and end * fast == pytest.approx(report["seconds"]["usual"], rel=0.1)
    loose = {it.find(SVG + "title").text.split(":")[0]: it for it in root.iter(SVG + "path") if it.get("class") in ("falls", "lies", "tips", "part")}
    assert sorted(map(int, loose)) == list(range(1, n + 1))
    for i, cut in enumerate(report["cuts"]):
        kind = "part" if cut["lets_loose"] == "part" else cut["drop"]
        assert loose[str(i + 1)].get("class") == kind and when(loose[str(i + 1)])[0] == pytest.approx(sum(kerfs[i]), abs=0.06)
    text = (made / "plan-moving.svg").read_text()
    keys = [tuple(map(float, it)) for it in re.findall(r"([\d.]+)%\{offset-distance:([\d.]+)%\}", text)]
    assert keys == sorted(keys) and len(keys) == 3 * n + 1 and keys[-1] == (100, 100)
    assert "prefers-reduced-motion" in text and "<script" not in text and "animation-play-state:paused" in text


def test_why(made):
    """Where the torch is after each cut is where the program puts the arc out; how many of what is left would be nearer, counted anew."""
    report = json.loads((made / "report.json").read_text())["cut"][0]
    ends, x, y = [], 0.0, 0.0
    for line in (made / "cut.nc").read_text().splitlines():
        if line.startswith(("G0", "G1", "G2", "G3")):
            for axis, value in re.findall(r"([XY])(-?[\d.]+)", line):
                x, y = (float(value), y) if axis == "X" else (x, float(value))
        if line == "M5":
            ends.append((x, y))
    places = [(it["pierce"]["x"], it["pierce"]["y"]) for it in report["cuts"]]
    said = set()
    for i, cut in enumerate(report["cuts"]):
        here = ends[i - 1] if i else (0, 0)
        way = math.dist(here, places[i])
        alike = [k for k in range(i + 1, len(places)) if report["cuts"][k]["lets_loose"] == cut["lets_loose"]]
        low, high = (sum(math.dist(here, places[k]) < way + off for k in alike) for off in (-0.01, 0.01))
        told = re.search(r"(\d+) of the (?:parts|openings) left", cut["why"])
        assert low <= (int(told[1]) if told else 0) <= high, cut
        assert ("nearest of the" in cut["why"]) == (told is None)
        said.add(cut["why"].split(";")[0])
    assert len(said) > 2 and "what lies in it is cut before" in report["cuts"][-1]["why"]
    titles = [it.text for it in xml.parse(made / "plan.svg").iter(SVG + "title")][1:]
    assert all(cut["why"] in title for cut, title in zip(report["cuts"], titles))
