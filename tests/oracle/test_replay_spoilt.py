# SPDX-License-Identifier: GPL-3.0-or-later
"""A sound program, spoilt on purpose in one way: the replay must say so, at the right line or place. The mistakes are those
that a hand, a wrong setting or a broken transfer makes (common practice, no source)."""
import math
import re

import pytest
from shapely.geometry import Point, Polygon

import ngc_writing
from replay_board import KERF, Board


@pytest.fixture(scope="module")
def board(tmp_path_factory):
    return Board(tmp_path_factory.mktemp("board"))


class Spoilt:
    """The program as lines, the contours with their spans, to be spoilt; then what is said of it."""

    def __init__(self, board, contours=None, **more):
        self.board = board
        self.contours = contours or board.contours()
        text, self.spans = ngc_writing.program(self.contours, **more)
        self.lines = text.splitlines()

    def contour(self, name):
        return next(i for i, c in enumerate(self.contours) if c.name.startswith(name))

    def judge(self, *options):
        code, told = self.board.judge("\n".join(self.lines) + "\n", *options)
        assert code == 1, told
        return told["findings"]

    def error(self):
        code, said = self.board.judge("\n".join(self.lines) + "\n")
        assert code == 2, said
        return said

    def within(self, finding, i):
        first, last = self.spans[i]
        return first <= finding.get("line", 0) <= last

    def replace(self, i, what, by, count=1):
        """In the lines of contour i; the number of the first line that is changed."""
        first, last = self.spans[i]
        changed = None
        for k in range(first - 1, last):
            line = re.sub(what, by, self.lines[k])
            if line != self.lines[k] and count > 0:
                self.lines[k], count = line, count - 1
                changed = changed or k + 1
        assert changed
        return changed


def stops(findings, *keys):
    return [f for f in findings if f["gravity"] == "stop" and (not keys or f["key"] in keys)]


def near(finding, ring, within=3):
    return Point(finding["at"]["x"], finding["at"]["y"]).distance(Polygon(ring)) <= within


def letter(s):
    """The contour with most corners: a letter, not a hole."""
    return max((i for i, c in enumerate(s.contours) if c.inner), key=lambda i: len(s.contours[i].moves))


def hole(s):
    return next(i for i, c in enumerate(s.contours) if any("G3" in m for m in c.moves))


def moved_ring(board, s, i, by):
    c = s.contours[i]
    ring = Polygon(c.ring).buffer(by, 32, join_style=2).exterior
    s.contours[i] = ngc_writing.contour(c.name, ring, c.inner)
    return Spoilt(board, s.contours)


# ---- the kerf ----------------------------------------------------------------------------------------------------

@pytest.mark.parametrize("which", [letter, hole])
def test_kerf_on_the_wrong_side_of_an_opening(board, which):
    s = Spoilt(board)
    i = which(s)
    s = moved_ring(board, s, i, KERF)
    found = stops(s.judge(), "inward")
    assert [f for f in found if s.within(f, i) and f["amount"] == pytest.approx(KERF, abs=0.1) or f["amount"] > KERF]
    assert all(s.within(f, i) for f in found)


def test_kerf_on_the_wrong_side_of_the_outside(board):
    s = Spoilt(board)
    i = s.contour("outside")
    s = moved_ring(board, s, i, -KERF)
    found = stops(s.judge(), "inward")
    assert found and all(s.within(f, i) for f in found) and found[0]["amount"] == pytest.approx(KERF, abs=0.05)


def test_no_kerf_at_all(board):
    design = board.design
    s = Spoilt(board, ngc_writing.contours_of(design, 1e-6, by=(10, 10)))
    found = stops(s.judge(), "inward")
    assert {i for i in range(len(s.contours)) for f in found if s.within(f, i)} == set(range(len(s.contours)))
    assert all(f["amount"] >= KERF / 2 - 0.05 for f in found)


def test_made_for_a_wider_kerf(board):
    s = Spoilt(board, ngc_writing.contours_of(board.design, 2.0, by=(10, 10)))
    found = stops(s.judge(), "outward")
    assert {i for i in range(len(s.contours)) for f in found if s.within(f, i)} == set(range(len(s.contours)))
    assert all(f["amount"] == pytest.approx(0.25, abs=0.12) for f in found)


