# SPDX-License-Identifier: GPL-3.0-or-later
"""Programs read, against the files of T. R. Kramer, F. M. Proctor, E. Messina, The NIST RS274NGC Interpreter - Version 3
(NISTIR 6556, 2000) in the yardstick (HOLDFAST_YARDSTICKS/gcode, see its README): every answer that they state, every
error that they demand; and against a second reader (ngc_reading.py) on those and on seeded random programs."""
import json
import math
import random
import re
import subprocess

import pytest

import ngc_reading
from conftest import TOP

DUMP = TOP / "build" / "tests" / "tools" / "program_dump"
KEYS = ("kind", "line", "lit", "a", "b", "centre", "sweep", "plane", "feed", "seconds", "name")


def dump(path):
    return subprocess.run([DUMP, path], capture_output=True, text=True, timeout=60)


def moves_of(path):
    done = dump(path)
    assert done.returncode == 0, done.stderr
    return [dict(zip(KEYS, json.loads(line))) for line in done.stdout.splitlines()]


def check_same(path):
    """Move by move the same as the second reader has it."""
    ours = [m for m in moves_of(path) if m["kind"] not in ("on", "off")]
    theirs = ngc_reading.read(path.read_text())
    assert len(ours) == len(theirs)
    for a, b in zip(ours, theirs):
        assert (a["kind"], a["line"], a["lit"]) == (b.kind, b.line, b.lit)
        assert a["a"] == pytest.approx(b.a[:3], abs=1e-9) and a["b"] == pytest.approx(b.b[:3], abs=1e-9)
        if b.kind == "round":
            assert (a["plane"], a["sweep"]) == (b.plane, pytest.approx(b.sweep, abs=1e-9))
            assert a["centre"] == pytest.approx(b.centre, abs=1e-9)
        length = math.dist(a["a"], a["b"])
        if b.kind in ("line", "round") and length > 0:
            assert a["feed"] > 0
        if b.kind == "wait":
            assert a["seconds"] == pytest.approx(b.minutes * 60)
    return ours


def test_hello_world(yardsticks):
    """C.1: the whole program, and the arcs worked out by hand from it: centre, sweep, length."""
    path = yardsticks / "gcode" / "nist-c1.ngc"
    check_same(path)
    rounds = [m for m in moves_of(path) if m["kind"] == "round"]
    hand = [((13.5, 2.5), 270), ((32.5, 2.5), -360), ((57.5, 2.5), -360), ((66.5, 0.8775018), -77.3643749), ((79.5, 2.5), -180)]
    assert len(rounds) == len(hand)
    for move, (centre, sweep) in zip(rounds, hand):
        assert move["centre"] == pytest.approx(centre, abs=1e-6)
        assert math.degrees(move["sweep"]) == pytest.approx(sweep, abs=1e-6)


def test_expressions_state_their_answers(yardsticks):
    """C.2: every line says in its comment where x should be."""
    path = yardsticks / "gcode" / "nist-c2.ngc"
    check_same(path)
    at = {m["line"]: m["b"][0] for m in moves_of(path)}
    stated = 0
    for number, line in enumerate(path.read_text().splitlines(), 1):
        found = re.search(r"x should be (-?[\d.]+?)(?:,|\)|$)", line)
        if found:
            digits = len(found[1].rpartition(".")[2]) if "." in found[1] else 0
            within = max(0.5 * 10 ** -digits, 5e-4) if digits else 1e-3
            assert at[number] == pytest.approx(float(found[1]), abs=within), line
            stated += 1
    assert stated == path.read_text().count("x should be")


def test_cycles_are_refused(yardsticks):
    """C.3: drilling cycles are not of the subset (docs/program.md), which is said at the first of them."""
    path = yardsticks / "gcode" / "nist-c3.ngc"
    done = dump(path)
    assert done.returncode == 2 and f"{path}:3:7: G81 is not read" in done.stderr


