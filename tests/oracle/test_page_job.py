# SPDX-License-Identifier: GPL-3.0-or-later
"""The main job on the page, whole, in real Chromium: from an empty page to a cured sign with its files on
disk, by clicks and by keys; killed at every step of a save; a font let go over the page; nonsense in every
field that can be unfolded; undo across all of it; contrast.

What is expected comes from outside the page: files on disk, PyYAML, the command's own verdict, WCAG 2.2.
"""
import json
import pathlib
import subprocess

import pytest
import yaml
from selenium.webdriver.common.action_chains import ActionChains
from selenium.webdriver.common.keys import Keys

from browsing import Browsing
from conftest import HOLDFAST
from dying import dies_at
from samples import MANY, SMALL
from test_page import Empty, at, begin_by_keys, chord, empty, escape, focused, held, one_of_each, quiet, tab_to_value, type_over, undo, value, word  # noqa: F401
from test_page_cures import TWO
from test_page_sign import RING, knob

OUTPUTS = {"metal.svg", "metal.dxf", "cut.nc", "plan.svg", "proof.pdf", "proof.png", "shop-sheet.pdf", "traveller.pdf", "report.json"}


def is_cured_and_made(page, folder, name):
    """What the command and the disk say."""
    saved = folder / f"{name}.yaml"
    assert yaml.load(saved.read_text(), yaml.BaseLoader) == held(page)
    assert subprocess.run([str(HOLDFAST), "check", "--quiet", str(saved)]).returncode == 0
    made = folder / "out" / name
    assert OUTPUTS <= {it.name for it in made.iterdir()} and not list(made.glob("not-to-be-cut*"))
    assert json.loads((made / "report.json").read_text())["verdict"] == "whole"


# ---- the main job ----


def test_from_an_empty_page_to_a_cured_sign_on_disk_by_keys(empty, tmp_path):
    page = empty
    begin_by_keys(page, "words cut through", "net loft")
    tab_to_value(page, "entries[1].words.text")
    page.keys("BOATS", Keys.ENTER)
    quiet(page)
    tab_to_value(page, "entries[1].words.font")
    page.keys("Bebas Neue", Keys.ENTER)  # no stencil face: the middles of B, O and A fall out
    quiet(page)
    page.until(lambda: page.stand() == "stopped", what="for the stops")
    page.until(lambda: page.all(".best"), what="for the best cure")
    page.tab_to(lambda it: "best" in (it.get_attribute("class") or "").split(), 250)
    page.keys(Keys.ENTER)
    page.until(lambda: page.stand() == "whole", what="to be whole")
    chord(page, "s")
    page.until(lambda: page.state()["saved"])
    page.tab_to(lambda it: it.text == "make it", 250)
    page.keys(Keys.ENTER)
    page.until(lambda: page.all(".made"))
    is_cured_and_made(page, tmp_path, "net loft")


def test_from_an_empty_page_to_a_cured_sign_on_disk_by_clicks(empty, tmp_path):
    page = empty
    next(it for it in page.all(".starter") if "words cut through" in it.text).click()
    page.until(lambda: page.all(".name-it input"))
    page.keys("sail loft")
    word(page, "begin").click()
    page.until(lambda: page.all(".slip .value"))
    page.settle()
    type_over(page, "entries[1].words.text", "BOATS")
    quiet(page)
    value(page, "entries[1].words.font").click()
    page.until(lambda: page.all(".typing"))
    page.keys("Bebas Neue")
    page.until(lambda: [it for it in page.all(".choices li") if it.text.split("\n")[0] == "Bebas Neue"])[0].click()
    quiet(page)
    page.until(lambda: page.stand() == "stopped")
    page.until(lambda: page.all(".finding.is-stop .cure, .shelf .cure"), what="for a cure")
    page.until(lambda: page.all(".best"))
    whole = page.until(lambda: [it for it in page.all(".cure") if "then it is whole" in it.text])[0]
    page.run("arguments[0].scrollIntoView({block: 'center'})", whole)
    whole.click()
    page.until(lambda: page.stand() == "whole")
    word(page, "save").click()
    page.until(lambda: page.state()["saved"])
    word(page, "make it").click()
    page.until(lambda: page.all(".made"))
    is_cured_and_made(page, tmp_path, "sail loft")


