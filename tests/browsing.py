# SPDX-License-Identifier: GPL-3.0-or-later
"""The page in a real browser: the command serves a recipe, Chromium opens it, hands and keys do the rest."""
import os
import pathlib
import re
import signal
import subprocess
import time

from selenium.common.exceptions import ElementClickInterceptedException, NoSuchElementException, StaleElementReferenceException
from selenium.webdriver.common.by import By
from selenium.webdriver.common.keys import Keys
from selenium.webdriver.remote.webelement import WebElement

from conftest import HOLDFAST, TOP

AXE = TOP / "src/page/client/node_modules/axe-core/axe.min.js"


PATIENCE = 120  # seconds; a last resort: every wait is for a state, and a busy machine is slow


class Living(WebElement):
    """An element that the page may draw anew at any time, as it does with each answer of the server. Found out of
    date when it is used, it is looked up again; what could not be done then has not been done, so it is safe to do now."""

    def __init__(self, it, seek):
        """seek: f() gives the same element of the page as it is now; raises when there is none."""
        super().__init__(it.parent, it.id)
        self.seek = seek

    def lasting(self, does):
        ends = time.monotonic() + PATIENCE
        while True:
            try:
                return does()
            except StaleElementReferenceException:
                if time.monotonic() > ends:
                    raise
                self._id = self.seek().id

    def _execute(self, command, params=None):
        return self.lasting(lambda: super(Living, self)._execute(command, params))

    def click(self):
        """Where it stands; once more where it moved away under the hand, or something came over it just then, as a person
        does: then it was not pressed. What lies under something for good is told."""
        for tries in range(5):
            self.lasting(lambda: self.parent.execute_script("""window.pressed = 0;
                arguments[0].addEventListener('pointerdown', () => { window.pressed = 1; }, {once: true, capture: true})""", self))
            try:
                super().click()
            except ElementClickInterceptedException:
                if tries == 4:
                    raise
                self.lasting(lambda: self.parent.execute_script("arguments[0].scrollIntoView({block: 'center'})", self))
                time.sleep(0.1)
                continue
            if self.parent.execute_script("return window.pressed") != 0:
                return

    def find_element(self, by="id", value=None):
        def seek():
            return super(Living, self).find_element(by, value)

        return Living(seek(), seek)

    def find_elements(self, by="id", value=None):
        return each_living(lambda: super(Living, self).find_elements(by, value), value)

    def get_attribute(self, name):
        return self.lasting(lambda: super(Living, self).get_attribute(name))

    def is_displayed(self):
        return self.lasting(lambda: super(Living, self).is_displayed())


def each_living(seek, what):
    """What seek() finds, each to be looked up again by its place among as many."""
    found = seek()

    def again(i):
        now = seek()
        if len(now) != len(found):  # it may be another one now
            raise NoSuchElementException(f"{what}: {len(found)} were there, now {len(now)}")
        return now[i]

    return [Living(it, lambda i=i: again(i)) for i, it in enumerate(found)]


