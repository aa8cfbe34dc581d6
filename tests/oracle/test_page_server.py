# SPDX-License-Identifier: GPL-3.0-or-later
"""The page's server from outside: who is let in, what is never lost, what never leaks.

Sources: RFC 9110 (status codes), RFC 6265 (cookies), the Fetch standard (Origin), the HTML standard
(server-sent events), CSP Level 3; the clients are Python's http.client and bare sockets."""
import hashlib
import http.client
import io
import json
import os
import pathlib
import random
import signal
import socket
import stat
import subprocess
import time
import urllib.request
import xml.etree.ElementTree
import zipfile

import pytest

from conftest import TOP, holdfast
from dying import dies_at
from samples import MANY
from serving import PATIENCE, PLATE, Serving


# ---- who is let in ------------------------------------------------------------------------------

SECRETS = ["Board", "board", "oak", "entries"]


def refused(serving, method, path, headers, body=None, status=403, outside=False):
    got, answer_headers, answer = serving.raw(method, path, body, headers, outside=outside)
    assert got == status, (got, answer)
    assert not any(word in answer.decode() for word in SECRETS), answer
    assert "Access-Control-Allow-Origin" not in answer_headers
    return answer


def test_the_key_works_once(page):
    refused(page, "GET", f"/?key={page.key}", {}, outside=True)
    refused(page, "GET", "/?key=" + "0" * 48, {}, outside=True)
    refused(page, "GET", "/?key=", {}, outside=True)
    status, _, _ = page.raw("GET", "/")
    assert status == 200


def test_the_key_is_only_read(recipe, state):
    """A POST with the key is no reading of the address (RFC 9110, 9.2.1): it opens nothing and spends nothing."""
    serving = Serving(recipe, state=state)
    refused(serving, "POST", f"/?key={serving.key}", {"Origin": f"http://{serving.host}"}, "{}", outside=True)
    with serving:
        assert serving.state["file"] == "board.yaml"


def test_without_the_place_nothing_is_told(page):
    for path in ("/", "/api/state", "/api/recipes", "/api/events", "/page.js", "/nowhere"):
        refused(page, "GET", path, {}, outside=True)
        refused(page, "GET", "/" + "0" * 48 + path, {}, outside=True)
        refused(page, "GET", page.place[:-1] + path, {}, outside=True)
    refused(page, "POST", "/api/undo", {"Origin": f"http://{page.host}"}, "{}", outside=True)


def test_nothing_goes_to_other_ports(recipe, state):
    """Cookies don't mind ports (RFC 6265, 8.5): another user's server on this machine would be sent ours. There is
    none, and the place goes into no Referer (Referrer Policy, 3.1)."""
    with Serving(recipe, state=state) as page:
        for path in ("/", "/api/state", "/page.js"):
            _, headers, _ = page.raw("GET", path)
            assert "Set-Cookie" not in headers and headers["Referrer-Policy"] == "no-referrer"
    serving = Serving(recipe, state=state)
    _, headers, _ = serving.raw("GET", f"/?key={serving.key}", headers={})
    serving.stop()
    assert "Set-Cookie" not in headers and headers["Referrer-Policy"] == "no-referrer"


def test_a_link_from_a_file_opens_the_page(recipe, state):
    """What opens the browser names a file that leads on: the Fetch standard calls that cross-site."""
    serving = Serving(recipe, state=state)
    status, _, _ = serving.raw("GET", f"/?key={serving.key}", headers={"Sec-Fetch-Site": "cross-site", "Sec-Fetch-Mode": "navigate"})
    serving.stop()
    assert status == 200


@pytest.mark.parametrize("host", ["localhost:{port}", "127.0.0.1", "evil.example:{port}", "127.0.0.1:{port}.evil.example", ""])
def test_another_host_is_refused(page, host):
    """DNS rebinding: somebody's name that points at this machine is not this address."""
    status = 400 if host.endswith(":{port}.evil.example") else 403  # no number behind the colon: not even HTTP
    refused(page, "GET", "/api/state", {**page.headers(), "Host": host.format(port=page.port)}, status=status)


def test_a_whole_address_must_be_this_one(page):
    for address, status in ((f"http://{page.host}", 200), ("http://evil.example", 403), ("http://127.0.0.1:1", 403)):
        line = socket.create_connection(("127.0.0.1", page.port), timeout=PATIENCE)
        line.sendall(f"GET {address}{page.place}/api/state HTTP/1.1\r\nHost: {page.host}\r\n\r\n".encode())
        assert line.recv(100).startswith(f"HTTP/1.1 {status} ".encode())
        line.close()


@pytest.mark.parametrize("origin", ["http://evil.example", "null", "http://127.0.0.1", "https://127.0.0.1:{port}", "http://127.0.0.1:1"])
def test_another_origin_is_refused(page, origin):
    for method, path in (("GET", "/api/state"), ("POST", "/api/undo")):
        refused(page, method, path, {**page.headers(), "Origin": origin.format(port=page.port)}, "{}" if method == "POST" else None)


def test_what_changes_something_must_say_where_it_comes_from(page):
    refused(page, "POST", "/api/undo", {}, json.dumps({"revision": page.state["revision"]}))
    refused(page, "GET", "/api/state", {"Sec-Fetch-Site": "cross-site"})


def test_only_get_and_post(page):
    for method in ("PUT", "DELETE", "OPTIONS", "HEAD", "TRACE", "PATCH"):
        status, headers, _ = page.raw(method, "/api/state")
        assert status == 405 and "Access-Control-Allow-Origin" not in headers
    assert page.raw("GET", "/api/edit")[0] == 405 and page.raw("POST", "/api/state", "{}")[0] == 405


