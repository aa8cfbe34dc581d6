# SPDX-License-Identifier: GPL-3.0-or-later
"""A format is one file and one line: added in a copy of the tree, it is everywhere.

The copy is of this tree and its build folder as they stand, times kept, so that only what the two changes
ask for is built anew. Nothing else in the copy is touched.
"""
import json
import os
import re
import shutil
import subprocess

import pytest

from conftest import HOLDFAST, TOP, holdfast
from serving import Serving
from test_faults import NOT_WHOLE, WHOLE

FILE = r"""/* SPDX-License-Identifier: GPL-3.0-or-later
 * list.c - the outlines as a plain list: a line for each contour, with the number of its curves.
 */
#include "out/format.h"

static GBytes *
write_list(const HfMaking *making, const HfFormat *format, GError **error)
{
  (void)error;
  const HfOutline *outline = making->sign->fit->outline;
  GString *text = g_string_new(format->inches ? "inches\n" : "millimetres\n");
  for (guint i = 0; i < hf_outline_n_contours(outline); i++) {
    guint n;
    hf_outline_contour(outline, i, &n);
    g_string_append_printf(text, "contour %u: %u curves\n", i + 1, n);
  }
  return g_string_free_to_bytes(text);
}

HF_FORMATS(list,
           {.about = HF_ABOUT_OUTLINES, .ending = ".list", .type = "text/x-list",
            .says = "the outlines as a list", .write = write_list},
           {.about = HF_ABOUT_OUTLINES, .ending = "-in.list", .type = "text/x-list",
            .says = "the same in inches", .option = "list-inch", .inches = TRUE, .write = write_list});
"""
LINE = "  'list',\n"


def copy(to):
    """The tree and its build folder; what is bundled for the page is only looked at."""
    build = HOLDFAST.resolve().parent
    here = TOP.resolve()
    if build.parent != here:
        pytest.skip("the build folder is not in the tree")
    tree = to / "tree"
    modules = "src/page/client/node_modules"
    leave = {here / name for name in (".git", "out", modules)} | {build / "tests", build / "bench"}
    shutil.copytree(here, tree, symlinks=True, ignore=lambda folder, names: [
        name for name in names if (path := here / folder / name) in leave or (path.parent == here and path != build and (path / "build.ninja").exists())])
    if (here / modules).exists():
        (tree / modules).symlink_to(here / modules)
    ninja = tree / build.name / "build.ninja"
    times = ninja.stat()
    ninja.write_text(ninja.read_text().replace(str(here), str(tree)))
    os.utime(ninja, ns=(times.st_atime_ns, times.st_mtime_ns))
    return tree, tree / build.name


@pytest.fixture(scope="module")
def grown(tmp_path_factory):
    """The command of a tree with one more file and one more line."""
    tree, build = copy(tmp_path_factory.mktemp("grown"))
    (tree / "src/out/list.c").write_text(FILE)
    meson = tree / "src/out/meson.build"
    meson.write_text(meson.read_text().replace("  'dxf',\n", "  'dxf',\n" + LINE, 1))
    assert meson.read_text().count(LINE) == 1
    done = subprocess.run(["ninja", "-C", build, "holdfast"], capture_output=True, text=True)
    assert done.returncode == 0, done.stdout[-3000:] + done.stderr[-1000:]
    return build / "holdfast"


@pytest.fixture
def ask(grown, tmp_path):
    """ask(recipe's text, *options): makes it with the grown command into one folder; exit code and names."""

    def it(text, *options):
        recipe = tmp_path / "sign.yaml"
        recipe.write_text(text)
        done = subprocess.run([grown, "make", recipe, "-o", tmp_path / "out", "--pixels", "200", *options], capture_output=True, text=True)
        return done.returncode, {path.name for path in (tmp_path / "out/sign").iterdir()}

    return it


def help_of(command):
    return subprocess.run([command, "make", "--help"], capture_output=True, text=True, check=True).stdout


def unasked(text):
    """Names in the lines that tell what is made: two blanks, names, two blanks or more, words."""
    return [name for line in re.findall(r"^  ((?:[\w.-]+, )*[\w-]+\.\w+)  +\w", text, re.M) for name in line.split(", ")]


def on_request(text):
    return re.search(r"--also WHAT +more (?:outlines|outputs): (.*)", text)[1].split(", ")


def lacks(man, text):
    """What the help tells and the man page does not."""
    said = man.replace("\\", "")
    return [name for name in unasked(text) + on_request(text) if not re.search(rf"[ ,]{re.escape(name)}(?=[ ,.\"\n])", said)]


