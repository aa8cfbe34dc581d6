#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""make_dxf_corpus.py FOLDER: small DXF files, each of every kind of thing that is read, as text and binary."""
import pathlib
import struct
import sys

LINES = [(0, "LINE"), (8, "rail"), (10, 0.0), (20, 0.0), (11, 30.0), (21, 0.0),
         (0, "LINE"), (8, "rail"), (10, 30.0), (20, 0.0), (11, 30.0), (21, 20.0),
         (0, "ARC"), (8, "rail"), (10, 15.0), (20, 20.0), (40, 15.0), (50, 0.0), (51, 180.0),
         (0, "LINE"), (8, "rail"), (10, 0.0), (20, 20.01), (11, 0.0), (21, 0.0),
         (0, "CIRCLE"), (8, "hole"), (10, 15.0), (20, 20.0), (40, 4.0), (210, 0.0), (220, 0.0), (230, -1.0)]
CURVES = [(0, "ELLIPSE"), (8, "0"), (10, 5.0), (20, 5.0), (11, 9.0), (21, 2.0), (40, 0.4), (41, 0.5), (42, 4.0),
          (0, "SPLINE"), (8, "0"), (70, 4), (71, 2), (72, 6), (73, 3), *[(40, float(k)) for k in (0, 0, 0, 1, 1, 1)],
          *[pair for x, y, w in ((1, 0, 1.0), (1, 1, 0.5), (0, 1, 1.0)) for pair in ((10, float(x)), (20, float(y)), (41, w))],
          (0, "SPLINE"), (8, "0"), (71, 3), (74, 3), (11, 0.0), (21, 0.0), (11, 5.0), (21, 4.0), (11, 9.0), (21, 1.0),
          (0, "LWPOLYLINE"), (8, "0"), (90, 3), (70, 1), (43, 2.0), (10, 0.0), (20, 0.0), (42, 0.5), (10, 9.0), (20, 0.0), (10, 9.0), (20, 9.0),
          (0, "HATCH"), (8, "0"), (30, 0.0), (91, 2), (92, 2), (72, 1), (73, 1), (93, 3), (10, 0.0), (20, 0.0), (42, 0.3), (10, 9.0), (20, 0.0),
          (10, 9.0), (20, 9.0), (97, 0), (92, 1), (93, 3), (72, 2), (10, 4.0), (20, 4.0), (40, 1.0), (50, 0.0), (51, 180.0), (73, 0),
          (72, 3), (10, 4.0), (20, 4.0), (11, 1.0), (21, 0.0), (40, 0.5), (50, 0.0), (51, 90.0), (73, 1),
          (72, 1), (10, 3.0), (20, 4.0), (11, 5.0), (21, 4.0), (97, 0), (75, 0), (76, 1),
          (0, "SOLID"), (8, "0"), (10, 0.0), (20, 0.0), (11, 4.0), (21, 0.0), (12, 0.0), (22, 4.0), (13, 4.0), (23, 5.0),
          (0, "POLYLINE"), (8, "0"), (66, 1), (70, 1), (40, 1.0), (41, 2.0), (0, "VERTEX"), (8, "0"), (10, 0.0), (20, 0.0),
          (0, "VERTEX"), (8, "0"), (10, 9.0), (20, 0.0), (42, -1.0), (0, "VERTEX"), (8, "0"), (10, 9.0), (20, 9.0), (0, "SEQEND")]
WORDS = [(0, "TEXT"), (8, "0"), (10, 1.0), (20, 2.0), (40, 5.0), (1, "Tide %%d \\U+00E9"), (72, 5), (11, 9.0), (21, 2.0), (51, 15.0),
         (0, "MTEXT"), (8, "0"), (10, 1.0), (20, 2.0), (40, 3.0), (71, 5), (3, "{\\fInter;Boat} "), (1, "yard\\PPottery \\S1/2;")]
COPIES = [(0, "INSERT"), (8, "rail"), (2, "LEAF"), (10, 5.0), (20, 5.0), (41, 2.0), (42, -1.0), (50, 30.0), (70, 3), (71, 2), (44, 9.0), (45, 8.0)]
BLOCKS = [(0, "SECTION"), (2, "BLOCKS"), (0, "BLOCK"), (8, "0"), (2, "leaf"), (70, 0), (10, 1.0), (20, 1.0), *LINES,
          (0, "INSERT"), (8, "0"), (2, "twig"), (10, 0.0), (20, 0.0), (0, "ENDBLK"),
          (0, "BLOCK"), (8, "0"), (2, "twig"), (10, 0.0), (20, 0.0), *CURVES, (0, "ENDBLK"), (0, "ENDSEC")]
TABLES = [(0, "SECTION"), (2, "TABLES"), (0, "TABLE"), (2, "LAYER"), (0, "LAYER"), (2, "hole"), (70, 1), (62, -3), (0, "ENDTAB"), (0, "ENDSEC")]
FILES = {"lines": LINES, "curves": CURVES, "words": WORDS, "copies": COPIES}


def whole(entities, release, before=()):
    return [(0, "SECTION"), (2, "HEADER"), (9, "$ACADVER"), (1, release), (9, "$INSUNITS"), (70, 4), (0, "ENDSEC"), *before,
            (0, "SECTION"), (2, "ENTITIES"), *entities, (0, "ENDSEC"), (0, "EOF")]


def text(pairs):
    return "".join(f"{code}\n{value}\n" for code, value in pairs).encode()


def binary(pairs):
    out = b"DRAWING Binary DXF\r\n\x1a\x00"  # its first seven letters are not looked at
    for code, value in pairs:
        out += struct.pack("<h", code)
        out += value.encode() + b"\0" if isinstance(value, str) else struct.pack("<d", value) if isinstance(value, float) \
            else struct.pack("<i" if 90 <= code < 100 else "<h", value)
    return out


def main():
    folder = pathlib.Path(sys.argv[1])
    folder.mkdir(exist_ok=True)
    for name, entities in FILES.items():
        pairs = whole(entities, "AC1015", TABLES + BLOCKS if name == "copies" else ())
        (folder / f"{name}.dxf").write_bytes(text(pairs))
        (folder / f"{name}-binary.dxf").write_bytes(binary(pairs))


main()
