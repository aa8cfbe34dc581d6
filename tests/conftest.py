# SPDX-License-Identifier: GPL-3.0-or-later
"""What the checks from outside share: the built command, a recipe in a folder of its own."""
import json
import os
import pathlib
import subprocess

import pytest

from serving import PLATE, Serving

TOP = pathlib.Path(__file__).resolve().parents[1]
HOLDFAST = pathlib.Path(os.environ.get("HOLDFAST", TOP / "build" / "holdfast"))
LONG = os.environ.get("HOLDFAST_LONG") == "1"


class Made:
    """One recipe, made: exit code, words, folder with the outputs."""

    def __init__(self, done, folder):
        self.code, self.out, self.err, self.folder = done.returncode, done.stdout, done.stderr, folder

    @property
    def report(self):
        return json.loads((self.folder / "report.json").read_text())

    def read(self, name):
        return (self.folder / name).read_text()


def holdfast(*words, cwd=None, **kwargs):
    return subprocess.run([str(HOLDFAST), *map(str, words)], cwd=cwd, capture_output=True, text=True, timeout=600, **kwargs)


@pytest.fixture
def make(tmp_path):
    """make(text, *options): writes the recipe and makes it; a Made."""

    def it(text, *options, name="sign"):
        recipe = tmp_path / f"{name}.yaml"
        recipe.write_text(text)
        done = holdfast("make", recipe, "-o", tmp_path / "out", *options)
        return Made(done, tmp_path / "out" / name)

    return it


@pytest.fixture
def recipe(tmp_path):
    """A plate in a file of its own: what the page is opened with."""
    file = tmp_path / "signs" / "board.yaml"
    file.parent.mkdir()
    file.write_text(PLATE)
    return file


@pytest.fixture
def state(tmp_path):
    """The folder of the page's journals."""
    return tmp_path / "state"


@pytest.fixture
def page(recipe, state):
    with Serving(recipe, state=state) as serving:
        yield serving


@pytest.fixture
def yardsticks():
    folder = os.environ.get("HOLDFAST_YARDSTICKS")
    if not folder:
        pytest.skip("HOLDFAST_YARDSTICKS is not set: outside yardsticks are not here")
    return pathlib.Path(folder)


@pytest.fixture(scope="session")
def browser():
    """Headless Chromium. Its driver is called by address: a bare system may not know 'localhost'."""
    from selenium import webdriver
    from selenium.webdriver.chrome.service import Service
    from selenium.webdriver.common import utils

    class LoopbackService(Service):
        @property
        def service_url(self):
            return f"http://127.0.0.1:{self.port}"

        def is_connectable(self):
            return utils.is_connectable(self.port, "127.0.0.1")

    options = webdriver.ChromeOptions()
    for word in ("--headless", "--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking",
                 "--disable-component-update", "--disable-sync", "--allow-file-access-from-files", "--hide-scrollbars",
                 "--force-device-scale-factor=1", "--force-color-profile=srgb", "--disable-dev-shm-usage", "--remote-debugging-pipe"):
        options.add_argument(word)
    options.binary_location = "/usr/bin/chromium"
    it = webdriver.Chrome(options=options, service=LoopbackService("/usr/bin/chromedriver"))
    yield it
    it.quit()


@pytest.fixture
def opened(browser, tmp_path):
    """opened(text, ...): the page on a recipe, in the browser; a Browsing."""
    from browsing import Browsing

    pages = []

    def it(text, **kwargs):
        pages.append(Browsing(browser, tmp_path, text, **kwargs))
        return pages[-1]

    yield it
    for page in pages:
        page.close()
