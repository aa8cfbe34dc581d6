# SPDX-License-Identifier: GPL-3.0-or-later
"""The order slip in real Chromium: by keys only, every starter, bad input, undo, two windows, a file
that something else changes.

What is expected comes from outside the page: the text that the server holds, the files on disk, PyYAML's
reading of them, the command's own verdict, and axe-core's rules (WCAG 2)."""
import os
import pathlib
import re
import subprocess
import time

import pytest
import yaml
from selenium.webdriver.common.action_chains import ActionChains
from selenium.webdriver.common.by import By
from selenium.webdriver.common.keys import Keys

from browsing import Browsing, Living
from conftest import HOLDFAST, LONG, TOP
from samples import MANY, SMALL

EXAMPLES = TOP / "examples"

class Empty(Browsing):
    """The page without a recipe."""

    def __init__(self, browser, folder):
        self.browser, self.folder = browser, pathlib.Path(folder)
        environment = {**os.environ, "XDG_STATE_HOME": str(self.folder / "state")}
        self.process = subprocess.Popen([str(HOLDFAST), "page", "--no-browser"], stdout=subprocess.PIPE, stderr=subprocess.STDOUT,
                                        text=True, env=environment, cwd=self.folder)
        self.address = self.process.stdout.readline().strip()
        self.size(1440, 900)
        self.arrive()
        self.until(lambda: self.all(".starter"))


@pytest.fixture
def empty(browser, tmp_path):
    page = Empty(browser, tmp_path)
    yield page
    page.close()


def value(page, path):
    return page.until(lambda: page.one(f'.slip [data-path="{path}"]'))


def held(page):
    """The recipe as the server holds it now, read by PyYAML."""
    return yaml.load(page.state()["text"], yaml.BaseLoader)


def at(tree, *steps):
    for step in steps:
        tree = tree[step]
    return tree


def focused(page):
    return page.run("return document.activeElement.dataset.path ?? document.activeElement.id")


def type_over(page, path, text):
    """Opens a value, types over it, Enter."""
    value(page, path).click()
    page.until(lambda: page.all(".typing"))
    page.keys(*text, Keys.ENTER)


def escape(page, path):
    """Out of a field; a key goes to what has the focus, and the field has it again a moment after it was refused."""
    page.until(lambda: page.run("return document.activeElement.classList.contains('typing')"), what=f"for the focus to be in {path}")
    page.keys(Keys.ESCAPE)
    page.until(lambda: not page.all(".typing"), what=f"for {path} to close by Escape")


def tab_to_value(page, path):
    page.tab_to(lambda it: it.get_attribute("data-path") == path and "value" in it.get_attribute("class"))


def chord(page, key, *held_down):
    it = ActionChains(page.browser)
    for modifier in held_down or (Keys.CONTROL,):
        it.key_down(modifier)
    it.send_keys(key)
    for modifier in held_down or (Keys.CONTROL,):
        it.key_up(modifier)
    it.perform()


def quiet(page):
    """Until all that was sent is answered and the field is closed."""
    page.until(lambda: not page.all(".typing"), what="for the field to close")
    page.settle()


def word(page, text, within="body"):
    """What says so: a button, or a value."""
    def seek():
        return page.says(f"{within} button, {within} [role=button], {within} a", text)

    return Living(page.until(seek, what=text), lambda: page.until(seek, what=text))


def begin_by_keys(page, starter, name):
    """From the gallery to a slip of that name."""
    page.tab_to(lambda it: starter in it.text)
    page.keys(Keys.ENTER)
    page.until(lambda: page.all(".name-it input"))
    page.keys(name, Keys.ENTER)
    page.until(lambda: page.all(".slip .value"))
    page.settle()


# ---- the main job ----


