# SPDX-License-Identifier: GPL-3.0-or-later
"""Signs on the edge of degenerate (near_signs.py), made to the end in every format and read back.

Sources: shapely (GEOS) for what lies where, ezdxf's audit, ISO 32000-1 7.5 (a PDF's first and last line), W3C PNG 2003
(signature). Of what shapely makes of the recipe's own figures: the area; and whoever calls a sign whole, whose metal falls
apart when half the shortest limit is taken off its edge, lies.
"""
import json
import math
import os
import xml.etree.ElementTree as xml

import ezdxf
import pytest
from shapely import affinity
from shapely.geometry import LineString, Polygon
from shapely.ops import unary_union

from conftest import holdfast
from near_signs import Near
from test_outlines import SVG, TOLERANCE, area_of, dxf_contours, fine, length_of, svg_contours

SEED = int(os.environ.get("HOLDFAST_SEED", "20261130"))
DXF = {".dxf": 1.0, "-in.dxf": 25.4, "-r12-mm.dxf": 1.0, "-r12-in.dxf": 25.4}
GRID, FLAT = 1e-4, 5e-3  # mm: of all figures; between curves and the chords that figures are made of


def polygon(curves):
    """Half a tenth of a um is what the digits of the files leave, and where rings touch they may cross by that."""
    return Polygon(fine(curves)).buffer(0) if len(fine(curves)) > 2 else Polygon()


def look_at_files(folder, stem):
    assert (folder / "proof.png").read_bytes().startswith(b"\x89PNG\r\n\x1a\n")
    pdf = (folder / "proof.pdf").read_bytes()
    assert pdf.startswith(b"%PDF-1.") and pdf.rstrip().endswith(b"%%EOF")
    names = {path.name for path in folder.iterdir()}
    assert names - {"cut.nc", "plan.svg", "traveller.pdf"} == {"proof.png", "proof.pdf", "shop-sheet.pdf", "report.json", f"{stem}.svg"} | {stem + end for end in DXF}, names
    assert stem == "metal" or "cut.nc" not in names


def look_at_sign(folder, near):
    """What is wrong with it; nothing is the answer that is hoped for."""
    report = json.loads((folder / "report.json").read_text())
    figures, whole = report["figures"], report["verdict"] == "whole"
    stem = "metal" if whole else "not-to-be-cut"
    look_at_files(folder, stem)
    parts = [svg_contours(path, 0.0) for path in xml.parse(folder / f"{stem}.svg").getroot().iter(SVG + "path")]
    curves = [c for part in parts for c in part]
    wrong = []

    def same(what, found, wanted, by):
        if abs(found - wanted) > by:
            wrong.append((what, found, wanted, by))

    size = sum(abs(area_of(c)) * (-1 if k else 1) for part in parts for k, c in enumerate(part))
    length = sum(length_of(c) for c in curves)
    if len(parts) > figures["parts"] or (whole and len(parts) != figures["parts"]):  # a joint under its limit counts as open
        wrong.append(("parts", len(parts), figures["parts"]))
    same("pierces", len(curves), figures["pierces"], 0)
    same("area", size, figures["area"], 1e-3 + FLAT * length)
    same("length of the cut", length, figures["cut_length"], 1e-3 + 2e-3 * figures["cut_length"] + 2 * TOLERANCE * sum(map(len, curves)))  # a needle loses its last um
    pieces = [polygon(part[0]).difference(unary_union([polygon(c) for c in part[1:]])) for part in parts]
    together = unary_union(pieces)
    slack = 1e-3 + 2 * GRID * length
    same("pieces that lie apart", together.area, size, slack)
    low, drawn = figures["box"], [[[(x, y + figures["box"]["height"]) for x, y in fine(c, 1e-3)] for c in curves]]
    for end, mm in DXF.items():
        document = ezdxf.readfile(folder / (stem + end))
        if document.audit().errors:
            wrong.append((end, document.audit().errors))
        contours = dxf_contours(folder / (stem + end))
        drawn.append([[(mm * x, mm * y) for x, y in fine(c, 1e-3 / mm)] for _, c, _ in contours])
        same(f"contours of {end}", len(contours), len(curves), 0)
        same(f"area of {end}", mm * mm * sum(abs(area_of(c)) * (-1 if layer.endswith("OPENINGS") else 1) for layer, c, _ in contours), size, 1e-3 + TOLERANCE * length)
    if not near.ruled:
        metal = near.metal()
        same("area by shapely", figures["area"], metal.area, 1e-3 + FLAT * metal.length)
        lines = [LineString(ring + ring[:1]) for form in drawn for ring in form if len(ring) > 1]
        if not edge_holds(near, metal, [affinity.translate(line, low["x"], low["y"]) for line in lines]):
            wrong.append("an outline that leaves the edge")
        kerf, web = near.k, max(1.0, near.t)
        core = metal.buffer(0.001).buffer(-0.45 * web, 64)
        if whole and sum(piece.area > 1 for piece in getattr(core, "geoms", [core])) != 1:
            wrong.append(("whole, and falls apart", [round(p.area, 2) for p in core.geoms]))
        closed = metal.buffer(0.45 * kerf, 64)
        if whole and holes(closed) != holes(metal.buffer(0.001)):
            wrong.append(("whole, and a gap closes", holes(closed), holes(metal)))
    return wrong


