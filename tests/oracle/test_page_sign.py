# SPDX-License-Identifier: GPL-3.0-or-later
"""The sign on the page, what is wrong with it and its cures, in real Chromium by hand and by keys.

What is expected comes from outside the page: the recipe text that the server holds, the command's own
verdict on that text, the size of things on the wall in pixels, and axe-core's rules (WCAG 2).
"""
import re

import pytest
from selenium.webdriver.common.action_chains import ActionChains
from selenium.webdriver.common.keys import Keys

from browsing import AXE

RING = """# two rings and a bar between
holdfast: 1
sign: Ring
metal: {kind: mild steel, thickness: 3 mm}
process: {kerf: 1.5 mm}
entries:
  - ring: {name: rim, outer: 400 mm, width: 20 mm}   # the rim
  - bar:  {name: rail, length: 380 mm, height: 20 mm}
"""

# The counters of B, A and R fall out, the bar is alone, the second hole is too small.
TROUBLE = """holdfast: 1
sign: Trouble at the quay
metal: {kind: mild steel, thickness: 3 mm}
process: {kerf: 1.4 mm}
mount: holes
entries:
  - plate: {name: board, shape: rounded, width: 620 mm, height: 220 mm, corner: 12 mm}
  - words: {name: bakery, text: BAKERY, font: Bebas Neue, height: 90 mm, as: opening, at: [0 mm, 25 mm]}
  - bar: {name: rail, length: 700 mm, height: 8 mm, at: [0 mm, -130 mm]}
  - hole: {diameter: 8 mm, at: [-295 mm, 95 mm]}
  - hole: {diameter: 3 mm, at: [295 mm, 95 mm]}
"""

# An outer point of 40 degrees: a caution of common practice (limit 60 degrees).
POINT = """holdfast: 1
sign: Pointed
metal: {kind: mild steel, thickness: 3 mm}
process: {kerf: 1.5 mm}
accept:
  - finding: bowing-strip   # it is short
    reason: one of its own
entries:
  - star: {name: star, points: 5, diameter: 300 mm}
"""


def value_of(text, key):
    return float(re.search(rf"{key}: ([\d.]+) mm", text)[1])


# ---- the sign -----------------------------------------------------------------------------------


def test_the_whole_sign_is_on_the_wall_and_sharp(opened):
    page = opened(RING)
    wall = page.one(".sign-wall").rect
    x, y, w, h = page.view_box()
    assert x < -200 and y < -200 and x + w > 200 and y + h > 200
    assert w / h == pytest.approx(wall["width"] / wall["height"], rel=0.02)
    path = page.one(".scene .metal").get_attribute("d")
    assert "A" in path and path.count("M") >= 3  # true arcs; a rim cut by a bar leaves two openings


def test_zoom_and_pan_keep_what_is_under_the_hand(opened):
    page = opened(RING)
    wall = page.one(".sign-wall")
    before = page.view_box()
    px, py = wall.rect["width"] / 4, wall.rect["height"] / 4
    at = lambda box: (box[0] + box[2] * px / wall.rect["width"], box[1] + box[3] * py / wall.rect["height"])  # noqa: E731
    page.run("""const [wall, x, y] = arguments, box = wall.getBoundingClientRect();
        wall.dispatchEvent(new WheelEvent('wheel', {deltaY: -300, clientX: box.left + x, clientY: box.top + y, bubbles: true, cancelable: true}))""",
             wall, px, py)
    page.until(lambda: page.view_box()[2] < 0.7 * before[2])
    after = page.view_box()
    assert at(after) == pytest.approx(at(before), abs=0.5 * before[2] / wall.rect["width"])
    ActionChains(page.browser).move_to_element_with_offset(wall, 100, 60).click_and_hold().move_by_offset(80, 40).release().perform()
    moved = page.view_box()
    k = after[2] / wall.rect["width"]
    assert (after[0] - moved[0], after[1] - moved[1]) == pytest.approx((80 * k, 40 * k), abs=1.5 * k)
    page.word("the whole sign").click()
    page.until(lambda: page.view_box() == pytest.approx(before, abs=0.01 * before[2]))


def test_keys_pan_zoom_and_show_it_whole(opened):
    page = opened(RING)
    page.size(1440, 900, calm=True)
    home = page.view_box()
    page.tab_to(lambda it: "sign-wall" in (it.get_attribute("class") or ""))
    page.keys("+")
    assert page.view_box()[2] == pytest.approx(home[2] / 1.25, rel=1e-3)
    page.keys(Keys.ARROW_RIGHT)
    assert page.view_box()[0] > home[0] + 0.1 * home[2]
    page.keys("-")
    page.keys("0")
    page.until(lambda: page.view_box() == pytest.approx(home, abs=0.01 * home[2]))


