# SPDX-License-Identifier: GPL-3.0-or-later
"""Sheets one behind the other, from outside: outlines of each layer as ezdxf reads them, held against
shapely's booleans of the same plates and holes, and against each other.

Figure of the issue: two layers' holes coincide to 0.001 mm. Areas to 0.02 %, as of all outlines
(test_outlines.py).
"""
import json
import math
import random
import re
import subprocess

import ezdxf
import numpy as np
import pytest
from PIL import Image
from shapely.geometry import Point, box
from shapely.ops import unary_union

from conftest import holdfast
from serving import Serving

HEAD = """holdfast: 1
metal: {kind: mild steel, thickness: 3 mm}
process: {kerf: 1.5 mm}
back: {metal: mild steel, thickness: 2 mm, kerf: 1.2 mm, behind: 20 mm}
"""
COINCIDE = 0.001


def outlines(file):
    """(circles as (x, y, r), bulged polylines as lists of points) of a DXF, millimetres."""
    space = ezdxf.readfile(file).modelspace()
    circles, others = [], []
    for entity in space:
        if entity.dxftype() == "CIRCLE":
            circles.append((entity.dxf.center.x, entity.dxf.center.y, entity.dxf.radius))
        elif entity.dxftype() == "LWPOLYLINE":
            others.append([(p[0], p[1]) for p in entity.get_points("xyb")])
    return circles, others


def area(file):
    """Of rectangles with round holes: the largest outline of each is metal, circles are not."""
    circles, others = outlines(file)
    rectangles = [box(min(x for x, _ in o), min(y for _, y in o), max(x for x, _ in o), max(y for _, y in o)) for o in others]
    return unary_union(rectangles).area - sum(math.pi * r * r for _, _, r in circles)


def signs(seed):
    """A board behind a face with holes of both: the recipe, the face, the board, the holes."""
    rng = random.Random(seed)
    wide, high = rng.uniform(300, 900), rng.uniform(160, 400)
    inner_w, inner_h = wide * rng.uniform(0.5, 0.7), high * rng.uniform(0.4, 0.6)
    x, y = rng.uniform(-20, 20), rng.uniform(-10, 10)
    r = rng.uniform(3, 6)
    entries = [f"  - plate: {{name: board, shape: rectangle, width: {wide:.4f} mm, height: {high:.4f} mm, layer: back}}",
               f"  - plate: {{name: face, shape: rectangle, width: {inner_w:.4f} mm, height: {inner_h:.4f} mm, at: [{x:.4f} mm, {y:.4f} mm]}}"]
    face = box(x - inner_w / 2, y - inner_h / 2, x + inner_w / 2, y + inner_h / 2)
    board = box(-wide / 2, -high / 2, wide / 2, high / 2)
    holes = []
    for i, side in enumerate((-1, 1)):
        through = (x + side * (inner_w / 2 - 20 - r), y + rng.uniform(-10, 10))
        only = (side * (wide / 2 - 20 - r), rng.uniform(-20, 20))
        holes += [through, only]
    spots = ", ".join(f"[{a:.4f} mm, {b:.4f} mm]" for a, b in holes)
    entries.append(f"  - hole: {{name: screws, diameter: {2 * r:.4f} mm, at: [{spots}]}}")
    return HEAD + "entries:\n" + "\n".join(entries) + "\n", face, board, [(a, b, r) for a, b in holes]


@pytest.mark.parametrize("seed", range(12))
def test_holes_coincide(make, seed):
    text, face, board, holes = signs(seed)
    made = make(text)
    assert made.code == 0, made.out + made.err
    front, back = made.folder / "metal.dxf", made.folder / "back-metal.dxf"
    mine, theirs = outlines(front)[0], outlines(back)[0]
    disc = [Point(a, b).buffer(r, 64) for a, b, r in holes]
    assert len(mine) == sum(face.contains(d) for d in disc) == 2
    assert len(theirs) == sum(board.contains(d) for d in disc) == 4
    for x, y, r in mine:
        there = [(u, v, s) for u, v, s in theirs if math.hypot(u - x, v - y) <= COINCIDE and abs(s - r) <= COINCIDE]
        assert len(there) == 1, (x, y, r, theirs)
    left, bottom = board.bounds[:2]  # both files begin at the lower left of the whole sign
    for a, b, r in holes:
        assert any(math.hypot(u - (a - left), v - (b - bottom)) <= COINCIDE for u, v, _ in theirs)
    for file, sheet, circles in ((front, face, mine), (back, board, theirs)):
        expected = sheet.area - sum(math.pi * r * r for _, _, r in circles)
        assert area(file) == pytest.approx(expected, rel=2e-4), file.name