def test_from_an_empty_page_to_a_whole_sign_on_disk_by_keys_alone(empty, tmp_path):
    page = empty
    begin_by_keys(page, "words cut through", "net loft")
    assert (tmp_path / "net loft.yaml").exists()

    tab_to_value(page, "entries[1].words.text")
    page.keys("NET LOFT", Keys.ENTER)  # typing opens it, and goes over what stood there
    quiet(page)
    assert at(held(page), "entries", 1, "words", "text") == "NET LOFT"
    assert focused(page) == "entries[1].words.text"

    tab_to_value(page, "entries[1].words.height")
    page.keys(Keys.ARROW_UP, Keys.ARROW_UP)
    page.until(lambda: at(held(page), "entries", 1, "words", "height") == "86 mm")

    page.tab_to(lambda it: it.get_attribute("id") == "something-more")
    page.keys(Keys.ENTER)
    page.until(lambda: page.all(".builder .typing"))
    page.keys("a hole of 10 mm at the bottom", Keys.ENTER)
    page.until(lambda: len(held(page)["entries"]) == 4)
    page.until(lambda: focused(page) == "entries[3].hole.diameter")
    assert at(held(page), "entries", 3, "hole") == {"diameter": "10 mm", "at": "bottom", "on": "board"}
    page.keys(Keys.ENTER, "9", Keys.ENTER)  # a bare number takes the unit that stood there
    quiet(page)
    assert at(held(page), "entries", 3, "hole", "diameter") == "9 mm"
    # at the very edge it is no hole: moved in
    tab_to_value(page, "entries[3].hole.at")
    page.keys("0 mm, -130 mm", Keys.ENTER)
    quiet(page)
    assert at(held(page), "entries", 3, "hole", "at") == ["0 mm", "-130 mm"]
    assert page.stand() == "whole"

    chord(page, "s")
    page.until(lambda: page.state()["saved"])
    saved = tmp_path / "net loft.yaml"
    assert yaml.load(saved.read_text(), yaml.BaseLoader) == held(page)
    assert "# a stencil face: no middle of an O falls out" in saved.read_text()

    page.tab_to(lambda it: it.text == "make it")
    page.keys(Keys.ENTER)
    made = page.until(lambda: page.all(".made"))[0].text
    folder = tmp_path / "out" / "net loft"
    assert {"metal.svg", "metal.dxf", "proof.pdf", "proof.png", "report.json"} <= {it.name for it in folder.iterdir()}, made
    assert subprocess.run([str(HOLDFAST), "check", str(saved)], capture_output=True).returncode == 0


@pytest.mark.parametrize("kind", ["name", "plate", "house-number", "badge", "stake", "gate-arch", "initial", "monogram"])
def test_each_starter_begins_a_sign_that_is_kept(empty, tmp_path, kind):
    page = empty
    kinds = [line.split()[0] for line in subprocess.run([str(HOLDFAST), "new", "--help"], capture_output=True, text=True).stdout.splitlines() if line.startswith("  ")]
    starters = page.all(".starter")
    assert len(starters) == 8
    given = subprocess.run([str(HOLDFAST), "new", kind], capture_output=True, text=True).stdout
    index = ["name", "plate", "house-number", "badge", "stake", "gate-arch", "initial", "monogram"].index(kind)
    assert kinds == [] or len(kinds) >= 1
    starters[index].click()
    page.until(lambda: page.run("return document.activeElement.tagName") == "INPUT")
    page.keys("my sign", Keys.ENTER)
    page.until(lambda: page.all(".slip .value"))
    page.settle()
    # the starter word for word, but for its name
    assert (tmp_path / "my sign.yaml").read_text() == re.sub(r"(?m)^sign: .*$", "sign: my sign", given)
    assert page.one(".slip h1").text == "my sign"
    assert page.run("return document.activeElement.closest('.slip h1') !== null")
    entries = yaml.load(given, yaml.BaseLoader)["entries"]
    assert len(page.all(".slip-entry")) == len(entries)
    code = subprocess.run([str(HOLDFAST), "check", str(tmp_path / "my sign.yaml")], capture_output=True).returncode
    assert page.stand() == ("whole" if code == 0 else "stopped")
    # every text of the recipe can be read in a sentence
    words = page.one(".slip").text
    for entry in entries:
        for field in next(iter(entry.values())).values():
            if isinstance(field, str) and not field in ("yes", "opening", "rounded"):
                assert field in words.replace("\u00a0", " "), field


def test_a_name_that_is_taken_or_no_name_is_refused_and_kept(empty, tmp_path):
    page = empty
    (tmp_path / "boats.yaml").write_text("mine\n")
    page.all(".starter")[0].click()
    for bad in ("boats", "a/b", "..", "x" * 300):
        page.until(lambda: page.all(".name-it input"))[0].send_keys(Keys.CONTROL + "a")
        page.one(".name-it input").send_keys(bad, Keys.ENTER)
        page.until(lambda: page.all(".name-it [role=alert]"))
        assert page.one(".name-it input").get_property("value").endswith(bad[-20:])
    assert (tmp_path / "boats.yaml").read_text() == "mine\n"
    assert page.state()["file"] is None


# ---- bad input ----


