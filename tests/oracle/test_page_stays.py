# SPDX-License-Identifier: GPL-3.0-or-later
"""The page's server outlives its document: texts that take long to read, that end it, that are no text; no threads.

Sources: RFC 8259 (JSON: 2 and 7, grammar; 8.2, lone surrogates), Unicode 15 (23.6, surrogates), POSIX.1-2017 (signals,
pthread_create). Who waits for whom is told by what was answered first, never by seconds alone.
"""
import json
import os
import pathlib
import random
import signal
import socket
import subprocess
import time

import pytest

from browsing import Browsing
from conftest import HOLDFAST
from serving import PATIENCE, PLATE, Serving
from spending import ended, spent

HEAD = "holdfast: 1\nmetal: {kind: mild steel, thickness: 3 mm}\nprocess: {kerf: 1.5 mm}\n"


# ---- a text that takes long to be read -----------------------------------------------------------

def on_one_line(n):
    return "{holdfast: 1, entries: [" + ", ".join("{plaet: {widht: 120 mm, shape: rectangle, é: 3}}" for _ in range(n)) + "]}"


LONG_TO_READ = {"mistakes on one line": on_one_line(3000), "1 MB on one line": on_one_line(19000), "1 MB of lines": HEAD + "entries:\n" + "  - plaet: {widht: 3}\n" * 45000}


def ask(page, method, path, body=""):
    """The line of a request that was sent; its answer comes by itself."""
    line = socket.create_connection(("127.0.0.1", page.port), timeout=PATIENCE)
    body = body.encode()
    line.sendall(f"{method} {page.place}{path} HTTP/1.1\r\nHost: {page.host}\r\nOrigin: http://{page.host}\r\nContent-Length: {len(body)}\r\n\r\n".encode() + body)
    return line


def answered(line):
    line.setblocking(False)
    try:
        return line.recv(1, socket.MSG_PEEK) != b""
    except BlockingIOError:
        return False


@pytest.mark.parametrize("text", LONG_TO_READ.values(), ids=LONG_TO_READ)
def test_others_are_answered_while_a_text_is_read(page, text):
    """Reading takes a good part of a second: whatever else is asked meanwhile is answered before it."""
    line = ask(page, "POST", "/api/text", json.dumps({"revision": page.state["revision"], "text": text}))
    before = 0
    while not answered(line):
        assert page.raw("GET", "/api/cautions")[0] == 200
        before += not answered(line)
    assert before > 2, before
    page.does("undo")
    assert page.stop() == 0


def test_what_is_not_read_yet_says_so(page):
    """The state of a text that takes longer than one waits comes without what reading it would say, and once more with it."""
    page.listen()
    good = page.state
    assert not good["reading"]
    text = "# " + "x" * 500_000 + "\n" + HEAD + "entries:\n" + "".join(f"  - plate: {{name: p{i}, shape: round, diameter: 30 mm}}\n" for i in range(400)) + "  - plaet: {}\n"
    revision = page.post("/api/text", {"revision": good["revision"], "text": text})["revision"]
    told, _ = page.hear("state", lambda it: it["revision"] == revision and not it["reading"])
    assert told["mistakes"] and told["error"]["path"] == "entries[400].plaet" and told["tree"]["entries"][400]
    assert page.edit(("set", "entries[0].plate.diameter", "40 mm"))["text"] == text.replace("30 mm", "40 mm", 1)


def test_edits_of_one_moment(page):
    """Two pages send an edit of the same revision at once: one is done, the other hears that things have changed."""
    revision = page.state["revision"]
    lines = [ask(page, "POST", "/api/edit", json.dumps({"revision": revision, "edits": [{"do": "set", "path": "sign", "value": word}]})) for word in ("Kelp", "Quay")]
    codes = sorted(line.recv(12)[9:] for line in lines)
    assert codes == [b"200", b"409"] and page.state["tree"]["sign"] in ("Kelp", "Quay")


# ---- what is no text -----------------------------------------------------------------------------

