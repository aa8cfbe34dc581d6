# SPDX-License-Identifier: GPL-3.0-or-later
"""A new kind of entry is one file and one line: a heart is added to a copy of the tree, built, and seen
by the command, the reference, the JSON Schema, the solvers and the page, with no other change."""
import json
import os
import pathlib
import re
import shutil
import subprocess

import pytest

from conftest import HOLDFAST, TOP
from serving import Serving

# A tip at the bottom, two round lobes beside the axis; all three touch the unit circle.
HEART = r'''/* SPDX-License-Identifier: GPL-3.0-or-later
 * kind-heart.c - a separator with two lobes and a tip.
 */
#include "recipe/kind-private.h"

#define LOBE   0.45 /* radius */
#define ACROSS 0.40 /* middle of a lobe, from the axis */
enum { CHORDS = 40 };

static const HfField fields[] = {
    HF_SIZE_FIELD("height", "from its tip to the circle round its lobes", "30 mm", HF_GRIP_TOP, "high|of", 30, 0),
    HF_BAND_FIELDS,
    {NULL},
};

static double
up(void)
{
  return sqrt((1 - LOBE) * (1 - LOBE) - ACROSS * ACROSS);
}

/* From where the straight side ends, seen from the middle of the right lobe. */
static double
shoulder(void)
{
  return atan2(-1 - up(), -ACROSS) + acos(LOBE / hypot(ACROSS, 1 + up()));
}

static void
draw(HfOutline *own, const HfSeparatorEntry *heart)
{
  (void)heart;
  HfPoint side[2 * CHORDS + 2];
  double from = shoulder(), to = acos(-ACROSS / LOBE);
  for (guint i = 0; i <= CHORDS; i++) {
    HfPoint at = hf_point_polar(hf_point(ACROSS, up()), LOBE, from + (to - from) * i / CHORDS);
    side[1 + i] = at;
    side[2 * CHORDS + 1 - i] = hf_point(-at.x, at.y);
  }
  side[CHORDS + 1] = side[1 + CHORDS];
  side[0] = hf_point(0, -1);
  hf_outline_add_polygon(own, side, 2 * CHORDS + 2);
}

static HfTips
tips(const HfSeparatorEntry *heart)
{
  (void)heart;
  HfPoint at = hf_point_polar(hf_point(ACROSS, up()), LOBE, shoulder());
  return (HfTips){.half_angle = atan2(at.x, 1 + at.y), .beta = atan2(ACROSS, up()), .tip_below = TRUE};
}

const HfKind hf_kind_heart = {
    HF_ENTRY_TABLE("heart", "A separator with two lobes and a tip.", fields,
                   "{height: 30 mm, on: board, at: top}", HF_SEPARATOR_RULES),
    HF_SEPARATOR,
    .shape = &(const HfSeparatorShape){draw, tips},
    .one_of = {"height", "band"},
    .called = "a heart",
    .heard = "hearts?",
    .first = "height",
    .sentence = HF_SEPARATOR_SENTENCE("a heart[, {name}][, {height} high]"),
};
'''

RECIPE = """holdfast: 1
metal: {kind: mild steel, thickness: 3 mm}
process: {kerf: 1.5 mm}
alone: [board]
entries:
  - ring: {name: inner, outer: 220 mm, width: 16 mm}
  - ring: {name: outer, outer: 480 mm, width: 16 mm}
  - heart: {name: pair, band: [inner, outer], at: [left, right], bite: 3 mm}
  - words: {name: quay, text: BAY, font: Bebas Neue, band: [inner, outer], at: top, fill band: yes, bite: 3 mm}
  - plate: {name: board, shape: rectangle, width: 120 mm, height: 60 mm}
  - heart: {name: own, as: opening, on: board, height: 40 mm}
"""


def add_heart(tree: pathlib.Path):
    """One file and one line."""
    (tree / "src/recipe/kind-heart.c").write_text(HEART)
    kinds = tree / "src/recipe/kinds.def"
    kinds.write_text(kinds.read_text().replace("KIND(star)\n", "KIND(star)\nKIND(heart)\n"))


