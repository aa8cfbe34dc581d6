# SPDX-License-Identifier: GPL-3.0-or-later
"""What no input may do: cost more than it must, end the program, or speak to the terminal.

Sources: ECMA-48 (control characters of terminals), Unicode PropList.txt (Bidi_Control). Growth is told by ratios of
processor time measured in one run, never by seconds.
"""
import json
import math
import os
import random
import re
import resource
import subprocess
import sys
import unicodedata

import pytest

from conftest import HOLDFAST, TOP
from measured import measured

sys.path.insert(0, str(TOP / "bench"))
import growth  # noqa: E402

HEAD = "holdfast: 1\nmetal: {kind: mild steel, thickness: 3 mm}\nprocess: {kerf: 1.5 mm}\n"
PLATE = "plate: {shape: rectangle, width: 120 mm, height: 60 mm}"


def run(tmp_path, text, *words, name="sign"):
    file = tmp_path / f"{name}.yaml"
    file.write_text(text)
    return subprocess.run([str(HOLDFAST), "check", *words, str(file)], capture_output=True, cwd=tmp_path)


def seconds(tmp_path, text):
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    done = run(tmp_path, text)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    assert done.returncode == 2, done.stderr[:300]
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


@pytest.mark.parametrize("limit", ["1000000000000000", "1e300", "99999999999999999999999 mm", "1000000000000 mm", "0", "-1 mm"])
def test_a_limit_has_a_range(tmp_path, limit):
    for key in ("thin-web", "thin-web caution", "sharp-point", "small-letters distance"):
        done = run(tmp_path, HEAD + f"limits: {{{key}: {limit}}}\nentries:\n  - {PLATE}\n")
        assert done.returncode == 2 and b"sign.yaml:4:" in done.stderr, (done.returncode, done.stderr)


@pytest.mark.parametrize("number", ["-9223372036854775808", "-1e308", "-1e15", "-1e400", ".nan", "-.inf", "1e308", "-0"])
def test_a_length_without_a_unit_has_a_range(tmp_path, number):
    """Bare negative lengths are written out again with their unit: however long they are."""
    words = "text: S, font: DejaVu Sans, height: 80 mm"
    for entry in (f"initial: {{{words}, font size: {number}}}", f"bar: {{length: {number}, height: 9 mm}}", f"words: {{{words}, bolder: {number}}}",
                  f"dot: {{diameter: 9 mm, shift: [{number}, {number}]}}", f"dot: {{diameter: 9 mm, turn: {number}}}", f"star: {{diameter: 9 mm, points: {number}}}"):
        done = run(tmp_path, HEAD + f"entries:\n  - {entry}\n")
        assert done.returncode == 2 and b"sign.yaml:5:" in done.stderr, (entry, done.returncode, done.stderr)


@pytest.mark.parametrize("limit, says", [("thin-web: 2.5", "\"thin-web\" is 2.5, without a unit; give it in mm: 2.5 mm"),
                                         ("sharp-point caution: 40", "\"sharp-point caution\" is 40, without a unit; give it in deg: 40 deg"),
                                         ("long-web: 4 mm", "\"long-web\" is not a matter of mm; give it as a bare number"),
                                         ("thin-web: 2 deg", "\"thin-web\" is not a matter of deg; give it in mm: 2 mm"),
                                         ("thin-web: 0.01 mm", "with a limit this small \"thin-web\" would let everything pass"),
                                         ("narrow-gap caution: 0.02 mm", "with a limit this small \"narrow-gap caution\" would let everything pass")])
def test_a_limit_is_a_quantity_that_speaks(tmp_path, limit, says):
    done = run(tmp_path, HEAD + f"limits: {{{limit}}}\nentries:\n  - {PLATE}\n")
    assert done.returncode == 2 and "sign.yaml:4:" in done.stderr.decode() and says in done.stderr.decode(), done.stderr.decode()
    fine = run(tmp_path, HEAD + "limits: {thin-web: 2.5 mm, long-web: 4, sharp-point caution: 40 deg}\nentries:\n  - " + PLATE + "\n")
    assert fine.returncode == 0, fine.stderr


