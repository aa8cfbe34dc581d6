# SPDX-License-Identifier: GPL-3.0-or-later
"""Drawings that come in, against pictures that others made of them: the yardstick's 570 files with the
reference pictures of a general-purpose renderer (see docs/decisions/0017-drawings-in.md). Shape
against shape at the picture's size: at most 1 % of the pixels may differ outside a band of one pixel
about the edges of either."""
import collections
import functools
import hashlib
import json
import os
import pathlib
import subprocess
import tempfile

import numpy as np
import pytest
from PIL import Image, ImageDraw
from scipy import ndimage

HERE = pathlib.Path(__file__).parent
DUMP = HERE.parents[1] / "build" / "tests" / "tools" / "drawing_dump"
YARDSTICK = pathlib.Path(os.environ.get("HOLDFAST_YARDSTICKS", HERE.parents[2] / "shared" / "data")) / "svg"
FINE = 2  # chords are filled at so many times the picture's size
MOST = 0.01
LEAST_SHARE = 0.97


def left_out() -> dict[str, str]:
    lines = (HERE / "drawings-left-out.txt").read_text().splitlines()
    return dict(line.split("\t") for line in lines if line and not line.startswith("#"))


def files() -> list[pathlib.Path]:
    out = left_out()
    found = []
    for path in sorted(YARDSTICK.rglob("*.svg")):
        name = path.relative_to(YARDSTICK)
        if name.parts[0] != "resources" and str(name) not in out and "/".join(name.parts[:2]) not in out:
            found.append(path)
    return found


# The faces by which the pictures were made, as the yardstick's README has them.
FACES = ["=Noto Sans", "sans-serif=Noto Sans", "serif=Noto Serif", "cursive=Yellowtail", "fantasy=Sedgwick Ave Display",
         "monospace=Noto Mono"]


@functools.cache
def with_its_fonts() -> dict[str, str]:
    """The environment in which only the yardstick's own fonts are installed."""
    at = pathlib.Path(tempfile.mkdtemp(prefix="holdfast-fonts"))
    (at / "fonts.conf").write_text(f"""<?xml version="1.0"?><!DOCTYPE fontconfig SYSTEM "fonts.dtd">
<fontconfig><dir>{YARDSTICK / "fonts"}</dir><cachedir>{at}</cachedir></fontconfig>""")
    return dict(os.environ, FONTCONFIG_FILE=str(at / "fonts.conf"))


def reading(path: pathlib.Path) -> tuple[dict | None, str]:
    ran = subprocess.run([DUMP, path, *FACES], capture_output=True, text=True, timeout=60, env=with_its_fonts())
    assert ran.returncode in (0, 2), f"{path}: {ran.stderr}"
    return (json.loads(ran.stdout) if ran.returncode == 0 else None), ran.stderr


def area(ring: list) -> float:
    x, y = np.array(ring).T
    return float(np.dot(x, np.roll(y, -1)) - np.dot(y, np.roll(x, -1))) / 2


def fill(rings: list, to_pixel, size: tuple[int, int]) -> np.ndarray:
    """Rings that do not cross: the larger first, metal in those that turn one way, none in the others."""
    shape = Image.new("1", size)
    pen = ImageDraw.Draw(shape)
    for ring in sorted(rings, key=lambda r: -abs(area(r))):
        pen.polygon([to_pixel(p) for p in ring], fill=int(area(ring) > 0))
    return np.asarray(shape)


def drawn(found: dict | None, size: tuple[int, int]) -> np.ndarray:
    """All pieces as metal, at the picture's size."""
    fine = (size[0] * FINE, size[1] * FINE)
    all_of_it = np.zeros((fine[1], fine[0]), bool)
    if found is None:
        return all_of_it[::FINE, ::FINE]
    x0, y0, x1, y1 = found["page"]
    if x0 is None:  # no page: the picture shows the box of what is drawn
        xs = [p for piece in found["pieces"] for c in piece["rings"] for p in c]
        x0, x1 = min(p[0] for p in xs), max(p[0] for p in xs)
        y0, y1 = min(p[1] for p in xs), max(p[1] for p in xs)
    for piece in found["pieces"]:
        all_of_it |= fill(piece["rings"], lambda p: ((p[0] - x0) / (x1 - x0) * fine[0], (y1 - p[1]) / (y1 - y0) * fine[1]), fine)
    return all_of_it.reshape(size[1], FINE, size[0], FINE).mean((1, 3)) >= 0.5


def shape_of(picture: Image.Image) -> np.ndarray:
    return np.asarray(picture.convert("RGBA"))[:, :, 3] >= 16