# ---- what is cut -------------------------------------------------------------------------------------------------

@pytest.mark.parametrize("which", [letter, hole])
def test_an_opening_left_out(board, which):
    s = Spoilt(board)
    i = which(s)
    ring = s.contours[i].ring
    s = Spoilt(board, s.contours[:i] + s.contours[i + 1:])
    found = stops(s.judge(), "uncut")
    assert len(found) == 1 and near(found[0], ring)


def test_the_outside_left_out(board):
    s = Spoilt(board)
    found = stops(Spoilt(board, s.contours[:-1]).judge())
    assert {f["key"] for f in found} >= {"held", "uncut"}
    assert any("outside" in f["says"] for f in found if f["key"] == "uncut")


def test_the_torch_is_never_turned_on(board):
    s = Spoilt(board)
    i = letter(s)
    s.contours[i].on = ""
    found = stops(Spoilt(board, s.contours).judge(), "uncut")
    assert len(found) == 1 and near(found[0], s.contours[i].ring)


def test_a_contour_that_does_not_close(board):
    s = Spoilt(board)
    i = s.contour("outside")
    s.contours[i].moves = s.contours[i].moves[:-2]
    found = stops(Spoilt(board, s.contours).judge())
    assert {f["key"] for f in found} >= {"held", "uncut"}


def test_a_small_bridge_is_left(board):
    """The last line ends 0.3 mm + a kerf before the start."""
    s = Spoilt(board)
    i = s.contour("outside")
    ring = s.contours[i]
    a, b = [tuple(map(float, re.findall(r"-?\d+\.\d+", m)[:2])) for m in ring.moves[-2:]]
    length = math.dist(a, b)
    t = (length - KERF - 0.3) / length
    ring.moves[-1] = ngc_writing.xy((a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t))
    # the lead burns beside it: leave it out
    ring.pierce = tuple(map(float, re.findall(r"-?\d+\.\d+", ring.moves[0])[:2]))
    found = stops(Spoilt(board, ring and s.contours).judge())
    assert {f["key"] for f in found} >= {"held"}


def test_a_contour_cut_twice(board):
    s = Spoilt(board)
    i = letter(s)
    s = Spoilt(board, s.contours[:i + 1] + s.contours[i:])
    code, told = board.judge("\n".join(s.lines) + "\n")
    found = [f for f in told["findings"] if f["key"] == "nothing-to-cut"]
    assert found and s.within(found[0], i + 1)


# ---- the path ----------------------------------------------------------------------------------------------------

def test_an_arc_turned(board):
    s = Spoilt(board)
    i = hole(s)
    line = s.replace(i, "^G3", "G2")
    found = stops(s.judge(), "uncut", "outward")
    assert found and any(s.within(f, i) or near(f, s.contours[i].ring) for f in found)
    assert line


def test_an_arc_the_long_way(board):
    s = Spoilt(board)
    i = hole(s)
    ring = Polygon(s.contours[i].ring)
    r = math.sqrt(ring.area / math.pi)
    c = ring.centroid
    a, b = (c.x + r, c.y), (c.x, c.y + r)
    s.contours[i].moves = [f"G1 {ngc_writing.xy(a)} F2000", f"G3 {ngc_writing.xy(b)} R{-r:.4f}", f"G3 {ngc_writing.xy(a)} R{-r:.4f}"]
    found = stops(Spoilt(board, s.contours).judge(), "inward")
    assert found and any(near(f, ring, 2 * r) for f in found)


def test_a_lead_through_the_metal(board):
    """The pierce of a letter lies in the metal beside it."""
    s = Spoilt(board)
    i = letter(s)
    x0, y0, x1, y1 = Polygon(s.contours[i].ring).bounds
    s.contours[i].pierce = (x0 - 3.5, (y0 + y1) / 2)
    s = Spoilt(board, s.contours)
    found = stops(s.judge(), "inward")
    assert found and s.within(found[0], i) and near(found[0], s.contours[i].ring, 5)