@pytest.mark.parametrize("escape, fine", [("\\ud800", False), ("x\\ud83d", False), ("\\udc00", False), ("\\ud800\\ud800", False), ("\\ude00\\ud83d", False), ("\\ud83d\\n", False),
                                          ("\\ud83d\\u0041", False), ("\\ud83d\\\\ude00", False), ("a\\u0000b", False), ("\\ud83d\\ude00", True), ("\\uD83D\\uDE00", True), ("\\\\ud800", True), ("\\\"\\u00e9", True)])
def test_half_a_character(page, recipe, escape, fine):
    """Wherever a text may stand: a lone surrogate, or U+0000, is refused with a sentence and changes nothing."""
    for path, more in (("edit", f'"edits": [{{"do": "set", "path": "sign", "value": "{escape}"}}]'), ("text", f'"text": "# {escape}"'), ("text", f'"merge": "{escape}", "text": "x"'),
                       ("open", f'"starter": "plate", "name": "{escape}"'), ("save", f'"name": "{escape}"')):
        if fine and path in ("open", "save"):
            continue
        before = page.state
        status, _, answer = page.raw("POST", f"/api/{path}", f'{{"revision": {before["revision"]}, {more}}}')
        answer.decode()
        assert status == (200 if fine else 400), answer
        assert fine or ("no character" in json.loads(answer)["error"]["what"] and page.state["text"] == before["text"])
    assert [path.name for path in recipe.parent.iterdir()] == ["board.yaml"]
    page.state["text"].encode()


@pytest.mark.parametrize("body", ["{\"a\": '\"', \"b\": " + "[" * 900000, "/* \" */ {\"b\":" + "[" * 900000, "// \"\n{\"b\":" + "[" * 900000, "# \"\n" + "[" * 900000, "{\"a\": \"\\\"\", \"b\": " + "[" * 900000],
                         ids=["other quotes", "remark", "line remark", "hash", "escaped quote"])
def test_brackets_hidden_behind_what_is_no_json(page, body):
    """RFC 8259 knows neither remarks nor other quotes; what counts brackets must not be led astray by them."""
    assert page.raw("POST", "/api/text", body)[0] == 400
    assert page.state["text"] == PLATE


# ---- a text that ends the page -------------------------------------------------------------------

HEAVY = HEAD + "entries:\n" + "".join(f"  - ring: {{outer: {20 + 10 * i} mm, width: 5 mm}}\n" for i in range(480))


def begun(recipe, state, text=None):
    """A page at work on a heavy text."""
    page = Serving(recipe, state=state)
    page.login()
    if text is not None:
        page.does("text", text=text)
    return page


def end(page, how):
    page.process.send_signal(how)
    page.process.communicate(timeout=PATIENCE)


@pytest.mark.parametrize("how", [signal.SIGSEGV, signal.SIGABRT])
def test_a_draft_that_ends_the_page_is_set_aside(recipe, state, how):
    page = begun(recipe, state, HEAVY)
    end(page, how)
    # of a fault the sanitizer tells itself, and ends
    assert page.process.returncode == (1 if "asan" in str(HOLDFAST) and how == signal.SIGSEGV else -how)
    page = begun(recipe, state)
    now = page.state
    assert now["text"] == PLATE and now["aside"] and now["saved"] and now["can_undo"] and page.view()["verdict"]["whole"]
    copies = list(state.rglob("set-aside.yaml"))
    assert [copy.read_text() for copy in copies] == [HEAVY] and copies[0].stat().st_mode & 0o077 == 0
    again = page.does("undo")
    assert again["text"] == HEAVY and not again["aside"]
    assert page.does("redo")["text"] == PLATE
    assert page.stop() == 0 and "set aside" in page.said and recipe.read_text() == PLATE


