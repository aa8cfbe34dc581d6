#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""What fits and groups cost: each sign solved, and the same sign with the figures that came out; and 100 groups of 5
entries. Processor seconds of a check, the least of several, less those of a plate alone. Look, no gate.

usage: bench/compose.py [BUILD]        needs a release build
"""
import json
import os
import pathlib
import subprocess
import sys
import tempfile

TOP = pathlib.Path(__file__).resolve().parents[1]
HOLDFAST = pathlib.Path(sys.argv[1] if len(sys.argv) > 1 else TOP / "build") / "holdfast"
ROUNDS = 15
HEAD = "holdfast: 1\nmetal: {kind: mild steel, thickness: 3 mm}\nprocess: {kerf: 1.5 mm}\nentries:\n"
FONT = "font: {family: Bebas Neue, style: Bold}"
PLATE = "plate: {name: board, shape: oval, width: 1200 mm, height: 500 mm}"


def words(name, text, more):
    return f'words: {{name: {name}, text: {text}, {FONT}, as: opening, {more}}}'


# name: (the sign to be solved, the same with figures; @ stands for what the report of the first says)
def height(report, entry):
    return next((it["value"] for it in report["solved"] if it["entry"] == entry and it["what"] == "letter height"), None)


def given_words(report, name, text):
    size = next(it for it in report["sizes"] if it["entry"] == name)
    x, y = (size["box"][k] + size["box"][s] / 2 for k, s in (("x", "width"), ("y", "height")))
    return words(name, text, f"height: {height(report, name):.4f} mm, spacing: 8 %, on: board, shift: [{x:.3f} mm, {y:.3f} mm]")


PAIRS = {
    "width": ([PLATE, words("a", "SALTMARSH BOATS", "width: 900 mm, spacing: 8 %, on: board")],
              lambda r: [PLATE, given_words(r, "a", "SALTMARSH BOATS")]),
    "inside": ([PLATE, words("a", "SALTMARSH BOATS", "inside: board, margin: 30 mm, spacing: 8 %")],
               lambda r: [PLATE, given_words(r, "a", "SALTMARSH BOATS")]),
    "stack": ([PLATE, words("a", "SALTMARSH", "spacing: 8 %"), words("b", "BOATS AND OARS", "spacing: 8 %"),
               "stack: {of: [a, b], inside: board, margin: 30 mm, gap between: 30 mm}"],
              lambda r: [PLATE, given_words(r, "a", "SALTMARSH"), given_words(r, "b", "BOATS AND OARS")]),
    "row": ([PLATE, words("a", "TIDE", "spacing: 8 %"), words("b", "TIMBER", "spacing: 8 %"),
             "row: {of: [a, b], width: 900 mm, gap between: 40 mm, on: board}"],
            lambda r: [PLATE, given_words(r, "a", "TIDE"), given_words(r, "b", "TIMBER")]),
    "margin": (["plate: {name: board, shape: rounded, corner: 20 mm, margin: 30 mm}", words("a", "SALTMARSH BOATS", "height: 100 mm, spacing: 8 %, on: board")],
               lambda r: ["plate: {name: board, shape: rounded, corner: 20 mm, width: %.3f mm, height: %.3f mm}" % tuple(
                   next(it["box"] for it in r["sizes"] if it["entry"] == "board")[k] for k in ("width", "height")),
                   words("a", "SALTMARSH BOATS", "height: 100 mm, spacing: 8 %, on: board")]),
}


def hundred(solved):
    entries = ["plate: {name: board, shape: rectangle, width: 9900 mm, height: 9900 mm}"]
    for g in range(100):
        names = [f"g{g}n{i}" for i in range(5)]
        entries += [words(names[0], "EF", "height: 70 mm, spacing: 10 %"), f"dot: {{name: {names[1]}, as: opening, diameter: 20 mm}}",
                    f"ornament: {{name: {names[2]}, form: {['heart', 'star', 'crescent', 'cross', 'fish'][g % 5]}, as: opening, height: 80 mm}}",
                    f"star: {{name: {names[3]}, as: opening, diameter: 40 mm}}", words(names[4], "HT", "height: 70 mm, spacing: 10 %"),
                    f"row: {{of: [{', '.join(names)}], {'width: 600 mm' if solved else 'gap between: 25 mm'}, on: board, "
                    f"at: [{-4400 + g % 10 * 960} mm, {4400 - g // 10 * 960} mm]}}"]
    return entries


def seconds(folder, entries):
    """Of one check, and its report."""
    file = folder / "sign.yaml"
    file.write_text(HEAD + "".join(f"  - {entry}\n" for entry in entries))
    best = 1e9
    for _ in range(ROUNDS):
        process = subprocess.Popen([HOLDFAST, "check", "--quiet", file], stdout=subprocess.DEVNULL)
        _, status, usage = os.wait4(process.pid, 0)
        assert os.waitstatus_to_exitcode(status) in (0, 1)
        best = min(best, usage.ru_utime + usage.ru_stime)
    return best, json.loads(subprocess.run([HOLDFAST, "check", "--json", file], stdout=subprocess.PIPE).stdout)


def main():
    with tempfile.TemporaryDirectory() as name:
        folder = pathlib.Path(name)
        nothing, _ = seconds(folder, [PLATE])
        for what, (solved, given) in PAIRS.items():
            one, report = seconds(folder, solved)
            other, _ = seconds(folder, given(report))
            ratio = (one - nothing) / (other - nothing)
            print(f"{what:10} solved {one - nothing:.4f} s, given {other - nothing:.4f} s: {ratio:.2f}   at most 1.2 "
                  f"{'reached' if ratio <= 1.2 else 'NOT REACHED'}")
        for solved in (False, True):
            one, report = seconds(folder, hundred(solved))
            print(f"100 groups of 5 entries{', of a width' if solved else ''}: {one:.3f} s, {report['verdict']}   at most 0.5 "
                  f"{'reached' if one <= 0.5 else 'NOT REACHED'}")


main()