@pytest.mark.parametrize("what, by", [(r"X(\d)", r"X-\1"), (r"X(\d+)\.(\d{4})", r"X\1\2"), (r"X(\d)(\d+)\.", r"X\2.")])
def test_a_figure_spoilt(board, what, by):
    """A sign before it, its point or its first digit lost, in the middle of a letter."""
    s = Spoilt(board)
    i = letter(s)
    first, last = s.spans[i]
    k = (first + last) // 2 + 1
    line = re.sub(what, by, s.lines[k])
    assert line != s.lines[k]
    s.lines[k] = line
    if "." not in line.split()[0]:
        code, said = board.judge("\n".join(s.lines) + "\n")
        assert code in (1, 2) and (code == 1 or f":{k + 1}:" in said)
        return
    found = stops(s.judge(), "inward")
    assert found and any(f["line"] in (k + 1, k + 2) for f in found)


def test_a_line_lost(board):
    """The corner of a letter that stands out most is cut off."""
    s = Spoilt(board)
    i = letter(s)
    first, last = s.spans[i]
    at = {k: tuple(map(float, re.findall(r"-?\d+\.\d+", s.lines[k])[:2])) for k in range(first + 3, last - 1)}
    corner = max(range(first + 4, last - 2), key=lambda k: Polygon([at[k - 1], at[k], at[k + 1]]).area)
    del s.lines[corner]
    found = stops(s.judge())
    assert found and all(s.within(f, i) or near(f, s.contours[i].ring) for f in found)
    assert any(f.get("line") == corner + 1 for f in found)


def test_steps_for_places(board):
    """G91 before a line in the midst of a letter."""
    s = Spoilt(board)
    i = letter(s)
    k = s.replace(i, "^X", "G91 X")
    s.lines[k] = "G90 " + s.lines[k]
    found = stops(s.judge(), "inward")
    assert found and any(f["line"] in (k, k + 1) for f in found)


# ---- the whole ---------------------------------------------------------------------------------------------------

def test_units_mixed(board):
    """One contour in inches' words under G21, and all of it under G20."""
    s = Spoilt(board)
    i = letter(s)
    s.replace(i, r"([XY])(-?\d+\.\d+)", lambda m: f"{m[1]}{float(m[2]) / 25.4:.5f}", 999)
    found = stops(s.judge(), "uncut")
    assert any(near(f, s.contours[i].ring) for f in found)
    s = Spoilt(board, head=("G20 G90 G17 G40",))
    assert stops(s.judge(), "held", "uncut", "inward")


def test_mirrored(board):
    s = Spoilt(board)
    s.lines = [re.sub(r"X(-?[\d.]+)", lambda m: f"X{220 - float(m[1]):.4f}", re.sub(r"I(-?[\d.]+)", lambda m: f"I{-float(m[1]):.4f}",
               line.replace("G3", "G2"))) for line in s.lines]
    assert stops(s.judge(), "uncut", "inward")


@pytest.mark.parametrize("by", [1.01, 0.99])
def test_scaled(board, by):
    """A hundredth: somewhere it is off by a millimetre, nowhere by more than a hundredth of the diagonal."""
    s = Spoilt(board)
    s.lines = [re.sub(r"([XYIJR])(-?[\d.]+)", lambda m: f"{m[1]}{float(m[2]) * by:.4f}", line) for line in s.lines]
    found = stops(s.judge(), "inward" if by < 1 else "outward", "uncut", "inward")
    assert 0.75 <= max(f["amount"] for f in found if "amount" in f) <= math.hypot(220, 110) / 100


def test_zero_moved_on_the_way(board):
    s = Spoilt(board)
    i = letter(s)
    s.lines.insert(s.spans[i][0] - 1, "G92 X0 Y0")
    s.spans = [(a + (k >= i), b + (k >= i)) for k, (a, b) in enumerate(s.spans)]
    found = stops(s.judge())
    assert any(f["key"] == "uncut" and near(f, s.contours[i].ring) for f in found)