def test_headers_of_every_answer(page):
    for path in ("/", "/api/state", "/api/nowhere"):
        _, headers, _ = page.raw("GET", path)
        assert headers["Content-Security-Policy"].startswith("default-src 'self'")
        assert "unsafe" not in headers["Content-Security-Policy"]
        assert headers["Cache-Control"] == "no-store" and headers["X-Content-Type-Options"] == "nosniff"
        assert headers["Referrer-Policy"] == "no-referrer"
        assert not headers.get("Server")


def test_it_listens_on_the_loopback_address_only(page):
    listening = subprocess.run(["ss", "-Hltn"], capture_output=True, text=True)
    if listening.returncode == 0:
        assert [line.split()[3] for line in listening.stdout.splitlines() if line.split()[3].endswith(f":{page.port}")] == [page.host]
    other = socket.socket()
    other.settimeout(2)
    with pytest.raises(OSError):
        other.connect(("127.0.0.2", page.port))


# ---- only what lies in its folders --------------------------------------------------------------

def test_no_climbing(page, recipe, tmp_path):
    (tmp_path / "secret.yaml").write_text(PLATE.replace("Board", "Secret"))
    (recipe.parent / "link.yaml").symlink_to(tmp_path / "secret.yaml")
    (recipe.parent / "up").symlink_to(tmp_path)
    for file in ("../secret.yaml", str(tmp_path / "secret.yaml"), "link.yaml", "up/secret.yaml", "/etc/passwd", "./../signs/../secret.yaml",
                 "..", "/", "", "board.yaml/../../secret.yaml", "nowhere.yaml"):
        answer = page.post("/api/open", {"file": file}, status=404)
        assert "Secret" not in json.dumps(answer)
    assert page.state["file"] == "board.yaml"
    for path in ("/../../etc/passwd", "/%2e%2e/%2e%2e/etc/passwd", "/api/output/../../../etc/passwd", "/api/output/%2e%2e%2f%2e%2e%2fetc%2fpasswd", "//etc/passwd"):
        status, _, body = page.raw("GET", path)
        assert status in (400, 403, 404) and b"root:" not in body
    for folder in ("..", "../elsewhere", "/tmp", str(tmp_path), "up/out", "a/../../b"):
        page.does("make", status=404, folder=folder)
    assert not (tmp_path / "elsewhere").exists() and not (tmp_path / "out").exists()


def test_folders_of_the_command_line_are_open(recipe, state, tmp_path):
    other = tmp_path / "orders"
    other.mkdir()
    (other / "ferry.yaml").write_text(PLATE)
    with Serving(recipe, "--folder", other, state=state) as page:
        assert {pathlib.Path(one["file"]).name for one in page.get("/api/recipes")} == {"board.yaml", "ferry.yaml"}
        assert page.post("/api/open", {"file": str(other / "ferry.yaml")})["file"] == "ferry.yaml"


def test_names_of_new_signs_stay_names(page, recipe):
    for name in ("../evil", "a/b", "", ".", "..", ".hidden", "a\nb", "a\\b", "x" * 200):
        page.post("/api/open", {"starter": "plate", "name": name}, status=400)
        page.does("save", status=400, name=name)
    assert sorted(path.name for path in recipe.parent.iterdir()) == ["board.yaml"]
    page.post("/api/open", {"starter": "plate", "name": "board"}, status=409)
    assert recipe.read_text() == PLATE
    new = page.post("/api/open", {"starter": "plate", "name": "Bäckerei"})
    assert new["file"] == "Bäckerei.yaml" and new["saved"] and (recipe.parent / "Bäckerei.yaml").exists()
    page.post("/api/open", {"starter": "no such kind", "name": "x"}, status=404)


# ---- sizes, times, rubbish ----------------------------------------------------------------------

def test_a_body_too_large(page):
    refused(page, "POST", "/api/text", page.headers(), json.dumps({"revision": 1, "text": "x" * (1 << 20)}), 413)
    page.state


def test_a_body_that_says_little_and_sends_much(page):
    line = socket.create_connection(("127.0.0.1", page.port))
    head = f"POST {page.place}/api/text HTTP/1.1\r\nHost: {page.host}\r\nOrigin: http://{page.host}\r\nTransfer-Encoding: chunked\r\n\r\n"
    line.sendall(head.encode())
    sent = 0
    with pytest.raises(OSError):
        for _ in range(2000):
            line.sendall(b"8000\r\n" + b"x" * 0x8000 + b"\r\n")
            sent += 0x8000
            time.sleep(0.001)
    assert sent < 30 << 20
    page.state


def test_connections_do_not_pile_up(page):
    """Each socket that was closed gives its file descriptor back, and one connection carries many requests."""
    files = pathlib.Path(f"/proc/{page.process.pid}/fd")
    page.state
    before = len(list(files.iterdir()))
    for _ in range(150):
        page.state
    end = time.monotonic() + PATIENCE
    while len(list(files.iterdir())) > before + 3:
        assert time.monotonic() < end, "file descriptors pile up"
        time.sleep(0.02)
    page.keep()
    for _ in range(300):
        page.state


def test_a_head_too_large(page):
    line = socket.create_connection(("127.0.0.1", page.port))
    line.settimeout(10)
    try:
        line.sendall(f"GET {page.place}/ HTTP/1.1\r\nHost: {page.host}\r\nX: ".encode())
        for _ in range(200):
            line.sendall(b"x" * 65536)
        answer = line.recv(100)
    except OSError:
        answer = b""
    assert not answer.startswith(b"HTTP/1.1 200")
    page.state


def still_open(lines):
    n = 0
    for line in lines:
        line.setblocking(False)
        try:
            n += line.recv(1) != b""
        except BlockingIOError:
            n += 1
        except OSError:
            pass
    return n