# ---- killed while it saves ----


def test_killed_while_it_saves_the_page_says_so_and_comes_back_with_all_of_it(browser, tmp_path):
    """At its first step; what each step leaves on disk: test_page_server.py."""
    recipe = tmp_path / "sign.yaml"
    recipe.write_text(SMALL)
    page = Browsing(browser, tmp_path, None, env=dies_at(1, tmp_path))
    type_over(page, "entries[0].plate.width", "201 mm")
    quiet(page)
    new = page.state()["text"]
    (tmp_path / "now").touch()
    chord(page, "s")
    page.until(lambda: page.process.poll() is not None, what="to be dead")
    said = page.until(lambda: page.all(".notice[role=alert]"), what="for the notice")[0].text
    assert "holdfast has ended" in said and "kept" in said
    page.close()
    assert recipe.read_text() == SMALL
    with Browsing(browser, tmp_path, None) as again:
        assert value(again, "entries[0].plate.width").text.replace("\u00a0", " ") == "201 mm"
        assert "draft" in again.one(".keep").text
        chord(again, "s")
        again.until(lambda: again.state()["saved"])
        assert recipe.read_text() == new and "# oak would be nice too" in new


# ---- a font let go over the page ----


def drop(page, file):
    """As a hand does it: over the page and let go, with a real file (Chrome DevTools Protocol, Input.dispatchDragEvent)."""
    data = {"items": [], "files": [str(file)], "dragOperationsMask": 1}
    for kind in ("dragEnter", "dragOver"):
        page.browser.execute_cdp_cmd("Input.dispatchDragEvent", {"type": kind, "x": 300, "y": 300, "data": data})
    page.until(lambda: page.all(".veil"), what="for the page to say what letting go will do")
    page.browser.execute_cdp_cmd("Input.dispatchDragEvent", {"type": "drop", "x": 300, "y": 300, "data": data})
    page.until(lambda: not page.all(".veil"))


def test_a_font_file_is_dropped_on_the_page(opened, tmp_path):
    page = opened(SMALL + "  - words: {text: QUAY, font: Bebas Neue, height: 40 mm, as: opening}\n")
    font = next(pathlib.Path("/usr/share/fonts").rglob("LobsterTwo-Bold.otf"))
    brought = tmp_path / "elsewhere" / "quay.otf"
    brought.parent.mkdir()
    brought.write_bytes(font.read_bytes())
    drop(page, brought)
    before = page.one(".scene .metal").get_attribute("d")
    word(page, "words “QUAY”", ".notice").click()
    page.until(lambda: at(held(page), "entries", 1, "words", "font") == {"file": "quay.otf"})
    assert (tmp_path / "quay.otf").read_bytes() == font.read_bytes()
    page.settle()
    assert page.state()["error"] is None
    page.until(lambda: page.one(".scene .metal").get_attribute("d") != before)  # its letters are cut now
    # another file of that name is not written over; what is no font is said and not copied
    brought.write_bytes(next(pathlib.Path("/usr/share/fonts").rglob("LobsterTwo-Italic.otf")).read_bytes())
    drop(page, brought)
    page.until(lambda: page.all(".notice.inset"))
    assert (tmp_path / "quay.otf").read_bytes() == font.read_bytes()
    for name, bytes in (("no-font.ttf", b"this is no font"), ("picture.png", b"\x89PNG")):
        (tmp_path / "elsewhere" / name).write_bytes(bytes)
        drop(page, tmp_path / "elsewhere" / name)
        page.until(lambda: page.all(".notice .trouble"))
        assert not (tmp_path / name).exists()
        word(page, "I see", ".notice").click()
    assert page.state()["error"] is None


# ---- bad input, everywhere ----


def unfolds(page):
    return len(page.all(".slip .more[aria-expanded]"))


def unfold(page, n):
    if page.all(".slip .more[aria-expanded]")[n].get_attribute("aria-expanded") == "false":
        page.all(".slip .more[aria-expanded]")[n].click()
    return page.until(lambda: page.all(".unfold"))[0]


