# SPDX-License-Identifier: GPL-3.0-or-later
"""report.json against its JSON Schema (read by python3-jsonschema, draft 2020-12), its page in docs/,
and against itself. Inputs: the hand-made signs of tests/unit/sample.h, every example, recipes below."""
import copy
import hashlib
import json
import re
import subprocess

import jsonschema
import pytest

from conftest import HOLDFAST, TOP, holdfast

SCHEMA = json.loads((TOP / "docs/schema/report.schema.json").read_text())
SAMPLES = ["boat-yard", "bakery", "nothing", "awkward"]
EXAMPLES = sorted((TOP / "examples").glob("*.yaml"))

RECIPES = {
    "plate": """holdfast: 1
sign: Pottery
metal: {kind: mild steel, thickness: 3 mm}
process: {kerf: 1.4 mm}
mount: holes
order: {customer: Mrs Tidewater, number: SQ-4711, date: 3 May, quantity: 7}
entries:
  - plate: {name: back, shape: rounded, width: 300 mm, height: 120 mm, corner: 12 mm}
  - words: {text: POTTERY, font: Bebas Neue, height: 60 mm, as: opening}
  - hole: {name: left, diameter: 8 mm, at: [[-135 mm, 45 mm]]}
""",
    "ring": """holdfast: 1
sign: Ferry
metal: {kind: aluminium, thickness: 4 mm}
process: {kerf: 1.6 mm}
mount: none
entries:
  - ring: {name: rim, outer: 400 mm, width: 20 mm}
""",
}


@pytest.fixture(scope="module")
def samples(tmp_path_factory):
    folder = tmp_path_factory.mktemp("samples")
    subprocess.run([TOP / "build/tests/tools/proof_samples", folder], check=True, capture_output=True)
    return folder


def validator():
    jsonschema.Draft202012Validator.check_schema(SCHEMA)
    return jsonschema.Draft202012Validator(SCHEMA)


def check_against_itself(report):
    """What must hold between the figures of one report, whatever the sign."""
    findings, tally = report["findings"], report["tally"]
    for gravity, count in (("stop", "stops"), ("note", "notes")):
        assert sum(f["gravity"] == gravity for f in findings) == tally[count]
    cautions = [f for f in findings if f["gravity"] == "caution"]
    assert sum(f["accepted"] is None for f in cautions) == tally["cautions"]
    assert (report["verdict"] == "whole") == (tally["stops"] == 0)
    order = {"stop": 0, "caution": 1, "note": 2}
    for number, finding in enumerate(findings, 1):
        assert finding["number"] == number
        assert finding["count"] == len(finding["places"])
        assert finding["place"] == finding["places"][0]
    assert [order[f["gravity"]] for f in findings] == sorted(order[f["gravity"]] for f in findings)
    widths = [web["width"] for web in report["webs"]["thinnest"]]
    assert widths == sorted(widths)
    for sheet in report["layers"] or [report]:
        figures, process = sheet["figures"], sheet["process"]
        mass = figures["area"] * process["thickness"]["value"] * process["density"] * 1e-9
        # the thickness is told to 0.0001 mm, which a gauge is not
        assert figures["mass"] == pytest.approx(mass, abs=2e-6 + mass * 5e-5 / process["thickness"]["value"])
    layers = report["layers"]
    if layers:
        whole = all(layer["verdict"] == "whole" for layer in layers)
        assert (report["verdict"] == "whole") == whole
        for key in ("area", "mass", "cut_length", "pierces", "parts"):
            total = sum(layer["figures"][key] for layer in layers)
            assert report["figures"][key] == pytest.approx(total, abs=1e-3), key
        assert {f["layer"] for f in findings} <= {layer["layer"] for layer in layers}
    else:
        assert all(f["layer"] is None for f in findings)
    shares = [p["share"] for p in report["hanging"]["points"] if p["share"] is not None]
    assert not shares or sum(shares) == pytest.approx(1, abs=1e-5)
    keys = [limit["key"] for limit in report["limits"]]
    assert len(set(keys)) == len(keys)
    assert {f["key"] for f in findings} <= set(keys)