def test_many_connections_do_not_keep_the_user_out(page):
    """Strangers hold sockets open; whoever knows the place comes in all the same, and the oldest stranger goes."""
    page.keep()
    page.state  # a connection that was let in stays
    held = []
    for _ in range(120):
        try:
            held.append(socket.create_connection(("127.0.0.1", page.port), timeout=2))
        except OSError:
            break
        if len(held) % 20 == 0:
            page.state
    assert page.raw("GET", "/api/recipes")[0] == 200
    page.steady = None
    for _ in range(5):
        page.state
    end = time.monotonic() + PATIENCE
    while still_open(held) > 64 and time.monotonic() < end:
        time.sleep(0.02)
    assert still_open(held) <= 64 and still_open(held[-20:]) > 0 and still_open(held[:20]) == 0
    for line in held:
        line.close()
    page.state


def test_the_newest_pages_listen(page):
    """Of more pages than may listen the oldest goes: whoever opened one last sees it live."""
    places = []
    for _ in range(24):
        line = socket.create_connection(("127.0.0.1", page.port))
        line.sendall(f"GET {page.place}/api/events HTTP/1.1\r\nHost: {page.host}\r\n\r\n".encode())
        assert line.recv(15) == b"HTTP/1.1 200 OK"
        places.append(line)

    def closed(line):
        line.setblocking(False)
        try:
            while line.recv(1 << 16):
                pass
            return True
        except BlockingIOError:
            return False
        except OSError:
            return True

    end = time.monotonic() + PATIENCE
    while not all(map(closed, places[:8])) and time.monotonic() < end:
        time.sleep(0.02)
    assert [closed(line) for line in places] == [True] * 8 + [False] * 16
    for line in places:
        line.close()


@pytest.mark.parametrize("length", ["-5", "-1", "-9223372036854775808", "99999999999999999999", "x", "0x10", "5, 6"])
def test_a_length_that_is_none(page, length):
    """RFC 9112, 6.3: a message with an invalid Content-Length is refused, or its connection ends."""
    before = page.state["text"]
    line = socket.create_connection(("127.0.0.1", page.port), timeout=PATIENCE)
    line.sendall(f"POST {page.place}/api/text HTTP/1.1\r\nHost: {page.host}\r\nOrigin: http://{page.host}\r\nContent-Length: {length}\r\n\r\n{{}}".encode())
    line.shutdown(socket.SHUT_WR)
    answer = line.recv(1000)
    assert answer == b"" or answer[9:10] == b"4", answer
    assert page.state["text"] == before


def test_the_browser_is_opened_by_a_file_of_the_users_own(recipe, state, tmp_path):
    """The list of processes is open to everybody (proc(5)): what opens the browser must not be given the key."""
    seen, runtime, programs = tmp_path / "seen", tmp_path / "run", tmp_path / "share" / "applications"
    opener = tmp_path / "opener"
    opener.write_text(f"#!/bin/sh\nprintf '%s\\n' \"$@\" >{seen}.part\nmv {seen}.part {seen}\n")
    opener.chmod(0o755)
    programs.mkdir(parents=True)
    (programs / "opener.desktop").write_text(f"[Desktop Entry]\nType=Application\nName=Opener\nExec={opener} %u\nMimeType=text/html;x-scheme-handler/http;\n")
    (programs / "mimeapps.list").write_text("[Default Applications]\ntext/html=opener.desktop\nx-scheme-handler/http=opener.desktop\n")
    runtime.mkdir(mode=0o700)
    env = {**os.environ, "XDG_STATE_HOME": str(state), "XDG_RUNTIME_DIR": str(runtime), "XDG_DATA_HOME": str(tmp_path / "share"),
           "XDG_DATA_DIRS": "/usr/share", "XDG_CONFIG_HOME": str(tmp_path / "config")}
    process = subprocess.Popen([str(TOP / "build" / "holdfast"), "page", str(recipe)], stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, env=env)
    try:
        address = process.stdout.readline().strip()
        key = address.split("key=")[1]
        end = time.monotonic() + PATIENCE
        while not seen.exists() and time.monotonic() < end:
            time.sleep(0.02)
        given = seen.read_text()
        doors = list(runtime.rglob("*.html"))
        assert key not in given and "page-" in given, given
        assert len(doors) == 1 and key in doors[0].read_text()
        assert stat.S_IMODE(doors[0].stat().st_mode) == 0o600 and stat.S_IMODE(doors[0].parent.stat().st_mode) == 0o700
        with urllib.request.urlopen(address, timeout=PATIENCE) as answer:
            assert answer.status == 200
        assert not doors[0].exists()
    finally:
        process.send_signal(signal.SIGTERM)
        process.communicate(timeout=300)


@pytest.mark.long
def test_slow_clients_are_shut_out(page):
    """One that sends its head letter by letter, one that sends half a body: both end."""
    slow = socket.create_connection(("127.0.0.1", page.port))
    half = socket.create_connection(("127.0.0.1", page.port))
    half.sendall(f"POST {page.place}/api/undo HTTP/1.1\r\nHost: {page.host}\r\nOrigin: http://{page.host}\r\nContent-Length: 100\r\n\r\n{{".encode())
    since, ends = time.monotonic(), {}
    slow.setblocking(False)
    half.setblocking(False)
    while len(ends) < 2 and time.monotonic() - since < 90:
        for line in (slow, half):
            if line in ends:
                continue
            try:
                if line is slow:
                    line.send(b"G")
                if line.recv(100) == b"":
                    ends[line] = time.monotonic() - since
            except BlockingIOError:
                pass
            except OSError:
                ends[line] = time.monotonic() - since
        time.sleep(0.5)
        assert page.state["revision"]
    assert ends[half] < 30 and ends[slow] < 75