def band(shape: np.ndarray) -> np.ndarray:
    around = np.ones((3, 3), bool)
    return ndimage.binary_dilation(shape, around) & ~ndimage.binary_erosion(shape, around, border_value=1)


def difference(path: pathlib.Path) -> tuple[float, str]:
    picture = Image.open(path.with_suffix(".png"))
    found, why = reading(path)
    ours, theirs = drawn(found, picture.size), shape_of(picture)
    return float(((ours != theirs) & ~band(ours) & ~band(theirs)).mean()), why.strip()


def off(path: pathlib.Path) -> tuple[float, str]:
    """For letters, whose strokes a band of a pixel would hide: how much of either shape lies more than a pixel off
    the other, as a share of the picture's."""
    picture = Image.open(path.with_suffix(".png"))
    found, why = reading(path)
    ours, theirs = drawn(found, picture.size), shape_of(picture)
    around = np.ones((3, 3), bool)
    far = (ours & ~ndimage.binary_dilation(theirs, around)) | (theirs & ~ndimage.binary_dilation(ours, around))
    return float(far.sum() / max(theirs.sum(), 1)), why.strip()


# Where we and the pictures differ, and why we stay with what the standard says.
EXPLAINED = {
    "tests/shapes/rect/q-values.svg": "CSS Values 3, 6.2 has the unit Q; the picture shows nothing",
    "tests/shapes/rect/ch-values.svg": "CSS Values 3, 6.1 has the unit ch; the picture shows nothing",
    "tests/shapes/rect/lh-values.svg": "CSS Values 4 has the unit lh; the picture shows nothing",
    "tests/structure/symbol/with-transform.svg": "SVG 2, 5.5 lets a symbol be transformed; the picture goes by 1.1",
    "tests/text/font-size/named-value-without-a-parent.svg": "CSS Fonts 4, 2.5: the sizes that have names are of a medium of 16 px, as browsers have it; the picture's of 12",
    "tests/text/font-size/named-value.svg": "as above",
    "tests/text/font-weight/650.svg": "CSS Fonts 4, 2.2: any weight from 1 to 1000 is one; the picture takes hundreds only",
    "tests/text/letter-spacing/mixed-scripts.svg": "CSS Text 3, 8.2: none at the end of the line nor in a joined script; the picture has some of it",
    "tests/text/text/complex-graphemes-and-coordinates-list.svg": "its own words: the second place is told to an accent, and counts for nothing; the picture moves the accent",
    "tests/text/textPath/dy-with-tiny-coordinates.svg": "SVG 2, 11.5: what dy moves stays moved until a place is told; the picture begins anew on the second path",
    "tests/text/textPath/invalid-textPath-in-the-middle.svg": "what lies along no path is not there, nor its blanks; the picture keeps its blanks",
    "tests/text/textPath/side=right.svg": "SVG 2, 11.8.1 has it; the picture takes no notice",
    "tests/text/textPath/very-long-text.svg": "SVG 2, 11.8.3: text behind goes on where the path ends; in the picture beyond it",
    "tests/text/textPath/with-path-and-xlink-href.svg": "SVG 2, 11.8.1 has the attribute path; the picture takes no notice",
    "tests/text/tspan/mixed-font-size.svg": "letters of two sizes are no pair to be kerned; the picture kerns them",
    "tests/text/tspan/text-shaping-across-multiple-tspan-2.svg": "letters of two faces are no pair to be kerned; the picture kerns them",
}


@pytest.mark.skipif(not YARDSTICK.is_dir(), reason="the yardstick is not here: set HOLDFAST_YARDSTICKS")
def test_shapes_are_those_of_the_pictures():
    right, all_of_them, wrong = collections.Counter(), collections.Counter(), {}
    for path in files():
        name = str(path.relative_to(YARDSTICK))
        folder = name.rsplit("/", 1)[0]
        share, why = off(path) if folder.startswith("tests/text/") else difference(path)
        all_of_them[folder] += 1
        right[folder] += share <= MOST
        if share > MOST:
            wrong[name] = f"{share:.3f} {why}"
    for folder in all_of_them:
        print(f"{folder}: {right[folder]} of {all_of_them[folder]}")
    print(f"all: {right.total()} of {all_of_them.total()}")
    print("\n".join(f"{name}: {why}" for name, why in wrong.items()))
    assert right.total() >= LEAST_SHARE * all_of_them.total(), wrong
    assert set(wrong) == set(EXPLAINED), "explain each failure, and none that is none"


# ---- in a recipe ---------------------------------------------------------------------------------