def edge_holds(near, metal, lines):
    """Each line within FLAT + TOLERANCE of the metal's edge; beyond the point where two edges cross so slantwise that they are
    no farther apart than twice that, of both of them: where in there their chords cross is anywhere (docs/maths.md, Chords)."""
    off = FLAT + TOLERANCE + 2e-3
    band = metal.boundary.buffer(off)
    left = unary_union([line.difference(band) for line in lines if not band.contains(line)])
    for i, (one, _) in enumerate(near.shapes):
        if left.is_empty or not one.boundary.buffer(off).intersects(left):
            continue
        for other, _ in near.shapes[:i]:
            left = left.difference(one.boundary.buffer(off).intersection(other.boundary.buffer(off)))
    return left.is_empty


def holes(area):
    return sum(len(piece.interiors) for piece in getattr(area, "geoms", [area]))


def wrong(tmp_path, seeds, **more):
    """(seed, motifs, what) of each that does not come out as it should."""
    bad, signs = [], {seed: Near(seed) for seed in seeds}
    for seed, near in signs.items():
        (tmp_path / f"n{seed}.yaml").write_text(near.text)
    also = [word for name in ("dxf-inch", "dxf-r12-mm", "dxf-r12-inch") for word in ("--also", name)]
    for seed, near in signs.items():
        done = holdfast("make", "--quiet", "--pixels", "300", *also, "-o", tmp_path / "out", tmp_path / f"n{seed}.yaml", **more)
        if done.returncode not in (0, 1) or done.stderr:
            bad.append((seed, near.motifs, done.returncode, done.stderr[-2000:]))
            continue
        report = json.loads((tmp_path / "out" / f"n{seed}" / "report.json").read_text())
        found = look_at_sign(tmp_path / "out" / f"n{seed}", near)
        if (report["verdict"] == "whole") != (done.returncode == 0):
            found.append("exit code and report do not agree")
        if found:
            bad.append((seed, near.motifs, found))
    return bad


def test_made_to_the_end_and_read_back(tmp_path):
    """Those that cost little: no rules, and nothing that lies a hundred deep."""
    signs = [(seed, Near(seed)) for seed in range(SEED, SEED + 80)]
    assert not wrong(tmp_path, [seed for seed, near in signs if not near.ruled and len(near.entries) < 25][:8])


@pytest.mark.long
@pytest.mark.parametrize("block", range(10))
def test_made_to_the_end_and_read_back_long(tmp_path, block):
    """Without mending in a thicket of crossings: it takes minutes of the processor (each thin place costs some 40 booleans
    of what is near in each of six rounds), which is another matter than what comes out."""
    signs = [(seed, Near(seed)) for seed in range(SEED + 1000 + 50 * block, SEED + 1050 + 50 * block)]
    assert not wrong(tmp_path, [seed for seed, near in signs if not near.ruled or not {"bundle", "crossing"} & set(near.motifs)])
