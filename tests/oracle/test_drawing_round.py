# SPDX-License-Identifier: GPL-3.0-or-later
"""What is written as SVG and as DXF reads back to the same metal: each output of an example is taken in
again as a drawing by itself, at the file's own size, and made again. shapely compares both regions, read
from the SVG outlines by the checks' own reader."""
import pytest
from shapely import affinity
from shapely.geometry import Polygon

from conftest import TOP, holdfast
from reading import rings_of_svg

CUT = ("--metal", "mild steel", "--thickness", "3 mm", "--kerf", "1.5 mm")
OFF = 0.005  # mm, and what the chords of two readings may lie apart (reading.arc_points)
CHORDS = 2 * 0.002


def region(folder):
    """Even-odd of the outlines in the one SVG of @folder, its lower left corner at the origin."""
    (path,) = folder.glob("[mn]*.svg")
    area = Polygon()
    for ring in rings_of_svg(path):
        area = area.symmetric_difference(Polygon(ring).buffer(0))
    return affinity.translate(area, -area.bounds[0], -area.bounds[1])


@pytest.mark.parametrize("name", ["heron", "rope-walk", "cafe"])
@pytest.mark.parametrize("ending", ["svg", "dxf"])
def test_what_we_write_reads_back(tmp_path, name, ending):
    holdfast("make", TOP / "examples" / f"{name}.yaml", "-o", tmp_path / "a")
    (written,) = (tmp_path / "a" / name).glob(f"[mn]*.{ending}")
    done = holdfast("make", written, *CUT, "-o", tmp_path / "b")
    assert done.returncode in (0, 1), done.stderr
    before, after = region(tmp_path / "a" / name), region(tmp_path / "b" / written.stem)
    assert after.area == pytest.approx(before.area, rel=1e-5)
    assert max(before.boundary.hausdorff_distance(after.boundary), after.boundary.hausdorff_distance(before.boundary)) <= OFF + CHORDS
