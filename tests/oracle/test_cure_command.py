# SPDX-License-Identifier: GPL-3.0-or-later
"""Cures as a user meets them: the list, taking one, making it; what must never be written over.
Areas and shift are held against shapely (python3-shapely) on the outlines that were written."""
import functools
import json
import math
import os
import pathlib
import pty
import re
import signal
import subprocess
import sys
import time
import xml.etree.ElementTree as xml

import jsonschema
import numpy
import pytest
from scipy.spatial import cKDTree
from shapely.geometry import Polygon

import reading
from conftest import HOLDFAST, TOP, holdfast

HEAD = "# for the pottery\nholdfast: 1\nsign: Pottery\nmetal: {kind: mild steel, thickness: 3 mm}\nprocess: {kerf: 1.5 mm}   # measured\n"
BEAD = HEAD + """entries:
  - ring: {name: rim, outer: 240 mm, width: 20 mm}
  # a bead that falls out
  - dot: {name: bead, diameter: 20 mm}   # glass later
"""
CUT = HEAD + """entries:
  - plate: {name: board, shape: rounded, corner: 8 mm, width: 460 mm, height: 200 mm}
  - words: {name: bakery, text: BAKERY, font: {family: DejaVu Sans, style: Bold}, height: 70 mm, as: opening, on: board, at: centre}
"""
STANDING = HEAD + """entries:
  - bar: {name: rail, length: 500 mm, height: 20 mm}
  - words: {name: quay, text: Quiet Inn, font: {family: DejaVu Sans, style: Bold}, height: 80 mm, stand on: rail}
"""
WHOLE = HEAD + "entries:\n  - plate: {name: board, shape: rectangle, width: 200 mm, height: 80 mm}\n"
# No hole in a plate of 100 mm is 9 m across, so nothing cures it.
HOPELESS = HEAD + """limits: {small-hole: 9 m}
entries:
  - plate: {name: board, shape: rectangle, width: 100 mm, height: 50 mm}
  - hole: {name: screw, diameter: 8 mm}
"""
# One loose part and one thin web: tying alone leaves the web, thickening alone leaves the part.
BOTH = BEAD + "  - bar: {name: stick, length: 60 mm, height: 1 mm, at: [-149 mm, 0 mm]}\n"
SIGNS = {"bead": BEAD, "cut through": CUT, "standing": STANDING, "both": BOTH}


@pytest.fixture
def sign(tmp_path):
    def it(text, name="sign.yaml"):
        file = tmp_path / name
        file.write_text(text)
        return file

    return it


@functools.cache
def listed(file, text, *options):
    """The same list every time (test_same_list_every_time), so it is looked for once."""
    done = holdfast("cure", file, "--json", *options)
    assert done.returncode in (0, 1), done.stderr
    return done.stdout


def cures_of(file, *options):
    return json.loads(listed(file, file.read_text(), *options))


def polygon_of(folder, report):
    """The outlines as written, in the recipe's frame (report: box of the metal)."""
    file = next(folder / n for n in ("metal.svg", "not-to-be-cut.svg") if (folder / n).exists())
    box = report["figures"]["box"]
    top = box["y"] + box["height"]
    metal = Polygon()
    for ring in reading.rings_of_svg(file):
        metal = metal.symmetric_difference(Polygon([(x + box["x"], top - y) for x, y in ring]).buffer(0))
    return metal


def test_list_tells_and_changes_nothing(sign, tmp_path):
    file = sign(BEAD)
    done = holdfast("cure", file)
    assert done.returncode == 1, "the recipe itself is not whole"
    assert "NOT WHOLE" in done.stdout and re.search(r"^ +1  whole ", done.stdout, re.M)
    assert "added" in done.stdout and "left:" in done.stdout and "--take 1" in done.stdout
    assert file.read_text() == BEAD and os.listdir(tmp_path) == ["sign.yaml"]
    assert holdfast("cure", file, "--quiet").stdout == ""