@pytest.mark.parametrize("turn", [0, pytest.param(1, marks=pytest.mark.long)])
def test_nonsense_in_a_field_that_is_offered(opened, turn):
    """What the recipe could say and doesn't: refused at its place, or taken as the text that it is; the recipe then is
    as it was. One of each type of field, in the long run all; the two kinds of nonsense take turns."""
    page = opened(MANY)
    before = page.state()["text"]
    offered = {}
    for n in range(unfolds(page)):
        for it in unfold(page, n).find_elements("css selector", ".value.unsaid"):
            offered[it.get_attribute("data-path")] = n
    assert len(offered) >= 85
    seen, refused, taken = one_of_each(page, offered), set(), set()
    assert len(seen) > 15
    for i, path in enumerate(seen):
        unfold(page, offered[path])
        nonsense = ("??", "-1e9 parsecs")[(i + turn) % 2]
        type_over(page, path, nonsense)
        page.until(lambda: page.all("[role=alert]") or page.state()["text"] != before, what=f"for an answer at {path}")
        if page.all("[role=alert]"):
            # what was typed stands there still, in its field or in its sentence, marked, with the reason under it
            # (what only setting the type finds of a font's features is said under the entry)
            page.until(lambda: path.endswith("features") or [it.strip() for it in page.attributes(".typing[aria-invalid=true]", "value")] == [nonsense]
                       or [it.text for it in page.all(".value[aria-invalid=true]") if it.get_attribute("data-path").startswith(path)][:1] == [nonsense], what=f"for the mark at {path}")
            where = ".typing-place, .slip-entry" if path.startswith("entries") else ".typing-place, .slip-head"
            assert [it for box in page.all(where) for it in box.find_elements("css selector", "[role=alert]") if it.text.strip(" ✗")], path
            refused.add(path)
        if page.all(".typing"):
            escape(page, path)
        if page.state()["text"] != before:
            if path not in refused:
                taken.add(path)
            assert nonsense in page.state()["text"], path  # as typed
            undo(page)
        page.until(lambda: page.state()["text"] == before, what=f"for {path} to be as it was")
        page.until(lambda: page.state()["error"] is None)
    # a name that nobody bears, and words for people, are texts like any other
    free = {"name", "text", "customer", "number", "date", "language", "row", "letters", "features"}
    assert {path.rsplit(".", 1)[-1] for path in taken} <= free, sorted(taken)
    print(f"{len(seen)} fields, {len(refused)} refused at their place, {len(taken)} taken as texts")


def test_each_of_several_mistakes_is_said_where_it_is(opened):
    page = opened(SMALL)
    for path, text in (("entries[0].plate.width", "wide"), ("metal.thickness", "thick"), ("entries[0].plate.height", "12 parsecs")):
        value(page, path).click()
        page.until(lambda: page.all(".typing"))
        page.keys(text, Keys.TAB)
        page.until(lambda text=text: text in page.state()["text"])
    page.until(lambda: len(page.all(".slip [aria-invalid=true]")) == 3)
    assert set(page.attributes(".slip [aria-invalid=true]", "data-path")) == {"entries[0].plate.width", "metal.thickness", "entries[0].plate.height"}
    assert len(page.all(".slip-entry [role=alert]")) == 2 and len(page.all(".slip-head [role=alert]")) == 1
    assert "2 more mistakes" in page.one(".verdict").text
    assert page.axe() == []
    word(page, "show the file").click()
    page.until(lambda: page.all(".lines .wrong"))
    wrong = [i + 1 for i, line in enumerate(page.state()["text"].splitlines()) if "wide" in line or "thick," in line or "thickness: thick" in line]
    assert [int(it.strip("▸ \n")) for it in page.texts(".lines .wrong")] == wrong
    assert len(page.all(".file-text .trouble")) == 3


# ---- arranging ----


def kinds(page):
    return [next(iter(it)) for it in held(page)["entries"]]


