# SPDX-License-Identifier: GPL-3.0-or-later
"""What the documents say is there, is there; what they give to copy, works."""
import re
import subprocess

import pytest

from conftest import HOLDFAST, TOP

PAGES = [p for p in [*TOP.glob("*.md"), *TOP.glob("*/*.md"), *TOP.glob("docs/*/*.md")] if not p.parts[-2].startswith("build")]
WHOLE_RECIPES = [(page, i, text) for page in ("README.md", "docs/recipe.md")
                 for i, text in enumerate(re.findall(r"^```yaml\n(holdfast: 1\n.*?)^```", (TOP / page).read_text(), re.M | re.S))
                 if "entries:" in text]


@pytest.mark.parametrize("page", PAGES, ids=lambda page: str(page.relative_to(TOP)))
def test_links_lead_somewhere(page):
    links = re.findall(r"\]\(([^)#\s]+)", page.read_text())
    assert [link for link in links if "://" not in link and not (page.parent / link).exists()] == []


@pytest.mark.parametrize("page", PAGES, ids=lambda page: str(page.relative_to(TOP)))
def test_files_that_are_named_exist(page):
    named = re.findall(r"`((?:src|tests|docs|fuzz|bench|examples)/[\w./-]+\.\w+|(?:base|stock|geom|ornament|type|recipe|shop|layout|metal|thin|hold|sign|tie|mend|cure|out|run|page|cli)/[\w-]+\.[ch]+)`",
                       page.read_text())
    assert [name for name in named if not (TOP / name).exists() and not (TOP / "src" / name).exists()] == []


@pytest.mark.parametrize("page, number, text", WHOLE_RECIPES, ids=[f"{page} {i}" for page, i, _ in WHOLE_RECIPES])
def test_recipes_to_copy_are_whole(page, number, text, make):
    made = make(text, name="copied")
    assert made.code == 0, made.out + made.err


def test_ornaments_are_as_they_are_drawn():
    """docs/ornaments.md is what tools/ornaments.sh writes, and its picture is there."""
    tool = HOLDFAST.parent / "tools" / "ornaments"
    if not tool.exists():
        pytest.skip("no build folder of meson's beside the command")
    printed = subprocess.run([str(tool)], capture_output=True, text=True, check=True).stdout
    assert (TOP / "docs/ornaments.md").read_text() == printed, "run tools/ornaments.sh"
    assert printed.count("\n| ") == 1 + 24
    assert (TOP / "docs/pictures/ornaments.png").stat().st_size > 50_000


def test_there_are_recipes_to_copy():
    assert {page for page, _, _ in WHOLE_RECIPES} == {"README.md", "docs/recipe.md"}