def test_whole_sign_needs_none(sign, tmp_path):
    file = sign(WHOLE)
    done = holdfast("cure", file)
    assert done.returncode == 0 and "nothing to cure" in done.stdout
    copy = tmp_path / "copy.yaml"
    assert holdfast("cure", file, "--best", "-o", copy).returncode == 0
    assert copy.read_text() == WHOLE


@pytest.mark.parametrize("name", SIGNS)
def test_every_cure_is_what_the_list_says(name, sign, tmp_path):
    """Taken one by one and checked by a run that knows nothing of cures."""
    file = sign(SIGNS[name])
    cures = cures_of(file)["cures"]
    assert cures and cures[0]["whole"]
    for cure in cures:
        taken = tmp_path / f"taken-{cure['number']}.yaml"
        done = holdfast("cure", file, "--take", cure["number"], "-o", taken)
        assert done.returncode == (0 if cure["whole"] else 1), done.stderr
        assert cure["sentence"] in done.stdout
        text = taken.read_text()
        for comment in ("# for the pottery", "# measured"):
            assert comment in text
        report = json.loads(holdfast("check", taken, "--json").stdout)
        assert (report["verdict"] == "whole") == cure["whole"]
        assert {k: report["tally"][k] for k in ("stops", "notes")} == {k: cure["left"][k] for k in ("stops", "notes")}
        assert report["tally"]["cautions"] + report["tally"]["accepted"] == cure["left"]["cautions"]
        assert len(report["ties"]) == cure["ties"]
        before = {f["text"] for f in cures_of(file)["findings"]}
        assert set(cure["takes"]) <= before
        assert not {f["text"] for f in report["findings"]} & set(cure["takes"]), "what is said to be gone is still said"
    assert file.read_text() == SIGNS[name]


@pytest.mark.parametrize("name", SIGNS)
def test_figures_against_shapely(name, sign, tmp_path):
    file = sign(SIGNS[name])
    out = tmp_path / "out"
    holdfast("make", file, "-o", out, "--pixels", "200")
    given = polygon_of(out / "sign", json.loads((out / "sign/report.json").read_text()))
    for cure in cures_of(file)["cures"][:3]:
        taken = tmp_path / "taken.yaml"
        holdfast("cure", file, "--take", cure["number"], "-o", taken, "--over")
        holdfast("make", taken, "-o", out, "--pixels", "200")
        cured = polygon_of(out / "taken", json.loads((out / "taken/report.json").read_text()))
        slack = 0.011 * (given.length + cured.length)  # outlines are within 0.01 mm of the region
        assert abs(cured.difference(given).area - cure["added"]) < slack
        assert abs(given.difference(cured).area - cure["removed"]) < slack
        shift = max(farthest(given.boundary, cured.boundary), farthest(cured.boundary, given.boundary))
        assert abs(shift - cure["shift"]) < 0.15, (shift, cure["shift"])


def points_of(line, step):
    """Its corners, and points between them at most @step apart."""
    points = []
    for part in getattr(line, "geoms", [line]):
        corners = numpy.asarray(part.coords)
        for a, b in zip(corners, corners[1:]):
            n = max(1, math.ceil(math.dist(a, b) / step))
            points.append(a + (b - a) * numpy.arange(n + 1)[:, None] / n)
    return numpy.concatenate(points)


def farthest(line, to):
    """The farthest of points every 0.2 mm of @line from @to, within 0.01 mm: half a step of 0.1 mm, 1 mm away, is
    0.001 mm; nearer than 0.15 mm nobody asks."""
    return cKDTree(points_of(to, 0.1)).query(points_of(line, 0.2))[0].max()


def test_several_changes_where_one_does_not_do(sign):
    cures = cures_of(sign(BOTH))["cures"]
    assert "+" in cures[0]["key"] and cures[0]["whole"]
    assert not any(c["whole"] for c in cures if "+" not in c["key"])