def rubbish(chance, page):
    """One request that is wrong somewhere, from hardly readable to nearly right."""
    kind = chance.randrange(8)
    junk = bytes(chance.randrange(256) for _ in range(chance.randrange(400)))
    head = f"Host: {page.host}\r\nOrigin: http://{page.host}\r\n"
    if kind == 0:
        return junk
    if kind == 1:
        return f"GET {page.place}/".encode() + junk + b" HTTP/1.1\r\n\r\n"
    if kind == 2:
        return f"POST {page.place}/api/edit HTTP/1.1\r\n{head}Content-Length: {len(junk)}\r\n\r\n".encode() + junk
    if kind == 3:
        body = chance.choice(["[" * 5000, "{\"a\":" * 3000, "null", "[]", "{\"revision\": 1e999}", "{\"revision\": -1}", "{\"revision\": \"1\"}", "{}", "{\"revision\": 2, \"edits\": [[]]}",
                              "{\"revision\": 2, \"edits\": [{\"do\": \"set\", \"path\": \"entries[99999999999]\", \"value\": \"\"}]}", "{\"revision\":2,\"text\":\"\\u0000\"}", "\ufeff{}"])
        path = chance.choice(["edit", "text", "undo", "redo", "save", "open", "make", "reload", "take", "cures"])
        return f"POST {page.place}/api/{path} HTTP/1.1\r\n{head}Content-Length: {len(body.encode())}\r\n\r\n{body}".encode()
    if kind == 4:
        return f"GET {page.place}/api/{chance.choice(['output/', 'font.svg?', 'font.svg?family=%ff&text=%00', 'starter/', 'cure/', 'fonts?find=%ff'])} HTTP/1.{chance.randrange(9)}\r\n{head}\r\n".encode()
    if kind == 5:
        return f"GET {page.place}/api/state HTTP/1.1\r\n{head}Content-Length: {chance.choice(['-1', '99999999999999999999', 'x', '0x10'])}\r\n\r\n".encode()
    if kind == 6:
        return f"POST {page.place}/api/font?name={chance.choice(['a.ttf', '../a.ttf', '%00.ttf', 'x'])} HTTP/1.1\r\n{head}Content-Length: {len(junk)}\r\n\r\n".encode() + junk
    return f"GET {page.place}/ HTTP/1.1\r\n{head}".encode()[:chance.randrange(120)]


def test_a_thousand_garbage_requests(page, recipe):
    chance = random.Random(17)
    before = page.state
    for _ in range(1000):
        line = socket.create_connection(("127.0.0.1", page.port), timeout=PATIENCE)
        try:
            line.sendall(rubbish(chance, page))
            line.shutdown(socket.SHUT_WR)
            line.recv(65536)
        except OSError:
            pass
        finally:
            line.close()
    after = page.state
    assert after["text"] == before["text"] and after["view"]
    assert [path.name for path in recipe.parent.iterdir()] == ["board.yaml"]
    assert page.edit(("set", "sign", "still here"))["text"] != before["text"]
    assert page.stop() == 0
    assert page.said.count("\n") < 6, page.said


# ---- the document -------------------------------------------------------------------------------

def test_an_edit_keeps_the_rest_and_is_seen(page):
    page.listen()
    made = page.edit(("set", "entries[0].plate.width", "240 mm"))
    assert made["text"] == PLATE.replace("200 mm", "240 mm") and made["can_undo"] and not made["saved"]
    assert made["tree"]["entries"][0]["plate"]["width"] == "240 mm"
    assert made["marks"]["entries[0].plate.width"] == {"line": 7, "column": 51}
    view, _ = page.hear("view", lambda it: it["revision"] == made["revision"])
    assert view["figures"]["width"] == 240 and view["verdict"]["whole"] is True
    assert view["parts"][0]["area"] == pytest.approx(240 * 80) and view["parts"][0]["d"].startswith("M")


def test_the_answer_is_there_before_the_view(page):
    state = page.state
    answer = page.post("/api/edit", {"revision": state["revision"], "edits": [{"do": "set", "path": "sign", "value": "X"}]})
    assert answer["view"] is None


def test_two_pages_one_document(page):
    old = page.state["revision"]
    page.edit(("set", "sign", "First"))
    answer = page.edit(("set", "sign", "Second"), revision=old, status=409)
    assert answer["state"]["tree"]["sign"] == "First" and answer["error"]["what"]
    for call in ("undo", "redo", "save", "reload", "text", "make"):
        page.post(f"/api/{call}", {"revision": old, "text": "x"}, status=409)
    for bad in (None, "2", -1, 2.5, 10 ** 30):
        page.post("/api/undo", {"revision": bad}, status=409 if bad in (-1, 10 ** 30) else 400)
    assert page.state["tree"]["sign"] == "First"


def test_a_drag_is_one_step(page):
    for mm in range(201, 231):
        page.edit(("set", "entries[0].plate.width", f"{mm} mm"), merge="drag-1")
    page.edit(("set", "entries[0].plate.height", "90 mm"), merge="drag-2")
    assert "230 mm" in page.does("undo")["text"]
    back = page.does("undo")
    assert back["text"] == PLATE and not back["can_undo"] and back["can_redo"] and back["saved"]
    assert "230 mm" in page.does("redo")["text"]


def test_what_can_not_be_read_is_kept(page):
    good = page.view()
    broken = PLATE.replace("entries:", "entries: [")
    made = page.does("text", text=broken)
    assert made["text"] == broken and made["error"]["line"] >= 6 and made["tree"]["sign"] == "Board"
    assert page.state["view"]["revision"] == good["revision"]
    wrong = page.does("text", text=PLATE.replace("200 mm", "200 ells"))
    assert wrong["error"]["path"] == "entries[0].plate.width" and wrong["error"]["line"] == 7
    assert "ells" in wrong["error"]["what"] and wrong["error"]["fix"]
    assert page.does("undo")["text"] == broken
    page.edit(("set", "sign", "no"), status=400)
    assert page.state["text"] == broken


def places(fields, within):
    """Every place that these fields give, as api/kinds tells them: (path, type)."""
    for field in fields:
        yield within + field["key"], field["type"]
        if field["type"] == "table":
            yield from places(field["fields"], f"{within}{field['key']}.")


