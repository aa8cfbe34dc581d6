# SPDX-License-Identifier: GPL-3.0-or-later
"""An order in inches comes back in inches. The same sign is written in both units: what is printed, the words of the proof (read
by pdftotext), and all texts of the page's view have no unit of the other kind; figures that stand at the same place
agree when turned back (1 in = 25.4 mm exactly: international yard and pound agreement of 1959)."""
import json
import re
import subprocess

import pytest

from conftest import holdfast
from serving import Serving

SIGN = """holdfast: 1
{units}metal: {{kind: mild steel, thickness: {thick}}}
process: {{kerf: {kerf}}}
read from: {far}
entries:
  - plate: {{name: board, shape: rounded, width: {wide}, height: {high}, corner: {corner}}}
  - words: {{name: line, text: "SALT & KELP", font: Vollkorn, height: {letters}, as: opening}}
  - hole: {{name: screws, diameter: {hole}, at: [[{x}, {y}], [{minus}, {y}]]}}
"""
INCH = {"units": "", "thick": "1/8 in", "kerf": "1/16 in", "far": "30 ft", "wide": "30 in", "high": "8-1/2 in", "corner": "1/2 in", "letters": "4 in", "hole": "5/16 in", "x": "14 in", "y": "3-1/2 in", "minus": "-14 in"}
MM = {"units": "", "thick": "3.175 mm", "kerf": "1.5875 mm", "far": "9144 mm", "wide": "762 mm", "high": "215.9 mm", "corner": "12.7 mm", "letters": "101.6 mm", "hole": "7.9375 mm", "x": "355.6 mm", "y": "88.9 mm", "minus": "-355.6 mm"}
METRIC = re.compile(r"(?<![\w.])-?\d[\d.]* ?(?:mm²|mm2|cm²|m²|mm|cm|m|kg|g)(?![\w/])")
IMPERIAL = re.compile(r"""\d ?(?:in|in²|ft|lb|oz)(?!\w)|\d["″′]""")
LENGTH = re.compile(r"(-?)((?:\d+-)?\d+/\d+|\d+(?:\.\d+)?) (mm|in)(?![²\w])")


def write(tmp_path, name, **said):
    file = tmp_path / f"{name}.yaml"
    file.write_text(SIGN.format(**said))
    return file


def printed(tmp_path, file, *options):
    done = holdfast("check", "--all", "--sizes", *options, file)
    made = holdfast("make", *options, file, "-o", tmp_path / "out")
    assert done.returncode == made.returncode == 1, done.stderr + made.stderr
    folder = tmp_path / "out" / file.stem
    proof = subprocess.run(["pdftotext", "-layout", folder / "proof.pdf", "-"], check=True, capture_output=True, text=True).stdout
    return done.stdout, made.stdout, proof, json.loads((folder / "report.json").read_text())


def in_mm(sign, figure, unit):
    whole = 0.0
    if unit == "in" and "-" in figure:
        whole, figure = figure.split("-")
    above, _, below = figure.partition("/")
    value = float(whole) + float(above) / float(below or 1)
    return (-1 if sign == "-" else 1) * value * (25.4 if unit == "in" else 1)


@pytest.mark.parametrize("units", ["", "in", "in-decimal"])
def test_inches(tmp_path, units):
    """No metric figure is left; one of inches agrees with that of millimetres at its place within half a sixteenth."""
    said = {**INCH, "units": ""}
    *ours, report = printed(tmp_path, write(tmp_path, "order", **said), *(["--units", units] if units else []))
    for text in ours:
        assert METRIC.findall(text) == []
        assert IMPERIAL.search(text)
    assert report["units"]["length"] == "mm" and report["units"]["told"] == (units or "in")
    *theirs, metric = printed(tmp_path, write(tmp_path, "order", **MM))
    assert [f["measured"] for f in report["findings"]] == pytest.approx([f["measured"] for f in metric["findings"]], nan_ok=True)
    compared = 0
    for text, other in zip(ours[:2], theirs[:2]):
        here, there = ([in_mm(*found) for found in LENGTH.findall(words)] for words in (text, other))
        assert len(here) == len(there), (text, other)
        assert here == pytest.approx(there, abs=25.4 / 32 + 0.06)
        compared += len(here)
    assert compared > 20
    fractions = re.findall(r"\d/(\d+) in", ours[0])
    assert (units == "in-decimal") == (not fractions) and set(fractions) <= {"2", "4", "8", "16"}