def test_ranked(sign):
    for text in SIGNS.values():
        cures = [c for c in cures_of(sign(text))["cures"] if c["added"] + c["removed"] > 0]
        order = [(not c["whole"], c["left"]["stops"] if not c["whole"] else 0) for c in cures]
        assert order == sorted(order)
        # ties at their limit stand behind the usual ones, for all that they add less: they count double, and dots that are
        # moved count three times (docs/cures.md)
        seen = {"slim": 2, "lowered": 3}
        whole = [c["cost"] * max(seen.get(family, 1) for family in c["key"].split("+")) for c in cures if c["whole"]]
        assert whole == sorted(whole)
        area = cures_of(sign(text))["figures"]["area"]
        box = cures_of(sign(text))["figures"]["box"]
        for c in cures:
            net, moved = abs(c["added"] - c["removed"]), min(c["added"], c["removed"])
            cost = 100 * (net + moved / 2) / area + 100 * c["shift"] / (box["width"] ** 2 + box["height"] ** 2) ** 0.5 + c["ties"] / 2
            assert abs(cost - c["cost"]) < 1e-3, "docs/maths.md, ranking"


def test_no_cure_closes_the_middle_of_a_letter(sign):
    """Bolder by 0.55 mm closes the middle of this e: nothing is loose then, and nobody reads an e."""
    e = ("entries:\n  - plate: {name: board, shape: rectangle, width: 60 mm, height: 50 mm}\n"
         "  - words: {name: w, text: e, font: Leckerli One, height: 12 mm, as: opening%s}\n")
    cures = cures_of(sign(HEAD + e % ""))["cures"]
    assert cures and not [c for c in cures if "bolder" in c["key"] and c["whole"]]
    bold = json.loads(holdfast("check", sign(HEAD + e % ", bolder: 0.55 mm"), "--json").stdout)
    assert not [f for f in bold["findings"] if f["key"] == "loose-part"], "it is what bolder would do"


def test_asking_less_is_never_best(sign):
    """A part that is allowed to stand alone leaves the metal as it is: listed, last, not taken by itself."""
    cures = cures_of(sign(BEAD))["cures"]
    less = [c for c in cures if c["key"] == "alone"]
    assert less and less[0]["added"] == less[0]["removed"] == 0
    assert all(c["number"] < less[0]["number"] for c in cures if c["whole"] and c["key"] != "alone")
    assert "alone:" not in holdfast("cure", sign(BEAD), "--best").stdout


def test_same_list_every_time(sign):
    file = sign(BOTH)
    first = holdfast("cure", file, "--json").stdout
    assert all(holdfast("cure", file, "--json").stdout == first for _ in range(2))
    one_core = subprocess.run(["taskset", "-c", "0", HOLDFAST, "cure", file, "--json"], capture_output=True, text=True).stdout
    assert one_core == first


def test_report_against_its_schema(sign, tmp_path):
    schema = json.loads((TOP / "docs/schema/report.schema.json").read_text())
    file = sign(CUT)
    jsonschema.Draft202012Validator(schema).validate(cures_of(file))
    holdfast("make", file, "--cure", "best", "-o", tmp_path / "out")
    report = json.loads((tmp_path / "out/sign/report.json").read_text())
    jsonschema.Draft202012Validator(schema).validate(report)
    assert report["verdict"] == "whole" and [c["taken"] for c in report["cures"]].count(True) == 1
    rule = report["rules"][0]
    assert rule["kind"] == "ties" and rule["ties"] == len(report["ties"]) and rule["untied"] == []
    assert sum(t["area"] for t in report["ties"]) == pytest.approx(rule["area"], abs=0.02 * len(report["ties"]))
    assert 0 < rule["bound"] <= rule["area"] + 1e-6
    for tie in report["ties"]:
        assert tie["placed_by"] == "rule" and tie["width"] > 0 and tie["length"] > 0 and "BAKERY" in tie["letter"]
    plain = json.loads(holdfast("check", file, "--json").stdout)
    assert "cures" not in plain and plain["rules"] == []


