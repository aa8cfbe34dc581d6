# SPDX-License-Identifier: GPL-3.0-or-later
"""Composing on the page in real Chromium: shapes picked from pictures, sign and sentence that show each other, entries
dragged to where they line up.

What is expected comes from outside the page: lengths of plane figures by school geometry, measured by Chromium itself, the recipe
text that the server holds, and axe-core's rules (WCAG 2)."""
import math
import re

import pytest
from selenium.webdriver.common.action_chains import ActionChains
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


@pytest.mark.parametrize("size", ["width: 600 mm, height: 300 mm", pytest.param("width: 24 in, height: 12 in", marks=pytest.mark.long)])
def test_every_shape_that_is_picked_can_be_worked_out(opened, size):
    """Whatever shape comes after whatever other, its sizes come along: nobody is left with a sentence that is refused."""
    page = opened(HEAD + f"""  - plate: {{name: board, shape: rectangle, {size}}}
  - dot: {{diameter: 30 mm, as: opening, on: board}}
""")
    path = "entries[0].plate.shape"
    opened_choices(page, path)
    shapes = page.texts(".pictures li")
    page.keys(Keys.ESCAPE)
    for word in [*shapes[1:], shapes[0], shapes[5], "rectangular"]:
        opened_choices(page, path)
        was = page.state()["revision"]
        page.run("[...document.querySelectorAll('.pictures li')].find((it) => it.innerText.trim().split('\\n')[0] === arguments[0]).click()", word)
        page.until(lambda: page.state()["revision"] > was)
        page.settle()
        assert page.state()["error"] is None, (word, page.state()["error"], page.state()["text"])
        assert not page.all(".slip [aria-invalid=true]") and word in page.one(".slip-entry").text.lower(), word


# ---- the sign and its sentences -----------------------------------------------------------------

COMPOSED = HEAD + """  - plate: {name: board, shape: rectangle, width: 500 mm, height: 300 mm}
  - ornament: {name: west, form: heart, height: 60 mm, as: opening, on: board, shift: [-150 mm, 40 mm]}
  - ornament: {name: east, form: heart, height: 60 mm, as: opening, on: board, shift: [170 mm, 40 mm]}
  - ornament: {name: mark, form: heart, height: 50 mm, as: opening, on: board, shift: [47 mm, -70 mm]}
  - ornament: {name: a, form: heart, height: 40 mm, as: opening}
  - ornament: {name: b, form: heart, height: 40 mm, as: opening}
  - row: {name: pair, of: [a, b], gap between: 15 mm, on: board, shift: [0 mm, 110 mm]}
"""


def box_of(page, name):
    """x0, y0, x1, y1 in mm, y up, as the core has it."""
    return next(it["box"] for it in page.state()["view"]["entries"] if it["name"] == name)


def middle(box):
    return (box[0] + box[2]) / 2, (box[1] + box[3]) / 2


def per_pixel(page):
    return page.view_box()[2] / page.one(".sign-wall").rect["width"]


def on_screen(page, at):
    """A point of the sign in px from the wall's middle."""
    x, y, w, h = page.view_box()
    k = per_pixel(page)
    return round((at[0] - (x + w / 2)) / k), round((-at[1] - (y + h / 2)) / k)


def press_on(page, name):
    return ActionChains(page.browser, duration=16).move_to_element_with_offset(page.one(".sign-wall"), *on_screen(page, middle(box_of(page, name))))


def chosen(page):
    return page.attributes(".slip-entry.chosen", "data-entry"), page.attributes(".entry.meant", "data-entry")


