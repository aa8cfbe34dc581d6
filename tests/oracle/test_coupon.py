# SPDX-License-Identifier: GPL-3.0-or-later
"""The coupon from outside: what is marked is measured back from its outlines by shapely, marks read slot by slot, results go into a
shop file of which all else stays. What comes out when the kerf is another than was said: its program swept by shapely as wide as that,
and measured. Limits that a test piece teaches come before figures of handbooks: common practice, no source."""
import re

import pytest
from shapely.affinity import translate
from shapely.geometry import LineString, Point, Polygon, box
from shapely.ops import unary_union

import ngc_reading
import ngc_writing
from conftest import holdfast

SHEETS = [("mild steel", 3, 1.4, "mm"), ("aluminium", 1, 1, "mm"), ("stainless steel", 6, 1.7, "mm"), ("mild steel", 3.175, 1.4, "in")]
MORE = [(metal, t, k, unit) for metal in ("mild steel", "stainless steel", "aluminium") for unit in ("mm", "in")
        for t, k in ((0.8, 0.8), (1.5, 1.1), (2, 1.2), (4, 1.5), (10, 2.2), (12, 2.6), (20, 3.2), (25, 3.5), (2, 0.4), (3, 2.5))]
# numerals that light up: top, right above, right below, bottom, left below, left above, middle; from memory
LIT = {(1, 1, 1, 1, 1, 1, 0): "0", (1, 1, 0, 1, 1, 0, 1): "2", (1, 1, 1, 1, 0, 0, 1): "3", (0, 1, 1, 0, 0, 1, 1): "4", (1, 0, 1, 1, 0, 1, 1): "5",
       (1, 0, 1, 1, 1, 1, 1): "6", (1, 1, 1, 0, 0, 0, 0): "7", (1,) * 7: "8", (1, 1, 1, 1, 0, 1, 1): "9", (1, 1, 1, 0, 1, 1, 1): "A",
       (0, 0, 1, 1, 1, 1, 1): "B", (1, 0, 0, 1, 1, 1, 0): "C", (0, 1, 1, 1, 1, 0, 1): "D", (1, 0, 0, 1, 1, 1, 1): "E", (1, 0, 0, 0, 1, 1, 1): "F",
       (1, 0, 1, 1, 1, 1, 0): "G"}


def made(tmp_path, metal, thickness, kerf, unit):
    done = holdfast("coupon", "--metal", metal, "--thickness", f"{thickness} mm", "--kerf", f"{kerf} mm", "--units", unit, "-o", tmp_path / "c")
    assert done.returncode == 0, done.stdout + done.stderr
    assert "read back, it leaves the sign" in done.stdout
    return ngc_writing.design_of(tmp_path / "c" / "coupon" / "metal.svg"), (tmp_path / "c" / "coupon-results.yaml").read_text()


def bands(openings):
    """Rows from the top: openings whose heights overlap."""
    rows = []
    for one in sorted(openings, key=lambda it: -it.bounds[3]):
        if rows and one.bounds[3] > rows[-1][0]:
            rows[-1][0] = min(rows[-1][0], one.bounds[1])
            rows[-1][1].append(one)
        else:
            rows.append([one.bounds[1], [one]])
    return [row for _, row in rows]


def signs(row):
    """Openings of one figure overlap in width; [(the openings, left, right)] from the left."""
    found = []
    for one in sorted(row, key=lambda it: it.bounds[0]):
        if found and one.bounds[0] < found[-1][2]:
            found[-1] = (found[-1][0] + [one], found[-1][1], max(found[-1][2], one.bounds[2]))
        else:
            found.append(([one], one.bounds[0], one.bounds[2]))
    return found


def sign_of(openings, left, right, low, high, slot):
    if max(it.bounds[3] for it in openings) - low < (high - low) / 2:
        return "."
    if right - left < 1.5 * slot:
        return "1"
    x = (left + slot / 2, (left + right) / 2, right - slot / 2)
    y = (low + slot / 2, (3 * low + high) / 4 + slot / 8, (low + high) / 2, (low + 3 * high) / 4 - slot / 8, high - slot / 2)
    places = [(x[1], y[4]), (x[2], y[3]), (x[2], y[1]), (x[1], y[0]), (x[0], y[1]), (x[0], y[3]), (x[1], y[2])]
    return LIT[tuple(int(any(it.contains(Point(p)) for it in openings)) for p in places)]