def one_of_each(page, paths):
    """The first of these places for each type of field, in the head and in the entries; all of them in the long run.
    (Every field without a browser: test_page_server.py.)"""
    if LONG:
        return list(paths)
    told = page.browser.execute_async_script("const done = arguments[0]; fetch('api/kinds').then((it) => it.json()).then(done)")
    types = {}

    def learn(fields, within):
        for field in fields:
            types[f"{within}{field['key']}"] = field["type"]
            learn(field["fields"], f"{within}{field['key']}.")

    learn(told["head"], "")
    for kind in told["kinds"]:
        learn(kind["fields"], f"entries.{kind['word']}.")
    first = {}
    for path in paths:
        plain = re.sub(r"\[\d+\]", "", path)
        first.setdefault((path.startswith("entries"), types.get(plain, plain.rsplit(".", 1)[-1])), path)
    return list(first.values())


def test_nonsense_in_a_field_is_said_at_the_field_and_never_lost(opened):
    page = opened(MANY)
    before = page.state()["text"]
    paths = one_of_each(page, page.attributes(".slip .value", "data-path"))
    assert len(paths) > 10
    texts = ("sign", ".name", ".text", "customer", "number", ".font")
    for path in paths:
        shown = value(page, path).text
        for nonsense in ("??", "-1e9 parsecs") if LONG else (("??", "-1e9 parsecs")[paths.index(path) % 2],):
            type_over(page, path, nonsense)
            if path.endswith(texts):  # any text will do there, if only for now: a font that isn't there is said by the run
                page.until(lambda: page.state()["text"] != before)
                if page.all(".typing"):
                    page.keys(Keys.TAB)
                page.until(lambda: not page.all(".typing"), what=f"for {path} to close")
                page.until(lambda: value(page, path).text == nonsense)
                undo(page)
            else:
                page.until(lambda: [it for it in page.texts("[role=alert]") if it.strip(" ✗")], what=f"for a reason at {path}")
                assert [it.strip() for it in page.attributes(".typing", "value")] == [nonsense], path
                escape(page, path)
            page.until(lambda: held(page) == yaml.load(before, yaml.BaseLoader), what=f"for {path} to be as it was")
            page.until(lambda: value(page, path).text == shown)


def undo(page):
    revision = page.state()["revision"]
    page.word("undo", ".keep").click()
    page.until(lambda: page.state()["revision"] != revision)


def test_left_alone_a_bad_value_stays_as_typed_with_its_reason(opened):
    page = opened(SMALL)
    value(page, "entries[0].plate.width").click()
    page.keys("wide", Keys.TAB)
    page.until(lambda: page.all(".slip-entry [role=alert]"))
    assert value(page, "entries[0].plate.width").text == "wide"
    assert page.one(".slip-entry [role=alert]").text
    assert value(page, "entries[0].plate.width").get_attribute("aria-invalid") == "true"
    assert page.stand() == "unread"
    type_over(page, "entries[0].plate.width", "250 mm")
    quiet(page)
    assert not page.all("[role=alert]")
    assert "width: 250 mm" in page.state()["text"] and "# oak would be nice too" in page.state()["text"]


def test_escape_takes_back_what_was_sent_while_typing(opened):
    page = opened(SMALL)
    value(page, "entries[0].plate.width").click()
    page.keys("333 mm")
    page.until(lambda: at(held(page), "entries", 0, "plate", "width") == "333 mm")
    page.keys(Keys.ESCAPE)
    page.until(lambda: at(held(page), "entries", 0, "plate", "width") == "200 mm")
    assert focused(page) == "entries[0].plate.width"


def test_a_mistake_in_the_file_is_marked_at_its_line(opened):
    page = opened(SMALL)
    word(page, "show the file").click()
    area = page.until(lambda: page.one("#file-area"))
    area.send_keys(Keys.CONTROL + Keys.END + Keys.NULL, "  - bar: {length: 1 m, heigth: 20 mm}\n")
    page.until(lambda: page.all(".lines .wrong"))
    assert page.one(".lines .wrong").text.strip("▸ \n") == "7"
    assert "height" in page.one(".file-text [role=alert]").text
    # a text that is no YAML at all stays, and so does the slip
    area.send_keys("  [")
    page.until(lambda: page.state()["tree"] is None or page.state()["error"])
    assert page.all(".slip .value")
    assert area.get_property("value").endswith("  [")


# ---- arranging ----