def test_what_is_clicked_on_the_sign_is_shown_in_the_slip_and_back(opened):
    page = opened(COMPOSED, height=620)
    page.size(1440, 620, calm=True)
    page.settle()
    top = page.run("return document.querySelector('.sign-wall').getBoundingClientRect().top")
    press_on(page, "mark").click().perform()
    page.until(lambda: chosen(page) == (["3"], ["3"]))
    seen = page.run("""const it = document.querySelector('.slip-entry.chosen').getBoundingClientRect();
        return it.top >= 0 && it.bottom <= innerHeight""")
    assert seen and page.run("return document.querySelector('.sign-wall').getBoundingClientRect().top") == top
    page.word("its sentence").click()
    page.until(lambda: (page.run("return document.activeElement.dataset.path ?? ''")).startswith("entries[3].ornament"))
    page.keys(Keys.ESCAPE)
    page.until(lambda: chosen(page) == ([], []))
    page.tab_to(lambda it: (it.get_attribute("data-path") or "").startswith("entries[1]") and "value" in it.get_attribute("class"))
    page.until(lambda: chosen(page) == (["1"], ["1"]))  # a sentence with the focus is shown on the sign
    press_on(page, "mark").click().perform()
    page.until(lambda: chosen(page) == (["3"], ["3"]))
    if AXE.exists():
        assert page.axe() == []
    page.keys(Keys.ESCAPE)
    page.until(lambda: chosen(page) == ([], []))


def test_a_member_shows_its_group(opened):
    page = opened(COMPOSED)
    page.size(1440, 900, calm=True)
    page.settle()
    press_on(page, "a").click().perform()
    page.until(lambda: chosen(page) == (["4"], ["4"]))
    assert page.attributes(".slip-entry.around", "data-entry") == ["6"] and page.attributes(".group-box", "data-group") == ["6"]
    page.word("the row it is in").click()
    page.until(lambda: chosen(page) == (["6"], ["4", "5"]))  # both its members are marked
    box = [float(it) for it in (page.one(".group-box").get_attribute(key) for key in ("x", "width"))]
    a, b = box_of(page, "a"), box_of(page, "b")
    assert (box[0], box[0] + box[1]) == pytest.approx((a[0], b[2]), abs=1e-3)


# ---- dragging -----------------------------------------------------------------------------------

def shift_of(page, name):
    found = re.search(rf"name: {name},.*shift: \[([-\d.]+) mm, ([-\d.]+) mm\]", page.state()["text"])
    return float(found[1]), float(found[2])


