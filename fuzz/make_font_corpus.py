#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Makes fuzz/corpus/font: tiny fonts of our own, one for each kind of table that type/ reads.

Drawn here, so there is no licence but our own to mind. Needs python3-fonttools.
"""
import io
import pathlib

from fontTools.feaLib.builder import addOpenTypeFeaturesFromString
from fontTools.fontBuilder import FontBuilder
from fontTools.pens.t2CharStringPen import T2CharStringPen
from fontTools.pens.ttGlyphPen import TTGlyphPen
from fontTools.ttLib import TTCollection, TTFont
from fontTools.ttLib.tables.TupleVariation import TupleVariation

FOLDER = pathlib.Path(__file__).parent / "corpus" / "font"
CHARACTERS = {"space": 0x20, "A": 0x41, "E": 0x45, "H": 0x48, "T": 0x54, "V": 0x56, "f": 0x66, "i": 0x69,
              "o": 0x6F, "q": 0x71, "one": 0x31, "two": 0x32, "acutecomb": 0x301, "alef": 0x627,
              "seen": 0x633, "lam": 0x644, "meem": 0x645, "shin": 0x5E9, "sea": 0x6D77}
EXTRA = ["f_i", "seen.init", "lam.medi"]
FEATURES = """
languagesystem DFLT dflt; languagesystem latn dflt; languagesystem arab dflt;
markClass acutecomb <anchor 100 600> @TOP;
feature kern { pos A V -80; pos [T V] [o q] -60; } kern;
feature liga { sub f i by f_i; } liga;
feature init { script arab; sub seen by seen.init; } init;
feature medi { script arab; sub lam by lam.medi; } medi;
feature ss01 { sub one by two; } ss01;
feature mark { pos base [E q o] <anchor 250 720> mark @TOP; } mark;
"""


def draw(pen, i, quadratic):
    """A box with a round opening, a little different for each glyph."""
    w = 300 + 20 * i
    pen.moveTo((40, 0))
    for p in ((40, 700 - 10 * i), (w, 700 - 10 * i), (w, 0)):
        pen.lineTo(p)
    pen.closePath()
    pen.moveTo((120, 100))
    if quadratic:
        pen.qCurveTo((w - 60, 100), (w - 60, 400), (120, 400))
    else:
        pen.curveTo((w - 60, 100), (w - 60, 400), (120, 400))
    pen.closePath()


def build(cff=False, variable=False, family="Fuzz"):
    order = [".notdef", *CHARACTERS, *EXTRA]
    fb = FontBuilder(1000, isTTF=not cff)
    fb.setupGlyphOrder(order)
    fb.setupCharacterMap({code: name for name, code in CHARACTERS.items()})
    glyphs = {}
    for i, name in enumerate(order):
        pen = T2CharStringPen(500, None) if cff else TTGlyphPen(glyphs)
        if name == "f_i" and not cff:
            pen.addComponent("f", (1, 0, 0, 1, 0, 0))
            pen.addComponent("i", (0.5, 0.1, 0, 1, 250, 0))
        elif name != "space":
            draw(pen, i, not cff)
        glyphs[name] = pen.getCharString() if cff else pen.glyph()
    if cff:
        fb.setupCFF(family, {}, glyphs, {})
    else:
        fb.setupGlyf(glyphs)
    fb.setupHorizontalMetrics({name: (0 if name == "acutecomb" else 500, 40) for name in order})
    fb.setupHorizontalHeader(ascent=800, descent=-200)
    fb.setupNameTable({"familyName": family, "styleName": "Regular"})
    fb.setupOS2(fsType=4)
    fb.setupPost()
    if variable:
        fb.setupFvar([("wght", 400, 400, 900, "Weight")], [{"location": {"wght": 700}, "stylename": "Bold"}])
        points = len(glyphs["H"].coordinates) + 4
        fb.setupGvar({"H": [TupleVariation({"wght": (0, 1, 1)}, [(5 * k, -3) for k in range(points)])]})
    addOpenTypeFeaturesFromString(fb.font, FEATURES)
    fb.font["head"].created = fb.font["head"].modified = 0
    fb.font.recalcTimestamp = False
    out = io.BytesIO()
    fb.font.save(out)
    return out.getvalue()


def far_out(data):
    """16 units to the em: the same letters now reach 40 ems away."""
    font, out = TTFont(io.BytesIO(data), recalcTimestamp=False), io.BytesIO()
    font["head"].unitsPerEm = 16
    font.save(out)
    return out.getvalue()


def main():
    FOLDER.mkdir(parents=True, exist_ok=True)
    made = {"quadratic.ttf": build(), "cubic.otf": build(cff=True), "variable.ttf": build(variable=True)}
    both = TTCollection()
    both.fonts = [TTFont(io.BytesIO(made["quadratic.ttf"])), TTFont(io.BytesIO(build(family="Fuzz Two")))]
    out = io.BytesIO()
    both.save(out)
    made["collection.ttc"] = out.getvalue()
    made["cut-short.ttf"] = made["quadratic.ttf"][:1500]
    made["huge-points.ttf"] = far_out(made["quadratic.ttf"])
    made["empty"] = b""
    made["not-a-font"] = b"holdfast: 1\n"
    for name, data in made.items():
        (FOLDER / name).write_bytes(data)
        print(name, len(data))


main()