def read_marks(row, slot, gap):
    """Words of a row: figures that are nearer than two gaps of figures belong together."""
    low, high = min(it.bounds[1] for it in row), max(it.bounds[3] for it in row)
    words, end = [], None
    for openings, left, right in signs(row):
        sign = sign_of(openings, left, right, low, high, slot)
        if end is not None and left - end < 1.5 * gap:
            words[-1] += sign
        else:
            words.append(sign)
        end = right
    return words


def places(design, results, thickness, kerf, unit):
    """The window, and rows of openings from the top; how wide the slots of marks are, and how far apart."""
    mm = 25.4 if unit == "in" else 1
    openings = [Polygon(ring) for ring in design.interiors]
    drawn = float(re.search(r"window drawn: ([\d.]+)", results)[1]) * mm
    window = max((it for it in openings if abs(it.area - drawn ** 2) < 0.01 * drawn ** 2), key=lambda it: it.bounds[2])
    for a, b in ((0, 2), (1, 3)):
        assert window.bounds[b] - window.bounds[a] == pytest.approx(drawn, abs=0.01)
    slot, gap = kerf + 0.3, 0.8 * max(1.2 * thickness, 2 * kerf, 3)
    row = max((it for it in openings if it.bounds[0] < design.bounds[0] + 4 * gap), key=lambda it: it.bounds[3] - it.bounds[1])
    cell = (row.bounds[3] - row.bounds[1] - slot) / 2  # of a whole letter at the left: two cells and a slot high
    text = "1.500" if unit == "in" else "40"  # of the window's mark, which may be wider than the window
    wide = sum(slot + gap + (0 if c in ".1" else cell) for c in text) - gap
    left = min(window.bounds[0], window.centroid.x - wide / 2) - gap
    return window, bands([it for it in openings if it.bounds[0] < left]), slot, gap


def check_measures(design, results, thickness, kerf, unit):
    mm = 25.4 if unit == "in" else 1
    _, rows, slot, gap = places(design, results, thickness, kerf, unit)
    tried = [line.split(":")[-1].split() for line in results.splitlines() if "tried:" in line]
    marks = [rows[i] for i in (0, 2, 5, 7, 9)]
    for i, row in enumerate(marks):
        assert read_marks(row, slot, gap) == ["ABCDE"[i], *tried[i]], "ABCDE"[i]
    figures = [[float(it) * mm for it in row] for row in tried]
    top = design.bounds[3] - 1
    across = design.intersection(LineString([(design.bounds[0], top), (design.bounds[2], top)]))
    gaps = [b.bounds[0] - a.bounds[2] for a, b in zip(across.geoms, list(across.geoms)[1:])]
    assert gaps == pytest.approx(figures[0], abs=0.01)
    slots = sorted(rows[1], key=lambda it: it.bounds[0])
    assert [a.distance(b) for a, b in zip(slots[::2], slots[1::2])] == pytest.approx(figures[1], abs=0.01)
    above, below = (sorted(row, key=lambda it: it.bounds[0]) for row in rows[3:5])
    assert [a.distance(b) for a, b in zip(above, below)] == pytest.approx(figures[2], abs=0.02)  # chords
    holes = sorted(rows[6], key=lambda it: it.bounds[0])
    assert [it.bounds[2] - it.bounds[0] for it in holes] == pytest.approx(figures[3], abs=0.02)
    squares = sorted(rows[8], key=lambda it: it.bounds[0])
    assert [it.area ** 0.5 for it in squares] == pytest.approx(figures[4], abs=0.01)
    assert all(row == sorted(row, reverse=True) and len(row) >= 4 for row in figures)


@pytest.mark.parametrize("metal, thickness, kerf, unit", SHEETS)
def test_marks_and_measures(tmp_path, metal, thickness, kerf, unit):
    design, results = made(tmp_path, metal, thickness, kerf, unit)
    check_measures(design, results, thickness, kerf, unit)


@pytest.mark.long
@pytest.mark.parametrize("metal, thickness, kerf, unit", MORE)
def test_marks_and_measures_of_more_sheets(tmp_path, metal, thickness, kerf, unit):
    design, results = made(tmp_path, metal, thickness, kerf, unit)
    check_measures(design, results, thickness, kerf, unit)


