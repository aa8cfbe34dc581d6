#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""The page's own figures, measured with performance marks in Chromium against the running command. Look, no gate.

usage: bench/page.py [RECIPE...]           needs a build in build/, python3-selenium, chromium-driver and a quiet machine
       bench/page.py --keys [RECIPE...]    key to verdict alone; of every example when none is named

  key        from the press of a key in the slip (a letter typed into the words, or taken back) to the
             next picture on the screen, and to the verdict on it
  drag       pictures a second while a ring is dragged, the pointer told 100 times a second
  first view from the opening of the address, in a running browser, to the first picture
Milliseconds are as measured; in brackets over what one plain GEOS unary union takes here, times 10.7.
"""
import pathlib
import re
import statistics
import subprocess
import sys
import tempfile
import time

TOP = pathlib.Path(__file__).resolve().parents[1]
sys.path.insert(0, str(TOP / "tests"))
from browsing import Browsing  # noqa: E402
from spending import spent  # noqa: E402
from selenium import webdriver  # noqa: E402
from selenium.webdriver.chrome.service import Service  # noqa: E402

UNION_MS = 10.7
KEYS = 60
SOME_KEYS = 14
DRAG_SECONDS = 4

# Marks: "key" at the event's own time; "picture N" and "verdict N" after the frame that shows revision N.
MARKS = """
addEventListener('keydown', (event) => performance.mark('key', {startTime: event.timeStamp}), true);
const seen = {picture: '', verdict: ''};
const painted = (what, revision) => {
  if (!revision || seen[what] === revision) return;
  seen[what] = revision;
  requestAnimationFrame(() => { const turn = new MessageChannel(); turn.port1.onmessage = () => performance.mark(what + ' ' + revision); turn.port2.postMessage(0); });
};
new MutationObserver(() => {
  painted('picture', document.querySelector('.scene')?.dataset.revision);
  const verdict = document.querySelector('.verdict');
  if (verdict && ['whole', 'stopped'].includes(verdict.dataset.stand)) painted('verdict', verdict.dataset.revision);
}).observe(document, {subtree: true, childList: true, attributes: true, attributeFilter: ['data-revision', 'data-stand']});
"""


def chromium():
    options = webdriver.ChromeOptions()
    for word in ("--headless", "--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking", "--disable-sync",
                 "--force-device-scale-factor=1", "--disable-dev-shm-usage", "--remote-debugging-pipe", "--window-size=1440,900"):
        options.add_argument(word)
    options.binary_location = "/usr/bin/chromium"
    it = webdriver.Chrome(options=options, service=Service("/usr/bin/chromedriver"))
    it.execute_cdp_cmd("Page.addScriptToEvaluateOnNewDocument", {"source": MARKS})
    return it


def scale():
    """What a plain union takes here over what it takes on the machine of the figures."""
    said = subprocess.run([TOP / "build/bench/bench_verdict", TOP / "bench/reference-b.yaml"], capture_output=True, text=True).stdout
    found = re.search(r"geos unary union +([\d.]+) ms", said)
    return float(found[1]) / UNION_MS if found else 1.0


def marks(page, name):
    return page.run("return performance.getEntriesByType('mark').filter((it) => it.name.startsWith(arguments[0])).map((it) => [it.name, it.startTime])", name)


def press(page, key):
    """One key, as the browser gets it from a keyboard; no waiting in between."""
    text = {"text": key} if len(key) == 1 else {}
    code = {"Backspace": 8, "Escape": 27, "End": 35, "ArrowUp": 38, "ArrowDown": 40}.get(key, ord(key.upper()[0]))
    for kind in ("keyDown", "keyUp"):
        page.browser.execute_cdp_cmd("Input.dispatchKeyEvent", {"type": kind, "key": key, "windowsVirtualKeyCode": code, **(text if kind == "keyDown" else {})})


def first(page, name, after):
    """Waits for the first mark called name after that time."""
    return page.until(lambda: [at for _, at in marks(page, name) if at > after], 10, f"for a {name}")[0]


LETTERS = ".value[data-path$='.words.text'], .value[data-path$='.words.text[0]']"
LENGTHS = ".value[data-path$='.height'], .value[data-path$='.margin'], .value[data-path$='.outer'], .value[data-path$='.length']"


def begin_typing(page):
    """The two keys that change the sign there and back: a letter typed and taken back, or a length stepped where one more
    letter can't be (a face without it, a monogram, a full band)."""
    texts = page.all(LETTERS)
    if texts:
        texts[0].click()
        time.sleep(0.3)
        press(page, "End")
        press(page, "e")
        time.sleep(1)
        if page.state()["error"] is None:
            return "Backspace", "e"
        press(page, "Backspace")
        time.sleep(1)
        press(page, "Escape")
        page.until(lambda: page.state()["error"] is None)
    page.run("arguments[0].focus()", page.all(LENGTHS)[0])
    press(page, "ArrowUp")
    time.sleep(1)
    return "ArrowDown", "ArrowUp"