def test_wrong_wishes(sign, tmp_path):
    file = sign(BEAD)
    n = len(cures_of(file)["cures"])
    for words, say in [(["--take", n + 1], f"there are {n}"), (["--take", "0"], "from 1"), (["--take", "-1"], "from 1"), (["--take", "-3"], "from 1"),
                       (["--take", "1", "--best"], "keep one"), (["-o", tmp_path / "x.yaml"], "say which"), (["--over"], "-o FILE"),
                       ([file], "one recipe at a time")]:
        done = holdfast("cure", file, *words)
        assert done.returncode == 2 and say in done.stderr and done.stdout == "", (words, done.stderr)
    assert holdfast("cure").returncode == 2
    assert holdfast("cure", tmp_path / "none.yaml").returncode == 2
    assert holdfast("make", file, "--cure", "bst").returncode == 2
    assert not (tmp_path / "x.yaml").exists()


def test_nothing_cures_it(sign, tmp_path):
    file, to = sign(HOPELESS), tmp_path / "cured.yaml"
    done = holdfast("cure", file)
    assert done.returncode == 1 and "no change was found" in done.stdout
    done = holdfast("cure", file, "--best", "-o", to)
    assert done.returncode == 1 and "no cure was found" in done.stderr and not to.exists() and done.stdout == ""
    assert holdfast("cure", file, "--take", "1", "-o", to).returncode == 2 and not to.exists()
    done = holdfast("make", file, "--cure", "best", "-o", tmp_path / "out")
    assert done.returncode == 1 and "no cure was found" in done.stdout
    assert (tmp_path / "out/sign/not-to-be-cut.svg").exists() and not (tmp_path / "out/sign/cured.yaml").exists()
    assert json.loads((tmp_path / "out/sign/report.json").read_text())["cures"] == []


def test_never_over_the_recipe(sign, tmp_path):
    file = sign(BEAD)
    (tmp_path / "soft.yaml").symlink_to(file)
    os.link(file, tmp_path / "hard.yaml")
    (tmp_path / "folder").mkdir()
    (tmp_path / "way").symlink_to(tmp_path)
    for name in ("sign.yaml", "soft.yaml", "hard.yaml", "folder/../sign.yaml", "way/sign.yaml"):
        for over in ([], ["--over"]):
            done = holdfast("cure", file, "--best", "-o", tmp_path / name, *over)
            assert done.returncode == 2 and "the recipe itself" in done.stderr, name
    done = holdfast("cure", tmp_path / "soft.yaml", "--best", "-o", file, "--over")
    assert done.returncode == 2 and "the recipe itself" in done.stderr
    assert file.read_text() == BEAD and (tmp_path / "hard.yaml").read_text() == BEAD


def test_never_over_another_file_unasked(sign, tmp_path):
    file, other = sign(BEAD), sign("mine\n", "other.yaml")
    (tmp_path / "dangling.yaml").symlink_to(tmp_path / "nowhere.yaml")
    for name in ("other.yaml", "dangling.yaml"):
        done = holdfast("cure", file, "--best", "-o", tmp_path / name)
        assert done.returncode == 2 and "--over" in done.stderr
    assert other.read_text() == "mine\n" and not (tmp_path / "nowhere.yaml").exists()
    assert holdfast("cure", file, "--best", "-o", other, "--over").returncode == 0
    assert "- ties" in other.read_text()
    assert holdfast("cure", file, "--best", "-o", tmp_path / "no" / "such" / "x.yaml").returncode == 3


def test_recipe_to_standard_output(sign):
    done = holdfast("cure", sign(BEAD), "--best")
    assert done.returncode == 0 and done.stdout.startswith("# for the pottery\nholdfast: 1\n")
    assert "tie" in done.stderr and holdfast("cure", sign(BEAD), "--best", "-q").stderr == ""