def left_by(program, kerf, design):
    """What of the sign the program leaves when it is cut as wide as `kerf`, where it lies in `design`."""
    burnt = unary_union([LineString(ab if ab[0] != ab[1] else [ab[0], (ab[0][0] + 1e-6, ab[0][1])]).buffer(kerf / 2, 32)
                         for move in ngc_reading.read(program.read_text()) if move.lit for ab in zip(move.points(1e-3), move.points(1e-3)[1:])])
    around = box(*burnt.bounds).buffer(5, join_style=2)
    left = max((it for it in around.difference(burnt).geoms if it.bounds[0] > around.bounds[0] + 1), key=lambda it: it.area)
    return translate(left, *(b - a for a, b in zip(left.bounds[:2], design.bounds[:2])))


# the first two are wider and narrower than was said; of much wider a third of the usual limit may be more than what survived
@pytest.mark.parametrize("true_kerf", [1.52, pytest.param(1.15, marks=pytest.mark.long)])
def test_limits_are_what_came_out(tmp_path, true_kerf):
    said_kerf, thickness = 1.4, 3
    design, results = made(tmp_path, "mild steel", thickness, said_kerf, "mm")
    left = left_by(tmp_path / "c" / "coupon" / "cut.nc", true_kerf, design)
    openings = [Polygon(ring) for ring in left.interiors]
    window, rows, _, _ = places(design, results, thickness, said_kerf, "mm")

    def came(one):
        return min(openings, key=lambda it: it.centroid.distance(one.centroid))

    def wide(one):
        return one.bounds[2] - one.bounds[0]

    slots, above, below, holes, squares = ([came(it) for it in sorted(rows[i], key=lambda it: it.bounds[0])] for i in (1, 3, 4, 6, 8))
    tried = [line.split(":")[-1].split() for line in results.splitlines() if "tried:" in line]
    top = left.bounds[3] - 2
    across = left.intersection(LineString([(left.bounds[0], top), (left.bounds[2], top)]))
    out = {"slots": [b.bounds[0] - a.bounds[2] for a, b in zip(across.geoms, list(across.geoms)[1:])],
           "long webs": [a.distance(b) for a, b in zip(slots[::2], slots[1::2])], "short webs": [a.distance(b) for a, b in zip(above, below)],
           "holes": [wide(it) for it in holes], "openings": [wide(it) for it in squares]}
    keys = dict(zip(out, ("narrow-gap", "thin-long-web", "thin-web", "small-hole", "small-opening")))
    text = f"holdfast: 1\nmetal: mild steel\nthickness: 3 mm\nkerf: {said_kerf} mm\ndate: 2026-03-14\nwindow drawn: 40 mm\nwindow: {wide(came(window)):.3f} mm\n"
    text += "".join(f"{key}: {tried[i][2]} mm\n" for i, key in enumerate(out))
    (tmp_path / "results.yaml").write_text(text)
    done = holdfast("coupon", "--learn", tmp_path / "results.yaml", "--shop", tmp_path / "shop.yaml")
    assert done.returncode == 0 and "not what was marked" in done.stdout, done.stderr
    shop = (tmp_path / "shop.yaml").read_text()
    assert float(re.search(r"kerf: ([\d.]+)", shop)[1]) == pytest.approx(true_kerf, abs=0.01)
    for key, widths in out.items():
        share = 0.5 if key == "openings" else 1
        assert float(re.search(rf"[ {{]{keys[key]}: ([\d.]+)", shop)[1]) == pytest.approx(widths[2] * share, abs=0.02), key


RESULTS = """holdfast: 1
metal: mild steel
thickness: 3 mm
kerf: 1.4 mm
date: 2026-03-14
window drawn: 40 mm
window: 40.12 mm
long webs: 2.1 mm
short webs: 1.7 mm
holes: 3.3 mm
openings: 3.5 mm
slots: 1.9 mm
"""
SHOP = """holdfast: 1
# our table
chart:
  - {metal: mild steel, thickness: 2 mm, kerf: 1.2 mm}
  - {metal: mild steel, thickness: 3 mm, kerf: 1.4 mm, feed: 2600 mm/min}   # in spring
limits: {sharp-point: 50 deg}
"""
SIGN = """holdfast: 1
metal: {kind: mild steel, thickness: %s}
%s
entries:
  - plate: {shape: rectangle, width: 100 mm, height: 80 mm}
  - hole: {diameter: 3 mm, at: [40 mm, 0 mm]}
"""


