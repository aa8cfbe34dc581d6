#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""What ties cost, as ratios and as a curve: sign B cut through, with 12 loose parts, and laces of dots.

usage: bench/ties.py        needs a build in build/ and a quiet machine
"""
import pathlib
import re
import subprocess
import tempfile

TOP = pathlib.Path(__file__).resolve().parents[1]
HEAD = "holdfast: 1\nmetal: {kind: mild steel, thickness: 3 mm}\nprocess: {kerf: 1.5 mm}\nentries:\n"
WORDS = "text: Saltmarsh Quay Boat Yard and Pottery by the Seashore, font: Bebas Neue, height: 80 mm, arc radius: 400 mm, at: top"


def cut_through():
    return HEAD + f"  - plate: {{shape: round, diameter: 1100 mm}}\n  - words: {{{WORDS}, as: opening}}\n  - ties: {{}}\n"


def twelve_loose():
    spots = ", ".join(f"[{(x - 5.5) * 22:.1f} mm, 0 mm]" for x in range(12))
    return ((TOP / "bench/reference-b.yaml").read_text() + "  - bar: {length: 780 mm, height: 12 mm, shift: [0 mm, -30 mm]}\n"
            f"  - dot: {{diameter: 14 mm, at: [{spots}]}}\n  - ties: {{}}\n")


def lace(n):
    """n loose dots of 8 mm in a window, 4 mm of gap between neighbours."""
    columns = round(n ** 0.5)
    rows = -(-n // columns)
    dots = ""
    for row in range(rows):
        spots = ", ".join(f"[{(x - (columns - 1) / 2) * 12:.1f} mm, {(row - (rows - 1) / 2) * 12:.1f} mm]"
                          for x in range(min(columns, n - row * columns)))
        dots += f"  - dot: {{diameter: 8 mm, at: [{spots}]}}\n"
    w, h = columns * 12 + 4, rows * 12 + 4
    return (HEAD + f"  - plate: {{shape: rectangle, width: {w + 60} mm, height: {h + 60} mm}}\n"
            f"  - plate: {{shape: rectangle, width: {w} mm, height: {h} mm, as: opening}}\n"
            f"{dots}  - ties: {{}}\n")


def main():
    signs = {"B cut through": cut_through(), "B with 12 loose dots": twelve_loose()}
    signs |= {f"lace of {n}": lace(n) for n in (32, 100, 316, 1000)}
    with tempfile.TemporaryDirectory() as folder:
        for name, text in signs.items():
            file = pathlib.Path(folder) / f"{name.replace(' ', '-')}.yaml"
            file.write_text(text)
            done = subprocess.run([TOP / "build/bench/bench_ties", file], capture_output=True, text=True, check=True)
            print(re.sub(r"^\S*/", "", done.stdout), end="", flush=True)


main()