def test_make_with_the_best_cure(sign, tmp_path):
    file, out = sign(BEAD), tmp_path / "out"
    done = holdfast("make", file, "--cure", "best", "-o", out)
    assert done.returncode == 0 and "whole" in done.stdout and "cured: " in done.stdout
    cured = (out / "sign/cured.yaml").read_text()
    assert cured == holdfast("cure", file, "--best").stdout and "# glass later" in cured
    assert (out / "sign/metal.svg").exists() and not (out / "sign/not-to-be-cut.svg").exists()
    files = {f["name"] for f in json.loads((out / "sign/report.json").read_text())["files"]}
    assert files == set(os.listdir(out / "sign")) - {"report.json"}
    again = tmp_path / "again.yaml"
    again.write_text(cured)
    holdfast("make", again, "-o", out)
    assert (out / "again/metal.svg").read_text() == (out / "sign/metal.svg").read_text()
    holdfast("make", file, "-o", out)
    assert not (out / "sign/cured.yaml").exists() and not (out / "sign/metal.svg").exists()
    assert file.read_text() == BEAD
    whole = sign(WHOLE, "whole.yaml")
    assert holdfast("make", whole, "--cure", "best", "-o", out).returncode == 0
    assert not (out / "whole/cured.yaml").exists()
    assert holdfast("make", file, whole, sign(HOPELESS, "hopeless.yaml"), "--cure", "best", "-o", out).returncode == 1


@pytest.mark.parametrize("name", ["cured.yaml", "report.json", "cut.nc"])
def test_make_does_not_write_over_a_recipe_called_like_an_output(name, tmp_path):
    folder = tmp_path / "out" / name.split(".")[0]
    folder.mkdir(parents=True)
    for text in (BEAD, WHOLE):
        (folder / name).write_text(text)
        for options in ([], ["--cure", "best"]):
            done = holdfast("make", folder / name, "-o", tmp_path / "out", *options)
            assert done.returncode == 2 and "the recipe itself" in done.stderr
            assert os.listdir(folder) == [name] and (folder / name).read_text() == text


def test_a_cured_recipe_that_somebody_went_on_with_is_kept(sign, tmp_path):
    file, out = sign(BEAD), tmp_path / "out"
    make = ["make", file, "-o", out, "--cure", "best"]
    cured, names = out / "sign/cured.yaml", lambda: {p.name for p in (out / "sign").iterdir()}
    for _ in range(2):
        assert holdfast(*make).returncode == 0
    usual = names()
    assert not [name for name in usual if "-1" in name], "what holdfast wrote itself is no work of anybody's"
    (out / "sign/cured.yaml.backup").write_text("mine too")
    for number, options in enumerate(([], ["--cure", "best"], ["--cure", "best", "--quiet"]), start=1):
        cured.write_text(f"{BEAD}# by hand {number}\n")
        done = holdfast(*make[:4], *options)
        assert done.returncode == (0 if options else 1)
        assert (out / f"sign/cured-{number}.yaml").read_text() == f"{BEAD}# by hand {number}\n"
        assert (f"cured-{number}.yaml" in done.stdout) == ("--quiet" not in options)
    assert names() == usual | {"cured-1.yaml", "cured-2.yaml", "cured-3.yaml", "cured.yaml.backup"}
    assert holdfast(*make).returncode == 0 and "cured-4.yaml" not in names()


def test_a_full_disk_behind_standard_output_is_told(sign):
    file = sign(BEAD)
    for words in (["cure", file, "--best"], ["cure", file, "--json"], ["cure", file], ["check", file, "--json"]):
        with open("/dev/full", "w") as full:
            done = subprocess.run([HOLDFAST, *words], stdout=full, stderr=subprocess.PIPE, text=True)
        assert done.returncode == 3 and "not complete" in done.stderr, words


def test_standard_output_closed(sign, tmp_path):
    """A file that is written does not get the number of what is closed, and the words with it."""
    file, to = sign(BEAD), tmp_path / "cured.yaml"
    done = subprocess.run(f"'{HOLDFAST}' cure '{file}' --best -o '{to}' <&- >&- 2>&-", shell=True)
    assert done.returncode == 0 and to.read_text() == holdfast("cure", file, "--best").stdout


def halves(shown):
    """Before and after: side by side, or one above the other where the sign is wide."""
    middle = shown.height // 2
    if shown.height < 0.56 * shown.width:
        return shown.crop((0, 0, 230, shown.height)), shown.crop((250, 0, 480, shown.height))
    return shown.crop((0, 0, shown.width, middle - 10)), shown.crop((0, middle + 10, shown.width, shown.height))