def test_nonsense_at_every_place_that_the_page_is_told_of(recipe, state):
    """Said or not: refused with the place and what to do, or a text like any other; one step back and it is as it was."""
    recipe.write_text(MANY)
    seen, taken = 0, set()
    with Serving(recipe, state=state) as page:
        page.keep()
        kinds, tree = page.get("/api/kinds"), page.state["tree"]
        fields = {kind["word"]: kind["fields"] for kind in kinds["kinds"]}
        paths = [*places(kinds["head"], ""), *(it for i, entry in enumerate(tree["entries"]) for word in entry
                                               for it in places(fields[word], f"entries[{i}].{word}."))]
        for path, kind in paths:
            if "." in path and "[" not in path and f"\n{path.split('.')[0]}:" not in MANY:
                continue  # the page puts a table before it says something in it
            for nonsense in ("??", "-1e9 parsecs"):
                answer = page.edit(("set", path, nonsense))
                error = answer["error"]
                if error is None:
                    taken.add(kind)
                else:
                    # a clash of two fields, or a name that others mention, is said where the other one stands
                    assert error["path"].startswith(path) or path.rsplit(".", 1)[-1] in ("name", "band", "above"), (path, error)
                    assert error["what"] and error["line"], (path, error)
                assert nonsense in answer["text"], path
                assert page.does("undo")["text"] == MANY, path
                seen += 1
    # a face that is not there is only met by the run, which may have ended before the answer or not
    assert seen > 250 and taken - {"font"} == {"text", "texts"}, (seen, taken)


def test_what_a_run_finds_wrong_is_told(page):
    page.listen()
    page.view()
    page.does("text", text=PLATE + "  - words: {text: A, font: No Such Face, height: 40 mm, on: board}\n")
    state, _ = page.hear("state", lambda it: it["error"])
    assert "No Such Face" in state["error"]["what"] and state["error"]["line"] == 8
    assert page.state["view"]["figures"]["width"] == 200


def test_undo_across_save_and_restart(recipe, state):
    with Serving(recipe, state=state) as page:
        for mm in (210, 220, 230, 240):
            page.edit(("set", "entries[0].plate.width", f"{mm} mm"))
            if mm == 220:
                assert page.does("save")["saved"]
        page.does("undo")
    assert "220 mm" in recipe.read_text()
    with Serving(recipe, state=state) as page:
        now = page.state
        assert "230 mm" in now["text"] and now["draft"] and not now["saved"] and now["can_redo"]
        assert "240 mm" in page.does("redo")["text"]
        texts = [page.does("undo")["text"] for _ in range(4)]
        assert texts[-1] == PLATE and not page.state["can_undo"]


def test_nothing_is_lost_when_it_is_killed(recipe, state):
    """kill -9 at random moments while edits come as fast as they are answered: whatever was answered is
    there again."""
    chance = random.Random(3)
    last = PLATE
    for _ in range(8):
        page = Serving(recipe, state=state)
        page.login()
        assert page.state["text"] == last
        revision = page.state["revision"]
        for _ in range(chance.randrange(1, 25)):
            made = page.edit(("set", "entries[0].plate.width", f"{chance.randrange(100, 900)} mm"), revision=revision)
            last, revision = made["text"], made["revision"]
        page.process.kill()
        page.stop()
        assert recipe.read_text() == PLATE
    with Serving(recipe, state=state) as page:
        assert page.state["text"] == last
        while page.state["can_undo"]:
            last = page.does("undo")["text"]
        assert last == PLATE


def test_killed_while_it_saves(recipe, state):
    """The file is the old one or the new one, whole, at whatever moment it ends."""
    chance = random.Random(5)
    filler = "".join(f"# {n} remarks that make the file long enough to be written in pieces\n" for n in range(9000))
    for round in range(12):
        page = Serving(recipe, state=state)
        page.login()
        old = recipe.read_text()
        new = filler + PLATE.replace("Board", f"Board {round}")
        made = page.does("text", text=new)
        line = socket.create_connection(("127.0.0.1", page.port))
        body = json.dumps({"revision": made["revision"], "over": True})
        line.sendall(f"POST {page.place}/api/save HTTP/1.1\r\nHost: {page.host}\r\nOrigin: http://{page.host}\r\nContent-Length: {len(body)}\r\n\r\n{body}".encode())
        time.sleep(chance.random() * 0.02)
        page.process.kill()
        page.stop()
        line.close()
        assert recipe.read_text() in (old, new)
        with Serving(recipe, state=state) as again:
            now = again.state
            assert now["text"] == new and now["disk"] == "same" and now["saved"] == (recipe.read_text() == new)


def test_killed_at_every_step_of_a_save(recipe, state, tmp_path):
    """Each call that changes a file in turn, done by half: the file is the old one or the new one, and all of it is there
    again when the page is."""
    outcomes, when = [], tmp_path / "now"
    for step in range(1, 20):
        old = recipe.read_text()
        when.unlink(missing_ok=True)
        with Serving(recipe, state=state, env=dies_at(step, tmp_path)) as page:
            new = page.edit(("set", "entries[0].plate.width", f"{200 + step} mm"))["text"]
            assert recipe.read_text() == old
            when.touch()
            try:
                page.does("save")
            except (OSError, http.client.HTTPException):
                outcomes.append("new" if recipe.read_text() == new else "old")
                assert page.process.wait(PATIENCE) == -signal.SIGKILL
            else:
                outcomes.append("saved")
        assert recipe.read_text() in (old, new)
        with Serving(recipe, state=state) as again:
            now = again.state
            assert now["text"] == new and now["disk"] == "same" and now["saved"] == (recipe.read_text() == new)
            if not now["saved"]:
                assert now["draft"]
                again.does("save")
            assert recipe.read_text() == new
            while outcomes[-1] == "saved" and again.state["can_undo"]:  # and every step can still be taken back
                again.does("undo")
            assert outcomes[-1] != "saved" or again.state["text"] == PLATE
        if outcomes[-1] == "saved":
            break
    assert outcomes[-1] == "saved" and "old" in outcomes and "new" in outcomes and len(outcomes) >= 4, outcomes
    assert not [it.name for it in recipe.parent.iterdir() if it != recipe]