@pytest.mark.parametrize("name", SAMPLES)
def test_sample(samples, name):
    report = json.loads((samples / name / "report.json").read_text())
    validator().validate(report)
    check_against_itself(report)


def leaves(node, path=()):
    if isinstance(node, dict):
        for key, value in node.items():
            yield path + (key,)
            yield from leaves(value, path + (key,))
    elif isinstance(node, list) and node:
        yield from leaves(node[0], path + (0,))


def without(report, path):
    changed = copy.deepcopy(report)
    node = changed
    for step in path[:-1]:
        node = node[step]
    del node[path[-1]]
    return changed


def test_schema_can_fail(samples):
    """A schema that nothing breaks says nothing: each key taken away must be missed."""
    report = json.loads((samples / "bakery" / "report.json").read_text())
    check = validator()
    paths = list(leaves(report))
    assert len(paths) > 100
    for path in paths:
        assert not check.is_valid(without(report, path)), path
    for key, value in (("verdict", "whole"), ("verdict", "fine"), ("report", 2), ("extra", 1)):
        assert not check.is_valid({**report, key: value})


def properties(node):
    if isinstance(node, dict):
        for key, value in node.get("properties", {}).items():
            yield key
        for value in node.values():
            yield from properties(value)
    elif isinstance(node, list):
        for value in node:
            yield from properties(value)


def test_page_explains_every_key():
    page = (TOP / "docs/report.md").read_text()
    named = set(re.findall(r"`([a-z_0-9]+)`", page))
    missing = set(properties(SCHEMA)) - named
    assert not missing


def made(tmp_path, name, text):
    recipe = tmp_path / f"{name}.yaml"
    recipe.write_text(text)
    done = holdfast("make", recipe, "-o", tmp_path / "out")
    assert done.returncode in (0, 1), done.stderr
    folder = tmp_path / "out" / name
    return json.loads((folder / "report.json").read_text()), folder


@pytest.mark.skipif(not HOLDFAST.exists(), reason="the command is not built")
@pytest.mark.parametrize("name", sorted(RECIPES))
def test_made(tmp_path, name):
    report, folder = made(tmp_path, name, RECIPES[name])
    validator().validate(report)
    check_against_itself(report)
    for file in report["files"]:
        assert hashlib.sha256((folder / file["name"]).read_bytes()).hexdigest() == file["sha256"]
    for path in folder.iterdir():
        if path.suffix in (".svg", ".dxf"):  # the summed up cautions of src/stock/cautions.c
            text = path.read_text()
            assert "says nothing of strength, wind or fixings" in text and "local codes" in text, path.name
    on_disk = {path.name for path in folder.iterdir() if not path.name.startswith(".")}
    assert on_disk - {file["name"] for file in report["files"]} == {"report.json"}


@pytest.mark.skipif(not HOLDFAST.exists(), reason="the command is not built")
def test_customer_stays_out(tmp_path):
    """The order is on the proof only: nothing of it in report, outlines or picture."""
    _, folder = made(tmp_path, "plate", RECIPES["plate"])
    for path in folder.iterdir():
        if path.suffix in (".json", ".svg", ".dxf", ".png"):
            data = path.read_bytes()
            assert b"Tidewater" not in data and b"SQ-4711" not in data, path.name


@pytest.mark.skipif(not HOLDFAST.exists(), reason="the command is not built")
@pytest.mark.parametrize("example", EXAMPLES, ids=[path.stem for path in EXAMPLES])
def test_example(tmp_path, example):
    done = holdfast("make", example, "-o", tmp_path)
    assert done.returncode in (0, 1), done.stderr
    report = json.loads((tmp_path / example.stem / "report.json").read_text())
    validator().validate(report)
    check_against_itself(report)