def test_pictures(sign, tmp_path):
    secret = sign(CUT.replace("BAKERY", "ROSES"))
    folder = tmp_path / "look"
    folder.mkdir()
    for name in ("cure-99.svg", "cure-notes.svg", "cure-1.svg.txt"):
        (folder / name).write_text("old")
    n = len(cures_of(secret, "--pictures", folder)["cures"])
    assert n >= 1
    assert set(os.listdir(folder)) >= {f"cure-{i + 1}.svg" for i in range(n)} | {"cures.svg", "cure-notes.svg", "cure-1.svg.txt"}
    assert not (folder / "cure-99.svg").exists()
    for file in folder.glob("cure*.svg"):
        text = file.read_text()
        if text == "old":
            continue
        xml.fromstring(text)
        assert "ROSES" not in text and "/" + "tmp" not in text
        assert file.name == "cures.svg" or "<text" not in text
        assert len(text) < 200_000 * max(n, 1)
    picture = tmp_path / "one.png"
    subprocess.run(["rsvg-convert", folder / "cure-1.svg", "-o", picture], check=True)
    from PIL import Image
    shown = Image.open(picture).convert("RGB")
    assert shown.width == 480
    hot = [sum(abs(r - 0xB4) + abs(g - 0x48) + abs(b - 0x1A) < 60 for r, g, b in half.getdata())
           for half in halves(shown)]
    assert hot[0] == 0 and hot[1] > 20, "ties come: marked in the second panel only"


def test_shown_as_they_come(sign):
    """On a terminal each cure is told when it is found; the numbered list still goes to standard output."""
    master, slave = pty.openpty()
    done = subprocess.run([HOLDFAST, "cure", sign(CUT)], stdout=subprocess.PIPE, stderr=slave, text=True)
    os.close(slave)
    told = b""
    try:
        while chunk := os.read(master, 65536):
            told += chunk
    except OSError:
        pass
    os.close(master)
    assert b"found: " in told and b"changes tried" in told and "found: " not in done.stdout


def hears(pid, number):
    """Does the process take the signal itself, by a handler or by a thread that waits for it? proc(5): SigCgt, SigBlk."""
    status = pathlib.Path(f"/proc/{pid}/status").read_text()
    return any(int(re.search(rf"^{mask}:\s*(\w+)", status, re.M)[1], 16) >> (number - 1) & 1 for mask in ("SigCgt", "SigBlk"))