def test_who_looks_is_told_that_a_draft_was_set_aside(browser, tmp_path):
    """In the browser: why what stands there is the file, and the way back, by keys."""
    recipe = tmp_path / "board.yaml"
    recipe.write_text(PLATE)
    end(begun(recipe, tmp_path / "state", HEAVY), signal.SIGABRT)
    with Browsing(browser, tmp_path, None, name="board") as page:
        page.until(lambda: "ended holdfast" in page.one("[aria-label='set aside'][role=alert]").text)
        assert page.axe() == [] and page.state()["text"] == PLATE
        page.tab_to(lambda it: it.text == "undo" and it.find_elements("xpath", "ancestor::section[@aria-label='set aside']"))
        page.keys(" ")
        page.until(lambda: page.state()["text"] == HEAVY)
        page.until(lambda: not page.all("[aria-label='set aside']"))


def test_killed_once_is_no_matter_killed_twice_is(recipe, state):
    """Whoever kills the page (or the power) says nothing of the text; a text that is killed over twice is suspect."""
    end(begun(recipe, state, HEAVY), signal.SIGKILL)
    page = begun(recipe, state)
    assert page.state["text"] == HEAVY and page.state["draft"] and not page.state["aside"]
    end(page, signal.SIGKILL)
    with Serving(recipe, state=state) as page:
        assert page.state["text"] == PLATE and page.state["aside"]


def test_ended_on_purpose_says_nothing(recipe, state):
    for how in (signal.SIGTERM, signal.SIGINT, signal.SIGHUP):
        page = begun(recipe, state, HEAVY)
        assert page.stop(how) == 0
        page = begun(recipe, state)
        assert page.state["text"] == HEAVY and not page.state["aside"]
        page.does("text", text=PLATE)
        page.view()
        end(page, signal.SIGKILL)  # nothing was being worked out


def test_a_file_that_ends_the_page_is_shown_only(recipe, state):
    recipe.write_text(HEAVY)
    page = begun(recipe, state)
    end(page, signal.SIGSEGV)
    with Serving(recipe, state=state) as page:
        now = page.state
        assert now["text"] == HEAVY and not now["aside"] and now["view"] is None and "ended holdfast" in now["error"]["what"] and now["error"]["fix"]
        page.does("text", text=PLATE)
        assert page.view()["verdict"]["whole"] and page.state["error"] is None


# ---- no thread to be had -------------------------------------------------------------------------

# at most so many at once, as a limit of processes has it; root knows no such limit
FEW_THREADS = r"""
#define _GNU_SOURCE
#include <dlfcn.h>
#include <errno.h>
#include <pthread.h>
#include <stdlib.h>
static int here;
struct start { void *(*run)(void *); void *data; };
static void gone(void *data) { __atomic_sub_fetch(&here, 1, __ATOMIC_SEQ_CST); }
static void *run(void *data)
{
  struct start start = *(struct start *)data;
  void *result;
  free(data);
  pthread_cleanup_push(gone, NULL);
  result = start.run(start.data);
  pthread_cleanup_pop(1);
  return result;
}
int pthread_create(pthread_t *thread, const pthread_attr_t *attr, void *(*begin)(void *), void *data)
{
  static int (*create)(pthread_t *, const pthread_attr_t *, void *(*)(void *), void *);
  create = dlsym(RTLD_NEXT, "pthread_create");
  if (__atomic_add_fetch(&here, 1, __ATOMIC_SEQ_CST) > atoi(getenv("MOST_THREADS"))) {
    __atomic_sub_fetch(&here, 1, __ATOMIC_SEQ_CST);
    return EAGAIN;
  }
  struct start *start = malloc(sizeof *start);
  *start = (struct start){begin, data};
  int code = create(thread, attr, run, start);
  if (code != 0)
    gone(NULL);
  return code;
}
"""


