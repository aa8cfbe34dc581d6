# SPDX-License-Identifier: GPL-3.0-or-later
"""A board with cut-through words and two holes, and how a program of it is judged by `holdfast replay`."""
import json

import ngc_writing
from conftest import holdfast

KERF = 1.5
HEAD = "holdfast: 1\nmetal: {kind: mild steel, thickness: 3 mm}\nprocess: {kerf: 1.5 mm}\nentries:\n"
BOARD = HEAD + ("  - plate: {name: board, shape: rounded, width: 200 mm, height: 90 mm, corner: 8 mm}\n"
                "  - words: {text: LIFT, font: {family: DejaVu Sans, style: Bold}, height: 40 mm, spacing: 8 mm, as: opening}\n"
                "  - hole: {diameter: 8 mm, at: [-88 mm, 0 mm]}\n  - hole: {diameter: 8 mm, at: [88 mm, 0 mm]}\n")


class Board:
    """A recipe, its metal, and how a program of it is judged."""

    def __init__(self, folder, text=BOARD, name="board"):
        self.folder, self.recipe = folder, folder / f"{name}.yaml"
        self.recipe.write_text(text)
        done = holdfast("make", self.recipe, "-o", folder / "out")
        assert done.returncode == 0, done.stdout + done.stderr
        self.design = ngc_writing.design_of(folder / "out" / name / "metal.svg")

    def contours(self, **more):
        return ngc_writing.contours_of(self.design, KERF, by=(10, 10), **more)

    def judge(self, text, *options):
        path = self.folder / "p.nc"
        path.write_text(text)
        done = holdfast("replay", path, "--against", self.recipe, "--json", *options)
        if done.returncode == 2:
            return done.returncode, done.stderr
        return done.returncode, json.loads(done.stdout)