@pytest.fixture
def learn(tmp_path):
    def it(results, shop=SHOP):
        (tmp_path / "results.yaml").write_text(results)
        if shop is not None:
            (tmp_path / "shop.yaml").write_text(shop)
        done = holdfast("coupon", "--learn", tmp_path / "results.yaml", "--shop", tmp_path / "shop.yaml")
        return done, (tmp_path / "shop.yaml").read_text() if (tmp_path / "shop.yaml").exists() else None

    return it


def test_what_is_learned(learn, tmp_path):
    done, shop = learn(RESULTS)
    assert done.returncode == 0, done.stderr
    lines, was = shop.splitlines(), SHOP.splitlines()
    assert [line for i, line in enumerate(lines) if i != 4] == [line for i, line in enumerate(was) if i != 4], "all else is as it was"
    assert "kerf: 1.52 mm, feed: 2600 mm/min" in lines[4] and lines[4].endswith("   # in spring"), "40.12 - 40 wider, half on each side"
    # webs came out 0.12 mm narrower than they are marked, openings so much wider
    for said in ("thin-long-web: 1.98 mm", "thin-web: 1.58 mm", "small-hole: 3.42 mm", "small-opening: 1.81 mm", "narrow-gap: 2.02 mm", "coupon: 2026-03-14"):
        assert said in lines[4]
    again, same = learn(RESULTS, None)
    assert again.returncode == 0 and same == shop, "the same results twice are the same file"

    def said(thickness, process):
        (tmp_path / "sign.yaml").write_text(SIGN % (thickness, process))
        return holdfast("check", tmp_path / "sign.yaml").stdout

    assert "needs 3.42 mm" in said("3 mm", "") and "your process (coupon of 2026-03-14)" in said("3 mm", "")
    assert "your process (coupon of 2026-03-14)" in said("3 mm", "process: {kerf: 1.55 mm}"), "2 % off"
    assert "common practice" in said("3 mm", "process: {kerf: 1.2 mm}"), "another cut than that of the coupon"
    assert "needs 4.5 mm" in said("2 mm", ""), "another sheet"
    assert "needs 4 mm" in said("3 mm", "limits: {small-hole: 4 mm}"), "the recipe comes first"


SEVERAL = SHOP.replace("  - {metal: mild steel, thickness: 2 mm, kerf: 1.2 mm}", "  - {name: fine, metal: mild steel, thickness: 3 mm, kerf: 1.4 mm, limits: {%s}}")


def test_of_rows_that_nobody_tells_apart_the_strictest_counts(tmp_path):
    (tmp_path / "sign.yaml").write_text(SIGN % ("3 mm", ""))
    for limits, says in (("small-hole: 3.2 mm", "needs 4.5 mm"), ("small-hole: 5 mm", "needs 5 mm"), ("thin-web: 2 mm", "needs 4.5 mm")):
        (tmp_path / "shop.yaml").write_text(SEVERAL % limits)
        assert says in holdfast("check", tmp_path / "sign.yaml").stdout, limits
    (tmp_path / "sign.yaml").write_text(SIGN % ("3 mm", "process: {row: fine}"))
    (tmp_path / "shop.yaml").write_text(SEVERAL % "small-hole: 3.2 mm")
    assert "needs 3.2 mm" in holdfast("check", tmp_path / "sign.yaml").stdout
    (tmp_path / "shop.yaml").write_text(SEVERAL % "long-web: 9")
    done = holdfast("check", tmp_path / "sign.yaml")
    assert done.returncode == 2 and "shop.yaml:4:77" in done.stderr and "one row" in done.stderr, done.stderr


def test_no_limit_gets_a_date_that_is_not_its_own(learn):
    done, shop = learn(RESULTS)
    done, same = learn(RESULTS.replace("2026-03-14", "2026-09-01").replace("holes: 3.3 mm\n", ""), None)
    assert done.returncode == 2 and '"small-hole" stands in that row' in done.stderr and "shop.yaml:5:" in done.stderr and same == shop, done.stderr
    done, later = learn(RESULTS.replace("2026-03-14", "2026-09-01"), None)
    assert done.returncode == 0 and "coupon: 2026-09-01" in later and "2026-03-14" not in later