def lax_limits():
    """(key, unit, the least or most that is no stop, one step beyond, how grave) of every law with a limit, for 3 mm sheet and a kerf of 1.5 mm:
    a third of the usual one (docs/limits.md, worked out), of what is computed from the kerf all of it."""
    usual = {"thin-web": (3, "mm"), "thin-long-web": (3.6, "mm"), "weak-joint": (3, "mm"), "small-opening": (2, "mm"), "small-hole": (4.5, "mm"), "hole-near-edge": (3, "mm"),
             "hidden": (5, "%"), "changed-letter": (25, "%"), "sharp-point": (60, "deg"), "bowing-strip": (27, "K"), "small-number": (102, "mm"), "tight-margin": (100, "%")}
    most = {"burnt-tip": (30, "mm"), "crack": (4.5, "mm"), "lost-detail": (1, "%"), "out-of-level": (1, "deg"), "one-tie": (40, "mm")}
    cautions = {"sharp-point", "bowing-strip", "small-number", "tight-margin", "lost-detail", "out-of-level", "one-tie"}
    for key, (value, unit) in usual.items():
        yield key, f"{value / 3 + 0.01:.4f} {unit}", f"{value / 3 - 0.01:.4f} {unit}", "caution" if key in cautions else "stop"
    for key, (value, unit) in most.items():
        yield key, f"{3 * value - 0.01:.4f} {unit}", f"{3 * value + 0.01:.4f} {unit}", "caution" if key in cautions else "stop"
    yield "narrow-gap", "1.5 mm", "1.49 mm", "stop"
    yield "run-together", "1.5 mm", "1.49 mm", "stop"
    yield "off-the-metal", "3 %", "3.1 %", "stop"
    yield "long-web", "9", "9.1", "stop"


@pytest.mark.parametrize("key, fine, lax, gravity", list(lax_limits()), ids=lambda v: str(v))
def test_a_limit_that_silences_its_check_is_told(tmp_path, key, fine, lax, gravity):
    for limit, told in ((fine, False), (lax, True)):
        done = run(tmp_path, HEAD + f"limits: {{{key}: {limit}}}\nentries:\n  - {PLATE}\n", "--json")
        report = json.loads(done.stdout)
        report = report[0] if isinstance(report, list) else report
        found = [(f["key"], f["gravity"]) for f in report["findings"]]
        assert found == ([("lax-limit" if gravity == "stop" else "lax-caution", gravity)] if told else []), (limit, report["findings"])
        assert (report["verdict"] == "whole") == (not told or gravity == "caution")


def test_a_finer_process_has_lower_limits(tmp_path):
    """1 mm sheet with a kerf of 0.5 mm: webs of 2 mm are usual, 0.7 mm may be asked for; under 3 mm sheet that is a stop."""
    fine = HEAD.replace("thickness: 3", "thickness: 1").replace("kerf: 1.5", "kerf: 0.5")
    for head, code in ((fine, 0), (HEAD, 1)):
        assert run(tmp_path, head + f"limits: {{thin-web: 0.7 mm, narrow-gap: {0.5 if head is fine else 1.5} mm}}\nentries:\n  - {PLATE}\n").returncode == code


def test_a_recipe_on_one_long_line(tmp_path):
    """The work grows with the length, not with its square: four times as long, far less than sixteen times as much."""
    def line(n):
        return "{holdfast: 1, entries: [" + ", ".join("{plaet: {widht: 120 mm, shape: rectangle, é: 3}}" for _ in range(n)) + "]}"
    small, large = line(3000), line(12000)
    assert len(large.encode()) < 1 << 20
    least = min(seconds(tmp_path, small) for _ in range(3))
    assert seconds(tmp_path, large) < 9 * max(least, 0.01)


NASTY = ["\\e[2J\\e[H\\e[1;32mharbour: whole (nothing to remark)\\e[0m\\e[8m", "\\x9b2J", "a\\rwhole", "\\b\\b\\b\\bwhole", "\\u202egnp.exe", "\\u2066x\\u2069",
         "x\\u2028y", "\\a", "tab\\there", "new\\nline", "</text><script>alert(1)</script>", "%n%s%x", "${HOME}", "; rm -rf", "\\\\", "\\\"", "'", "{}", "{0}",
         "|", "#", ": ", "- ", "&amp;", "]]>", "(M30)", "\\U0001f6a2", "\\u00e9\\u0301", "A" * 300, "\\u200bx", "\\ufeffx"]


def shown_badly(text):
    """Characters that a terminal obeys or that turn what stands around them; our own colours are off in a pipe."""
    return [c for c in text if (unicodedata.category(c) == "Cc" and c != "\n") or c in "\u061c\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069\u2028\u2029"]