def carried(page, name, to, keys=(), away=(3, 0)):
    """The hand takes it by its middle and holds it so many px off `to`."""
    chain = press_on(page, name)
    for key in keys:
        chain = chain.key_down(key)
    start, end = on_screen(page, middle(box_of(page, name))), on_screen(page, to)
    by = end[0] - start[0] + away[0], end[1] - start[1] + away[1]
    chain.click_and_hold().move_by_offset(by[0] // 2, by[1] // 2).move_by_offset(by[0] - by[0] // 2, by[1] - by[1] // 2).perform()


def let_go(page, keys=()):
    chain = ActionChains(page.browser).release()
    for key in keys:
        chain = chain.key_up(key)
    chain.perform()
    page.settle()


def test_an_entry_dragged_by_its_body_lies_in_the_middle_exactly_and_it_is_said(opened):
    page = opened(COMPOSED)
    page.size(1440, 900, calm=True)
    page.settle()
    before, k = page.view_box(), per_pixel(page)
    start, before_middle = shift_of(page, "mark"), middle(box_of(page, "mark"))[0]
    carried(page, "mark", (0, -70))
    words = page.until(lambda: page.texts(".carried-words"))[0]
    assert "in the middle of board" in words and page.all(".over .guide")
    page.until(lambda: "clear of" in page.texts(".carried-words")[0])
    page.settle()
    mark, board = box_of(page, "mark"), box_of(page, "board")
    assert middle(mark)[0] == pytest.approx(middle(board)[0], abs=1e-3)
    told = {float(it.split()[0]) for it in page.run("return [...document.querySelectorAll('.over .way text')].map((it) => it.textContent)")}
    for way in (mark[0] - board[0], board[2] - mark[2], mark[1] - board[1]):  # to the left, to the right, down
        assert any(it == pytest.approx(way, abs=0.6) for it in told), (way, told)
    let_go(page)
    assert page.view_box() == before  # it was not panned
    x, y = shift_of(page, "mark")
    assert x == pytest.approx(start[0] - before_middle + middle(board)[0], abs=1e-3) and y == pytest.approx(-70, abs=2 * k + 1)
    page.until(lambda: "in the middle of board" in page.run("return [...document.querySelectorAll('.sign > [aria-live]')].map((it) => it.textContent).join()"))
    page.word("undo").click()
    page.until(lambda: page.state()["text"] == COMPOSED, what="one undo for the whole drag")


def test_equal_gaps_and_what_lines_up_with_nothing(opened):
    page = opened(COMPOSED)
    page.size(1440, 900, calm=True)
    page.settle()
    k = per_pixel(page)
    west, east = box_of(page, "west"), box_of(page, "east")
    halfway = (west[2] + east[0]) / 2
    carried(page, "mark", (halfway, 40))
    page.until(lambda: "midway between west and east" in "".join(page.texts(".carried-words")))
    let_go(page)
    mark = box_of(page, "mark")
    assert mark[0] - west[2] == pytest.approx(east[0] - mark[2], abs=1e-3)
    carried(page, "mark", (halfway, 40), keys=[Keys.ALT], away=(3, 3))
    assert not page.all(".over .guide")
    let_go(page, keys=[Keys.ALT])
    free = box_of(page, "mark")
    assert (free[0] - west[2]) - (east[0] - free[2]) > 2 * k  # 3 px off its place, within what would have caught it
    was = page.state()["text"]
    carried(page, "mark", (0, -70))
    page.until(lambda: page.state()["text"] != was)
    page.keys(Keys.ESCAPE)
    let_go(page)
    page.until(lambda: page.state()["text"] == was, what="Escape puts it back")


def test_arrows_move_what_was_clicked(opened):
    page = opened(COMPOSED)
    page.size(1440, 900, calm=True)
    page.settle()
    press_on(page, "mark").click().perform()
    page.until(lambda: page.run("return document.activeElement.dataset.path") == "entries[3].ornament.shift")
    page.keys(Keys.ARROW_RIGHT)
    page.until(lambda: shift_of(page, "mark") == (48, -70))
    page.settle()
    ActionChains(page.browser).key_down(Keys.ALT).send_keys(Keys.ARROW_UP).key_up(Keys.ALT).perform()
    page.until(lambda: shift_of(page, "mark") == (48, -69.9))
    page.settle()
    page.keys(Keys.ENTER)
    page.until(lambda: (page.run("return document.activeElement.dataset.path ?? ''")).startswith("entries[3].ornament") and
               page.run("return document.activeElement.closest('.slip') !== null"))


def test_a_group_is_dragged_as_one(opened):
    """A member taken by its body takes its group along: in the middle of the board, exactly, and no member moves against the others."""
    page = opened(COMPOSED)
    page.size(1440, 900, calm=True)
    page.settle()
    before = [box_of(page, name) for name in ("a", "b", "pair")]
    start = middle(before[0])
    row = middle(before[2])
    board = middle(box_of(page, "board"))
    carried(page, "a", (start[0] + 30, start[1] - 60))
    page.until(lambda: page.state()["text"] != COMPOSED)
    let_go(page)
    start, row = (middle(box_of(page, name)) for name in ("a", "pair"))
    carried(page, "a", (start[0] - row[0] + board[0], start[1]))
    words = page.until(lambda: page.texts(".carried-words"))[0]
    assert "in the middle of board" in words and not re.search(r"\bof [ab]\b", words)  # not with its own members
    let_go(page)
    after = [box_of(page, name) for name in ("a", "b", "pair")]
    assert middle(after[2])[0] == pytest.approx(board[0], abs=1e-3)
    moves = [(now[0] - was[0], now[1] - was[1]) for was, now in zip(before, after)]
    assert moves[0] == pytest.approx(moves[1], abs=1e-3) and moves[0] == pytest.approx(moves[2], abs=1e-3)
    assert re.search(r"row: \{name: pair, .*shift: ", page.state()["text"]) and "name: a, form: heart, height: 40 mm, as: opening}" in page.state()["text"]


def test_a_group_is_moved_by_keys(opened):
    page = opened(COMPOSED)
    page.size(1440, 900, calm=True)
    page.settle()
    press_on(page, "a").click().perform()
    page.until(lambda: chosen(page) == (["4"], ["4"]))
    page.word("the row it is in").click()
    page.until(lambda: page.run("return document.activeElement.dataset.path") == "entries[6].row.shift")
    page.keys(Keys.ARROW_LEFT)
    page.until(lambda: shift_of(page, "pair") == (-1, 110))
    if AXE.exists():
        assert page.axe() == []


def test_keys_go_on_to_where_it_lines_up_next(opened):
    """Ctrl and an arrow: as the hand snaps. Where that is is worked out here from the boxes that the core tells."""
    page = opened(COMPOSED)
    page.size(1440, 900, calm=True)
    page.settle()
    press_on(page, "mark").click().perform()
    page.until(lambda: page.run("return document.activeElement.dataset.path") == "entries[3].ornament.shift")
    mark, others = box_of(page, "mark"), [it["box"] for it in page.state()["view"]["entries"] if it["name"] != "mark"]
    lines = [middle(it)[0] - middle(mark)[0] for it in others] + [to - own for it in others for to in (it[0], it[2]) for own in (mark[0], mark[2])]
    least = min(-it for it in lines if it < -1e-3)
    ActionChains(page.browser).key_down(Keys.CONTROL).send_keys(Keys.ARROW_LEFT).key_up(Keys.CONTROL).perform()
    page.until(lambda: box_of(page, "mark")[0] < mark[0] - 1e-3)
    page.settle()
    gone = mark[0] - box_of(page, "mark")[0]
    assert 0 < gone <= least + 1e-3  # a gap may come first
    assert shift_of(page, "mark")[1] == -70
    said = page.one(".meant-words").text
    assert re.search("level with|in the middle|midway|at the|as far from", said), said
    assert page.run("return [...document.querySelectorAll('.sign > [aria-live]')].map((it) => it.textContent).join()") in said


LINES = HEAD + """  - plate: {name: board, shape: rectangle, width: 800 mm, height: 500 mm}
  - words: {name: round, text: ROUND ABOUT, font: Bebas Neue, height: 40 mm, as: opening, on: board, ellipse: [500 mm, 260 mm]}
  - words: {name: sea, text: THE RIVER, font: Bebas Neue, height: 40 mm, as: opening, wave: 30 mm, wave length: 200 mm, shift: [0 mm, -180 mm]}
  - words: {name: up, text: UPWARD, font: Bebas Neue, height: 40 mm, as: opening, arch: 30 mm, shift: [0 mm, 40 mm]}
  - words: {name: full, text: FULL, font: Bebas Neue, as: opening, shaped: oval, box: [180 mm, 60 mm], shift: [0 mm, -60 mm]}
"""


@pytest.mark.parametrize("path,way,grows", [
    ("entries[1].words.ellipse[0]", (20, 0), 2), ("entries[1].words.ellipse[1]", (0, -20), 2), ("entries[2].words.wave", (0, 10), 2),
    ("entries[2].words.wave length", (20, 0), 2), ("entries[3].words.arch", (0, 10), 1), ("entries[4].words.box[0]", (15, 0), 2)])
def test_lines_that_words_follow_are_dragged(opened, path, way, grows):
    """Whatever is half of a length off its middle makes that grow by twice the way of the hand; by keys one step of the unit."""
    page = opened(LINES)
    page.size(1440, 900, calm=True)
    page.settle()
    handle = lambda: next(it for it in page.state()["view"]["handles"] if it["path"] == path)  # noqa: E731
    first, k = handle(), per_pixel(page)
    dx, dy = round(way[0] / k), round(-way[1] / k)
    ActionChains(page.browser).move_to_element(page.one(".sign-wall")).perform()
    it = page.one(f".knob[data-path='{path}']")
    ActionChains(page.browser, duration=16).move_to_element(it).click_and_hold().move_by_offset(dx // 2, dy // 2).move_by_offset(dx - dx // 2, dy - dy // 2).release().perform()
    moved = dx * k if dx else abs(dy) * k
    page.until(lambda: handle()["value"] == pytest.approx(first["value"] + grows * moved, abs=grows * k + 1), what=f"for {first['value'] + grows * moved}")
    page.settle()
    assert page.state()["error"] is None
    was = handle()["value"]
    page.one(f".knob[data-path='{path}']").send_keys(Keys.ARROW_UP)
    page.until(lambda: handle()["value"] == pytest.approx(was + 1))
    assert page.one(f".knob[data-path='{path}']").get_attribute("aria-label").endswith(("of round", "of sea", "of up", "of full"))