@pytest.mark.parametrize("number", range(1, 13))
def test_reader_files(yardsticks, number):
    moves = check_same(yardsticks / "gcode" / f"reader-test{number:02}.ngc")
    if number == 1:
        assert not moves                                     # what stands behind the second % is no program
    if number == 2:
        assert moves[-1]["b"][0] == pytest.approx(-1.2 * 25.4)      # nothing behind M2 is done
    if number == 6:
        assert [m["b"][:2] for m in moves[1:2]] == [pytest.approx((254, 254))]  # G10 L2 P1 X10 Y10, inches
    if number in (7, 8):
        assert moves[-1]["b"][:2] == pytest.approx((0, 0) if number == 7 else (-25.4, -25.4), abs=1e-9)


def test_modal_conflict_is_refused(yardsticks):
    """The thirteenth must be refused: G17 and G18 on one line."""
    path = yardsticks / "gcode" / "reader-test13.ngc"
    done = dump(path)
    assert done.returncode == 2 and f"{path}:12:5: G17 and G18 are of one group" in done.stderr


def random_program(seed):
    """Lines, arcs in both forms, modes, offsets, parameters and expressions, such as make sense."""
    r = random.Random(seed)
    lines = [r.choice(["G21", "G20"]) + " G90 F" + str(r.randint(1, 3000))]
    lines.append("#1=1.5 #2=[1 + 2 * 3 ** 2 / 4]")
    x = y = 0.0   # of the program's own frame, kept absolute
    for _ in range(60):
        kind = r.random()
        nx, ny = round(r.uniform(-20, 20), 4), round(r.uniform(-20, 20), 4)
        if kind < 0.3:
            lines.append(f"g{r.choice([0, 1])} x{nx} y [{ny} + #1 - #1]")
        elif kind < 0.5:
            half = math.hypot(nx - x, ny - y) / 2
            radius = round(half * r.uniform(1.05, 3) + 0.01, 4) * r.choice([1, -1])
            if half < 0.01:
                continue
            lines.append(f"G{r.choice([2, 3])} X{nx} Y{ny} R{radius}")
        elif kind < 0.65:
            lines.append(f"G{r.choice([2, 3])} X{x:.6f} Y{y:.6f} I{round(r.uniform(1, 5), 4)} J{round(r.uniform(1, 5), 4)}")
            nx, ny = x, y
        elif kind < 0.75:
            lines.append(r.choice(["M3", "M5", "G4 P[#1 / 3]", "M3 G4 P0.25", "G64", "(letter R)", "T1 M6"]))
            nx, ny = x, y
        elif kind < 0.85:
            lines.append(f"G91 X{nx} Y{ny}" if lines[-1][:2] in ("G0", "G1", "g0", "g1") else f"G91 G0 X{nx} Y{ny}")
            lines.append("G90 G1")
            lines[-1] = "G90"
            nx, ny = x + nx, y + ny
        elif kind < 0.95:
            lines.append(f"G92 X{nx} Y{ny}")
        else:
            lines.append(f"G10 L2 P{r.randint(1, 9)} X{nx} Y{ny}")
            lines.append(f"G{r.choice(['54', '55', '59', '59.2'])}")
            lines.append(f"G0 X{nx} Y{ny}")
        x, y = nx, ny
    return "\n".join(lines + ["M30", ""])


@pytest.mark.parametrize("seed", range(40))
def test_random_programs(tmp_path, seed):
    path = tmp_path / "p.nc"
    path.write_text(random_program(seed))
    moves = check_same(path)
    assert len(moves) > 20


def test_numbers_hang_on_no_locale(tmp_path, yardsticks):
    """Read under a locale with a comma for the point, if the machine has one; and of itself never."""
    path = yardsticks / "gcode" / "nist-c2.ngc"
    plain = dump(path).stdout
    done = subprocess.run([DUMP, path], capture_output=True, text=True, env={"LC_ALL": "de_DE.UTF-8"}, timeout=60)
    assert done.stdout == plain