def test_the_scale_is_true(opened):
    page = opened(RING)
    words, px = page.one(".scale-words").text, page.run("return document.querySelector('.scale-bar').getBoundingClientRect().width")
    assert float(words.split()[0]) == pytest.approx(px * page.view_box()[2] / page.one(".sign-wall").rect["width"], rel=0.02)


def test_two_lights(opened):
    page = opened(TROUBLE)
    assert page.all(".scene .loose") and page.all(".scene .loose-hatch")
    page.word("as it hangs").click()
    page.until(lambda: page.all(".scene .cast"))
    assert not page.all(".scene .loose")
    assert "would fall out" in page.one(".fallen").text  # what hangs is without them, and it is said
    selects = page.all(".pick select")
    selects[1].send_keys("a person")
    figure = page.until(lambda: page.all(".scene .figure"))[0]
    k = page.view_box()[2] / page.one(".sign-wall").rect["width"]
    assert page.run("return arguments[0].getBoundingClientRect().height", figure) * k == pytest.approx(1700, rel=0.01)
    page.all(".pick select")[0].send_keys("slate")
    page.until(lambda: page.run("return getComputedStyle(document.querySelector('.sign-wall')).backgroundColor") == "rgb(89, 99, 107)")
    page.browser.refresh()
    page.until(lambda: page.all(".scene .figure"))  # it is how the reader likes it, after a reload too


# Cut through, the metal in the notches of M, N and W runs out to points that the arc burns back.
POINTS = """holdfast: 1
sign: Points
metal: {kind: mild steel, thickness: 3 mm}
process: {kerf: 1.5 mm}
mount: none
entries:
  - plate: {name: board, shape: rectangle, width: 260 mm, height: 120 mm}
  - words: {name: mnw, text: MNW, font: Bebas Neue, height: 80 mm, as: opening, on: board}
"""


def test_points_that_burn_back_are_shown_as_on_the_proof(opened, make):
    """As metal a broken line round what will be gone, and words for it; as it hangs it is gone: of the wall's light, not the metal's.

    How many there are, and where: the note of the same sign that the command's report has.
    """
    page = opened(POINTS)
    made = make(POINTS)
    tips = [at for f in made.report["findings"] if f["key"] == "burnt-tip" for at in f["places"]]
    assert len(tips) > 1
    page.word("as metal").click()
    mark = page.until(lambda: page.all(".scene .burnt"))[0]
    assert page.run("return arguments[0].getAttribute('d').split('M').length - 1", mark) == len(tips)
    assert page.run("return getComputedStyle(arguments[0]).strokeDasharray", mark) != "none"
    assert f"{len(tips)} points that burn back" in page.one(".legend").text
    page.word("as it hangs").click()
    page.until(lambda: page.all(".scene .cast"))
    assert page.run("return document.querySelector('#unburnt path').getAttribute('d').split('M').length - 1") == len(tips)
    assert page.run("return document.querySelectorAll('[mask=\"url(#unburnt)\"]').length") == 4
    assert not page.all(".scene .burnt")


def test_sizes_on_request_in_the_readers_unit(opened):
    page = opened(RING)
    page.word("with sizes").click()
    said = page.until(lambda: page.run("return [...document.querySelectorAll('.sizes text')].map((it) => it.textContent)"))
    assert said == ["400 mm", "400 mm"]


# ---- handles ------------------------------------------------------------------------------------


def knob(page, path):
    return page.until(lambda: page.all(f".knob[data-path='{path}']"), what=f"for the handle of {path}")[0]


def test_dragging_a_ring_changes_the_recipe_and_is_one_step_to_undo(opened):
    page = opened(RING)
    it = knob(page, "entries[0].ring.outer")
    k = page.view_box()[2] / page.one(".sign-wall").rect["width"]
    drag = ActionChains(page.browser, duration=16).move_to_element(it).click_and_hold()
    for _ in range(20):
        drag = drag.move_by_offset(2, -2)
    drag.release().perform()
    page.settle()
    text = page.state()["text"]
    # the handle stands up and to the right: 40 px both ways are 56.6 px outward, twice that in diameter
    assert value_of(text, "outer") == pytest.approx(400 + 2 * 40 * 2**0.5 * k, abs=4 * k + 2)
    assert "# the rim" in text and "# two rings" in text
    page.word("undo").click()
    page.until(lambda: page.state()["text"] == RING, what="one undo for the whole drag")


