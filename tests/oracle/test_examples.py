# SPDX-License-Identifier: GPL-3.0-or-later
"""The signs of Saltmarsh Quay: each is made, each verdict is the one that its README promises, and no
face is used whose package and licence are not listed."""
import json
import re

import pytest
from PIL import Image, ImageChops

from conftest import TOP, holdfast

EXAMPLES = sorted((TOP / "examples").glob("*.yaml"))
README = (TOP / "examples/README.md").read_text()
NOT_WHOLE = {"ferry-times": {"loose-part"}, "fish-pier": {"loose-part", "thin-long-web"}}


@pytest.fixture(scope="module")
def made(tmp_path_factory):
    folder = tmp_path_factory.mktemp("examples")
    run = holdfast("make", "--quiet", *EXAMPLES, "-o", folder)
    assert run.returncode == 1, run.stderr  # two of them have stops
    return folder


def test_there_are_enough():
    assert len(EXAMPLES) >= 14


@pytest.mark.parametrize("recipe", EXAMPLES, ids=lambda path: path.stem)
def test_verdict(recipe, made):
    report = json.loads((made / recipe.stem / "report.json").read_text())
    stops = {f["key"] for f in report["findings"] if f["gravity"] == "stop"}
    if recipe.stem in NOT_WHOLE:
        assert report["verdict"] == "not whole"
        assert NOT_WHOLE[recipe.stem] <= stops
        assert (made / recipe.stem / "not-to-be-cut.svg").exists()
    else:
        assert report["verdict"] == "whole", stops
        assert (made / recipe.stem / "metal.svg").exists()


@pytest.mark.parametrize("recipe", EXAMPLES, ids=lambda path: path.stem)
def test_program_leaves_the_sign(recipe, made):
    """Each whole sign has a program for each sheet, against which the replay has nothing at all to say; differences as the issue wants them, 0.02 mm
    beside the 0.01 mm that true arcs may lie off the metal."""
    report = json.loads((made / recipe.stem / "report.json").read_text())
    assert (recipe.stem in NOT_WHOLE) == (report["cut"] == [])
    for cut in report["cut"]:
        name = "back-cut.nc" if cut["layer"] == "back" else "cut.nc"
        assert cut["written"] and (made / recipe.stem / name).exists(), cut["why_not"]
        assert [one for one in cut["replay"]["findings"] if one["gravity"] != "note"] == []
        assert max(cut["replay"]["inward"], cut["replay"]["outward"]) < 0.05


@pytest.mark.parametrize("recipe", EXAMPLES, ids=lambda path: path.stem)
def test_is_listed(recipe):
    line = re.search(rf"^\| \[{recipe.stem}\]\({recipe.name}\) \|.*$", README, re.M)
    assert line is not None
    assert ("not whole" in line[0]) == (recipe.stem in NOT_WHOLE)


@pytest.mark.parametrize("recipe", EXAMPLES, ids=lambda path: path.stem)
def test_faces_have_a_licence(recipe):
    text = recipe.read_text()
    plain = re.findall(r"font: ([A-Z][^,}\n]*)", text)
    for family in plain + re.findall(r"family: ([^,}\n]*)", text):
        assert f"| {family}" in README
    packages = (TOP / "examples/packages.txt").read_text()
    for package in re.findall(r"^\| [^|]+ \| ((?:fonts-|culmus)[a-z-]*) \|", README, re.M):
        assert package in packages


def test_the_picture_of_the_readme_is_what_demo_makes(made):
    """Pixels, not bytes: another version of a library may pack them otherwise."""
    kept = Image.open(TOP / "docs/pictures/boats.png").convert("RGB")
    fresh = Image.open(made / "boats/proof.png").convert("RGB")
    assert kept.size == fresh.size
    far = ImageChops.difference(kept, fresh).convert("L").point(lambda v: 255 if v > 40 else 0)
    assert sum(far.histogram()[255:]) < 0.002 * kept.size[0] * kept.size[1], "make it again: ./demo, then copy out/boats/proof.png"