SLOT = "  - ring: {name: slot, outer: 60 mm, inner: 50 mm, on: board, as: opening}\n"
BOTH = """entries:
  - plate: {name: board, shape: rectangle, width: 300 mm, height: 120 mm, layer: back}
  - plate: {name: face, shape: rectangle, width: 260 mm, height: 80 mm}
  - hole: {name: screws, diameter: 6 mm, at: [[-110 mm, 0 mm], [110 mm, 0 mm]]}
"""


def names(folder):
    return {path.name for path in folder.iterdir() if not path.name.startswith(".")}


def test_a_stop_in_the_back_is_one_of_the_sign(make):
    """Verdict, exit code, names, proof and report all say so; nothing of the whole sign is left."""
    made = make(HEAD + BOTH)
    assert made.code == 0
    assert {"metal.svg", "metal.dxf", "back-metal.svg", "back-metal.dxf"} <= names(made.folder)
    assert "agreed as drawn" in paper(made.folder)
    made = make(HEAD + BOTH + SLOT)
    assert made.code == 1
    there = names(made.folder)
    assert {"not-to-be-cut.svg", "not-to-be-cut.dxf", "back-not-to-be-cut.svg", "back-not-to-be-cut.dxf"} <= there
    assert not any("metal" in name for name in there)
    said = paper(made.folder)
    assert "agreed as drawn" not in said and "Not for signing" in said and "back:" in paper(made.folder, "shop-sheet")
    report = json.loads((made.folder / "report.json").read_text())
    assert report["verdict"] == "not whole"
    assert [layer["verdict"] for layer in report["layers"]] == ["whole", "not whole"]
    assert {f["layer"] for f in report["findings"] if f["gravity"] == "stop"} == {"back"}
    for name in ("not-to-be-cut.svg", "back-not-to-be-cut.svg"):
        assert "NOT TO BE CUT" in (made.folder / name).read_text(), name
    made = make(HEAD.replace("back:", "middle:") + BOTH.replace("layer: back", "layer: middle"))
    assert made.code == 0
    assert {n for n in names(made.folder) if n.endswith((".svg", ".dxf"))} == {
        "metal.svg", "metal.dxf", "middle-metal.svg", "middle-metal.dxf", "plan.svg", "middle-plan.svg"}


def paper(folder, name="proof"):
    done = subprocess.run(["pdftotext", "-layout", str(folder / f"{name}.pdf"), "-"], capture_output=True, text=True, check=True, timeout=60)
    return done.stdout


def test_a_cure_of_the_back_is_found(tmp_path):
    recipe = tmp_path / "sign.yaml"
    recipe.write_text(HEAD + BOTH + SLOT)
    done = holdfast("cure", recipe, "--best", "-o", tmp_path / "cured.yaml")
    assert done.returncode == 0, done.stdout + done.stderr
    done = holdfast("check", tmp_path / "cured.yaml", "--json")
    assert done.returncode == 0
    report = json.loads(done.stdout)
    assert [layer["verdict"] for layer in report["layers"]] == ["whole", "whole"]


def test_layers_leave_each_other_alone(tmp_path):
    """The front's figures are those of the same recipe without its back, and the other way round."""
    front = "  - words: {name: name, text: Marsh, font: DejaVu Sans, height: 60 mm}\n"
    back = "  - plate: {name: board, shape: oval, width: 500 mm, height: 200 mm%s}\n"
    alone = "alone: [name]\n"
    found = {}
    sheets = {"both": (HEAD + alone + "entries:\n" + front + back % ", layer: back", None),
              "front": (HEAD.replace(HEAD.splitlines()[3] + "\n", "") + alone + "entries:\n" + front, 0),
              "back": ("holdfast: 1\nmetal: {kind: mild steel, thickness: 2 mm}\nprocess: {kerf: 1.2 mm}\nentries:\n" + back % "", 1)}
    for name, (text, _) in sheets.items():
        recipe = tmp_path / f"{name}.yaml"
        recipe.write_text(text)
        done = holdfast("check", recipe, "--json")
        assert done.returncode == 0, done.stdout + done.stderr
        found[name] = json.loads(done.stdout)
    for name in ("front", "back"):
        own = found["both"]["layers"][sheets[name][1]]
        assert own["figures"] == found[name]["figures"]
        assert own["process"] == found[name]["process"]
        assert own["limits"] == found[name]["limits"]


def test_the_page_shows_both(tmp_path):
    """What the server tells the page: both sheets, and the one verdict of both."""
    recipe = tmp_path / "sign.yaml"
    recipe.write_text(HEAD + BOTH + SLOT)
    with Serving(recipe, state=tmp_path / "state") as page:
        page.listen()
        page.hear("view", lambda it: "verdict" in it)
        view = page.state["view"]
    assert view["verdict"]["whole"] is False
    assert [(sheet["layer"], sheet["whole"], sheet["thickness"], sheet["behind"]) for sheet in view["behind"]] == [("back", False, 2, 20)]
    assert [part["loose"] for part in view["parts"]] == [False]
    assert sorted(part["loose"] for part in view["behind"][0]["parts"]) == [False, True]
    assert any(it["gravity"] == "stop" and it["text"].startswith("back: ") for it in view["findings"])


