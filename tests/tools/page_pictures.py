#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""usage: tests/tools/page_pictures.py FOLDER [STATE...]: pictures of the page in each of its states at three widths, on
light and on dark paper. A picture is FOLDER/STATE-WIDTH-PAPER.png: made to be looked at; nothing compares them.

       tests/tools/page_pictures.py --keep: makes those that README.md and docs/page.md show, in docs/pictures/."""
import os
import pathlib
import sys
import tempfile
import time

TOP = pathlib.Path(__file__).resolve().parents[2]
sys.path[:0] = [str(TOP / "tests"), str(TOP / "tests" / "oracle")]

from selenium.webdriver.common.keys import Keys  # noqa: E402

import conftest  # noqa: E402
from browsing import Browsing  # noqa: E402
from test_page import MANY, Empty, type_over, value, word  # noqa: E402
from test_page_sign import POINT, TROUBLE  # noqa: E402

WIDTHS = (1440, 820, 360)
EXAMPLES = TOP / "examples"


def example(name):
    return (EXAMPLES / f"{name}.yaml").read_text()


def more(page, index):
    page.all(".slip .more")[index].click()


def a_name(page):
    page.all(".starter")[3].click()
    page.keys("ferry steps")


def typing(path, *keys):
    def it(page):
        value(page, path).click()
        page.until(lambda: page.all(".typing"))
        page.keys(*keys)
        time.sleep(1)

    return it


def bad(page):
    type_over(page, "entries[0].plate.width", "wide")
    page.keys(Keys.TAB)


def text(page):
    word(page, "show the file").click()


def wrong_text(page):
    text(page)
    page.until(lambda: page.one("#file-area")).send_keys(Keys.CONTROL + Keys.END + Keys.NULL, "  - bar: {length: 1 m, heigth: 20 mm}\n")
    page.until(lambda: page.all(".lines .wrong"))


def on_disk(page):
    type_over(page, "entries[0].plate.width", "640 mm")
    page.recipe.write_text(MANY.replace("60 mm", "64 mm"))
    page.until(lambda: page.all(".notice"))
    word(page, "look at both", ".notice").click()
    page.until(lambda: page.all(".both pre"))


def builder(page):
    page.one("#something-more").click()
    page.keys("a hole of 6 mm at the top")


def inches(page):
    word(page, "inches", ".foot").click()


def several(page):
    for path, words in (("entries[0].plate.width", "wide"), ("metal.thickness", "thick"), ("entries[2].star.points", "many")):
        value(page, path).click()
        page.until(lambda: page.all(".typing"))
        page.keys(words, Keys.TAB)
        page.until(lambda words=words: words in page.state()["text"])
    text(page)
    page.until(lambda: len(page.all(".lines .wrong")) == 3)


def looked(page):
    page.until(lambda: not page.all(".search progress") and page.all(".cure, .cure-none"), 240)
    for it in page.all(".cure img"):
        page.run("arguments[0].loading = 'eager'", it)
    page.until(lambda: page.run("return [...document.querySelectorAll('.cure img')].every((it) => it.complete)"))


def looking(page):
    page.until(lambda: page.all(".cure"), 240)


def cured(page):
    page.until(lambda: page.all(".best"), 240)
    page.one(".best").click()
    page.until(lambda: page.stand() == "whole", 30)


def held(page):
    page.all(".finding .show")[0].click()
    page.until(lambda: page.all(".held-words"))
    time.sleep(0.6)


def hung(page):
    word(page, "as it hangs").click()
    selects = page.all(".pick select")
    selects[1].send_keys("a person")
    page.until(lambda: page.all(".scene .figure"))


def on_brick(page):
    word(page, "as it hangs").click()
    page.all(".pick select")[0].send_keys("slate")


def sized(page):
    word(page, "with sizes").click()


def made(page):
    word(page, "make it").click()
    page.until(lambda: page.all(".made"), 30)


def accepting(page):
    page.until(lambda: [it for it in page.all(".finding.is-caution button") if "accept it" in it.text])[0].click()
    page.until(lambda: page.all(".reason input"))


def sources(page):
    for it in page.all(".finding details summary"):
        it.click()


def away(page):
    more(page, 4 + 1)
    word(page, "take it away", ".slip-entry").click()


def ended(page):
    page.process.kill()
    page.until(lambda: page.all(".notice[role=alert]"))


def no_metal(page):
    page.until(lambda: "no metal" in page.one(".outputs").text)


BARE = """holdfast: 1
sign: Nothing yet
metal: {kind: mild steel, thickness: 3 mm}
process: {kerf: 1.5 mm}
entries:
  - ties: {}