def test_few_threads(recipe, state, tmp_path):
    """Exit 3 with a sentence, or a page that works; what it can't do for lack of a thread is answered with 503."""
    library = tmp_path / "threads.so"
    subprocess.run(["gcc", "-shared", "-fPIC", "-w", "-x", "c", "-", "-o", str(library), "-ldl"], input=FEW_THREADS, text=True, check=True)
    codes = []
    for most in (0, 1, 2, 3, 4, 5, 7, 8, 30):
        env = {**os.environ, "LD_PRELOAD": str(library), "MOST_THREADS": str(most), "XDG_STATE_HOME": str(state)}
        if "asan" in str(HOLDFAST):
            pytest.skip("the sanitizer's own pthread_create comes first")
        try:
            page = Serving(recipe, state=state, env=env)
        except RuntimeError as error:
            assert "no thread left" in str(error), error
            done = subprocess.run([str(HOLDFAST), "page", "--no-browser", str(recipe)], env=env, capture_output=True, text=True)
            assert done.returncode == 3 and done.stdout == "", (most, done)
            codes.append(3)
            continue
        page.login()
        assert page.view()["verdict"]["whole"]
        made = page.edit(("set", "sign", f"Sign {most}"))
        status, _, answer = page.raw("POST", "/api/cures", json.dumps({"revision": made["revision"]}))
        assert status == 200 or (status == 503 and "no thread left" in json.loads(answer)["error"]["what"]), answer
        codes.append(status)
        page.does("save")
        assert page.stop() == 0 and f"Sign {most}" in recipe.read_text()
    assert codes[0] == 3 and codes[-1] == 200, codes


# ---- stopped wherever it is ----------------------------------------------------------------------

def letters(n):
    return HEAD + f"entries:\n  - bar: {{name: rail, length: 9900 mm, height: 20 mm}}\n  - words: {{text: {'QUAYS' * (n // 5)}, font: Bebas Neue, height: 25 mm, stand on: rail, bite: 0.5 mm}}\n"


def bars(n):
    return HEAD + "entries:\n" + "".join(f"  - bar: {{length: 900 mm, height: 4 mm, at: [{i * 37 % 400} mm, {i * 53 % 400} mm], turn: {i * 29 % 180} deg}}\n" for i in range(n))


def stars(n):
    at = ", ".join(f"[{95 * (i % 5) - 190} mm, {95 * (i // 5) - 190} mm]" for i in range(n))
    return HEAD + f"entries:\n  - plate: {{name: p, shape: rectangle, width: 2 m, height: 2 m}}\n  - star: {{diameter: 90 mm, points: 60, depth: 10 %, on: p, as: opening, at: [{at}]}}\n"


BIG = {"rings": HEAD + "entries:\n" + "".join(f"  - ring: {{outer: {20 + 10 * i} mm, width: 5 mm}}\n" for i in range(240)), "letters": letters(1000), "bars": bars(250), "stars": stars(25)}


@pytest.mark.parametrize("text", BIG.values(), ids=BIG)
def test_stopped_wherever_it_is(recipe, state, text):
    """At moments all over the run: the end of the server, a new text, the end of a search. 0.2 s of the processor
    are promised; what holds everything up when nothing looks took seconds."""
    chance, ends, news = random.Random(11), [], []
    for n in range(3):
        page = begun(recipe, state / str(n))
        page.view()
        page.does("text", text=text)
        time.sleep(chance.random() ** 2 * 2)
        begin = spent(page.process.pid)
        page.does("text", text=PLATE)
        page.view()
        news.append(spent(page.process.pid) - begin)
        page.does("text", text=text)
        if chance.random() < 0.5:
            page.does("cures")
        elif chance.random() < 0.5:
            ask(page, "POST", "/api/make", json.dumps({"revision": page.state["revision"], "folder": "out"}))
        time.sleep(chance.random() ** 2 * 2)
        begin = spent(page.process.pid)
        page.process.send_signal(signal.SIGTERM)
        ends.append(ended(page.process) - begin)
        assert page.stop() == 0
    most = 0.2 * (4 if "asan" in str(HOLDFAST) else 1)
    # cores that are shared take up to twice as many seconds for the same
    assert all(sorted(them)[1] < most and max(them) < 2 * most for them in (ends, news)), (ends, news)