def test_a_file_changed_by_something_else(page, recipe):
    page.listen()
    page.edit(("set", "entries[0].plate.width", "250 mm"))
    mine = page.state["text"]
    theirs = PLATE.replace("80 mm", "99 mm")
    recipe.write_text(theirs)
    page.hear("disk", lambda it: it["changed"])
    assert page.state["disk"] == "changed" and page.get("/api/disk")["text"] == theirs
    answer = page.does("save", status=409)
    assert "changed" in answer["error"]["what"] and recipe.read_text() == theirs
    assert page.does("reload")["text"] == theirs and page.state["disk"] == "same" and page.state["saved"]
    assert page.does("undo")["text"] == mine
    recipe.write_text(theirs + "# once more\n")
    assert page.does("save", status=409)
    assert page.does("save", over=True)["saved"] and recipe.read_text() == mine
    recipe.unlink()
    page.hear("disk", lambda it: it["gone"])
    assert page.does("save")["saved"] and recipe.read_text() == mine


def test_saving_as_a_new_sign(page, recipe):
    page.edit(("set", "sign", "Ferry"))
    page.does("save", status=409, name="board")
    made = page.does("save", name="ferry")
    assert made["file"] == "ferry.yaml" and made["saved"] and made["can_undo"]
    assert recipe.read_text() == PLATE and "Ferry" in (recipe.parent / "ferry.yaml").read_text()


def test_one_page_to_a_recipe(page, recipe, state):
    second = holdfast("page", "--no-browser", recipe, env={**os.environ, "XDG_STATE_HOME": str(state)})
    assert second.returncode == 2 and "open" in second.stderr


def test_begin_with_nothing(tmp_path, state):
    folder = tmp_path / "empty"
    folder.mkdir()
    with Serving(state=state, cwd=folder) as page:
        now = page.state
        assert now["file"] is None and now["tree"] is None and now["text"] == "" and now["view"] is None
        page.does("undo", status=409)
        assert page.get("/api/recipes") == []
        starters = page.get("/api/starters")
        assert len(starters) >= 8 and all(one["kind"] and one["about"] for one in starters)
        for one in starters:
            status, headers, body = page.raw("GET", "/" + one["svg"])
            assert status == 200 and headers["Content-Type"] == "image/svg+xml"
            assert xml.etree.ElementTree.fromstring(body).find("{http://www.w3.org/2000/svg}path").get("d")
        for one in starters:
            made = page.post("/api/open", {"starter": one["kind"], "name": f"my {one['kind']}"})
            assert made["error"] is None
            assert page.view()["parts"]
            assert (folder / f"my {one['kind']}.yaml").exists()


# ---- what is told --------------------------------------------------------------------------------

def test_the_middle_line_of_a_web_is_in_the_middle(recipe, state):
    """Shapely's own distance to the outlines of the drawing: at each place of the line half the width that is told,
    and nowhere less than at the narrowest place."""
    from reading import rings_of_path
    from shapely.geometry import LinearRing, MultiLineString, Point

    recipe.write_text(PLATE.replace("width: 200 mm, height: 80 mm", "width: 400 mm, height: 120 mm").split("   #")[0]
                      + "\n  - words: {text: RABS, font: {family: Allerta, style: Stencil}, height: 60 mm, spacing: 8 %, as: opening}\n"
                      + "  - words: {text: &, font: Lobster Two, height: 60 mm, as: opening, at: [150 mm, 0 mm]}\n".replace("&", '"&"'))
    with Serving(recipe, state=state) as page:
        view = page.view()
        rings = [LinearRing([(x, -y) for x, y in ring]) for part in view["parts"] for ring in rings_of_path(part["d"])]
        edges = MultiLineString(rings)
        assert len(view["webs"]) > 4
        spots = 0
        for web in view["webs"]:
            assert web["axis"]
            places = [flat[i:i + 3] for flat in web["axis"] for i in range(0, len(flat), 3)]
            spots += len(places)
            for x, y, width in places:
                assert 2 * edges.distance(Point(x, y)) == pytest.approx(width, abs=0.02)
            assert min(width for _, _, width in places) <= web["width"] + 0.02
            assert min(Point(x, y).distance(Point(web["x"], web["y"])) for x, y, _ in places) < max(web["length"], 0.3)
        assert spots > 40


def test_the_view_agrees_with_the_report(page, recipe):
    """Each example: the page's figures, findings and verdict are those of `holdfast check --json`."""
    for example in sorted((TOP / "examples").glob("*.yaml"))[:6]:
        there = recipe.parent / example.name
        there.write_text(example.read_text())
        page.post("/api/open", {"file": example.name})
        view = page.view()
        report = json.loads(holdfast("check", "--json", there).stdout)
        assert ("whole" if view["verdict"]["whole"] else "not whole") == report["verdict"]
        assert [one["text"] for one in view["findings"]] == [one["text"] for one in report["findings"]]
        assert view["figures"]["mass"] == pytest.approx(report["figures"]["mass"], abs=1e-6)
        assert sum(part["area"] for part in view["parts"]) == pytest.approx(report["figures"]["area"], rel=1e-4)
        assert sum(part["loose"] for part in view["parts"]) <= sum(part["loose"] for part in report["parts"])
        for handle in view["handles"]:
            assert handle["kind"] in ("radius", "height", "turn", "move") and handle["path"].startswith("entries[")


