# SPDX-License-Identifier: GPL-3.0-or-later
"""Recipes that tests of the page and of its server share."""

# One of nearly everything, in block and in flow, with remarks that must stay.
MANY = """# a bit of everything
holdfast: 1
sign: Many things
metal: {kind: mild steel, thickness: 3 mm}   # as bought
process: {kerf: 1.4 mm}
mount: holes
read from: 12 m
entries:
  - plate: {name: board, shape: rounded, width: 600 mm, height: 300 mm, corner: 20 mm}
  # the words
  - words:
      name: harbour
      text: HARBOUR   # in capitals
      font: {family: Allerta, style: Stencil}
      height: 60 mm
      spacing: 8 %
      as: opening
      at: [0 mm, 40 mm]
  - star: {diameter: 60 mm, points: 6, as: opening, on: board, at: bottom, shift: [0 mm, 60 mm]}   # one
  - hole: {diameter: 8 mm, on: board, at: [[-270 mm, 120 mm], [270 mm, 120 mm]]}
  - bar: {name: rail, length: 500 mm, height: 20 mm, below: board, gap: -4 mm}
  - ear: {hole: 8 mm, on: rail, at: [left end, right end]}
order: {customer: Net Loft, number: SQ-100, quantity: 2}
"""

SMALL = """holdfast: 1
sign: Board
metal: {kind: mild steel, thickness: 3 mm}
process: {kerf: 1.5 mm}
entries:
  - plate: {name: board, shape: rectangle, width: 200 mm, height: 80 mm}   # oak would be nice too
"""