@pytest.mark.parametrize("number", [signal.SIGINT, signal.SIGTERM])
def test_stopped(number, tmp_path, sign):
    words = "Saltmarsh Quay Boat Yard and Pottery by the Seashore"
    file = sign(HEAD + "entries:\n  - plate: {shape: round, diameter: 1100 mm}\n"
                f"  - words: {{text: {words}, font: Bebas Neue, height: 80 mm, arc radius: 400 mm, at: top, as: opening}}\n")
    for command in (["cure", file, "--best", "-o", tmp_path / "x.yaml"], ["make", file, "--cure", "best", "-o", tmp_path / "out"]):
        running = subprocess.Popen([HOLDFAST, *map(str, command)], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        while not hears(running.pid, number):
            assert running.poll() is None, "it has ended before it could be stopped"
            time.sleep(0.01)
        running.send_signal(number)
        assert running.wait(300) == 130
    assert sorted(os.listdir(tmp_path)) == ["sign.yaml"]


def test_says_what_is_looked_for_beside(tmp_path):
    one, two = tmp_path / "one", tmp_path / "two"
    one.mkdir(), two.mkdir()
    (one / "sign.yaml").write_text(BEAD.replace("process: {kerf: 1.5 mm}   # measured\n", ""))
    (one / "shop.yaml").write_text("holdfast: 1\nkerf: 1.5 mm\n")
    done = holdfast("cure", one / "sign.yaml", "--best", "-o", two / "cured.yaml")
    assert done.returncode == 0 and "shop.yaml" in done.stdout
    done = holdfast("cure", one / "sign.yaml", "--best", "-o", one / "cured.yaml")
    assert done.returncode == 0 and "shop.yaml" not in done.stdout
    assert holdfast("check", one / "cured.yaml").returncode == 0


def test_a_tie_wider_than_asked_for_is_said(sign):
    """3.6 mm is the limit of a web, 2 mm was asked for: the width that was taken stands in report and verdict."""
    rule = CUT + "  - ties: {name: bars, width: 2 mm}\n"
    report = cures_of(sign(rule))
    solved = [s for s in report["solved"] if s["what"] == "tie width"]
    assert [s["entry"] for s in solved] == ["bars"] and solved[0]["value"] >= 3
    assert any("2 mm" in note and "bars" in note for note in report["notes"])
    assert "tie width of bars: 3" in holdfast("check", sign(rule)).stdout
    assert not [s for s in cures_of(sign(rule.replace("2 mm}\n", "5 mm}\n")))["solved"] if s["what"] == "tie width"]


# ---- families (what a maker does; each cured sign made anew from its own recipe) ------------------------------------

def test_shop_that_lowers_dots_has_the_cure_that_its_recipe_makes(sign):
    """The metal of the cure is that of the recipe that is written: the shop's habit moves letters, ties alone do not."""
    file = sign(STANDING)
    (file.parent / "shop.yaml").write_text("holdfast: 1\nties: {dots: lowered}\n")
    done = holdfast("make", file, "--cure", "best", "-o", "out", "--pixels", "200", cwd=file.parent)
    assert done.returncode == 0, done.stdout
    (file.parent / "again.yaml").write_text((file.parent / "out/sign/cured.yaml").read_text())
    assert holdfast("make", "again.yaml", "-o", "out", "--pixels", "200", cwd=file.parent).returncode == 0
    cured, again = (reading.rings_of_svg(file.parent / "out" / name / "metal.svg") for name in ("sign", "again"))
    assert cured == again


def offered(sign, text):
    done = holdfast("cure", sign(text), "--json")
    return json.loads(done.stdout)["cures"]


def radii(svg, centre=(0, 0)):
    """Nearest and farthest of each ring of the outline, seen from its middle."""
    return [(min(math.dist(p, centre) for p in ring), max(math.dist(p, centre) for p in ring)) for ring in svg]


def test_words_on_an_arc_go_to_the_middle_of_their_strip(sign):
    """Source: the middle of a strip of 110 mm in a ring of 400 mm is at a radius of 145 mm: geometry."""
    file = sign(HEAD + "entries:\n  - ring: {name: hoop, outer: 400 mm, width: 110 mm}\n"
                "  - words: {name: w, text: LILT, font: Bebas Neue, height: 40 mm, spacing: 15 %, arc radius: 70 mm, at: top, as: opening}\n")
    done = holdfast("make", file, "--cure", "best", "-o", "out", "--pixels", "200", cwd=file.parent)
    assert done.returncode == 0, done.stdout
    rings = reading.rings_of_svg(file.parent / "out/sign/metal.svg")
    xs, ys = zip(*(p for ring in rings for p in ring))
    centre = ((min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2)
    ink = [(near, far) for near, far in radii(rings, centre) if 91 < near and far < 199]
    assert len(ink) == 4
    assert (min(near for near, _ in ink) + max(far for _, far in ink)) / 2 == pytest.approx(145, abs=0.3)


def test_a_bar_that_ends_short_of_its_ring_is_longer(sign):
    """Source: half the chord of a circle of 90 mm at a height of 6 mm is sqrt(90^2 - 6^2): the corners of the bar bite all along."""
    cures = offered(sign, HEAD + "entries:\n  - ring: {name: hoop, outer: 200 mm, width: 10 mm}\n"
                    "  - bar: {name: rail, length: 160 mm, height: 12 mm}\n")
    longer = next(cure for cure in cures if cure["key"] == "longer")
    assert longer["whole"]
    length = float(re.fullmatch(r"make rail ([\d.]+) mm long, so that it runs into hoop at both ends", longer["sentence"])[1])
    assert 2 * math.sqrt(90 ** 2 - 6 ** 2) < length < 200


def test_a_knob_does_not_end_where_nobody_reads_the_sign(sign):
    """Seed 103: 68 mm letters are whole with an accent hidden by half; 61 mm letters are, and it shows."""
    sys.path.insert(0, str(TOP / "tests" / "oracle"))
    import cure_signs
    cures = offered(sign, cure_signs.recipe(103, HOLDFAST)[0])
    assert cures and cures[0]["whole"] and cures[0]["key"] == "room", cures


def test_a_wedge_between_two_plates_has_a_cure(sign):
    """Source: plane geometry. The wedge is 200 mm long and opens by 0.5 degrees, 1.75 mm: so far over, none of it is left."""
    plate = "plate: {name: %s, shape: rectangle, width: 100 mm, height: 200 mm%s}\n"
    cures = offered(sign, HEAD + "entries:\n  - " + plate % ("a", "") + "  - " + plate % ("b", ", right of: a, turn: -0.5 deg, shift: [-0.1 mm, 0 mm]"))
    assert cures[0]["key"] == "overlap" and cures[0]["whole"], cures
    assert 1 < float(re.search(r"set b ([\d.]+) mm further over a", cures[0]["sentence"])[1]) < 200 * math.tan(math.radians(0.5)) + 1


@pytest.mark.parametrize("entries, says", [
    (["bar: {name: rail, length: 260 mm, height: 20 mm}",
      'words: {name: w, text: "Cafe 869 Rose", font: DejaVu Serif, height: 9 mm, stand on: rail}'],
     r"another face for w, stouter and more open: in letter '.' of \"Cafe 869 Rose\" there is 0\.\d+ mm of (metal|room), and [\d.]+ mm is needed, [\d.]+ times as much"),
    (["bar: {name: rail, length: 300 mm, height: 20 mm}",
      'words: {name: w, text: "ÉÀÜÖ", font: {family: DejaVu Sans, style: Bold}, height: 50 mm, stand on: rail}',
      "plate: {name: lid, shape: rectangle, width: 60 mm, height: 60 mm, at: [0 mm, 40 mm]}"],
     r'plate "lid" lies there: move it, make it smaller, or take it out'),
])
def test_no_cure_says_what_would_have_to_give(tmp_path, entries, says):
    """Where no change cures it, the reason is told and what a person would have to change: not only where it is a matter of size."""
    recipe = tmp_path / "sign.yaml"
    recipe.write_text("holdfast: 1\nmetal: {kind: mild steel, thickness: 2 mm}\nprocess: {kerf: 1.2 mm}\nentries:\n"
                      + "".join(f"  - {entry}\n" for entry in entries))
    done = holdfast("cure", recipe)
    assert "what no change takes away" in done.stdout
    assert re.search("what would have to give: " + says, done.stdout), done.stdout


@pytest.mark.parametrize("entries, says", [
    (["bar: {name: rail, length: 300 mm, height: 20 mm}", "bar: {name: top, length: 300 mm, height: 20 mm, above: w, gap: -17 mm}",
      'words: {name: w, text: "ÉÀÜÖ", font: {family: DejaVu Sans, style: Bold}, height: 50 mm, stand on: rail}'],
     r"set top [\d.]+ mm further from w, and .*"),
    (["plate: {name: board, shape: rectangle, width: 330 mm, height: 110 mm}",
      'words: {name: w, text: "OPEN", font: {family: DejaVu Sans, style: Bold}, height: 60 mm, as: opening}',
      "tie: {of: 1st E of w, em: [0.3, 0.35], direction: top, width: 24 mm, length: 90 mm}", "ties: {}"],
     r"take out the tie of 1st E of w"),
])
def test_what_hides_a_letter_gives_way(sign, entries, says):
    """A bar over the marks of words and a tie put by hand over a letter: what hides goes, the letters stay as they are (common practice)."""
    cures = offered(sign, "holdfast: 1\nmetal: {kind: mild steel, thickness: 2 mm}\nprocess: {kerf: 1.2 mm}\nentries:\n"
                    + "".join(f"  - {entry}\n" for entry in entries))
    assert cures[0]["whole"] and re.fullmatch(says, cures[0]["sentence"]), cures