def test_a_line_is_put_elsewhere_by_hand_and_by_keys(opened):
    page = opened(MANY)
    lines = {line.strip() for line in MANY.splitlines()}
    assert kinds(page) == ["plate", "words", "star", "hole", "bar", "ear"]
    numbers = page.all(".line-number")
    target = page.all(".slip-entry")[3]
    page.run("arguments[0].scrollIntoView({block: 'center'})", page.all(".slip-entry")[2])
    drop_at = target.rect["y"] + target.rect["height"] * 0.75 - (numbers[1].rect["y"] + numbers[1].rect["height"] / 2)
    ActionChains(page.browser, duration=60).move_to_element(numbers[1]).click_and_hold().move_by_offset(0, 10).move_by_offset(0, int(drop_at) - 10).perform()
    page.until(lambda: page.all(".slip-entry.carried") and page.all(".slip-entry.put-above"))
    ActionChains(page.browser).release().perform()
    page.until(lambda: kinds(page) == ["plate", "star", "hole", "words", "bar", "ear"])
    assert {line.strip() for line in page.state()["text"].splitlines()} == lines
    page.until(lambda: page.run("return document.activeElement.textContent") == "4")
    page.keys(Keys.ARROW_UP)
    page.until(lambda: kinds(page) == ["plate", "star", "words", "hole", "bar", "ear"])
    page.until(lambda: page.run("return document.activeElement.textContent") == "3")
    page.keys(Keys.ARROW_UP)
    page.until(lambda: kinds(page) == ["plate", "words", "star", "hole", "bar", "ear"])
    page.until(lambda: page.run("return document.activeElement.textContent") == "2")
    assert {line.strip() for line in page.state()["text"].splitlines()} == lines
    assert page.axe() == []


def test_another_of_the_same_stands_clear_of_the_first(opened):
    page = opened((pathlib.Path(__file__).resolve().parents[2] / "examples" / "fish-pier.yaml").read_text())
    n = len(held(page)["entries"])
    for index in [i for i, kind in enumerate(kinds(page)) if kind in ("words", "plate")][::-1]:
        first = page.state()["view"]["entries"][index]["box"]
        page.all(".slip-entry")[index].find_element("css selector", ".more").click()
        word(page, "make another", ".slip-entry").click()
        page.until(lambda: len(held(page)["entries"]) == n + 1)
        page.settle()
        second = page.state()["view"]["entries"][index + 1]["box"]
        assert first[2] < second[0] or second[2] < first[0] or first[3] < second[1] or second[3] < first[1], (index, first, second)
        undo(page)
        page.until(lambda: len(held(page)["entries"]) == n)


# ---- undo across all ----


def test_undo_goes_back_over_drags_cures_and_what_others_wrote(opened):
    page = opened(TWO)
    steps = [TWO]

    def done(what):
        page.until(lambda: page.state()["text"] != steps[-1], what=what)
        quiet(page)
        steps.append(page.state()["text"])

    it = knob(page, "entries[1].words.height")
    ActionChains(page.browser, duration=30).move_to_element(it).click_and_hold().move_by_offset(6, -6).move_by_offset(4, -4).release().perform()
    done("for the drag")
    number = page.all(".line-number")[2]
    number.send_keys(Keys.ARROW_UP)
    done("for the line to move")
    page.until(lambda: page.all(".best"))
    page.one(".best").click()
    done("for the cure")
    page.until(lambda: page.stand() == "whole")
    theirs = TWO.replace("620 mm", "640 mm")
    page.recipe.write_text(theirs)
    page.until(lambda: page.all(".notice"))
    word(page, "take theirs", ".notice").click()
    done("for theirs")
    assert steps[-1] == theirs
    page.all(".slip-entry .more")[0].click()
    word(page, "make another", ".slip-entry").click()
    done("for another plate")
    page.browser.refresh()
    page.until(lambda: page.all(".slip .value"))
    for text in reversed(steps[:-1]):
        chord(page, "z")
        page.until(lambda text=text: page.state()["text"] == text, what="for one step back")
    assert not page.state()["can_undo"]
    for text in steps[1:]:
        chord(page, "z", Keys.CONTROL, Keys.SHIFT)
        page.until(lambda text=text: page.state()["text"] == text, what="for one step forward")


# ---- a search never stands in the way ----


def test_one_goes_on_editing_while_cures_are_looked_for(opened):
    page = opened(TWO)
    page.until(lambda: page.all(".search progress"), what="for a search")
    for height in ("104 mm", "98 mm", "111 mm"):
        type_over(page, "entries[1].words.height", height)
        page.until(lambda height=height: at(held(page), "entries", 1, "words", "height") == height)
        page.settle()
        assert not page.all(".best")  # the edit did not wait for the end of the search, but ended it
        page.until(lambda: page.all(".search progress"), what="for the next search")
    page.until(lambda: page.all(".best"))