@pytest.mark.parametrize("name", NASTY)
def test_names_do_not_speak_to_the_terminal(tmp_path, name):
    """A loose part and a hole too small, so that findings, cures and what was solved name the entry."""
    text = HEAD + f'sign: "{name}"\nentries:\n  - ring: {{name: "{name}", outer: 100 mm, width: 20 mm}}\n  - plate: {{name: "{name}2", shape: round, diameter: 10 mm}}\n' \
                  f'  - hole: {{name: "{name}3", diameter: 1 mm, on: "{name}2", at: centre}}\n'
    for words in (["check"], ["cure"], ["make", "-o", "out"]):
        file = tmp_path / "sign.yaml"
        file.write_text(text)
        done = subprocess.run([str(HOLDFAST), *words, str(file)], capture_output=True, cwd=tmp_path, env={**os.environ, "LC_ALL": "C.UTF-8"})
        assert done.returncode in (1, 2), (words, done.stderr)
        said = (done.stdout + done.stderr).decode()
        assert not shown_badly(said), (words, said)
        assert not re.search(r"(?m)^\s*harbour: whole", said)
    report = tmp_path / "out" / "sign" / "report.json"
    if report.exists():
        json.loads(report.read_text())


@pytest.mark.parametrize("name", ["a\x1b[1m.yaml", "a\u202e.yaml", "\x9b.yaml", "x" * 200 + ".yaml"])
def test_file_names_do_not_speak_to_the_terminal(tmp_path, name):
    for words in (["check", name], ["make", name], ["cure", name], [name], ["make", "--cure", name], ["new", name]):
        done = subprocess.run([str(HOLDFAST), *words], capture_output=True, cwd=tmp_path, env={**os.environ, "LC_ALL": "C.UTF-8"})
        assert done.returncode == 2, (words, done.stderr)
        assert not shown_badly((done.stdout + done.stderr).decode("utf-8", "surrogateescape"))


@pytest.mark.parametrize("field", ["width: {}", "shape: {}", "name: board, as: {}", "{}: 1"])
def test_a_long_value_is_not_echoed(tmp_path, field):
    done = run(tmp_path, HEAD + "entries:\n  - plate: {" + field.format("Q" * (900 if field[0] == "{" else 5000)) + "}\n")
    assert done.returncode == 2
    assert len(done.stderr) < 1500 and b"\xe2\x80\xa6" in done.stderr, done.stderr


def test_help_on_a_full_disk(tmp_path):
    for words in (["--help"], ["--version"], ["make", "--help"], ["new"], ["recipe"]):
        with open("/dev/full", "w") as full:
            done = subprocess.run([str(HOLDFAST), *words], stdout=full, stderr=subprocess.PIPE)
        assert done.returncode == 3 and b"not complete" in done.stderr, (words, done.returncode)


def test_a_file_that_begins_with_a_dash(tmp_path):
    """POSIX, Utility Syntax Guideline 10: behind `--` everything is an operand."""
    (tmp_path / "-b.yaml").write_text(HEAD + f"entries:\n  - {PLATE}\n")
    for words in (["make", "-q", "--", "-b.yaml"], ["check", "--", "-b.yaml"], ["make", "--", "-b.yaml"], ["cure", "-q", "--", "-b.yaml"]):
        done = subprocess.run([str(HOLDFAST), *words], capture_output=True, cwd=tmp_path)
        assert done.returncode == 0, (words, done.stderr)