def commands(target):
    build = HOLDFAST.parent
    done = subprocess.run(["ninja", "-C", str(build), "-t", "commands", target], capture_output=True, text=True, check=True)
    return [line for line in done.stdout.splitlines() if " -o " in line]


@pytest.fixture(scope="module")
def made(tmp_path_factory):
    """The tree with the heart in it, built: what the change does not touch is linked as it was built."""
    if not (HOLDFAST.parent / "build.ninja").exists() or not (HOLDFAST.parent / "tools" / "recipe-docs").exists():
        pytest.skip("no build folder of meson's beside the command")
    tree = tmp_path_factory.mktemp("tree")
    for name in ("src", "docs"):
        shutil.copytree(TOP / name, tree / name, ignore=shutil.ignore_patterns("node_modules", "pictures"))
    add_heart(tree)
    compiled = next(line for line in commands("libholdfast.a") if line.endswith("recipe/kinds.c"))
    objects = []
    for name in ("kinds", "kind-heart"):
        words = compiled.replace("recipe_kinds.c.o", f"recipe_{name}.c.o").replace("recipe/kinds.c", f"recipe/{name}.c")
        words = words.replace(f"{TOP}/src", f"{tree}/src").replace("../src", f"{tree}/src").replace("-I../", f"-I{tree}/")
        words = re.sub(r"-o \S+", f"-o {tree}/{name}.o", re.sub(r"-M[FQ] \S+|-MD", "", words))
        assert str(tree) in words
        subprocess.run(words, shell=True, cwd=HOLDFAST.parent, check=True)
        objects.append(f"{tree}/{name}.o")
    (tree / "tools").mkdir()
    for target in ("holdfast", "tools/recipe-docs"):
        link = commands(target)[-1].replace(f"-o {target} ", f"-o {tree}/{target} {' '.join(objects)} ")
        subprocess.run(link, shell=True, cwd=HOLDFAST.parent, check=True)
    return tree


def run(tree, *words):
    return subprocess.run([str(tree / "holdfast"), *map(str, words)], capture_output=True, text=True, timeout=600)


def test_reference_schema_and_docs(made):
    printed = run(made, "recipe").stdout
    assert "### heart\n\nA separator with two lobes and a tip." in printed and "`height: 30 mm` (a length): from its tip" in printed
    schema = json.loads(run(made, "recipe", "--schema").stdout)
    words = list(schema["properties"]["entries"]["items"]["properties"])
    assert words.index("heart") == words.index("star") + 1
    assert {"height", "band", "bite", "on", "at", "turn"} < set(schema["$defs"]["heart"]["properties"])
    before = (made / "docs/recipe.md").read_text()
    subprocess.run([str(made / "tools/recipe-docs"), str(made / "docs")], check=True)
    after = (made / "docs/recipe.md").read_text()
    heart = after.index("### heart")
    assert len(after.splitlines()) - len(before.splitlines()) == after.count("\n", heart, after.index("\n### ", heart) + 1)


def test_checks_and_names(made, tmp_path):
    for entry, wrong in (("heart: {}", 'a heart needs height or band'), ("hearts: {height: 9 mm}", 'write "heart"'),
                         ("heart: {height: 9 mm, bite: 2 mm}", '"bite" does nothing without band'),
                         ("heart: {heigth: 9 mm}", 'write "height"')):
        recipe = tmp_path / "wrong.yaml"
        recipe.write_text(f"holdfast: 1\nmetal: {{kind: mild steel, thickness: 3 mm}}\nentries:\n  - {entry}\n")
        done = run(made, "check", recipe)
        assert done.returncode == 2 and wrong in done.stdout + done.stderr, entry