def test_handles_set_what_they_say(page):
    text = PLATE + """  - ring: {name: rim, outer: 4 in, inner: 80 mm}
  - hole: {name: peg, diameter: 1/4 in, on: board, at: [[10 mm, 20 mm], [-30 mm, 0 mm]]}
  - dot: {name: spot, diameter: 12 mm, on: rim, at: 2 o'clock}
"""
    page.does("text", text=text)
    handles = {(one["path"]): one for one in page.view()["handles"]}
    outer = handles["entries[1].ring.outer"]
    assert outer["unit"] == "in" and outer["value"] == 4
    assert sum((a - c) ** 2 for a, c in zip(outer["at"], outer["centre"])) ** 0.5 == pytest.approx(50.8, abs=0.001)
    assert handles["entries[2].hole.diameter"]["value"] == 0.25
    assert handles["entries[2].hole.at[0]"]["kind"] == "move" and handles["entries[2].hole.at[1]"]["value"][0] in (-30, -1.1811)
    spot = handles["entries[3].dot.at"]
    assert spot["kind"] == "turn" and spot["value"] == pytest.approx(30) and spot["unit"] == "deg"
    page.edit(("set", "entries[3].dot.at", "45 deg"), ("put", "entries[2].hole.at[1]", "[-31 mm, 1 mm]"), ("set", "entries[1].ring.outer", "4.5 in"))
    now = {one["path"]: one["value"] for one in page.view()["handles"]}
    assert now["entries[3].dot.at"] == pytest.approx(45) and now["entries[1].ring.outer"] == 4.5


def test_the_page_itself_is_embedded(page):
    for path, kind in (("/", "text/html"), ("/page.js", "text/javascript"), ("/page.css", "text/css"), ("/licences.txt", "text/plain")):
        status, headers, body = page.raw("GET", path)
        assert status == 200 and headers["Content-Type"].startswith(kind) and len(body) > 200
    assert b"Permission is hereby granted" in page.raw("GET", "/licences.txt")[2]


def test_kinds_and_cautions(page):
    """The page is told every kind and field of the JSON Schema, with type, sign and role."""
    told, schema = page.get("/api/kinds"), json.loads(holdfast("recipe", "--schema").stdout)
    assert [kind["word"] for kind in told["kinds"]] == list(schema["properties"]["entries"]["items"]["properties"])
    for kind in told["kinds"]:
        fields = {field["key"]: field for field in kind["fields"]}
        known = schema["$defs"][kind["word"].replace(" ", "-")]
        assert list(fields) == list(known["properties"])
        assert [key for key, field in fields.items() if field["required"]] == known.get("required", [])
        assert all(field["type"] and field["label"] and field["help"] for field in fields.values())
    words = {field["key"]: field for field in next(kind for kind in told["kinds"] if kind["word"] == "words")["fields"]}
    assert words["bolder"]["signed"] and words["gap"]["signed"] and not words["height"]["signed"]
    assert words["bite"]["roles"] == ["picture", "bite"] and words["band"]["kinds"] == ["ring", "gate arch"]
    cautions = page.get("/api/cautions")
    assert len(cautions) > 5 and all(one["text"] and one["said_by"] for one in cautions)


def test_fonts(page):
    families = page.get("/api/fonts?find=bebas")
    assert families and families[0]["family"] == "Bebas Neue" and families[0]["styles"]
    assert page.get("/api/fonts?find=no%20such%20face") == []
    status, headers, body = page.raw("GET", "/api/font.svg?family=Bebas%20Neue&style=&text=Quay")
    assert status == 200 and headers["Content-Type"] == "image/svg+xml"
    assert xml.etree.ElementTree.fromstring(body).find("{http://www.w3.org/2000/svg}path").get("d").count("M") >= 4
    assert page.raw("GET", "/api/font.svg?family=No%20Such%20Face&text=Quay")[0] == 404
    assert page.raw("GET", "/api/font.svg?family=Bebas%20Neue")[0] == 400


def test_a_dropped_font(page, recipe):
    font = pathlib.Path(subprocess.run(["fc-match", "-f", "%{file}", "Bebas Neue"], capture_output=True, text=True).stdout)
    headers = {**page.headers(), "Content-Type": "application/octet-stream"}

    def drop(name, data):
        return page.raw("POST", f"/api/font?name={name}", data, headers)

    status, _, body = drop("..%2F..%2FMy%20Face%3F.otf", font.read_bytes())
    assert status == 200
    name = json.loads(body)["file"]
    assert name == "My-Face-.otf" and (recipe.parent / name).read_bytes() == font.read_bytes()
    assert json.loads(body)["family"] == "Bebas Neue"
    assert json.loads(drop("My-Face-.otf", font.read_bytes())[2])["file"] == name
    for name, data in (("a.ttf", b"no font"), ("b.ttf", font.read_bytes()[:100]), ("c.exe", font.read_bytes()), ("", font.read_bytes()), (".ttf", font.read_bytes())):
        assert drop(name, data)[0] == 400
    assert sorted(path.name for path in recipe.parent.iterdir()) == ["My-Face-.otf", "board.yaml"]