def test_moving_doubling_and_taking_away_keep_the_remarks(opened):
    page = opened(MANY)
    lines = {line.strip() for line in MANY.splitlines()}

    def more(index):
        page.all(".slip-entry")[index].find_element(By.CSS_SELECTOR, ".more").click()

    more(1)
    word(page, "move down", ".slip-entry").click()
    page.until(lambda: [next(iter(it)) for it in held(page)["entries"]][:3] == ["plate", "star", "words"])
    assert {line.strip() for line in page.state()["text"].splitlines()} == lines  # every line is still there as it was
    word(page, "make another", ".slip-entry").click()
    page.until(lambda: len(held(page)["entries"]) == 7)
    assert at(held(page), "entries", 3, "words", "name") == "harbour 2"
    assert page.state()["text"].count("# in capitals") == 2
    page.until(lambda: focused(page) == "entries[3].words.text")
    # the rail holds the ears: both or none
    more(5)
    word(page, "take it away", ".slip-entry").click()
    word(page, "keep it", ".slip-entry").click()
    assert len(held(page)["entries"]) == 7
    word(page, "take it away", ".slip-entry").click()
    word(page, "take all of it away", ".slip-entry").click()
    page.until(lambda: len(held(page)["entries"]) == 5)
    assert [next(iter(it)) for it in held(page)["entries"]] == ["plate", "star", "words", "words", "hole"]


def test_a_new_name_goes_wherever_the_old_one_was_said(opened):
    page = opened(MANY)
    type_over(page, "entries[4].bar.name", "beam")
    quiet(page)
    assert at(held(page), "entries", 5, "ear", "on") == "beam"
    assert page.state()["error"] is None


def test_what_was_not_said_can_be_said_and_unsaid(opened):
    page = opened(SMALL)
    page.one(".slip-entry .more").click()
    value(page, "entries[0].plate.turn").click()
    page.keys("12 deg", Keys.ENTER)
    quiet(page)
    assert at(held(page), "entries", 0, "plate", "turn") == "12 deg"
    assert "turned by 12 deg" in page.one(".slip-entry .sentence").text.replace("\u00a0", " ")
    page.until(lambda: focused(page) == "entries[0].plate.turn")
    type_over(page, "entries[0].plate.turn", [Keys.DELETE])
    quiet(page)
    assert "turn" not in at(held(page), "entries", 0, "plate")
    page.one(".slip-head .more").click()
    value(page, "order.customer").click()
    page.keys("Net Loft", Keys.ENTER)
    quiet(page)
    assert held(page)["order"] == {"customer": "Net Loft"}


# ---- undo, draft, two windows, the file ----


def test_undo_goes_back_across_all_of_it_and_forward_again_also_after_reload(opened):
    page = opened(MANY)
    steps = [page.state()["text"]]

    def done():
        page.until(lambda: page.state()["text"] != steps[-1])
        quiet(page)
        steps.append(page.state()["text"])

    type_over(page, "entries[0].plate.width", "640 mm")
    done()
    value(page, "entries[1].words.height").send_keys(Keys.ARROW_UP)
    done()
    type_over(page, "metal.kind", "stainless steel")
    done()
    page.one("#something-more").click()
    page.keys("a dot of 12 mm", Keys.ENTER)
    done()
    page.all(".slip-entry .more")[0].click()
    word(page, "move down", ".slip-entry").click()
    done()

    def file_area():  # a click on what is just then drawn anew goes nowhere
        if not page.all("#file-area"):
            word(page, "show the file").click()
        return page.one("#file-area")

    page.until(file_area).send_keys(Keys.CONTROL + Keys.END + Keys.NULL, "# the end\n")
    page.until(lambda: page.state()["text"].endswith("# the end\n"))
    page.until(lambda: page.state()["text"] != steps[-1])
    word(page, "put the file away").click()
    page.settle()
    steps.append(page.state()["text"])
    page.browser.refresh()
    page.until(lambda: page.all(".slip .value"))
    for text in reversed(steps[:-1]):
        chord(page, "z")
        page.until(lambda text=text: page.state()["text"] == text, what="for one step back")
    assert page.state()["text"] == MANY and not page.state()["can_undo"] and page.state()["saved"]
    for text in steps[1:]:
        chord(page, "z", Keys.CONTROL, Keys.SHIFT)
        page.until(lambda text=text: page.state()["text"] == text, what="for one step forward")
    assert not page.state()["can_redo"]