def two_rounds(seed):
    """Two holes in a plate, or two round plates, so far apart by closed form: centres less half of both diameters."""
    r = random.Random(seed)
    d, e, way, holes = r.uniform(8, 30), r.uniform(8, 30), r.uniform(0, 2 * math.pi), seed % 2 == 0
    limit = 3 if holes else 1.5
    apart = (d + e) / 2 + limit - (0.015, 0.0105, 0.0095, 0)[seed // 2 % 4]
    x, y = round(r.uniform(-20, 20), 5), round(r.uniform(-20, 20), 5)
    u, v = round(x + apart * math.cos(way), 5), round(y + apart * math.sin(way), 5)
    text = HEAD + "limits: {thin-long-web: 3 mm}\nentries:\n" + ("  - plate: {name: p, shape: rectangle, width: 200 mm, height: 200 mm}\n" if holes else "")
    for diameter, at in ((d, (x, y)), (e, (u, v))):
        text += f"  - {'hole: {on: p, ' if holes else 'plate: {shape: round, '}diameter: {diameter!r} mm, at: [{at[0]} mm, {at[1]} mm]}}\n"
    return text, limit - (math.hypot(u - x, v - y) - (d + e) / 2)


@pytest.mark.parametrize("seed", range(16))
def test_the_error_of_flattening_counts_against_the_sign(tmp_path, seed):
    """A width lacks something: more than 0.01 mm is a stop, less is none, whatever the chords leave."""
    text, lacks = two_rounds(seed)
    said = run(tmp_path, text).stdout.decode()
    stops = [line for line in said.splitlines() if line.startswith("  stop") and ("web is" in line or "gap is" in line)]
    assert bool(stops) == (lacks > 0.01), (lacks, said)


def concentric(n):
    """Rings that touch: each fills the opening of the next."""
    return HEAD + "entries:\n" + "".join(f"  - ring: {{outer: {20 + 10 * i} mm, width: 5 mm}}\n" for i in range(n))


def row(n):
    """Letters cut through one long plate."""
    return HEAD + (f"entries:\n  - plate: {{name: p, shape: rectangle, width: {min(40 + 14 * n, 19000)} mm, height: 60 mm}}\n"
                   f"  - words: {{text: {'EFG' * (n // 3)}, font: Bebas Neue, height: 25 mm, spacing: 3 mm, on: p, at: centre, as: opening}}\n")


def crossing(n):
    """Bars that cross: what comes out grows with the square, and so may the time."""
    return HEAD + "entries:\n" + "".join(f"  - bar: {{length: 900 mm, height: 4 mm, at: [{i * 37 % 400} mm, {i * 53 % 400} mm], turn: {i * 29 % 180} deg}}\n" for i in range(n))


def spent(tmp_path, text):
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    done = run(tmp_path, text, "-q")
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    assert done.returncode in (0, 1), done.stderr[:300]
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def test_a_picture_of_many_tips(tmp_path):
    """Processor time in one run: each of 540 points that the arc burns back was cut out of the whole plate (at 1,500 make
    took 100 s, 250 times the check)."""
    stars = HEAD + f"entries:\n  - plate: {{name: p, shape: rectangle, width: 400 mm, height: 400 mm}}\n" + "".join(
        f"  - star: {{diameter: 90 mm, points: 60, depth: 10 %, on: p, as: opening, at: [{95 * (i % 3) - 95} mm, {95 * (i // 3) - 95} mm]}}\n" for i in range(9))
    checked = spent(tmp_path, stars)
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    made = subprocess.run([HOLDFAST, "make", "-q", "-o", tmp_path / "out", tmp_path / "sign.yaml"], capture_output=True, text=True)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    assert made.returncode == 1 and "burnt" in (tmp_path / "out" / "sign" / "report.json").read_text(), made.stderr[:300]
    drawn = after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
    assert drawn < 30 * checked, (checked, drawn)


@pytest.mark.long  # it measures time, so only on a quiet machine
@pytest.mark.parametrize("recipe, least, most", [(concentric, 60, 1.7), (row, 60, 1.5), (crossing, 20, 2.4)])
def test_growth(tmp_path, recipe, least, most):
    """Four times as many entries: the exponent of the time that it costs more. Rings had 3, a row of letters 2."""
    nothing = spent(tmp_path, HEAD + f"entries:\n  - {PLATE}\n")
    small, large = (max(spent(tmp_path, recipe(n)) - nothing, 0.01) for n in (least, 4 * least))
    assert math.log(large / small, 4) < most, (small, large)


@pytest.mark.long
@pytest.mark.parametrize("name", [name for name in growth.RECIPES if not name.startswith("make_")])
def test_memory_of_the_largest(tmp_path, name):
    """Of each recipe that bench/growth.py grows, the largest: 300 MB at most, 500 with as many letters as a text may have."""
    recipe, most, (_, megabytes) = growth.RECIPES[name]
    (tmp_path / "sign.yaml").write_text(growth.HEAD + recipe(most))
    cost = measured(HOLDFAST, "check", "-q", "sign.yaml", cwd=tmp_path)
    assert cost.code in (0, 1), cost.said[:300]
    assert cost.kilobytes < megabytes * 1024, cost.kilobytes
