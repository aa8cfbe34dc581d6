#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Sixty signs, each after its best cure, on one sheet to be looked at: docs/pictures/cured.png.

usage: tests/tools/cured_sheet.py HOLDFAST OUTPUT.png [FIRST [NUMBER]]

The signs of tests/oracle/cure_signs.py from seed FIRST (601) on, without those that are whole as they are. Beside each
seed stands a cross where no change makes it whole. The same faces give the same sheet.
"""
import io
import subprocess
import sys
import tempfile
from pathlib import Path

from PIL import Image, ImageDraw

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "oracle"))
import cure_signs  # noqa: E402

WIDE, HIGH, HEAD, ACROSS = 300, 150, 16, 5


def cured(holdfast, seed, folder):
    """None: it is whole as it is. Else its picture, or a blank one where no change makes it whole."""
    recipe = folder / f"s{seed}.yaml"
    recipe.write_text(cure_signs.recipe(seed, holdfast)[0])
    if subprocess.run([holdfast, "check", "--quiet", recipe], capture_output=True).returncode != 1:
        return None
    done = subprocess.run([holdfast, "make", recipe, "--cure", "best", "-o", folder, "--pixels", "200", "--quiet"], capture_output=True)
    if done.returncode != 0:
        return Image.new("L", (1, 1), 255)
    drawn = subprocess.run(["rsvg-convert", "--keep-aspect-ratio", "-b", "white", "-w", str(WIDE - 12), "-h", str(HIGH - HEAD - 6),
                            folder / f"s{seed}" / "metal.svg"], capture_output=True, check=True)
    return Image.open(io.BytesIO(drawn.stdout)).convert("L")


def main():
    holdfast, output = sys.argv[1:3]
    first, number = ([int(v) for v in sys.argv[3:]] + [601, 60][len(sys.argv) - 3:])[:2]
    sheet = Image.new("L", (ACROSS * WIDE, -(-number // ACROSS) * HIGH), 255)
    draw, seed, i = ImageDraw.Draw(sheet), first, 0
    with tempfile.TemporaryDirectory() as folder:
        while i < number:
            picture = cured(holdfast, seed, Path(folder))
            if picture is not None:
                x, y = i % ACROSS * WIDE, i // ACROSS * HIGH
                sheet.paste(picture, (x + (WIDE - picture.width) // 2, y + HEAD + (HIGH - HEAD - picture.height) // 2))
                draw.text((x + 4, y + 2), f"{seed}" + ("  x" if picture.width == 1 else ""), fill=90)
                i += 1
            seed += 1
    sheet.quantize(16).save(output, optimize=True)
    print(f"{number} signs, seeds {first} to {seed - 1}: {output}, {Path(output).stat().st_size // 1000} kB")


main()