def completed(command, *words):
    script = f"source {TOP}/tools/completion.bash; COMP_WORDS=({' '.join(words)}); COMP_CWORD={len(words) - 1}; _holdfast; echo ${{COMPREPLY[@]}}"
    done = subprocess.run(["bash", "-c", script], capture_output=True, text=True, env={**os.environ, "PATH": f"{command.parent}:{os.environ['PATH']}"})
    return done.stdout.split()


def test_what_there_is(make):
    """Of the tree as it is: help, completion, man page and folder say the same."""
    text = help_of(HOLDFAST)
    assert unasked(text) == ["metal.svg", "metal.dxf", "cut.nc", "plan.svg", "proof.png", "proof.pdf", "shop-sheet.pdf", "traveller.pdf", "report.json"]
    assert on_request(text) == ["dxf-inch", "dxf-r12-mm", "dxf-r12-inch", "heat", "moving", "template"]
    assert completed(HOLDFAST, "holdfast", "make", "--also", "''") == on_request(text)
    assert completed(HOLDFAST, "holdfast", "make", "--also", "dxf-r") == ["dxf-r12-mm", "dxf-r12-inch"]
    assert lacks((TOP / "docs/holdfast.1").read_text(), text) == []
    made = make(WHOLE)
    assert {path.name for path in made.folder.iterdir()} == set(unasked(text))
    assert [one["name"] for one in made.report["files"]] == ["metal.svg", "metal.dxf", "cut.nc", "plan.svg", "proof.pdf", "proof.png", "shop-sheet.pdf", "traveller.pdf"], "the order of writing"


def test_the_help_tells_of_it(grown):
    text = help_of(grown)
    assert unasked(text)[:3] == ["metal.svg", "metal.dxf", "metal.list"] and on_request(text)[3:] == ["list-inch", "heat", "moving", "template"]
    assert "gets not-to-be-cut.svg, .dxf and .list instead" in text
    done = subprocess.run([grown, "make", "x.yaml", "--also", "tsil"], capture_output=True, text=True)
    assert done.returncode == 2 and "there is dxf-inch, dxf-r12-mm, dxf-r12-inch, list-inch, heat, moving and template" in done.stderr


def test_completion_offers_it(grown):
    assert completed(grown, "holdfast", "make", "--also", "l") == ["list-inch"]


def test_the_man_page_would_be_found_wanting(grown):
    assert lacks((TOP / "docs/holdfast.1").read_text(), help_of(grown)) == ["metal.list", "list-inch"]


def test_it_is_made_when_asked_for_and_goes_when_it_is_stale(ask, tmp_path):
    usual = {"metal.svg", "metal.dxf", "metal.list", "cut.nc", "plan.svg", "proof.png", "proof.pdf", "shop-sheet.pdf", "traveller.pdf", "report.json"}
    assert ask(WHOLE, "--also", "list-inch") == (0, usual | {"metal-in.list"})
    assert (tmp_path / "out/sign/metal-in.list").read_text().startswith("inches\ncontour 1: 4 curves\n")
    files = [one["name"] for one in json.loads((tmp_path / "out/sign/report.json").read_text())["files"]]
    assert files == ["metal.svg", "metal.dxf", "metal.list", "metal-in.list", "cut.nc", "plan.svg", "proof.pdf", "proof.png", "shop-sheet.pdf", "traveller.pdf"]
    assert ask(WHOLE) == (0, usual)


def test_what_is_not_whole_is_not_to_be_cut_in_it_too(ask):
    assert "metal-in.list" in ask(WHOLE, "--also", "list-inch")[1]
    cut = {"not-to-be-cut.svg", "not-to-be-cut.dxf", "not-to-be-cut.list", "not-to-be-cut-in.list"}
    code, names = ask(NOT_WHOLE, "--also", "list-inch")
    assert code == 1 and {name for name in names if not name.startswith(("proof", "report", "shop-sheet"))} == cut
    assert not {name for name in ask(WHOLE)[1] if name.startswith("not-to-be-cut")}


def test_the_page_lists_and_serves_it(grown, tmp_path):
    recipe = tmp_path / "sign.yaml"
    recipe.write_text(WHOLE)
    with Serving(recipe, state=tmp_path / "state", binary=grown) as page:
        listed = {one["name"]: one for one in page.get("/api/outputs")}
        assert listed["metal.list"] == {**listed["metal.list"], "type": "text/x-list", "says": "the outlines as a list", "shown_by": "metal.svg"}
        assert "metal-in.list" in listed and listed["proof.pdf"]["shown_by"] == "proof.png" and listed["report.json"]["shown_by"] is None
        status, headers, body = page.raw("GET", "/api/output/metal.list")
        assert status == 200 and headers["Content-Type"] == "text/x-list" and body.startswith(b"millimetres\n")
    assert holdfast("make", recipe, "-o", tmp_path / "out", "--also", "list-inch").returncode == 2, "this tree has no such format"
