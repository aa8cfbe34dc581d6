#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""How the cost of a check, or of making all files, grows with the sign: exponents of time and memory, size by size, and what is
wanted of the largest. Look, no gate.

usage: bench/growth.py [RECIPE...]     needs a build in build/, or HOLDFAST=PROGRAM, and a quiet machine

Each recipe at a quarter, half and all of its size; what a plate alone costs is taken off. 1 is as much more as there is more
of it, 2 its square. Behind the largest stand the processor seconds and MB that are wanted of it, with an exclamation mark where they are
not kept. Bars that cross have crossings in the square of their number: 2 is the least there. Rings inside one another grow longer too:
1.5. At last, without a RECIPE, the verdict on sign L in unions of its polygons (bench_verdict): 3 are wanted. The recipes
that begin with make_ are made, not checked: the proof names and marks each finding, and crossing bars have a thousand.
"""
import math
import os
import pathlib
import re
import subprocess
import sys
import tempfile

TOP = pathlib.Path(__file__).resolve().parents[1]
HOLDFAST = os.environ.get("HOLDFAST", TOP / "build" / "holdfast")
HEAD = "holdfast: 1\nmetal: {kind: mild steel, thickness: 3 mm}\nprocess: {kerf: 1.5 mm}\nentries:\n"
PLATE = "  - plate: {name: p, shape: rectangle, width: %d mm, height: %d mm}\n"
WORDS = "  - words: {text: %s, font: Bebas Neue, height: 25 mm, spacing: 3 mm, %s}\n"


def crossing(n):
    return "".join(f"  - bar: {{length: 1500 mm, height: 4 mm, at: [{i * 37 % 800} mm, {i * 53 % 800} mm], turn: {i * 29 % 180} deg}}\n" for i in range(n))


def rings(n):
    return "".join(f"  - ring: {{outer: {20 + 10 * i} mm, width: 5 mm}}\n" for i in range(n))


def rings_apart(n):
    return "".join(f"  - ring: {{outer: {20 + 20 * i} mm, width: 5 mm}}\n" for i in range(n))


def stars(n):
    side = math.ceil(math.sqrt(n))
    return PLATE % (190 * side, 190 * side) + "".join(
        f"  - star: {{diameter: 150 mm, points: 60, depth: 60 %, on: p, at: [{(i % side - side / 2) * 180 + 90} mm, {(i // side - side / 2) * 180 + 90} mm], as: opening}}\n" for i in range(n))


def shallow_stars(n):
    return stars(n).replace("depth: 60 %", "depth: 10 %")


def letters(n):
    """As many letters as stand in one row that a plate may be long: each presses into the next."""
    return f"  - bar: {{name: rail, length: 9900 mm, height: 20 mm}}\n  - words: {{text: {'QUAYS' * (n // 5)}, font: Bebas Neue, height: 25 mm, stand on: rail, bite: 0.5 mm}}\n"


def rows(n):
    """Of n letters, 100 at most in a row: the letters of each row and how high it stands, 1 apart."""
    letters = [100] * (n // 100) + [n % 100] * (n % 100 > 0)
    return [("EFG" * 34)[:count] for count in letters], [i - (len(letters) - 1) / 2 for i in range(len(letters))]


def rail(n):
    return "".join(f"  - bar: {{name: rail{i}, length: 1600 mm, height: 10 mm, at: [0 mm, {50 * y} mm]}}\n" + WORDS % (text, f"on: rail{i}") for i, (text, y) in enumerate(zip(*rows(n))))


def cut_row(n):
    texts, ys = rows(n)
    return PLATE % (1600, 40 * len(ys) + 40) + "".join(WORDS % (text, f"on: p, at: [0 mm, {40 * y} mm], as: opening") for text, y in zip(texts, ys))


def hole_line(n, tall=False):
    """One line of round holes, along x or along y: the cost must not hang on the way that it runs."""
    long, short = min(12 * n + 20, 19000), 40
    at = ", ".join(f"[{'0 mm, ' if tall else ''}{(i - n / 2) * (long - 20) / n + 6:.3f} mm{'' if tall else ', 0 mm'}]" for i in range(n))
    return PLATE % ((short, long) if tall else (long, short)) + f"  - hole: {{diameter: 6 mm, hanging: no, at: [{at}]}}\n"


def hole_column(n):
    return hole_line(n, tall=True)


def hole_field(n):
    """A square of round holes, a row of them an entry."""
    side = round(math.sqrt(n))
    rows = [", ".join(f"[{(i - side / 2) * 12 + 6} mm, {(r - side / 2) * 12 + 6} mm]" for i in range(side)) for r in range(side)]
    return PLATE % (12 * side + 20, 12 * side + 20) + "".join(f"  - hole: {{diameter: 6 mm, hanging: no, at: [{at}]}}\n" for at in rows)


def overlapping(n):
    """Rings thrown on a heap as wide as they need: each crosses as many others, however many there are."""
    side = round(85 * math.sqrt(n))
    return "".join(f"  - ring: {{outer: {50 + i * 97 % 250} mm, width: 8 mm, at: [{i * 7919 % side} mm, {i * 6007 % side} mm]}}\n" for i in range(n))


def script_row(n):
    """Small letters of a script that run into each other, cut through: nearly all of it is narrower than a web must be."""
    return PLATE % (9900, 500) + f"  - words: {{text: {'holdfast' * (n // 8)}, font: Lobster Two, height: 8 mm, on: p, as: opening}}\n"


def lace(n):
    """Loose dots in a window, 4 mm of gap between neighbours, tied."""
    columns = math.ceil(math.sqrt(n))
    rows = -(-n // columns)
    dots = ""
    for row in range(rows):
        at = ", ".join(f"[{(x - (columns - 1) / 2) * 12:.1f} mm, {(row - (rows - 1) / 2) * 12:.1f} mm]" for x in range(min(columns, n - row * columns)))
        dots += f"  - dot: {{diameter: 8 mm, at: [{at}]}}\n"
    w, h = columns * 12 + 4, rows * 12 + 4
    return PLATE % (w + 60, h + 60) + f"  - plate: {{shape: rectangle, width: {w} mm, height: {h} mm, as: opening}}\n{dots}  - ties: {{}}\n"


def tied_lines(n):
    """Lines of 65 letters cut through, their counters tied."""
    text = "Saltmarsh Quay Boat Yard and Pottery by the Seashore road east open"[:65]
    lines = n // 65
    return (PLATE % (2400, 70 * lines + 60) + "".join(f"  - words: {{text: {text}, font: Lobster Two, height: 50 mm, spacing: 3 mm, on: p, at: [0 mm, {70 * (i - (lines - 1) / 2)} mm], as: opening}}\n"
                                                      for i in range(lines)) + "  - ties: {}\n")


LIMIT, AT_THE_CAPS, TIED, SHEET = (1, 300), (3, 500), (2, 300), (5, 500)  # processor s and MB of the largest; TIED: ten lines; SHEET: 2,000 cuts
RECIPES = {"hole_line": (hole_line, 480, LIMIT), "hole_column": (hole_column, 480, LIMIT), "crossing": (crossing, 250, LIMIT), "rings": (rings, 498, LIMIT), "rings_apart": (rings_apart, 240, LIMIT),
           "stars": (stars, 25, LIMIT), "stars_60": (stars, 60, LIMIT), "rail": (rail, 1000, LIMIT), "cut_row": (cut_row, 2000, AT_THE_CAPS), "letters": (letters, 1000, LIMIT),
           "hole_field": (hole_field, 10000, LIMIT), "overlapping": (overlapping, 499, LIMIT), "script_row": (script_row, 2000, AT_THE_CAPS), "tied_lines": (tied_lines, 650, TIED), "lace": (lace, 1000, LIMIT),
           "make_crossing": (crossing, 250, None), "make_rings": (rings, 240, None), "make_stars": (shallow_stars, 25, None), "make_letters": (letters, 1000, None), "make_hole_field": (hole_field, 2000, SHEET), "make_cut_row": (cut_row, 1000, None)}
VERDICT = 3  # unions, of sign L


def cost(text, folder, make=False):
    """Processor seconds and peak MB of one check, or of making all files; the least of two runs."""
    recipe = pathlib.Path(folder) / "sign.yaml"
    recipe.write_text(HEAD + text)
    runs = []
    for _ in range(2):
        process = os.posix_spawn(HOLDFAST, [HOLDFAST, *(("make", "-o", folder) if make else ("check",)), "-q", recipe], os.environ)
        _, status, usage = os.wait4(process, 0)
        if os.waitstatus_to_exitcode(status) not in (0, 1):
            raise SystemExit(f"growth: {HOLDFAST} refused a recipe")
        runs.append((usage.ru_utime + usage.ru_stime, usage.ru_maxrss / 1024))
    return min(r[0] for r in runs), min(r[1] for r in runs)


def exponent(small, large, times):
    return math.log(max(large, 1e-3) / max(small, 1e-3)) / math.log(times)


def judged(now, wanted):
    """What is wanted of the largest, and whether it is kept."""
    if wanted is None:
        return ""
    return f"   wanted {wanted[0]} s, {wanted[1]} MB{' !' if now[0] > wanted[0] or now[1] > wanted[1] else ''}"


def show_verdict():
    bench = TOP / "build" / "bench" / "bench_verdict"
    done = subprocess.run([bench, TOP / "bench" / "reference-l.yaml"], capture_output=True, text=True)
    found = re.search(r"recipe to verdict +[0-9.]+ ms +([0-9.]+) unions", done.stdout)
    if found is None:
        raise SystemExit(f"growth: {bench} says nothing of a verdict: {done.stderr}")
    print(f"sign L: a verdict in {found[1]} unions   wanted {VERDICT}{' !' if float(found[1]) > VERDICT else ''}")


def main():
    names = sys.argv[1:] or RECIPES
    with tempfile.TemporaryDirectory() as folder:
        nothing = {make: cost(PLATE % (100, 60), folder, make) for make in (False, True)}
        print(f"{'':13} {'n':>6} {'s':>7} {'MB':>6}   exponents of time, memory")
        for name in names:
            recipe, most, wanted = RECIPES[name]
            make = name.startswith("make_")
            before = None
            for n in (most // 4, most // 2, most):
                now = [a - b for a, b in zip(cost(recipe(n), folder, make), nothing[make])]
                grown = "" if before is None else "   ".join(f"{exponent(b, a, n / before[0]):5.2f}" for b, a in zip(before[1], now))
                print(f"{name:13} {n:6} {now[0]:7.2f} {now[1]:6.0f}   {grown}{judged(now, wanted) if n == most else ''}", flush=True)
                before = n, now
    if not sys.argv[1:]:
        show_verdict()


if __name__ == "__main__":
    main()
