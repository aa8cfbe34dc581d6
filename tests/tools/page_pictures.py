#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""usage: tests/tools/page_pictures.py FOLDER [STATE...]: pictures of the page in each of its states at three widths.

A picture is FOLDER/STATE-WIDTH.png. They are made to be looked at; nothing compares them."""
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


# name: (recipe or None for the empty page, what is done, light or dark)
STATES = {
    "gallery": (None, lambda page: None, "light"),
    "gallery-name": (None, a_name, "light"),
    "gallery-dark": (None, lambda page: None, "dark"),
    "whole": (example("rowing-club"), lambda page: None, "light"),
    "whole-dark": (example("rowing-club"), lambda page: None, "dark"),
    "not-whole": (example("ferry-times"), lambda page: None, "light"),
    "not-whole-dark": (example("fish-pier"), lambda page: None, "dark"),
    "size": (example("boats"), typing("entries[0].bar.length"), "light"),
    "font": (example("boats"), typing("entries[1].words.font"), "light"),
    "font-dark": (example("boats"), typing("entries[1].words.font", "lob"), "dark"),
    "choice": (MANY, typing("entries[0].plate.shape"), "light"),
    "something-more": (example("boats"), builder, "light"),
    "unfolded": (MANY, lambda page: more(page, 2), "light"),
    "head-unfolded": (example("house-number"), lambda page: more(page, 0), "light"),
    "bad-value": (MANY, bad, "light"),
    "file": (MANY, text, "light"),
    "file-wrong": (MANY, wrong_text, "light"),
    "changed-on-disk": (MANY, on_disk, "light"),
    "inches": (example("gate-arch"), inches, "light"),
}


def whole_page(page, width, scheme, file):
    page.size(width, 900, scheme, calm=True)
    time.sleep(0.4)
    tall = page.run("return document.documentElement.scrollHeight")
    page.size(width, min(max(tall, 500), 4000), scheme, calm=True)
    time.sleep(0.4)
    page.browser.save_screenshot(str(file))


def main():
    folder = pathlib.Path(sys.argv[1])
    folder.mkdir(parents=True, exist_ok=True)
    start = conftest.browser.__wrapped__ if hasattr(conftest.browser, "__wrapped__") else conftest.browser._get_wrapped_function()
    browsers = start()
    browser = next(browsers)
    for name in sys.argv[2:] or STATES:
        recipe, do, scheme = STATES[name]
        with tempfile.TemporaryDirectory() as own:
            page = Empty(browser, own) if recipe is None else Browsing(browser, own, recipe, scheme=scheme)
            page.size(1440, 900, scheme, calm=True)
            if recipe is not None:
                page.until(lambda: page.all(".out-list li"), seconds=30)
            do(page)
            for width in WIDTHS:
                whole_page(page, width, scheme, folder / f"{name}-{width}.png")
            page.close()
        print(name, flush=True)
    next(browsers, None)


if __name__ == "__main__":
    os.environ.setdefault("HOLDFAST", str(TOP / "build" / "holdfast"))
    main()