# ---- finish and template, sheet by sheet ------------------------------------------------------------------------------


TWO = """holdfast: 1
metal: {kind: mild steel, thickness: 3 mm}
process: {kerf: 1.4 mm}
finish: %s
back: {metal: %s, thickness: 2 mm, kerf: 1.2 mm, behind: 20 mm%s}
mount: holes
wall: white
entries:
  - plate: {name: face, shape: rectangle, width: 300 mm, height: 200 mm}
  - hole: {screw: M6, on: face, from corners: 20 mm}
  - plate: {name: board, shape: outline, around: [face], grow: 30 mm, layer: back}
  - hole: {name: wall, diameter: 9 mm, on: board, at: [165 mm, 0 mm], hanging: no}
"""


def test_each_sheet_has_its_finish(make):
    """Two-colour: what is seen of the back, 15 mm outside the face, is yellow, the face black (RAL 1003 and 9005 as they go round in public)."""
    made = make(TWO % ("powder coat RAL 9005", "mild steel", ", finish: powder coat RAL 1003"))
    assert made.code == 0, made.err
    front, back = made.report["layers"]
    assert (front["finish"]["ral"], back["finish"]["ral"], made.report["finish"]["ral"]) == (9005, 1003, 9005)
    pixels = np.asarray(Image.open(made.folder / "proof.png").convert("RGB")).astype(int)
    yellow = (pixels[..., 0] > 180) & (pixels[..., 1] > 110) & (pixels[..., 2] < 90)
    black = pixels.max(axis=2) < 60
    rows, columns = np.flatnonzero(yellow.sum(axis=1) > 50), np.flatnonzero(yellow.sum(axis=0) > 50)
    assert (columns[-1] - columns[0]) / (rows[-1] - rows[0]) == pytest.approx(360 / 260, rel=0.03)
    scale = 360 / (columns[-1] - columns[0] + 1)
    assert black.sum() * scale ** 2 == pytest.approx(300 * 200, rel=0.05)
    text = subprocess.run(["pdftotext", made.folder / "proof.pdf", "-"], capture_output=True, text=True, check=True).stdout
    assert "front powder coat RAL 9005" in " ".join(text.split()) and "back powder coat RAL 1003" in " ".join(text.split())


def test_the_back_is_finished_as_the_front_unless_it_can_not(make):
    assert [it["finish"]["kind"] for it in make(TWO % ("oiled", "mild steel", "")).report["layers"]] == ["oiled", "oiled"]
    assert [it["finish"]["kind"] for it in make(TWO % ("rusted", "stainless steel", ""), name="b").report["layers"]] == ["rusted", None]
    refused = make(TWO % ("raw", "stainless steel", ", finish: rusted"), name="c")
    assert refused.code == 2 and "stainless steel does not rust" in refused.err and ":5:" in refused.err


def test_template_of_each_sheet(make):
    """The same hole has the same number and place on the page of either sheet; what is in the back alone is on its pages alone."""
    made = make(TWO % ("raw", "mild steel", ""), "--also", "template")
    assert made.code == 0, made.err
    file = made.folder / "template.pdf"
    words = subprocess.run(["pdftotext", "-bbox", file, "-"], capture_output=True, text=True, check=True).stdout
    places = {}
    for page in words.split("<page ")[1:]:
        said = re.findall(r'xMin="([\d.]+)" yMin="([\d.]+)" [^>]*>([^<]*)</word>', page)
        sheet = next(word for _, _, word in said if word in ("front", "back"))
        tile = said_tile(said)
        for (x, y, word), (_, _, number) in zip(said, said[1:]):
            if word == "hole" and number.endswith(":"):
                places.setdefault((sheet, tile), {})[number] = (float(x), float(y))
    front = {(tile, number): at for (sheet, tile), holes in places.items() if sheet == "front" for number, at in holes.items()}
    back = {(tile, number): at for (sheet, tile), holes in places.items() if sheet == "back" for number, at in holes.items()}
    assert len({number for _, number in front}) == 4 and len({number for _, number in back}) == 5
    for key, at in front.items():
        assert back[key] == pytest.approx(at, abs=0.01)


def said_tile(said):
    """The name of the page: the lowest word of a letter and a figure."""
    names = [(float(y), word) for _, y, word in said if re.fullmatch(r"[A-Z]\d", word)]
    return max(names)[1] if names else ""
