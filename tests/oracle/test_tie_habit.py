# SPDX-License-Identifier: GPL-3.0-or-later
"""What the shop's habit and the rule say of ties is done: the rule before the shop; dots tied one by one, or lowered.

Source: the words of the recipe and the shop file (docs/recipe.md). Ties by tests/tools/tie_dump.c.
"""
import json
import math
import shutil
import subprocess

import pytest
from fontTools.ttLib import TTFont

from conftest import HOLDFAST, TOP

TIE_DUMP = TOP / "build" / "tests" / "tools" / "tie_dump"
HEAD = "holdfast: 1\nmetal: {kind: mild steel, thickness: 3 mm}\nprocess: {kerf: 1.5 mm}\nentries:\n"
FONT = "font: {family: DejaVu Sans, style: Bold}"
CUT = f"""  - plate: {{name: plate, shape: rectangle, width: 500 mm, height: 200 mm}}
  - words: {{name: w, text: BOD, {FONT}, height: 100 mm, as: opening, spacing: 8 mm}}
"""
STANDING = f"""  - bar: {{name: rail, length: 420 mm, height: 16 mm}}
  - words: {{name: w, text: "güne", {FONT}, height: 90 mm, stand on: rail, spacing: joined}}
"""


def ties(folder, entries, rule, shop=""):
    (folder / "sign.yaml").write_text(f"{HEAD}{entries}  - ties: {rule}\n")
    (folder / "shop.yaml").write_text(f"holdfast: 1\n{shop}")
    done = subprocess.run([TIE_DUMP, folder / "sign.yaml"], capture_output=True, text=True, timeout=120)
    assert done.returncode == 0, done.stderr
    return json.loads(done.stdout)["rules"][0]["ties"]


def ways(found):
    return {"level" if abs(math.sin(t["angle"])) < 0.01 else "upright" if abs(math.cos(t["angle"])) < 0.01 else "aslant" for t in found}


def test_shop_has_a_habit_and_the_recipe_overrides_it(tmp_path):
    shop = "ties: {direction: level, width: 6 mm}\n"
    found = ties(tmp_path, CUT, "{}", shop)
    assert ways(found) == {"level"} and {t["width"] for t in found} == {6}
    found = ties(tmp_path, CUT, "{direction: upright, width: 5 mm}", shop)
    assert ways(found) == {"upright"} and {t["width"] for t in found} == {5}
    assert {t["width"] for t in ties(tmp_path, CUT, "{}")} != {6}


def test_each_dot_has_a_tie_of_its_own(tmp_path):
    found = [t for t in ties(tmp_path, STANDING, "{}") if "ü" in t["of"]]
    assert len(found) == 2 and "level" not in ways(found)


def test_dots_are_lowered_and_it_is_told_how_far(tmp_path):
    assert not [t for t in ties(tmp_path, STANDING, "{dots: lowered}") if "ü" in t["of"]]
    done = subprocess.run([HOLDFAST, "make", tmp_path / "sign.yaml", "-o", tmp_path / "out"], capture_output=True, text=True, timeout=120)
    report = json.loads((tmp_path / "out" / "sign" / "report.json").read_text())
    assert any("moved into it, by " in note for note in report["notes"]) and "loose" not in done.stdout
    assert not [t for t in ties(tmp_path, STANDING, "{}", "ties: {dots: lowered}\n") if "ü" in t["of"]]
    assert [t for t in ties(tmp_path, STANDING, "{dots: tied}", "ties: {dots: lowered}\n") if "ü" in t["of"]]


SLANTED = "font: {family: DejaVu Sans, style: Bold Oblique}"
LEAN = math.radians(11)  # post.italicAngle of the face, read with fontTools below


def test_level_is_level_in_a_slanted_face_unless_asked_for(tmp_path):
    file = subprocess.run(["fc-match", "-f", "%{file}", "DejaVu Sans:style=Bold Oblique"], capture_output=True, text=True, check=True).stdout
    assert TTFont(file)["post"].italicAngle == pytest.approx(-math.degrees(LEAN))
    entries = CUT.replace(FONT, SLANTED).replace("BOD", "0O6B")
    found = ties(tmp_path, entries, "{}")
    assert found and "aslant" not in ways(found)
    for rule, shop in [("{along: letter}", ""), ("{}", "ties: {along: letter}\n")]:
        leant = ties(tmp_path, entries, rule, shop)
        stems = [t for t in leant if abs(math.sin(t["angle"])) > 0.5]
        assert stems and all(abs(math.remainder(t["angle"] - (math.pi / 2 - LEAN), math.pi)) < 0.01 for t in stems)
    assert "aslant" not in ways(ties(tmp_path, entries, "{along: line}", "ties: {along: letter}\n"))