# ---- for everybody ----


def luminance(colour):
    """WCAG 2.2, relative luminance."""
    parts = [it / 255 for it in colour]
    return sum(k * (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4) for k, c in zip((0.2126, 0.7152, 0.0722), parts))


def contrast(a, b):
    light, dark = sorted((luminance(a), luminance(b)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


# words on what they stand on (1.4.3: 4.5), and what must be seen to be used (1.4.11: 3)
WORDS = [("ink", "paper"), ("ink", "card"), ("ink", "wall"), ("ink", "hot-wash"), ("soft", "paper"), ("soft", "card"), ("soft", "wall"), ("hot", "paper"), ("hot", "card"),
         ("on-hot", "hot"), ("good", "card"), ("good", "paper")]
SIGNS = [("hot", "wall"), ("hot", "hot-wash"), ("steel", "wall"), ("soft", "card")]


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_contrast(opened, scheme):
    page = opened(SMALL, scheme=scheme)

    def colour(name):
        text = page.run("""const it = document.createElement('i'); it.style.color = `var(--${arguments[0]})`; document.body.append(it);
            const said = getComputedStyle(it).color; it.remove(); return said""", name)
        return [int(it) for it in text[4:-1].split(", ")]

    figures = {(a, b): contrast(colour(a), colour(b)) for a, b in WORDS + SIGNS}
    print(scheme, ", ".join(f"{a} on {b} {ratio:.2f}" for (a, b), ratio in figures.items()))
    assert not [pair for pair in WORDS if figures[pair] < 4.5], figures
    assert not [pair for pair in SIGNS if figures[pair] < 3], figures
    # the focus is seen: 3 against what lies beside it (2.4.11, 1.4.11)
    value(page, "entries[0].plate.width")
    tab_to_value(page, "entries[0].plate.width")
    ring = page.run("const it = getComputedStyle(document.activeElement); return [it.outlineStyle, it.outlineColor, parseFloat(it.outlineWidth)]")
    assert ring[0] == "solid" and ring[2] >= 2
    assert contrast([int(it) for it in ring[1][4:-1].split(", ")], colour("card")) >= 3


def test_axe_finds_nothing_where_things_come_and_go(opened, tmp_path):
    """States that a person meets on the way: found by what brings them."""
    page = opened(TWO)
    for scheme in ("light", "dark"):
        page.size(1440, 900, scheme)
        page.until(lambda: page.all(".best"))
        page.until(lambda: page.all(".cure"))
        assert page.axe() == [], f"cures {scheme}"
        page.all(".finding .show")[0].click()
        page.until(lambda: page.all(".held-words"))
        assert page.axe() == [], f"held {scheme}"
        page.one(".sign-wall").send_keys(Keys.ESCAPE)
        for it in page.all(".finding details summary"):
            it.click()
        assert page.axe() == [], f"says who {scheme}"
        word(page, "with sizes").click()
        word(page, "as it hangs").click()
        page.until(lambda: page.all(".scene .cast"))
        assert page.axe() == [], f"hung with sizes {scheme}"
        word(page, "without sizes").click()
        word(page, "as metal").click()
    page.one(".best").click()
    page.until(lambda: page.stand() == "whole")
    page.until(lambda: page.all(".taken"))
    assert page.axe() == [], "taken"
    word(page, "make it").click()
    page.until(lambda: page.all(".made"))
    assert page.axe() == [], "made"
    word(page, "another sign").click()
    page.until(lambda: page.all(".starter"))
    for scheme in ("light", "dark"):
        page.size(1440, 900, scheme)
        assert page.axe() == [], f"gallery {scheme}"
    word(page, "back to sign.yaml").click()
    page.recipe.unlink()
    page.until(lambda: page.all(".notice"))
    assert page.axe() == [], "file gone"
    page.process.kill()
    page.until(lambda: any("has ended" in it for it in page.texts(".notice")), what="for the end to be said")
    assert page.axe() == [], "server gone"