def test_two_windows_show_one_sign(opened, browser):
    page = opened(SMALL)
    first, place = browser.current_window_handle, browser.current_url
    browser.switch_to.new_window("tab")
    try:
        browser.get(place)
        page.until(lambda: page.all(".slip .value"))
        second = browser.current_window_handle
        type_over(page, "entries[0].plate.width", "300 mm")
        quiet(page)
        browser.switch_to.window(first)
        page.until(lambda: value(page, "entries[0].plate.width").text.replace("\u00a0", " ") == "300 mm")
        type_over(page, "entries[0].plate.height", "90 mm")
        quiet(page)
        browser.switch_to.window(second)
        page.until(lambda: value(page, "entries[0].plate.height").text.replace("\u00a0", " ") == "90 mm")
        assert at(held(page), "entries", 0, "plate") == {"name": "board", "shape": "rectangle", "width": "300 mm", "height": "90 mm"}
    finally:
        browser.close()
        browser.switch_to.window(first)


def test_a_file_that_something_else_changes_is_never_written_over_unasked(opened):
    page = opened(SMALL)
    type_over(page, "entries[0].plate.width", "300 mm")
    quiet(page)
    theirs = SMALL.replace("80 mm", "95 mm")
    page.recipe.write_text(theirs)
    page.until(lambda: page.all(".notice"), what="for the notice")
    word(page, "look at both", ".notice").click()
    page.until(lambda: len(page.all(".both pre")) == 2)
    assert "300 mm" in page.all(".both pre")[0].text and "95 mm" in page.all(".both pre")[1].text
    assert page.axe() == []
    chord(page, "s")
    time.sleep(0.5)
    assert page.recipe.read_text() == theirs
    word(page, "take theirs", ".notice").click()
    page.until(lambda: page.state()["text"] == theirs)
    page.until(lambda: not page.all(".notice"))
    undo(page)  # mine is not lost by that
    assert "width: 300 mm" in page.state()["text"]
    page.recipe.write_text(theirs + "# again\n")
    page.until(lambda: page.all(".notice"))
    word(page, "keep mine, write over it", ".notice").click()
    page.until(lambda: page.state()["saved"])
    assert page.recipe.read_text() == page.state()["text"]


def test_a_font_file_is_brought_and_chosen(opened, tmp_path):
    page = opened(SMALL + "  - words: {text: QUAY, font: Bebas Neue, height: 40 mm, as: opening}\n")
    font = next(pathlib.Path("/usr/share/fonts").rglob("LobsterTwo-Bold.otf"))
    brought = tmp_path / "elsewhere" / "quay.otf"
    brought.parent.mkdir()
    brought.write_bytes(font.read_bytes())
    page.one(".choose-file input").send_keys(str(brought))
    word(page, "words “QUAY”", ".notice").click()
    page.until(lambda: at(held(page), "entries", 1, "words", "font") == {"file": "quay.otf"})
    assert (tmp_path / "quay.otf").read_bytes() == font.read_bytes()
    page.settle()
    assert page.state()["error"] is None
    (tmp_path / "no-font.ttf").write_text("this is no font")
    page.one(".choose-file input").send_keys(str(tmp_path / "no-font.ttf"))
    page.until(lambda: page.all(".notice .trouble"))


# ---- for everybody ----


def test_axe_finds_nothing_in_any_state(empty, opened):
    page = empty
    assert page.axe() == [], "gallery"
    page.all(".starter")[1].click()
    page.until(lambda: page.all(".name-it input"))
    assert page.axe() == [], "asking for a name"
    page = opened(MANY)
    for scheme in ("light", "dark"):
        page.size(1440, 900, scheme)
        page.until(lambda: page.all(".out-list li"))
        assert page.axe() == [], f"slip {scheme}"
        for path in ("metal.kind", "metal.thickness", "entries[1].words.font", "entries[1].words.text", "entries[0].plate.shape", "entries[4].bar.length"):
            value(page, path).click()
            page.until(lambda: page.all(".typing"))
            page.still()
            assert page.axe() == [], f"typing {path} {scheme}"
            page.keys(Keys.ESCAPE)
        page.one("#something-more").click()
        page.until(lambda: page.all(".builder .typing"))
        assert page.axe() == [], f"something more {scheme}"
        page.keys(Keys.ESCAPE)
        for more in (0, 2):
            page.all(".slip .more")[more].click()
            page.until(lambda: page.all(".unfold"))
            assert page.axe() == [], f"unfolded {more} {scheme}"
        page.all(".slip .more")[2].click()
        type_over(page, "entries[0].plate.width", "wide")
        page.keys(Keys.TAB)
        page.until(lambda: page.all(".slip-entry [role=alert]"))
        assert page.axe() == [], f"bad value {scheme}"
        word(page, "show the file").click()
        page.until(lambda: page.all(".lines .wrong"))
        assert page.axe() == [], f"file with a mistake {scheme}"
        word(page, "put the file away").click()
        undo(page)
    page.size(360, 740)
    assert page.axe() == [], "narrow"


