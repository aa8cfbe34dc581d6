# SPDX-License-Identifier: GPL-3.0-or-later
"""Cures on the page, in real Chromium: shown as they come, taken with one click or one key, one step to undo.

That a cured sign is whole is asked of the command, on the text that the server holds then.
"""

import pytest
from selenium.webdriver.common.keys import Keys

from browsing import AXE

# Only counters are loose: a tie rule cures it.
COUNTERS = """holdfast: 1
sign: Bakery
metal: {kind: mild steel, thickness: 3 mm}
process: {kerf: 1.4 mm}
entries:
  - plate: {name: board, shape: rounded, width: 620 mm, height: 180 mm, corner: 12 mm}
  - words: {name: bakery, text: BAKERY, font: Bebas Neue, height: 110 mm, as: opening}
"""


# Two stops of different kinds: loose counters, and a hole too small to cut.
TWO = COUNTERS + "  - hole: {diameter: 3 mm, at: [290 mm, 70 mm]}\n"


def looked(page):
    """The search is over."""
    page.until(lambda: not page.all(".search progress") and page.all(".cure, .cure-none"), what="for the end of the search")


def test_taking_one_cure_makes_it_whole_and_one_undo_brings_it_back(opened):
    page = opened(COUNTERS)
    assert page.stand() == "stopped" and not page.command_says_whole()
    looked(page)
    whole = page.until(lambda: [it for it in page.all(".cure") if "whole" in it.text])[0]
    assert whole.find_element("css selector", ".cure-cost").text
    page.run("arguments[0].scrollIntoView({block: 'center'})", whole)
    page.until(lambda: page.run("return [...document.querySelectorAll('.cure img')].some((it) => it.complete && it.naturalWidth > 0)"), what="for its picture")
    whole.click()
    page.until(lambda: page.stand() == "whole")
    assert page.command_says_whole()
    assert page.one(".stamp").text == "whole"
    page.word("take it back").click()
    page.until(lambda: page.state()["text"] == COUNTERS)
    page.until(lambda: page.stand() == "stopped")


def test_one_button_takes_the_best_for_all(opened):
    page = opened(TWO)
    looked(page)
    assert page.all(".shelf .cure") and len(page.all(".finding.is-stop .cure"))
    page.one(".best").click()
    page.until(lambda: page.stand() == "whole")
    assert page.command_says_whole()
    page.word("undo").click()
    page.until(lambda: page.state()["text"] == TWO)


def test_the_search_can_be_stopped_and_what_was_found_still_be_taken(opened):
    page = opened(TWO)
    page.until(lambda: page.all(".cure"), what="for a first cure")
    if page.pressed("stop", ".search"):  # not over yet
        page.until(lambda: page.word("look for cures", ".findings"))
    stops = page.state()["view"]["verdict"]["stops"]
    page.one(".cure").click()
    page.until(lambda: page.state()["text"] != TWO)
    page.settle()
    assert page.state()["view"]["verdict"]["stops"] < stops


def test_from_trouble_to_whole_by_keys_only(opened):
    page = opened(COUNTERS)
    page.until(lambda: page.all(".best"))
    page.tab_to(lambda it: "best" in (it.get_attribute("class") or "").split(), 200)
    page.keys(Keys.ENTER)
    page.until(lambda: page.stand() == "whole")
    assert page.command_says_whole()


def test_axe_finds_nothing_while_and_after_looking(opened):
    if not AXE.exists():
        pytest.skip("axe-core is not installed (npm ci in src/page/client)")
    page = opened(TWO)
    page.until(lambda: page.all(".cure"))
    assert page.axe() == []
    looked(page)
    assert page.axe() == []