HEAD = "holdfast: 1\nmetal: {kind: mild steel, thickness: 3 mm}\nprocess: {kerf: 1.5 mm}\nentries:\n"
SVG = '<svg xmlns="http://www.w3.org/2000/svg" width="200mm" height="100mm" viewBox="0 0 200 100">'
BOAT = SVG + """<g id="boat"><rect id="hull" width="200" height="40"/><circle id="port" cx="100" cy="20" r="10" fill="#fff"/></g>
<rect id="mast" x="90" y="40" width="20" height="60"/></svg>"""


@pytest.fixture
def drawn_in(make, tmp_path):
    def it(said, drawing=BOAT, more=""):
        (tmp_path / "boat.svg").write_text(drawing)
        return make(f"{HEAD}{more}  - drawing: {{name: boat, file: boat.svg, {said}}}\n")

    return it



@pytest.mark.parametrize("said, area", [
    ("width: 400 mm, white is: opening", 4 * (8000 + 1200 - np.pi * 100)),
    ("width: 400 mm, white is: metal", 4 * 9200),
    ("height: 50 mm, white is: nothing", 9200 / 4),
    ("box: [100 mm, 100 mm], white is: metal", 9200 / 4),
    ("white is: metal", 9200),
    ("piece: mast, width: 20 mm", 1200),
    ("piece: boat, width: 200 mm, white is: opening", 8000 - np.pi * 100),
])
def test_a_drawing_is_as_large_as_said(drawn_in, said, area):
    """Areas of rectangles and a circle; the sheet weighs 7850 kg/m3 (docs/limits.md), 3 mm thick."""
    made = drawn_in(said)
    assert made.report["figures"]["mass"] == pytest.approx(area * 3 * 7850e-9, rel=1e-3), made.out + made.err


def test_white_is_asked_for_where_the_metal_hangs_on_it(drawn_in):
    made = drawn_in("width: 200 mm")
    assert made.code == 2 and 'say "white is: opening"' in made.err
    assert drawn_in("width: 200 mm, piece: mast").code == 0
    page = BOAT.replace('<g id="boat">', '<rect width="200" height="100" fill="white"/><g>')
    assert drawn_in("width: 200 mm", page).code == 2


def test_findings_name_the_piece(drawn_in):
    """Two rectangles apart: the second one stands alone."""
    apart = SVG + '<rect width="200" height="40"/><rect y="60" width="30" height="30"><title>the buoy</title></rect></svg>'
    made = drawn_in("width: 200 mm", apart)
    assert made.code == 1 and 'rectangle "the buoy" of drawing "boat"' in made.out


def test_cut_through_a_plate(drawn_in):
    plate = "  - plate: {name: board, shape: rectangle, width: 300 mm, height: 200 mm}\n"
    made = drawn_in("width: 200 mm, white is: metal, as: opening, on: board", more=plate)
    assert made.report["figures"]["mass"] == pytest.approx((60000 - 9200) * 3 * 7850e-9, rel=1e-3)


@pytest.mark.parametrize("said, why", [
    ("piece: sail, width: 200 mm", 'no piece called "sail"'),
    ("width: 200 mm, height: 100 mm", "width"),
    ("width: 200 mm, white is: red", "opening"),
])
def test_mistakes_are_told(drawn_in, said, why):
    made = drawn_in(said)
    assert made.code == 2 and why in made.err


def test_files_lie_beside_the_recipe(make, tmp_path):
    elsewhere = tmp_path / "elsewhere"
    elsewhere.mkdir()
    (elsewhere / "boat.svg").write_text(BOAT)
    home = tmp_path / "home"
    home.mkdir()
    (home / "link.svg").symlink_to(elsewhere / "boat.svg")
    for file, why in (("../elsewhere/boat.svg", ".."), (str(elsewhere / "boat.svg"), "folder"), ("link.svg", "leads out"),
                      ("none.svg", "no drawing file")):
        made = make(f"{HEAD}  - drawing: {{file: {file}, width: 200 mm, white is: metal}}\n", name="home/sign")
        assert made.code == 2 and why in made.err, made.err


def test_what_was_left_out_is_in_the_notes(drawn_in, tmp_path):
    made = drawn_in("white is: metal", BOAT.replace("</svg>", "\n<image/>\n</svg>"))
    notes = "\n".join(made.report["notes"])
    (file,) = made.report["drawings"]
    assert file["sha256"] == hashlib.sha256((tmp_path / "boat.svg").read_bytes()).hexdigest()
    assert 'boat.svg":3: a picture of dots was left out' in notes
    assert "200 mm wide and 100 mm high: as its file says" in notes