def test_outputs_are_those_of_make(page, recipe, tmp_path):
    listed = page.get("/api/outputs")
    names = [one["name"] for one in listed]
    assert names[-1] == "report.json" and {"metal.svg", "metal.dxf", "proof.png", "proof.pdf"} <= set(names)
    done = holdfast("make", recipe, "-o", tmp_path / "out")
    assert done.returncode == 0
    for name in ("metal.svg", "metal.dxf"):
        assert page.raw("GET", f"/api/output/{name}")[2] == (tmp_path / "out/board" / name).read_bytes()
    report = page.get("/api/output/report.json")
    for one in report["files"]:
        assert hashlib.sha256(page.raw("GET", f"/api/output/{one['name']}")[2]).hexdigest() == one["sha256"]
    assert page.raw("GET", "/api/output/not-to-be-cut.svg")[0] == 404
    status, headers, body = page.raw("GET", "/api/sign.zip")
    assert status == 200 and "board.zip" in headers["Content-Disposition"]
    packed = zipfile.ZipFile(io.BytesIO(body))
    assert packed.testzip() is None and sorted(packed.namelist()) == sorted(f"board/{name}" for name in names)
    assert packed.read("board/metal.svg") == (tmp_path / "out/board/metal.svg").read_bytes()
    made = page.does("make", folder="out")
    assert all(pathlib.Path(file).is_file() for file in made["files"])
    assert (recipe.parent / "out/board/metal.svg").read_bytes() == (tmp_path / "out/board/metal.svg").read_bytes()
    assert made["kept"] is None and made["half_done"] is False


def test_a_cured_recipe_that_somebody_went_on_with_is_told(page, recipe):
    """As the command tells it (test_cure_command): put aside, and where."""
    (recipe.parent / "out/board").mkdir(parents=True)
    (recipe.parent / "out/board/cured.yaml").write_text("# by hand\n")
    made = page.does("make", folder="out")
    assert pathlib.Path(made["kept"]).name == "cured-1.yaml" and pathlib.Path(made["kept"]).read_text() == "# by hand\n"
    assert page.does("make", folder="out")["kept"] is None


def test_a_sign_that_is_not_whole_gives_nothing_to_cut(page):
    page.does("text", text=PLATE + "  - dot: {diameter: 20 mm, at: [300 mm, 0 mm]}\n")
    assert page.view()["verdict"]["whole"] is False and any(part["loose"] or not part["body"] for part in page.view()["parts"])
    names = [one["name"] for one in page.get("/api/outputs")]
    assert "not-to-be-cut.svg" in names and "metal.svg" not in names


# ---- cures ---------------------------------------------------------------------------------------

LOOSE = """holdfast: 1
sign: Bakery
metal: {kind: mild steel, thickness: 3 mm}
process: {kerf: 1.5 mm}
entries:
  - plate: {name: board, shape: rectangle, width: 460 mm, height: 160 mm}   # of oak, if only it could be cut
  - words: {name: bakery, as: opening, text: BAKER, font: Bebas Neue, height: 90 mm, on: board}
"""


def test_cures_come_are_taken_and_undone(page):
    page.listen()
    page.does("text", text=LOOSE)
    given = page.view()
    assert given["verdict"]["stops"] > 0
    revision = page.state["revision"]
    answer = page.does("cures")
    assert answer["revision"] == revision and answer["going"]
    first, _ = page.hear("cures", lambda it: it["revision"] == revision)
    done, _ = page.hear("cures-done", lambda it: it["revision"] == revision, seconds=120)
    assert done["error"] is None and first["cure"]["id"]
    listed = page.does("cures")
    assert not listed["going"]
    cures = {one["id"]: one for one in listed["cures"]}
    assert set(done["order"]) <= set(cures) and done["best"] in cures and cures[done["best"]]["whole"] and cures[done["best"]]["best"]
    ids = {one["id"] for one in given["findings"]}
    for one in cures.values():
        assert one["sentence"] and set(one["takes"]) <= ids and one["added"] >= 0
        status, headers, body = page.raw("GET", f"/api/cure/{one['id']}.svg")
        assert status == 200 and headers["Content-Type"] == "image/svg+xml"
        xml.etree.ElementTree.fromstring(body)
    best = cures[done["best"]]
    made = page.does("take", best=True)
    assert "# of oak" in made["text"] and made["can_undo"]
    view = page.view()
    assert view["verdict"]["whole"] and view["verdict"]["stops"] == 0 and len(view["ties"]) == best["ties"]
    assert view["figures"]["area"] - given["figures"]["area"] == pytest.approx(best["added"] - best["removed"], rel=0.01, abs=0.5)
    assert page.does("undo")["text"] == LOOSE
    page.does("take", status=404, cure=done["best"])
    assert page.raw("GET", f"/api/cure/{done['best']}.svg")[0] == 404


def test_a_search_ends_with_the_text_it_was_for(page):
    page.listen()
    page.does("text", text=LOOSE)
    page.does("cures")
    page.edit(("set", "sign", "Another"))
    revision = page.state["revision"]
    page.hear("state", lambda it: it["revision"] == revision)  # what was told before the edit came before it
    page.events.clear()
    page.view()
    time.sleep(1)  # nothing comes: a slow machine only makes this easier
    assert not [name for name, *_ in page.events if name.startswith("cures")]
    page.does("cures")
    page.does("cures", stop=True)
    listed = page.post("/api/cures", {"revision": revision})
    assert listed["cures"] == []
    assert page.stop() == 0


# ---- its life -----------------------------------------------------------------------------------

def test_it_ends_with_ctrl_c_and_says_nothing_of_the_sign(recipe, state):
    page = Serving(recipe, state=state)
    page.login()
    page.edit(("set", "sign", "Lighthouse Keeper"))
    page.does("text", text="broken: [Lighthouse Keeper")
    assert page.stop(signal.SIGINT) == 0
    assert "Lighthouse" not in page.said and "Board" not in page.said
    own = list(state.rglob("*"))
    assert all(stat.S_IMODE(path.stat().st_mode) & 0o077 == 0 for path in own if "page" in path.parts[-2:] or path.is_file())


@pytest.mark.long
def test_it_ends_when_the_last_page_has_gone(recipe, state):
    page = Serving(recipe, state=state)
    page.login()
    page.listen()
    time.sleep(3)
    assert page.process.poll() is None
    page.deaf()
    gone = time.monotonic()
    assert page.process.wait(timeout=90) == 0
    assert 50 < time.monotonic() - gone < 75
    page.stop()