def test_mm(tmp_path):
    for name, said, more in (("plain", MM, []), ("forced", INCH, ["--units", "mm"])):
        *texts, report = printed(tmp_path, write(tmp_path, name, **said), *more)
        assert report["units"]["told"] == "mm"
        for text in texts:
            assert IMPERIAL.findall(text) == []
            assert "mm" in text


def test_said_on_the_command_line(tmp_path):
    """What --units says goes before what the recipe says; a batch of both kinds keeps each in its own; same bytes each time."""
    inch, mm = write(tmp_path, "inch", **INCH), write(tmp_path, "mm", **MM)
    assert METRIC.findall(holdfast("check", "--units", "in", mm).stdout) == []
    assert IMPERIAL.findall(holdfast("check", "--units", "mm", inch).stdout) == []
    both = holdfast("check", inch, mm, inch, mm).stdout
    assert both == holdfast("check", inch, mm, inch, mm).stdout
    alone = [holdfast("check", file).stdout.rpartition("  to see")[0] for file in (inch, mm)]
    assert all(both.count(text) == 2 for text in alone)
    wrong = holdfast("check", "--units", "cubits", inch)
    assert wrong.returncode == 2 and "in-decimal" in wrong.stderr


def test_refused_in_inches(tmp_path):
    """What is out of range is refused in the recipe's own unit."""
    refused = holdfast("check", write(tmp_path, "thick", **{**INCH, "thick": "9 in"}))
    assert refused.returncode == 2 and METRIC.findall(refused.stderr) == [] and IMPERIAL.search(refused.stderr), refused.stderr


def test_gauge_is_kept(tmp_path):
    """10 ga of mild steel is 0.1345 in (Manufacturers' Standard Gauge; from memory)."""
    *_, proof, report = printed(tmp_path, write(tmp_path, "gauge", **{**INCH, "thick": "10 ga"}))
    assert "10 ga (0.135 in)" in proof
    assert report["process"]["thickness"]["value"] == pytest.approx(0.1345 * 25.4, abs=0.01)


def test_advice_holds(tmp_path):
    """Letters that are said to fit do, also when what fits was rounded to a sixteenth."""
    found = json.loads(holdfast("check", "--json", write(tmp_path, "order", **INCH)).stdout)["findings"]
    advice = next(f["fix"] for f in found if "letters, which fit" in f["fix"])
    letters = re.search(r"take (\S+ in) letters", advice)[1]
    again = json.loads(holdfast("check", "--json", write(tmp_path, "again", **{**INCH, "letters": letters})).stdout)["findings"]
    assert not any("runs off" in f["what"] for f in again)


def texts(node):
    """Every text of a view that people read: no path data, no keys of laws, and of a figure not the unit that it is sent in."""
    for key, value in node.items() if isinstance(node, dict) else enumerate(node):
        if isinstance(value, (dict, list)):
            yield from texts(value)
        elif isinstance(value, str) and key not in ("d", "outline", "unit", "law"):
            yield value


@pytest.mark.parametrize("said", [INCH, MM], ids=["inches", "mm"])
def test_page(tmp_path, said):
    """All that the page is told in words is in the recipe's unit."""
    with Serving(write(tmp_path, "order", **said), state=tmp_path / "state") as page:
        view = page.view()
    wrong, right = (METRIC, IMPERIAL) if said is INCH else (IMPERIAL, METRIC)
    assert view["units"] == ("in" if said is INCH else "mm")
    assert [text for text in texts(view) if text != view["units"] and wrong.search(text)] == []
    assert sum(bool(right.search(text)) for text in texts(view)) > 5
