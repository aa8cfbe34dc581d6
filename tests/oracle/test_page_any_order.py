# SPDX-License-Identifier: GPL-3.0-or-later
"""The page's server, called in any order at any moment, with big signs and such as are all but degenerate.

It answers every call with a code that the call knows, ends with 0 when it is told to, and says nothing that a sanitizer
or GLib would say. Under the sanitizers: HOLDFAST=build-asan/holdfast or build-tsan/holdfast, as ./check --long does.
Sources: POSIX.1-2017 (signals), RFC 9110 15 (status codes).
"""
import json
import os
import random
import signal
import time

import pytest

from near_signs import Near
from serving import PLATE, Serving
from test_page_stays import BIG, ask

SEED = int(os.environ.get("HOLDFAST_SEED", "20261130"))


def near(rng):
    return Near(rng.randrange(10 ** 6)).text


def some_text(rng, big):
    return rng.choice([lambda: PLATE, lambda: near(rng), lambda: near(rng), lambda: rng.choice(list(BIG.values())) if big else PLATE])()


def call(page, rng, big):
    """One call, as it came to be drawn; its status."""
    what = rng.choice(["text", "text", "text", "cures", "make", "undo", "redo", "save", "edit", "state"])
    if what == "state":
        return page.raw("GET", "/api/state")[0], what
    more = {"text": {"text": some_text(rng, big)}, "edit": {"edits": [{"do": "set", "path": "sign", "value": f"Quay {rng.randrange(99)}"}]}}.get(what, {})
    if what == "make":  # its answer comes when it is done: others come in between
        ask(page, "POST", "/api/make", json.dumps({"revision": page.state["revision"], "folder": "out"}))
        return 200, what
    return page.raw("POST", f"/api/{what}", json.dumps({"revision": page.state["revision"], **more}))[0], what


def run(recipe, state, seed, big):
    rng, calls = random.Random(f"any order {seed}"), []
    page = Serving(recipe, state=state)
    page.login()
    for _ in range(rng.randint(3, 12)):
        status, what = call(page, rng, big)
        calls.append((what, status))
        assert status in (200, 400, 409), (seed, calls)
        time.sleep(rng.random() ** 3 * (1 if big else 0.2))
    code = page.stop(rng.choice([signal.SIGTERM, signal.SIGINT, signal.SIGHUP]))
    assert code == 0 and "Sanitizer" not in page.said and "CRITICAL" not in page.said and "runtime error" not in page.said, (seed, calls, page.said[-3000:])


def test_called_in_any_order(recipe, state):
    for seed in range(SEED, SEED + 4):
        recipe.write_text(PLATE)
        run(recipe, state / str(seed), seed, False)


@pytest.mark.long
@pytest.mark.parametrize("block", range(10))
def test_called_in_any_order_long(recipe, state, block):
    for seed in range(SEED + 100 + 8 * block, SEED + 108 + 8 * block):
        recipe.write_text(PLATE)
        run(recipe, state / str(seed), seed, True)