"""

nothing = lambda page: None  # noqa: E731

# name: (recipe or None for the empty page, what is done)
STATES = {
    "gallery": (None, nothing),
    "gallery-name": (None, a_name),
    "whole": (example("rowing-club"), nothing),
    "not-whole": (example("fish-pier"), nothing),
    "looking": (TROUBLE, looking),
    "cures": (TROUBLE, looked),
    "cured": (TROUBLE, cured),
    "held": (TROUBLE, held),
    "says-who": (TROUBLE, sources),
    "accepting": (POINT, accepting),
    "hung": (example("boats"), hung),
    "hung-slate": (example("lighthouse"), on_brick),
    "sizes": (example("house-number"), sized),
    "size": (example("boats"), typing("entries[0].bar.length")),
    "font": (example("boats"), typing("entries[1].words.font")),
    "font-found": (example("boats"), typing("entries[1].words.font", "lob")),
    "choice": (MANY, typing("entries[0].plate.shape")),
    "something-more": (example("boats"), builder),
    "unfolded": (MANY, lambda page: more(page, 2)),
    "head-unfolded": (example("house-number"), lambda page: more(page, 0)),
    "take-away": (MANY, away),
    "bad-value": (MANY, bad),
    "file": (MANY, text),
    "file-wrong": (MANY, wrong_text),
    "several-wrong": (MANY, several),
    "changed-on-disk": (MANY, on_disk),
    "made": (example("harbour-office"), made),
    "bare": (BARE, no_metal),
    "ended": (example("boats"), ended),
    "inches": (example("gate-arch"), inches),
}


def whole_page(page, width, scheme, file):
    page.size(width, 900, scheme, calm=True)
    time.sleep(0.4)
    tall = page.run("return document.documentElement.scrollHeight")
    page.size(width, min(max(tall, 500), 4000), scheme, calm=True)
    time.sleep(0.4)
    page.browser.save_screenshot(str(file))


# kept for README.md and docs/page.md: (recipe, what is done, width, height, light or dark)
KEPT = {
    "page-slip": (example("rowing-club"), nothing, 1280, 860, "light"),
    "page-hangs": (example("boats"), hung, 1280, 860, "light"),
    "page-cures": (TROUBLE, looked, 1280, 1330, "light"),
    "page-font": (example("boats"), typing("entries[1].words.font"), 1280, 760, "dark"),
    "page-mistakes": (MANY, several, 1280, 860, "light"),
    "page-starters": (None, nothing, 1280, 760, "light"),
}
MOST_BYTES = 150_000


def palette_of(picture):
    """256 colours: the most frequent as they are (paper, wall, metal), and of the others, each counted once, the middle
    of each group, so that the green of a small stamp is not lost to the greys of the letters."""
    from PIL import Image

    colours = sorted(picture.getcolors(picture.width * picture.height), reverse=True)
    often, others = [it for _, it in colours[:64]], [it for _, it in colours[64:]]
    each = Image.new("RGB", (max(1, len(others)), 1))
    each.putdata(others or often[:1])
    groups = each.quantize(256 - len(often), method=Image.Quantize.MEDIANCUT).getpalette()[: 3 * (256 - len(often))]
    palette = Image.new("P", (1, 1))
    palette.putpalette([c for it in often for c in it] + groups)
    return palette


def keep(browser):
    """One view each, and no more bytes than a reader should wait for."""
    from PIL import Image

    folder = TOP / "docs" / "pictures"
    for name, (recipe, do, width, height, paper) in KEPT.items():
        with tempfile.TemporaryDirectory() as own:
            page = Empty(browser, own) if recipe is None else Browsing(browser, own, recipe)
            page.size(width, height, paper, calm=True)
            if recipe is not None:
                page.until(lambda: page.all(".out-list li"), seconds=30)
            do(page)
            page.run("if (!document.activeElement.matches('.typing')) document.activeElement.blur(); window.scrollTo(0, 0)")
            time.sleep(0.6)
            raw = pathlib.Path(own) / "raw.png"
            page.browser.save_screenshot(str(raw))
            kept, picture = folder / f"{name}.png", Image.open(raw).convert("RGB")
            picture.quantize(palette=palette_of(picture), dither=Image.Dither.NONE).save(kept, optimize=True)
            page.close()
        size = kept.stat().st_size
        print(f"{name} {size / 1000:.0f} kB", flush=True)
        assert size < MOST_BYTES


def pictures(browser, folder, name):
    recipe, do = STATES[name]
    with tempfile.TemporaryDirectory() as own:
        page = Empty(browser, own) if recipe is None else Browsing(browser, own, recipe)
        page.size(1440, 900, calm=True)
        if recipe not in (None, BARE):
            page.until(lambda: page.all(".out-list li"), seconds=30)
        do(page)
        for width in WIDTHS:
            for paper in ("light", "dark"):
                whole_page(page, width, paper, folder / f"{name}-{width}-{paper}.png")
        page.close()
    print(name, flush=True)


def main():
    start = conftest.browser.__wrapped__ if hasattr(conftest.browser, "__wrapped__") else conftest.browser._get_wrapped_function()
    browsers = start()
    browser = next(browsers)
    if sys.argv[1] == "--keep":
        keep(browser)
    else:
        folder = pathlib.Path(sys.argv[1])
        folder.mkdir(parents=True, exist_ok=True)
        for name in sys.argv[2:] or STATES:
            pictures(browser, folder, name)
    next(browsers, None)


if __name__ == "__main__":
    os.environ.setdefault("HOLDFAST", str(TOP / "build" / "holdfast"))
    main()