class Browsing:
    """One recipe, opened in one window. State is read as the page itself reads it, from its own place."""

    def __init__(self, browser, folder, text, name="sign", width=1440, height=900, scheme="light", env=None):
        """text: None for a recipe that is there already. env: besides, for the server."""
        self.browser, self.folder = browser, pathlib.Path(folder)
        self.recipe = self.folder / f"{name}.yaml"
        if text is not None:
            self.recipe.write_text(text)
        environment = {**os.environ, "XDG_STATE_HOME": str(self.folder / "state"), **(env or {})}
        self.process = subprocess.Popen([str(HOLDFAST), "page", "--no-browser", str(self.recipe)], stdout=subprocess.PIPE,
                                        stderr=subprocess.STDOUT, text=True, env=environment)
        found, said = None, ""
        for line in self.process.stdout:
            said += line
            found = re.search(r"http://127\.0\.0\.1:\d+/\?key=\w+", line)
            if found:
                break
        if not found:
            raise RuntimeError(said)
        self.address = found[0]
        self.size(width, height, scheme)
        self.arrive()
        self.until(lambda: self.revision_shown() is not None)

    def arrive(self):
        """At the page as somebody who was never there: a port may have been another server's, with what was kept for it."""
        self.browser.execute_cdp_cmd("Storage.clearDataForOrigin", {"origin": self.address.split("/?")[0], "storageTypes": "local_storage"})
        self.browser.get(self.address)
        self.until(lambda: "key=" not in self.browser.current_url)

    def close(self):
        self.browser.get("about:blank")
        if self.process.poll() is None:
            self.process.send_signal(signal.SIGTERM)
        self.process.communicate(timeout=PATIENCE)

    def __enter__(self):
        return self

    def __exit__(self, *_):
        self.close()

    # ---- looking ----

    def size(self, width, height, scheme="light", calm=False):
        self.browser.execute_cdp_cmd("Emulation.setDeviceMetricsOverride", {"width": width, "height": height, "deviceScaleFactor": 1, "mobile": False})
        self.browser.execute_cdp_cmd("Emulation.setEmulatedMedia", {"features": [
            {"name": "prefers-color-scheme", "value": scheme}, {"name": "prefers-reduced-motion", "value": "reduce" if calm else "no-preference"}]})

    def all(self, css):
        return each_living(lambda: self.browser.find_elements(By.CSS_SELECTOR, css), css)

    def texts(self, css):
        """What each of these says, read in one moment: nothing is drawn anew between the first and the last."""
        return self.run("return [...document.querySelectorAll(arguments[0])].map((it) => it.innerText.trim())", css)

    def attributes(self, css, name):
        """That of each of these (an empty text: it has none), read in one moment; "value": what is typed there."""
        return self.run("""return [...document.querySelectorAll(arguments[0])].map(
            (it) => (arguments[1] === 'value' ? it.value : it.getAttribute(arguments[1])) ?? '')""", css, name)

    def one(self, css):
        return Living(self.browser.find_element(By.CSS_SELECTOR, css), lambda: self.browser.find_element(By.CSS_SELECTOR, css))

    def says(self, css, text):
        """The first of these that is to be seen and has that as its first line; None: there is none."""
        return self.run("""return [...document.querySelectorAll(arguments[0])].find((it) =>
            it.checkVisibility() && it.getClientRects().length > 0 && it.innerText.trim().split('\\n')[0] === arguments[1]) ?? null""", css, text)

    def word(self, text, within="body"):
        """The button that says so."""

        def seek():
            it = self.says(f"{within} button", text)
            if it is None:
                raise LookupError(f"no button says {text!r}: {[it.text for it in self.all(f'{within} button')]}")
            return it

        while True:
            try:
                return Living(seek(), seek)
            except StaleElementReferenceException:
                pass  # drawn anew between looking and reading

    def pressed(self, text, within="body"):
        """Presses the button that says so, where there is one: it may go by itself at any time. Was it there?"""
        try:
            self.word(text, within).click()
            return True
        except (NoSuchElementException, StaleElementReferenceException, LookupError):
            return False

    def until(self, fits, seconds=PATIENCE, what=""):
        """Waits for what is true in the end; elements that are drawn anew meanwhile don't matter."""
        ends = time.monotonic() + seconds
        while True:
            try:
                value = fits()
                if value:
                    return value
            except (NoSuchElementException, StaleElementReferenceException, LookupError):
                pass
            if time.monotonic() > ends:
                raise AssertionError(f"waited {seconds} s in vain {what}")
            time.sleep(0.03)

    def run(self, script, *words):
        return self.browser.execute_script(script, *words)

    def state(self):
        """Null while nobody answers."""
        return self.browser.execute_async_script(
            "const done = arguments[0]; fetch('api/state').then((it) => it.json()).then(done, () => done(null))")

    def command_says_whole(self):
        """The command's own verdict on the text that the server holds now."""
        asked = self.folder / "asked.yaml"
        asked.write_text(self.state()["text"])
        return subprocess.run([str(HOLDFAST), "check", "--quiet", str(asked)], capture_output=True).returncode == 0

    def revision_shown(self):
        return self.run("return document.querySelector('.scene')?.dataset.revision ?? null")

    def settle(self):
        """Waits until the picture is that of the document."""
        self.until(lambda: str(self.state()["revision"]) == self.revision_shown(), what="for the picture of the newest revision")

    def still(self):
        """Waits until nothing on the page moves by itself, but for what never ends."""
        self.until(lambda: self.run("return document.getAnimations().every((it) => it.playState !== 'running' || it.effect.getTiming().iterations === Infinity)"), what="for the page to be still")

    def stand(self):
        return self.one(".verdict").get_attribute("data-stand")

    def view_box(self):
        return [float(it) for it in self.run("return document.querySelector('.scene').getAttribute('viewBox')").split()]

    def keys(self, *keys):
        """To whatever has the focus."""
        from selenium.webdriver.common.action_chains import ActionChains

        ActionChains(self.browser).send_keys(*keys).perform()

    def tab_to(self, fits, most=120):
        """Presses Tab until what has the focus fits: f(element)."""
        def focus():
            return self.browser.switch_to.active_element

        for _ in range(most):
            self.keys(Keys.TAB)
            it = Living(focus(), focus)
            if fits(it):
                return it
        raise AssertionError(f"{most} tabs did not get there")

    def axe(self):
        """Violations that axe-core finds now: rule, and where."""
        if self.run("return typeof axe === 'undefined'"):
            self.run(AXE.read_text())
        found = self.browser.execute_async_script(
            "const done = arguments[0]; axe.run({resultTypes: ['violations']}).then((it) => done(it.violations), (e) => done(String(e)))")
        assert isinstance(found, list), found
        return [(it["id"], [node["html"][:160] for node in it["nodes"]][:3]) for it in found]
