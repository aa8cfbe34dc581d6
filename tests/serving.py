# SPDX-License-Identifier: GPL-3.0-or-later
"""The page's server, started for a test, and a plain client of it: Python's own http.client."""
import http.client
import json
import os
import pathlib
import re
import signal
import socket
import subprocess
import threading
import time

HOLDFAST = pathlib.Path(os.environ.get("HOLDFAST", pathlib.Path(__file__).resolve().parents[1] / "build" / "holdfast"))

PLATE = """# a board
holdfast: 1
sign: Board
metal: {kind: mild steel, thickness: 3 mm}
process: {kerf: 1.5 mm}
entries:
  - plate: {name: board, shape: rectangle, width: 200 mm, height: 80 mm}   # oak would be nice too
"""

PATIENCE = 120  # seconds; a last resort: every wait is for a state, and a busy machine is slow


class Serving:
    """One server. call() gives (status, answer); events are gathered while listen() is on."""

    def __init__(self, *words, state, cwd=None, env=None, linger=None, binary=HOLDFAST):
        environment = {**os.environ, "XDG_STATE_HOME": str(state), **(env or {})}
        self.process = subprocess.Popen([str(binary), "page", "--no-browser", *map(str, words)], stdout=subprocess.PIPE,
                                        stderr=subprocess.PIPE, text=True, cwd=cwd, env=environment)
        self.address = self.process.stdout.readline().strip()
        found = re.fullmatch(r"http://(127\.0\.0\.1:(\d+))/\?key=([0-9a-f]{48})", self.address)
        if not found:
            raise RuntimeError(self.address + self.process.stderr.read())
        self.host, self.port, self.key = found[1], int(found[2]), found[3]
        self.place, self.events, self.line, self.steady = "", [], None, None

    def __enter__(self):
        self.login()
        return self

    def __exit__(self, *_):
        self.stop()

    def login(self):
        status, _, body = self.raw("GET", f"/?key={self.key}", headers={})
        found = re.search(rb"url=(/[0-9a-f]{48})/\"", body)
        assert status == 200 and found, (status, body)
        self.place = found[1].decode()

    def stop(self, how=signal.SIGTERM):
        """The exit code; what it said on the terminal is in self.said."""
        if self.process.poll() is None:
            self.process.send_signal(how)
        out, err = self.process.communicate(timeout=PATIENCE)
        self.said = self.address + out + err
        assert "Sanitizer" not in self.said, self.said
        return self.process.returncode

    def headers(self):
        return {"Origin": f"http://{self.host}", "Content-Type": "application/json"}

    def raw(self, method, path, body=None, headers=None, timeout=PATIENCE, outside=False):
        """outside: of somebody who does not know the place."""
        line = self.steady or http.client.HTTPConnection("127.0.0.1", self.port, timeout=timeout)
        try:
            line.request(method, path if outside else self.place + path, body, self.headers() if headers is None else headers)
            reply = line.getresponse()
            return reply.status, reply.headers, reply.read()
        finally:
            if line is not self.steady:
                line.close()

    def keep(self):
        """From now on one connection for all requests, as a browser does it."""
        self.steady = http.client.HTTPConnection("127.0.0.1", self.port, timeout=PATIENCE)

    def get(self, path, status=200):
        got, _, body = self.raw("GET", path)
        assert got == status, (got, body[:300])
        return json.loads(body)

    def post(self, path, ask, status=200):
        got, _, body = self.raw("POST", path, json.dumps(ask))
        assert got == status, (got, body[:300])
        return json.loads(body)

    @property
    def state(self):
        return self.get("/api/state")

    def edit(self, *edits, merge=None, status=200, revision=None):
        ask = {"revision": self.state["revision"] if revision is None else revision,
               "edits": [dict(zip(("do", "path", "value"), edit)) for edit in edits]}
        return self.post("/api/edit", {**ask, **({"merge": merge} if merge else {})}, status)

    def does(self, what, status=200, **more):
        return self.post(f"/api/{what}", {"revision": self.state["revision"], **more}, status)

    def listen(self):
        """From now on every event goes into self.events: (name, data, seconds)."""
        self.line = socket.create_connection(("127.0.0.1", self.port))
        self.line.sendall(f"GET {self.place}/api/events HTTP/1.1\r\nHost: {self.host}\r\n\r\n".encode())
        stream = self.line.makefile("rb")
        head = [stream.readline().strip()]
        while head[-1]:
            head.append(stream.readline().strip())
        assert head[0] == b"HTTP/1.1 200 OK" and b"Content-Type: text/event-stream" in head

        def hear():
            name = None
            try:
                while raw := stream.readline():
                    text = raw.decode().rstrip("\n")
                    if text.startswith("event: "):
                        name = text[7:]
                    elif text.startswith("data: "):
                        self.events.append((name, json.loads(text[6:]), time.monotonic()))
            except (OSError, ValueError):
                pass

        threading.Thread(target=hear, daemon=True).start()
        self.hear("state", lambda _: True)
        return self

    def deaf(self):
        self.line.shutdown(socket.SHUT_RDWR)
        self.line.close()

    def hear(self, name, fits, seconds=PATIENCE):
        """The first event called name that fits, waited for."""
        end = time.monotonic() + seconds
        at = 0
        while time.monotonic() < end:
            while at < len(self.events):
                event, data, when = self.events[at]
                at += 1
                if event == name and fits(data):
                    return data, when
            time.sleep(0.002)
        raise AssertionError(f"no event {name}; heard {[event for event, *_ in self.events]}")

    def view(self):
        """The view of the text as it is now."""
        end = time.monotonic() + PATIENCE
        while time.monotonic() < end:
            state = self.state
            if state["view"] and state["view"]["revision"] == state["revision"]:
                return state["view"]
            time.sleep(0.01)
        raise AssertionError("no view")