def test_a_much_wider_kerf_teaches_no_lax_limit(learn, tmp_path):
    done, shop = learn(RESULTS.replace("40.12", "41.3"))
    assert done.returncode == 0 and "kerf: 2.7 mm" in shop
    (tmp_path / "sign.yaml").write_text(SIGN % ("3 mm", ""))
    assert "lets almost everything pass" not in holdfast("check", tmp_path / "sign.yaml").stdout


def test_the_shop_is_told(learn, tmp_path):
    learn(RESULTS)
    told = holdfast("shop", tmp_path / "shop.yaml").stdout
    assert "coupon of 2026-03-14: narrow-gap 2.02 mm, thin-long-web 1.98 mm" in told


def test_a_link_to_the_shop_file_stays_one(learn, tmp_path):
    (tmp_path / "kept").mkdir()
    (tmp_path / "kept" / "mine.yaml").write_text(SHOP)
    (tmp_path / "shop.yaml").symlink_to("kept/mine.yaml")
    learn(RESULTS, None)
    assert (tmp_path / "shop.yaml").is_symlink() and "coupon: 2026-03-14" in (tmp_path / "kept" / "mine.yaml").read_text()


def test_a_new_shop_file(learn):
    done, shop = learn(RESULTS, None)
    assert done.returncode == 0 and "a new row" in done.stdout and shop.startswith("holdfast: 1\nchart:")
    done, shop = learn(RESULTS.replace("thickness: 3 mm", "thickness: 5 mm").replace("long webs: 2.1", "long webs: 4").replace("short webs: 1.7", "short webs: 3")
                       .replace("holes: 3.3", "holes: 5"))
    assert done.returncode == 0 and shop.count("coupon:") == 1 and shop.count("metal: mild steel") == 3 and "# in spring" in shop


def test_inches(learn):
    done, shop = learn("holdfast: 1\nmetal: mild steel\nthickness: 1/8 in\nkerf: 0.055 in\ndate: in March\nholes: 0.135 in\n", "holdfast: 1\n")
    assert done.returncode == 0 and "small-hole: 3.429 mm" in shop or "small-hole: 0.135 in" in shop


@pytest.mark.parametrize("change, says", [
    (("window: 40.12 mm\n", "window: 44 mm\n"), "more than twice"),
    (("window drawn: 40 mm\n", ""), "how wide it was drawn"),
    (("long webs: 2.1 mm", "long webs: 21 mm"), "no figure of this coupon"),
    (("long webs: 2.1 mm", "long web: 2.1 mm"), "results.yaml:8:1"),
    (("long webs: 2.1 mm", "long webs: 2.1"), "results.yaml:8:12"),
    (("metal: mild steel", "metal: cheese"), "results.yaml:2:8"),
    (("date: 2026-03-14\n", ""), 'needs "date"'),
    ((RESULTS[RESULTS.index("window:"):], ""), "nothing is said"),
])
def test_results_that_can_not_be(learn, change, says):
    done, shop = learn(RESULTS.replace(*change))
    assert done.returncode == 2 and says in done.stderr, done.stderr
    assert shop == SHOP, "nothing is written"


@pytest.mark.parametrize("shop, says", [
    ("holdfast: 1\nkerf: 1.5 mm\n", "one kerf for everything"),
    (SHOP + "  - broken\n", "shop.yaml:"),
    (SHOP.replace("  - {metal: mild steel, thickness: 2 mm", "  - {name: fine, metal: mild steel, thickness: 3 mm"), "2 rows for this sheet"),
])
def test_shop_files_that_do_not_fit(learn, shop, says):
    done, kept = learn(RESULTS, shop)
    assert done.returncode == 2 and says in done.stderr, done.stderr
    assert kept == shop


def test_a_coupon_is_never_written_over(tmp_path):
    words = ("coupon", "--metal", "mild steel", "--thickness", "3 mm", "--kerf", "1.4 mm", "-q", "-o", tmp_path)
    assert holdfast(*words).returncode == 0
    (tmp_path / "coupon-results.yaml").write_text("mine")
    done = holdfast(*words)
    assert done.returncode == 2 and "another folder" in done.stderr and (tmp_path / "coupon-results.yaml").read_text() == "mine"
    assert holdfast("coupon", "--metal", "cheese", "--thickness", "3 mm", "--kerf", "1 mm", "-o", tmp_path / "x").returncode == 2
    assert holdfast("coupon", "--metal", "mild steel").returncode == 2 and holdfast("coupon").returncode == 2