@pytest.mark.parametrize("width", [320, 360, 820, 1440])
def test_nothing_runs_out_of_the_window(opened, width):
    page = opened((EXAMPLES / "gate-arch.yaml").read_text(), width=width)
    page.until(lambda: page.all(".out-list li"))

    def beyond():
        return page.run("return document.documentElement.scrollWidth - document.documentElement.clientWidth")

    assert beyond() <= 0
    for path in ("entries[2].words.font", "entries[2].words.band[1]", "metal.kind"):
        value(page, path).click()
        page.until(lambda: page.all(".choices li"))
        page.still()
        box = page.one(".choices").rect
        assert box["x"] >= 0 and box["x"] + box["width"] <= width
        assert beyond() <= 0
        page.keys(Keys.ESCAPE)
    page.all(".slip .more")[1].click()
    assert beyond() <= 0
    # on a narrow window: the sign, the verdict, the findings, the slip
    order = page.run("return [...document.querySelectorAll('main section')].map((it) => it.className)")
    assert order[:4] == ["slot-sign", "slot-verdict", "slot-findings", "slot-slip"]
    assert width > 1000 or page.one(".slot-slip").rect["y"] > page.one(".slot-findings").rect["y"]


def test_targets_are_large_enough_and_nothing_comes_from_elsewhere(opened):
    """WCAG 2.2, 2.5.8: 24 by 24 CSS pixels, except words within a sentence."""
    page = opened(MANY)
    page.until(lambda: page.all(".out-list li"))
    small = page.run("""return [...document.querySelectorAll('button, summary, input, a')].filter((it) => it.offsetParent !== null && !it.closest('.sentence'))
        .map((it) => [it.textContent.slice(0, 30), it.getBoundingClientRect()]).filter(([, box]) => box.height < 23.9).map(([text, box]) => text + ' ' + box.height)""")
    assert small == []
    others = page.run("return performance.getEntriesByType('resource').map((it) => it.name).filter((it) => !it.startsWith(location.origin) && !it.startsWith('data:'))")
    assert others == []


def test_a_font_that_is_missing_is_said_at_once(empty, tmp_path):
    """The run fails sooner than the answer to opening is read: what it found must stay."""
    page = empty
    for name in ("one", "two", "three"):
        (tmp_path / f"{name}.yaml").write_text("""holdfast: 1
sign: Board
metal: {kind: mild steel, thickness: 3 mm}
process: {kerf: 1.5 mm}
entries:
  - plate: {name: board, shape: rectangle, width: 200 mm, height: 80 mm}
  - words: {text: BOATS, font: No Such Face, height: 50 mm, as: opening, on: board}
""")
    page.browser.refresh()
    for name in ("one", "two", "three"):
        page.until(lambda: page.all(".there-already button"))
        page.word(f"{name}.yaml", ".there-already").click()
        page.until(lambda: any("No Such Face" in it and "not installed" in it for it in page.texts(".slip .trouble")), what="for the missing font")
        assert "not yet" in page.one(".verdict").text
        page.word("another sign").click()


def test_a_server_that_was_killed_is_said_with_what_to_do(empty):
    page = empty
    page.all(".starter")[1].click()
    page.until(lambda: page.run("return document.activeElement.tagName") == "INPUT")
    page.keys("my sign", Keys.ENTER)
    page.until(lambda: page.all(".slip .value"))
    page.process.kill()
    said = page.until(lambda: page.all(".notice[role=alert]"), what="for the notice")[0].text
    assert "holdfast has ended" in said and "kept" in said and "holdfast page" in said


def test_a_sign_without_metal_is_shown_as_a_bare_wall(empty, tmp_path):
    page = empty
    (tmp_path / "nothing.yaml").write_text("""holdfast: 1
sign: Nothing
metal: {kind: mild steel, thickness: 3 mm}
process: {kerf: 1.5 mm}
entries:
  - ties: {}
""")
    page.browser.refresh()
    page.until(lambda: page.all(".there-already button"))
    page.word("nothing.yaml", ".there-already").click()
    page.until(lambda: page.all(".scene") and page.stand() == "stopped", what="for the verdict")
    assert page.state()["view"]["box"] is None
    assert "no metal" in page.one(".outputs").text and page.all(".out-list") == []
