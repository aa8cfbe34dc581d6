# SPDX-License-Identifier: GPL-3.0-or-later
"""Composing on the page in real Chromium: shapes picked from pictures, sign and sentence that show each other, entries
dragged to where they line up.

What is expected comes from outside the page: lengths of plane figures by school geometry, measured by Chromium itself, the recipe
text that the server holds, and axe-core's rules (WCAG 2)."""
import math

import pytest
from selenium.webdriver.common.keys import Keys

from browsing import AXE

HEAD = """holdfast: 1
sign: Quay
metal: {kind: mild steel, thickness: 3 mm}
process: {kerf: 1.5 mm}
mount: none
entries:
"""
SHAPES = HEAD + """  - plate: {name: board, shape: rectangle, width: 400 mm, height: 240 mm}
  - border: {on: board, inset: 14 mm, width: 6 mm}
  - ornament: {name: mark, form: heart, height: 90 mm, as: opening, on: board}
"""


# ---- pictures -----------------------------------------------------------------------------------

def opened_choices(page, path):
    page.until(lambda: page.all(f".slip [data-path='{path}']"))
    page.one(f".slip [data-path='{path}']").click()
    page.until(lambda: page.all(".pictures li"))
    page.until(lambda: page.run("return [...document.querySelectorAll('.pictures img')].every((it) => it.complete && it.naturalWidth > 0 && !it.hidden)"),
               seconds=40, what="for all pictures")


def outline_length(page, address):
    """How long the outline in a picture is, by Chromium's own measure."""
    return page.browser.execute_async_script("""const [address, done] = arguments;
        fetch(address).then((it) => it.text()).then((text) => {
          const path = document.createElementNS('http://www.w3.org/2000/svg', 'path');
          path.setAttribute('d', new DOMParser().parseFromString(text, 'image/svg+xml').querySelector('path').getAttribute('d'));
          done(path.getTotalLength());
        })""", address)


@pytest.mark.parametrize("path,least", [("entries[0].plate.shape", 17), ("entries[1].border.form", 7), ("entries[2].ornament.form", 24)])
def test_shapes_are_picked_from_pictures(opened, path, least):
    page = opened(SHAPES)
    page.size(1440, 900, calm=True)
    before = page.run("return document.querySelector('.sign-wall').getBoundingClientRect().top")
    opened_choices(page, path)
    assert len(page.all(".pictures li")) >= least
    pictures = page.attributes(".pictures img", "src")
    assert len(set(pictures)) == len(pictures)
    drawn = page.browser.execute_async_script("""const done = arguments[1];
        Promise.all(arguments[0].map((it) => fetch(it).then((it) => it.text()))).then(done)""", pictures)
    assert len(set(drawn)) == len(drawn)  # each looks different
    assert all(it.strip() for it in page.texts(".pictures li"))  # and has its word
    sizes = page.run("return [...document.querySelectorAll('.pictures li')].map((it) => [it.offsetWidth, it.offsetHeight])")
    assert all(w >= 24 and h >= 24 for w, h in sizes)  # WCAG 2.2, 2.5.8
    assert page.run("return document.querySelector('.sign-wall').getBoundingClientRect().top") == before
    if AXE.exists():
        assert page.axe() == []


def test_pictures_are_true(opened):
    """Outlines of round, rectangle and polygon of the sizes that a new plate is given: pi d, 2 (a + b), 6 d / 2."""
    page = opened(SHAPES)
    length = lambda shape: outline_length(page, f"api/choice/plate/shape/{shape}.svg")  # noqa: E731
    assert length("round") == pytest.approx(math.pi * 400, rel=5e-4)  # Chromium measures arcs by chords
    assert length("rectangle") == pytest.approx(2 * (600 + 300), rel=1e-4)
    assert length("polygon") == pytest.approx(6 * 200, rel=1e-4)
    status = page.browser.execute_async_script("fetch('api/choice/plate/shape/none.svg').then((it) => arguments[0](it.status))")
    assert status == 404


def test_a_picture_is_picked_by_keys_and_by_hand(opened):
    page = opened(SHAPES)
    path = "entries[2].ornament.form"
    page.tab_to(lambda it: it.get_attribute("data-path") == path and "value" in it.get_attribute("class"))
    page.keys(Keys.ENTER)
    page.until(lambda: page.all(".pictures li"))
    active = lambda: page.run("""const id = document.activeElement.getAttribute('aria-activedescendant');
        return id === null ? null : document.getElementById(id).innerText.trim()""")  # noqa: E731
    words = page.texts(".pictures li")
    columns = page.run("""const all = [...document.querySelectorAll('.pictures li')];
        return all.filter((it) => it.offsetTop === all[0].offsetTop).length""")
    assert columns > 1 and active() == "heart"
    start = words.index("heart")
    page.keys(Keys.ARROW_RIGHT)
    assert active() == words[start + 1]
    page.keys(Keys.ARROW_DOWN)
    assert active() == words[start + 1 + columns]
    page.keys(Keys.ENTER)
    page.until(lambda: f"form: {words[start + 1 + columns]}," in page.state()["text"])
    page.settle()
    opened_choices(page, path)
    page.run("return [...document.querySelectorAll('.pictures li')].find((it) => it.innerText.trim() === 'anchor')").click()
    page.until(lambda: "form: anchor," in page.state()["text"])
