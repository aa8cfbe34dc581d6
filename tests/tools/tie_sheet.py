#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Sixty tied signs on one sheet, to be looked at: docs/pictures/ties.png.

usage: tests/tools/tie_sheet.py HOLDFAST OUTPUT.png [NUMBER | scripts]

scripts: 40 words in 12 faces of 9 scripts, docs/pictures/ties-scripts.png.

Words of the village, installed faces, cut through and standing on a rail, a plain rule for ties. Drawn
from each sign's own outlines (metal.svg; not-to-be-cut.svg of a sign that is not whole, its metal paler).
Seeded: the same faces give the same sheet.
"""
import io
import random
import re
import subprocess
import sys
import tempfile
from pathlib import Path

from PIL import Image

FACES = ["DejaVu Sans, style: Bold", "DejaVu Serif, style: Bold", "League Spartan, style: Bold", "Bebas Neue, style: Bold",
         "Lobster Two, style: Bold", "Vollkorn, style: Bold", "Inter, style: Bold", "Loma, style: Bold", "DejaVu Sans, style: Oblique"]
CUT = ["BAKERY 8", "POTTERY", "4 QUAY RD", "ROPE & DOCK", "No. 806", "BOARD 69", "Boat yard", "Ferry pad", "Harbour", "ABOARD", "Old Pier", "4690 Bd"]
STANDING = ["Jürgen", "Zoë", "Ägir", "Bäckerei", "Öl", "Fjord", "Jolie île"]
CJK = [("港の灯台", "IPAGothic"), ("日本国", "IPAGothic")]
# face, words: cut through and standing in turn
SCRIPTS = [
    ("DejaVu Sans, style: Bold", ["Łódź 8", "Κωπηλασία", "Здравствуй", "naïve Å", "ΑΘΗΝΑ 0", "Щёлково"]),
    ("DejaVu Serif, style: Bold", ["Ärger", "БОРЩ 48", "Žižka", "Übergröße"]),
    ("DejaVu Sans, style: Bold Oblique", ["Boat 69", "über 80"]),
    ("C059, style: Bold", ["ABOARD", "Jiří & Żółw"]),
    ("Inter, style: Bold", ["Dr. O’Dea", "it’s “9”", "4 % Ø"]),
    ("League Spartan, style: Bold", ["BARQUE 6", "Çöküş"]),
    ("Frank Ruehl CLM, style: Bold", ["סירות", "שלום", "מגדלור"]),
    ("Nachlieli CLM, style: Bold", ["קפה טוב", "ספסל"]),
    ("Amiri, style: Bold", ["مقهى", "قارب", "ميناء"]),
    ("Lohit Devanagari", ["नाव घर", "ठंडा पानी", "बगीचा"]),
    ("Loma, style: Bold", ["ท่าเรือ", "ร้านอาหาร", "บ้าน"]),
    ("IPAGothic", ["国道日記", "口笛", "ロボ", "あめの舟", "申込書", "ぱんや", "昼食"]),
]
COLUMNS, CELL, GAP = 5, 290, 6


def scripts_recipe(rng, i, number):
    face, text = [(face, text) for face, words in SCRIPTS for text in words][i]
    return standing(text, face, rng.choice(["tied", "lowered"])) if i % 3 == 2 else cut(text, face)


def recipe(rng, i, number):
    if i >= number - len(CJK):
        text, font = CJK[i - number]
        return cut(text, font)
    if i % 5 == 4:
        return standing(rng.choice(STANDING), rng.choice(FACES[:6]), rng.choice(["tied", "lowered"]))
    return cut(CUT[i % len(CUT)], FACES[(i + i // len(FACES)) % len(FACES)])


def head():
    return "holdfast: 1\nmetal: {kind: mild steel, thickness: 3 mm}\nprocess: {kerf: 1.5 mm}\nentries:\n"


def cut(text, font):
    return head() + f"""  - plate: {{name: plate, shape: rectangle, width: {(150 if "IPA" in font else 128) * len(text) + 60} mm, height: 190 mm}}
  - words: {{name: w, text: "{text}", font: {{family: {font}}}, height: 100 mm, as: opening, spacing: 12 %}}
  - ties: {{}}
"""


def standing(text, font, dots):
    return head() + f"""  - bar: {{name: rail, length: {62 * len(text)} mm, height: 14 mm}}
  - words: {{name: w, text: "{text}", font: {{family: {font}}}, height: 90 mm, stand on: rail, spacing: joined}}
  - ties: {{dots: {dots}}}
"""


def metal(holdfast, folder, text):
    """(viewBox, path data, whole)"""
    (folder / "sign.yaml").write_text(text)
    done = subprocess.run([holdfast, "make", folder / "sign.yaml", "-o", folder / "out"], capture_output=True, text=True, timeout=300)
    whole = done.returncode == 0
    assert done.returncode in (0, 1), done.stderr
    svg = (folder / "out" / "sign" / ("metal.svg" if whole else "not-to-be-cut.svg")).read_text()
    box = [float(v) for v in re.search(r'viewBox="([^"]+)"', svg).group(1).split()]
    box = [box[0], 0, box[2], box[3] + min(0, box[1])]
    return box, re.findall(r'<path[^>]* d="([^"]*)"', svg, re.S), whole


def main():
    holdfast, output = sys.argv[1:3]
    scripts = sys.argv[3:] == ["scripts"]
    number = sum(len(words) for _, words in SCRIPTS) if scripts else int(sys.argv[3]) if len(sys.argv) > 3 else 60
    one = scripts_recipe if scripts else recipe
    rng = random.Random("ties")
    y, row, high = GAP, [], 0
    with tempfile.TemporaryDirectory() as name:
        for i in range(number):
            box, paths, whole = metal(holdfast, Path(name), one(rng, i, number))
            scale = min(CELL / box[2], 90 / box[3])
            x, tall = GAP + i % COLUMNS * (CELL + GAP), box[3] * scale
            high = max(high, tall)
            colour = "#2b3a4a" if whole else "#9a8f80"
            row.append(f'<svg x="{x}" y="{y}" width="{CELL}" height="{tall}" viewBox="{" ".join(map(str, box))}">'
                       + "".join(f'<path fill="{colour}" fill-rule="evenodd" d="{d}"/>' for d in paths) + "</svg>")
            if i % COLUMNS == COLUMNS - 1:
                y, high = y + high + GAP, 0
    wide, all_high = GAP + COLUMNS * (CELL + GAP), y + (high + GAP if high else 0)
    sheet = (f'<svg xmlns="http://www.w3.org/2000/svg" width="{wide}" height="{all_high}"><rect width="100%" height="100%" fill="white"/>'
             + "".join(row) + "</svg>")
    drawn = subprocess.run(["rsvg-convert", "--unlimited"], input=sheet.encode(), capture_output=True)
    assert drawn.returncode == 0, drawn.stderr.decode()
    png = drawn.stdout
    Image.open(io.BytesIO(png)).convert("RGB").quantize(16).save(output, optimize=True)
    print(f"{number} signs: {output}, {Path(output).stat().st_size // 1000} kB")


main()