def test_another_system_of_coordinates(board):
    s = Spoilt(board, head=("G21 G90 G17 G40", "G10 L2 P2 X5 Y0"))
    i = letter(s)
    s.replace(i, "^G0", "G55 G0")
    s.replace(i + 1, "^G0", "G54 G0")
    assert any(s.within(f, i) or near(f, s.contours[i].ring) for f in stops(s.judge(), "inward", "outward"))


def test_off_the_table(board):
    s = Spoilt(board)
    found = stops(s.judge("--table", "200 mm x 200 mm"), "off-table")
    assert len(found) == 1 and s.within(found[0], s.contour("outside"))
    assert found[0]["amount"] == pytest.approx(10 + 200 + KERF / 2 - 200 + ngc_writing.LEAD, abs=ngc_writing.LEAD + 0.01)


# ---- order -------------------------------------------------------------------------------------------------------

def test_order_turned_round(board):
    """The outside first: all openings are cut when the sign lies loose."""
    s = Spoilt(board)
    s = Spoilt(board, s.contours[::-1])
    found = stops(s.judge(), "loose")
    assert {i for i in range(len(s.contours)) for f in found if s.within(f, i)} == set(range(1, len(s.contours)))
    assert all(f"line {s.spans[0][1]}" in f["says"] or f"line {s.spans[0][1] - 1}" in f["says"] for f in found)


def test_one_opening_too_late(board):
    s = Spoilt(board)
    s = Spoilt(board, s.contours[1:] + s.contours[:1])
    found = stops(s.judge(), "loose")
    assert len(found) == 1 and s.within(found[0], len(s.contours) - 1)


# ---- the torch ---------------------------------------------------------------------------------------------------

def test_the_torch_is_not_turned_off(board):
    s = Spoilt(board)
    i = letter(s)
    s.contours[i].off = ""
    s = Spoilt(board, s.contours)
    found = stops(s.judge())
    travel = [f for f in found if f["key"] == "burning-travel"]
    assert len(travel) == 1 and s.within(travel[0], i + 1)
    assert any(f["key"] == "inward" and s.within(f, i + 1) for f in found)


def test_a_cut_at_travel_speed(board):
    s = Spoilt(board)
    i = letter(s)
    k = s.replace(i, "^X", "G0 X")
    s.lines[k] = "G1 " + s.lines[k]
    found = stops(s.judge(), "burning-travel")
    assert [f["line"] for f in found] == [k]


# ---- what can't be read ------------------------------------------------------------------------------------------

ERRORS = [
    ("feed missing", r" F2000", "", "no feed"),
    ("a comma for the point", r"X(\d+)\.", r"X\1,", "belongs to no word"),
    ("a letter for a digit", r"X(\d)", r"XO\1", "stands where a value belongs"),
    ("two words of one group", r"^G1", "G1 G0", "of one group"),
    ("an arc without its centre", r" I-?[\d.]+ J0", "", "neither centre nor radius"),
    ("an arc's centre spoilt", r"I(-?)(\d+)\.", r"I\g<1>1\2.", "from its centre"),
    ("an arc's plane", r"^G3", "G18 G3", "J says nothing"),
    ("correction by the control", r"^G1", "G41 G1", "G41 is not read"),
    ("a bracket open", r"X([\d.]+)", r"X[\1", "bracket"),
]


@pytest.mark.parametrize("what, old, new, says", ERRORS, ids=[e[0] for e in ERRORS])
def test_cannot_be_read(board, what, old, new, says):
    s = Spoilt(board)
    line = s.replace(hole(s), old, new, 999 if "feed" in what else 1)
    if "feed" in what:  # nobody says one before, either
        s.lines = [re.sub(r" F2000", "", text) for text in s.lines]
        line = next(k for k, text in enumerate(s.lines, 1) if text.startswith("G1"))
    said = s.error()
    assert f":{line}:" in said and says in said, said


def test_cut_short(board):
    """Half of it was sent."""
    s = Spoilt(board)
    s.lines = s.lines[:len(s.lines) // 2]
    assert "no end" in s.error()