def test_it_is_laid_held_and_makes_room(made, tmp_path):
    """Hearts without a size bite both rings, so nothing falls out; words in their band stay off them."""
    recipe = tmp_path / "sign.yaml"
    recipe.write_text(RECIPE)
    done = run(made, "make", recipe, "-o", tmp_path)
    report = json.loads((tmp_path / "sign" / "report.json").read_text())
    assert done.returncode == 0 and report["verdict"] == "whole", done.stdout + done.stderr
    assert len(report["parts"]) == 2  # the rings with all that is between them, and the board
    rooms = []
    for text in (RECIPE, re.sub(r"  - heart: .*\n", "", RECIPE)):
        recipe.write_text(text.replace("BAY", "SALTMARSH QUAY AND HARBOUR"))
        rooms.append(float(re.search(r"there is room for ([\d.]+) mm", run(made, "make", recipe, "-o", tmp_path).stderr)[1]))
    assert rooms[0] < 0.8 * rooms[1]


def test_the_page(made, tmp_path):
    """Told by the server; gripped by its size; in the client's own tests every kind is said, heard and picked."""
    recipe = tmp_path / "sign.yaml"
    recipe.write_text(RECIPE)
    with Serving(recipe, state=tmp_path / "state", binary=made / "holdfast") as page:
        told = {kind["word"]: kind for kind in page.get("/api/kinds")["kinds"]}
        assert told["heart"]["called"] == "a heart" and told["heart"]["about"].startswith("A separator with two lobes")
        height = next(field for field in told["heart"]["fields"] if field["key"] == "height")
        assert height["type"] == "length" and not height["signed"] and {"picture", "size"} <= set(height["roles"])
        view = page.view()
        assert [it["path"] for it in view["handles"] if it["path"].startswith("entries[5].heart.height")]
        assert [it["kind"] for it in view["handles"] if it["path"].startswith("entries[2].heart.at")] == ["turn", "turn"]
    client = TOP / "src" / "page" / "client"
    if shutil.which("node") is None or not (client / "node_modules").exists():
        pytest.skip("the page is not built here: no Node")
    done = subprocess.run(["node", "test.mjs"], cwd=client, capture_output=True, text=True, env={**os.environ, "HOLDFAST": str(made / "holdfast")}, timeout=600)
    assert done.returncode == 0, done.stdout[-3000:]


@pytest.mark.long
def test_meson_takes_it_from_the_list(tmp_path):
    """The same by meson alone, from nothing."""
    tree = tmp_path / "tree"
    shutil.copytree(TOP, tree, ignore=shutil.ignore_patterns("build*", ".git", "node_modules", "*.pyc"))
    add_heart(tree)
    subprocess.run(["meson", "setup", "build", "-Dpage=disabled", "-Doptimization=0"], cwd=tree, check=True, capture_output=True)
    subprocess.run(["ninja", "-C", "build", "holdfast"], cwd=tree, check=True, capture_output=True)
    assert "### heart" in subprocess.run([str(tree / "build/holdfast"), "recipe"], capture_output=True, text=True, check=True).stdout


def test_separators_are_known_by_their_rows_alone():
    """No file but its own names a shape of separator, and nothing compares kinds by their order."""
    words = {"dot", "diamond", "star"}
    for path in sorted((TOP / "src").rglob("*.[ch]")):
        if path.stem in {f"kind-{word}" for word in words} or path.suffix == ".def" or path.parent.name == "ornament":
            continue  # an ornament may be a star too: it is drawn there, and no separator
        text = path.read_text()
        assert not re.search(r"HF_ENTRY_(DOT|DIAMOND|STAR)", text), path
        assert not re.search(r"kind\s*(<|>|<=|>=)\s*HF_ENTRY_", text) or path.parent.name == "cure", path
        if path.stem not in ("kind-words", "kind-initial"):  # words and monograms may be drawn out to a diamond: no separator either
            assert not re.search(r'"(dot|diamond|star)"', text), path
    for path in sorted((TOP / "src/page/client/src").rglob("*.ts*")):
        assert not re.search(r"\b(star|diamond)s?\b", re.sub(r"//.*|/\*\*?.*?\*/", "", path.read_text())), path
    assert "import('fs').read('kinds.def')" in (TOP / "src/recipe/meson.build").read_text()