def key_times(page, keys=KEYS):
    page.until(lambda: page.all(".slip .value"), 10, "for the slip")
    there_and_back = begin_typing(page)
    pictures, verdicts = [], []
    before = spent(page.process.pid)
    for i in range(keys):
        page.run("performance.clearMarks()")
        press(page, there_and_back[i % 2])
        pressed = first(page, "key", -1)
        pictures.append(first(page, "picture", pressed) - pressed)
        verdicts.append(first(page, "verdict", pressed) - pressed)
        time.sleep(0.12)
    return pictures, verdicts, 1000 * (spent(page.process.pid) - before) / keys


def drag_rate(page):
    """Pictures a second, and how late the page's own frames were, while a size is dragged to and back."""
    wall = page.run("const box = document.querySelector('.sign-wall').getBoundingClientRect(); return [box.left + box.width / 2, box.top + 8]")
    page.browser.execute_cdp_cmd("Input.dispatchMouseEvent", {"type": "mouseMoved", "x": wall[0], "y": wall[1]})
    time.sleep(0.4)  # handles are seen once the hand is on the wall
    knobs = [it for it in page.all(".knob-radius, .knob-height") if it.is_displayed()]
    rings = [it for it in knobs if it.get_attribute("data-path").endswith("ring.outer")]
    knob = rings[-1] if rings else knobs[0]
    box = knob.rect
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2 - page.run("return scrollY")
    mouse = lambda kind, dx, dy: page.browser.execute_cdp_cmd("Input.dispatchMouseEvent", {  # noqa: E731
        "type": kind, "x": x + dx, "y": y + dy, "button": "left", "buttons": 1, "clickCount": 1})
    mouse("mouseMoved", 0, 0)
    mouse("mousePressed", 0, 0)
    page.run("performance.clearMarks()")
    begin, moves = time.monotonic(), 0
    while (now := time.monotonic() - begin) < DRAG_SECONDS:
        way = 30 - 30 * abs((now * 2 / 3) % 2 - 1)  # 20 px a second each way, outward and back
        mouse("mouseMoved", way, -way)
        moves += 1
        time.sleep(max(0, begin + moves / 100 - time.monotonic()))
    took = time.monotonic() - begin
    n = len(marks(page, "picture"))
    mouse("mouseReleased", 0, 0)
    return n / took, moves / took


def first_view(page):
    times = []
    for _ in range(7):
        page.browser.get("about:blank")
        page.browser.get(page.address.split("?")[0])
        page.until(lambda: marks(page, "picture"))
        times.append(marks(page, "picture")[0][1])
    return times


def line(what, values, by, most):
    middle = statistics.median(values)
    late = sorted(values)[int(0.95 * (len(values) - 1))]
    print(f"  {what:22} {middle:6.1f} ms [{middle / by:6.1f}]   95 % {late:6.1f} ms [{late / by:6.1f}]"
          f"   at most {most}: {'reached' if middle / by <= most else 'NOT REACHED'}")


def measure(browser, recipe):
    before, rates = scale(), {}
    with tempfile.TemporaryDirectory() as folder, Browsing(browser, folder, recipe.read_text(), recipe.stem) as page:
        views = first_view(page)
        pictures, verdicts, _ = key_times(page)
        for light in ("as metal", "as it hangs"):
            page.word(light).click()
            page.run("document.activeElement.blur()")
            time.sleep(0.6)
            rates[light] = drag_rate(page)
            time.sleep(0.6)
    by = (before + scale()) / 2
    print(f"{recipe.name}: a plain union takes {by:.2f} times as long here and now")
    line("first view", views, by, 600)
    line("key to new picture", pictures, by, 50)
    line("key to new verdict", verdicts, by, 100)
    for light, rate in rates.items():
        print(f"  drag, {light:15} {rate[0]:6.1f} pictures a second [{rate[0] * by:5.1f}], pointer told {rate[1]:.0f} times"
              f"   at least 20: {'reached' if rate[0] * by >= 20 else 'NOT REACHED'}")


def measure_keys(browser, recipe):
    before = scale()
    with tempfile.TemporaryDirectory() as folder, Browsing(browser, folder, recipe.read_text(), recipe.stem) as page:
        _, verdicts, server = key_times(page, SOME_KEYS)
    by, middle = (before + scale()) / 2, statistics.median(verdicts)
    print(f"{recipe.name:24} {middle:6.1f} ms [{middle / by:6.1f}]   slowest {max(verdicts):6.1f} ms [{max(verdicts) / by:6.1f}]"
          f"   the server's processor time {server:6.1f} ms a key   at most 100: {'reached' if middle / by <= 100 else 'NOT REACHED'}", flush=True)


def main():
    keys_alone = sys.argv[1:2] == ["--keys"]
    usual = sorted((TOP / "examples").glob("*.yaml")) if keys_alone else [TOP / "bench/reference-b.yaml", TOP / "bench/reference-l.yaml"]
    recipes = [pathlib.Path(it) for it in sys.argv[1 + keys_alone:]] or usual
    browser = chromium()
    try:
        for recipe in recipes:
            if keys_alone:
                measure_keys(browser, recipe)
            else:
                measure(browser, recipe)
    finally:
        browser.quit()


main()