def test_a_handle_is_a_slider_for_keys_and_screen_readers(opened):
    page = opened(RING)
    it = page.tab_to(lambda it: it.get_attribute("data-path") == "entries[0].ring.outer")
    assert it.get_attribute("role") == "slider"
    assert "outer" in it.get_attribute("aria-label") and "rim" in it.get_attribute("aria-label")
    assert it.get_attribute("aria-valuetext") == "400 mm" and float(it.get_attribute("aria-valuenow")) == 400
    page.keys(Keys.ARROW_UP, Keys.ARROW_UP)
    page.until(lambda: value_of(page.state()["text"], "outer") == 402)
    page.settle()
    assert knob(page, "entries[0].ring.outer").get_attribute("aria-valuetext") == "402 mm"
    assert page.run("return document.activeElement.dataset.path") == "entries[0].ring.outer"


def test_words_are_moved_by_hand_and_by_keys(opened):
    page = opened(TROUBLE)
    it = knob(page, "entries[1].words.at")
    k = page.view_box()[2] / page.one(".sign-wall").rect["width"]
    ActionChains(page.browser, duration=60).move_to_element(it).click_and_hold().move_by_offset(20, 0).move_by_offset(20, 10).release().perform()
    page.settle()
    x, y = (float(it) for it in re.search(r"text: BAKERY.*at: \[([-\d.]+) mm, ([-\d.]+) mm\]", page.state()["text"]).groups())
    assert (x, y) == pytest.approx((40 * k, 25 - 10 * k), abs=2 * k + 1)
    page.run("document.querySelector(arguments[0]).focus()", ".knob[data-path='entries[1].words.at']")
    page.keys(Keys.ARROW_LEFT)
    page.until(lambda: f"at: [{x - 1:g} mm, {y:g} mm]" in page.state()["text"])


# ---- verdict and findings -----------------------------------------------------------------------


def test_the_verdict_says_what_the_command_says(opened):
    page = opened(TROUBLE)
    assert page.stand() == "stopped" and not page.command_says_whole()
    assert page.one(".stamp").text == "not whole"
    live = page.one(".verdict [aria-live]")
    assert live.get_attribute("textContent").startswith("not whole: ")


def test_nothing_is_called_whole_that_was_not_worked_out(opened):
    page = opened(RING)
    assert page.stand() == "whole"
    page.run("document.querySelector('.verdict [aria-live]').dataset.test = 'same'")
    for broken in (RING.replace("400 mm", "four hundred"), RING.replace("entries:", "entries: ["), RING.replace("width: 20 mm", "width: 500 mm")):
        page.browser.execute_async_script("""const [text, done] = arguments; fetch('api/state').then((it) => it.json()).then((state) =>
            fetch('api/text', {method: 'POST', headers: {'Content-Type': 'application/json'}, body: JSON.stringify({revision: state.revision, text})})).then(() => done())""", broken)
        page.until(lambda: page.stand() == "unread")
        assert page.one(".stamp").text == "not yet"
        assert page.one(".verdict [aria-live][data-test]").get_attribute("textContent").startswith("not yet: ")
        assert "last worked out" in page.one(".findings").text and "last worked out" in page.one(".verdict-figures").text
        if AXE.exists():
            assert page.axe() == []
        page.word("undo").click()
        page.until(lambda: page.stand() == "whole")


def test_gravest_first_and_alike_ones_gathered(opened):
    page = opened(TROUBLE)
    shown = page.attributes(".finding", "class")
    order = {"is-stop": 0, "is-caution": 1, "is-note": 2, "is-accepted": 3}
    ranks = [next(rank for word, rank in order.items() if word in it) for it in shown]
    assert ranks == sorted(ranks)
    view = page.state()["view"]
    assert len(page.all("[data-finding]")) == len(view["findings"])  # none is dropped
    assert len({(it["law"], it["gravity"]) for it in view["findings"]}) == len(shown)


def test_pointing_at_a_finding_shows_its_place_large(opened):
    page = opened(TROUBLE)
    page.size(1440, 900, calm=True)
    finding = next(it for it in page.state()["view"]["findings"] if it["law"] == "small-hole")
    card = page.one(".finding[data-law='small-hole']")
    ActionChains(page.browser).move_to_element(card.find_element("css selector", ".said")).perform()
    page.until(lambda: page.all(".loupe"))
    x, y = finding["places"][0]
    box = [float(it) for it in page.run("return document.querySelector('.loupe svg').getAttribute('viewBox')").split()]
    assert (box[0] + box[2] / 2, box[1] + box[3] / 2) == pytest.approx((x, -y), abs=0.01)
    assert page.all(".ring.worst")
    card.find_element("css selector", ".show").click()  # pressed: the sign itself goes there
    page.until(lambda: page.view_box()[2] < 120)
    box = page.view_box()
    assert box[0] < x < box[0] + box[2] and box[1] < -y < box[1] + box[3]
    page.until(lambda: page.all(".held-words"))
    page.one(".sign-wall").send_keys(Keys.ESCAPE)
    page.until(lambda: page.view_box()[2] > 600)