def test_lines_of_one_face_have_one_habit(tmp_path):
    """o of one entry, b, d, p, q of another, smaller one: a pair each, of one direction."""
    entries = f"""  - plate: {{name: plate, shape: rectangle, width: 700 mm, height: 360 mm}}
  - words: {{name: a, text: OoO, {FONT}, font size: 150 mm, as: opening, spacing: 12 mm, on: plate, shift: [0 mm, 70 mm]}}
  - words: {{name: b, text: bdpq0, {FONT}, font size: 130 mm, as: opening, spacing: 12 mm, on: plate, shift: [0 mm, -80 mm]}}
"""
    found = ties(tmp_path, entries, "{}")
    assert {sum(t["of"] == of for t in found) for of in {t["of"] for t in found}} == {2}
    assert len({t["of"] for t in found}) == 8 and len(ways(found)) == 1


UMLAUTS = f"""  - bar: {{name: rail, length: 900 mm, height: 16 mm}}
  - words: {{name: w, text: "äöüïÄÖÜ", {FONT}, height: 90 mm, stand on: rail, spacing: joined}}
"""


def test_no_dot_is_tied_to_the_neighbour(tmp_path):
    """Seven letters with two dots each, as tight as they go: each dot has a tie to its own letter, none joins two letters."""
    found = ties(tmp_path, UMLAUTS, "{}")
    assert sorted(sum(t["of"] == of for t in found) for of in {t["of"] for t in found}) == [2] * 7
    assert "level" not in ways(found)


def test_related_middles_are_held_alike(tmp_path):
    """b, d, p, q of a slanted face reach too far for one tie; the g beside them, a little smaller, is held as they are."""
    entries = f"""  - plate: {{name: plate, shape: rectangle, width: 700 mm, height: 220 mm}}
  - words: {{name: w, text: bdpqg, {SLANTED}, height: 100 mm, as: opening, spacing: 12 %}}
"""
    found = ties(tmp_path, entries, "{}")
    assert [sum(f"'{c}'" in t["of"] for t in found) for c in "bdpqg"] == [2] * 5 and len(ways(found)) == 1


def test_eo_stays_eo(tmp_path, yardsticks):
    """Under the ring of 어 no upright tie (it would read 오); that of 오 goes on along its own stroke. Source: the Hangul alphabet."""
    text = (yardsticks / "cases" / "17-tie-turns-eo-into-o-hangul.yaml").read_text()
    shutil.copytree(yardsticks / "cases" / "fonts", tmp_path / "fonts")
    (tmp_path / "sign.yaml").write_text(text.rstrip() + "\n  - ties: {}\n")
    done = subprocess.run([TIE_DUMP, tmp_path / "sign.yaml"], capture_output=True, text=True, timeout=120)
    found = json.loads(done.stdout)["rules"][0]["ties"]
    assert ways([t for t in found if "어" in t["of"].split(" of ")[0]]) == {"aslant"}
    assert ways([t for t in found if "오" in t["of"].split(" of ")[0]]) == {"upright"}


HANG = f"""  - bar: {{name: rail, length: 700 mm, height: 16 mm}}
  - words: {{name: w, text: "%s", {FONT}, height: 90 mm, stand on: rail, spacing: 4 mm}}
"""


def notes_of(folder, entries):
    (folder / "sign.yaml").write_text(f"{HEAD}{entries}  - ties: {{dots: lowered}}\n")
    subprocess.run([HOLDFAST, "make", folder / "sign.yaml", "-o", folder / "out"], capture_output=True, text=True, timeout=120)
    report = json.loads((folder / "out" / "sign" / "report.json").read_text())
    return report["notes"], [f["text"] for f in report["findings"]]


def test_dots_over_a_gap_are_lowered_onto_the_arms(tmp_path):
    """The dots of Ü hang over the gap between its arms: each goes to the side as well, both by the same, and no tie is needed."""
    for text in ("Ü", "ÄÖÜ"):
        assert not ties(tmp_path, HANG % text, "{dots: lowered}")
        notes, findings = notes_of(tmp_path, HANG % text)
        assert any("moved into" in note and " mm" in note for note in notes) and not [f for f in findings if "loose" in f or "reads" in f]


def test_apostrophes_stay_and_it_is_told_why(tmp_path):
    """An apostrophe is no dot of a letter (Unicode 15: a character of its own); moved into the l beside it it would read as l with caron."""
    found = ties(tmp_path, HANG % "l’il", "{dots: lowered}")
    assert [t for t in found if "’" in t["of"]]
    notes, _ = notes_of(tmp_path, HANG % "l’il")
    assert any("1 apostrophe or quote stays where it is" in note and "would read as its accent" in note for note in notes)


def test_dots_that_would_be_lost_in_their_letter_stay(tmp_path):
    """Among the teeth of ش its dots would fill them: it would read س (Unicode 15: the two differ by the dots alone). They are tied."""
    sheen = """  - words: {name: w, text: "شارع", font: {family: DejaVu Sans, style: Bold}, height: 88.3 mm}
  - bar: {name: rail, length: 330 mm, height: 6.2 mm, below: w, gap: -3.1 mm}
"""
    assert [t for t in ties(tmp_path, sheen, "{dots: lowered}") if "ش" in t["of"]]
    notes, findings = notes_of(tmp_path, sheen)
    assert [note for note in notes if "find no way" in note or "stay" in note], notes
    assert not [f for f in findings if "reads" in f]