def test_where_a_limit_comes_from(opened):
    page = opened(TROUBLE)
    card = page.one(".finding[data-law='small-hole']")
    card.find_element("css selector", ".source summary").click()
    said = card.find_element("css selector", ".source p").text
    assert said.startswith("Common practice") and "1.5 t" in said  # docs/limits.md: max(1.5 t, 3 k, 4.5 mm)


def test_a_caution_is_accepted_with_a_reason_and_back(opened):
    page = opened(POINT)
    before = page.state()["text"]
    card = page.until(lambda: page.all(".finding.is-caution[data-law='sharp-point']"))[0]
    card.find_element("xpath", ".//button[contains(., 'accept it')]").click()
    field = page.until(lambda: page.all(".reason input"))[0]
    field.send_keys(Keys.ENTER)
    page.until(lambda: "say why" in page.one(".reason").text)  # no reason, no acceptance
    assert page.state()["text"] == before
    page.one(".reason input").send_keys('hangs above 3 m: "out of reach"', Keys.ENTER)
    page.until(lambda: page.all(".finding.is-accepted[data-law='sharp-point']"))
    text = page.state()["text"]
    assert "sharp-point" in text and "# it is short" in text
    assert "out of reach" in page.one(".finding.is-accepted[data-law='sharp-point'] .accepted").text
    page.word("take that back", ".finding.is-accepted[data-law='sharp-point']").click()
    page.until(lambda: page.all(".finding.is-caution[data-law='sharp-point']"))
    assert "sharp-point" not in page.state()["text"]


def test_a_stop_cannot_be_accepted(opened):
    page = opened(TROUBLE)
    assert not page.all(".finding.is-stop .reason, .finding.is-stop .accepted")
    assert not [it for it in page.texts(".finding.is-stop button") if "accept" in it]


# ---- for everybody ------------------------------------------------------------------------------

SHAPES = [(1440, 900, "light"), (1440, 900, "dark"), (820, 1100, "light"), (360, 760, "dark")]


def look_closer(page):
    """The first finding's place from near; again where the click went nowhere, as what was under it moved."""
    def there():
        if not page.all(".held-words"):
            page.all(".finding .show")[0].click()
        return page.until(lambda: page.all(".held-words"), seconds=10)
    for _ in range(3):
        try:
            return there()
        except AssertionError:
            pass
    return there()


@pytest.mark.parametrize("width,height,scheme", SHAPES)
def test_axe_finds_nothing(opened, width, height, scheme):
    if not AXE.exists():
        pytest.skip("axe-core is not installed (npm ci in src/page/client)")
    page = opened(TROUBLE, width=width, height=height, scheme=scheme)
    assert page.axe() == []
    look_closer(page)
    assert page.axe() == []
    page.word("as it hangs").click()
    page.until(lambda: page.all(".scene .cast"))
    assert page.axe() == []


def test_a_narrow_window_has_all_of_it_and_the_verdict_in_sight(opened):
    page = opened(TROUBLE, width=360, height=760)
    assert page.run("return document.documentElement.scrollWidth") <= 360
    order = page.run("""return ['.sign-wall', '.verdict', '.finding', '.slip, .slot-slip'].map((it) => document.querySelector(it).getBoundingClientRect().top)""")
    assert order == sorted(order)
    page.run("document.querySelectorAll('.finding')[3].scrollIntoView()")
    page.until(lambda: 0 <= page.run("return document.querySelector('.verdict').getBoundingClientRect().top") < 40)


def test_twice_as_large_letters_still_fit(opened):
    page = opened(TROUBLE, width=720, height=450)  # 200 % of a 1440 x 900 window (WCAG 2.2, 1.4.4 and 1.4.10)
    assert page.run("return document.documentElement.scrollWidth") <= 720


def test_who_likes_it_calm_is_not_flown_about(opened):
    page = opened(TROUBLE)
    page.size(1440, 900, calm=True)
    page.all(".finding .show")[0].click()
    page.until(lambda: page.all(".held-words"))
    first = page.view_box()
    assert page.view_box() == first and first[2] < 300
