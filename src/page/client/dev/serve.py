#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""A stand-in for the page's server while one works on the page; not shipped, not secure, one document.

usage: dev/serve.py [RECIPE.yaml] [PORT]     (HOLDFAST=path of the command)
Keeps the document as a plain tree; the picture comes from `holdfast make`.
"""
import copy
import http.server
import json
import os
import pathlib
import queue
import re
import subprocess
import sys
import tempfile
import threading
import urllib.parse

import yaml

CLIENT = pathlib.Path(__file__).resolve().parents[1]
TOP = CLIENT.parents[2]
HOLDFAST = os.environ.get("HOLDFAST", str(TOP / "build" / "holdfast"))
OUT = tempfile.mkdtemp(prefix="holdfast-dev-")
LOCK = threading.RLock()
EARS = []


class Document:
    def __init__(self):
        self.revision, self.file, self.name = 0, None, ""
        self.text, self.tree, self.error, self.view = "", None, None, None
        self.past, self.future, self.saved, self.merge = [], [], True, None

    def take(self, text, merge=None):
        if merge is None or merge != self.merge:
            self.past.append(self.text)
        self.future, self.merge, self.saved = [], merge, False
        self.become(text)

    def become(self, text):
        self.text = text
        self.revision += 1
        self.error = None
        try:
            self.tree = yaml.load(text, yaml.BaseLoader)
        except yaml.YAMLError as error:
            mark = getattr(error, "problem_mark", None)
            self.error = {"what": str(getattr(error, "problem", error)), "line": mark.line + 1 if mark else 1, "column": 1}
            return
        self.make()

    def make(self):
        recipe = pathlib.Path(OUT) / "sign.yaml"
        recipe.write_text(self.text)
        done = subprocess.run([HOLDFAST, "make", str(recipe), "-o", OUT], capture_output=True, text=True)
        if done.returncode > 1:
            found = re.match(r".*?:(?:(\d+):(\d+):)? (.*?)(?:; (.*))?$", done.stderr.strip().splitlines()[0])
            self.error = {"what": found[3], "fix": found[4] or "", "line": int(found[1] or 1), "column": int(found[2] or 1)}
            return
        self.view = view_of(pathlib.Path(OUT) / "sign", self.revision, self.tree)

    def state(self):
        return {"revision": self.revision, "file": self.file, "name": self.name, "saved": self.saved, "draft": not self.saved,
                "can_undo": bool(self.past), "can_redo": bool(self.future), "text": self.text, "tree": self.tree, "marks": {}, "disk": "same", "folder": OUT,
                "error": self.error, "view": self.view}


DOC = Document()


def shifted(d, dx, dy):
    out, words = [], d.split()
    at = 0
    while at < len(words):
        word = words[at]
        if word in "ML":
            out += [word, f"{float(words[at + 1]) + dx:.4f}", f"{float(words[at + 2]) + dy:.4f}"]
            at += 3
        elif word == "A":
            out += words[at:at + 6] + [f"{float(words[at + 6]) + dx:.4f}", f"{float(words[at + 7]) + dy:.4f}"]
            at += 8
        else:
            out.append(word)
            at += 1
    return " ".join(out)


def view_of(folder, revision, tree):
    report = json.loads((folder / "report.json").read_text())
    box = report["figures"]["box"]
    x0, y0, width, height = box["x"], box["y"], box["width"], box["height"]
    svg = next(folder.glob("*.svg")).read_text()
    paths = re.findall(r'<path id="part-(\d+)" d="([^"]+)"', svg)
    parts = [{"d": shifted(d, x0, -(y0 + height)), "name": part["name"], "area": part["area"], "loose": part["loose"], "body": part["body"]}
             for (_, d), part in zip(paths, report["parts"])]
    findings = []
    for it in report["findings"]:
        places = it.get("places") or [it["place"]]
        findings.append({"id": f"f{it['number']}", "law": it["key"], "about": "other", "gravity": it["gravity"], "where": it["where"], "what": it["what"],
                         "fix": it["fix"] or "", "text": it["text"], "measured": it["measured"], "limit": it["limit"], "unit": it["unit"],
                         "said_by": it["said_by"], "places": [[p["x"], p["y"]] for p in places if p], "entries": [],
                         "accepted": it["accepted"], "cures_known": it["cures"]})
    entries = []
    for i, entry in enumerate(tree.get("entries") or []):
        kind, body = next(iter(entry.items()))
        entries.append({"index": i, "name": body.get("name") or f"{kind} {i + 1}" if isinstance(body, dict) else kind, "kind": kind,
                        "box": None, "centre": None, "outline": None})
    tally, figures = report["tally"], report["figures"]
    limits = {it["key"]: {name: it[name] for name in ("stop", "caution", "said_by")} for it in report["limits"]}
    shown = {"web": "thin-web", "long_web": "thin-long-web", "joint": "weak-joint", "gap": "narrow-gap", "hole": "small-hole"}
    return {"revision": revision, "box": [x0, y0, x0 + width, y0 + height], "parts": parts, "webs": [], "ties": [], "findings": findings,
            "verdict": {"whole": report["verdict"] == "whole", "sentence": report["says"], "stops": tally["stops"],
                        "cautions": tally["cautions"], "notes": tally["notes"]},
            "figures": {"width": width, "height": height, "mass": figures["mass"], "area": figures["area"], "cut_length": figures["cut_length"],
                        "pierces": figures["pierces"], "parts": figures["parts"]},
            "entries": entries, "handles": [], "solved": [],
            "limits": {name: limits[key] for name, key in shown.items()}, "thickness": report["process"]["thickness"]["value"],
            "metal": report["process"]["metal"], "kerf": report["process"]["kerf"]["value"]}


def steps_of(path):
    return [int(a[1:-1]) if a.startswith("[") else a for a in re.findall(r"\[\d+\]|[^.\[\]]+", path)]


def edited(tree, edits):
    tree = copy.deepcopy(tree)
    for edit in edits:
        steps = steps_of(edit["path"])
        holder = tree
        for step in steps[:-1]:
            holder = holder[step]
        last = steps[-1]
        if edit["do"] == "set":
            holder[last] = edit["value"]
        elif edit["do"] == "put":
            holder[last] = yaml.load(edit["value"], yaml.BaseLoader)
        elif edit["do"] == "remove":
            del holder[last]
        elif isinstance(last, int):
            holder.insert(last, yaml.load(edit["value"], yaml.BaseLoader))
        else:
            holder[last].append(yaml.load(edit["value"], yaml.BaseLoader))
    return tree


class Page(http.server.BaseHTTPRequestHandler):
    protocol_version = "HTTP/1.1"

    def log_message(self, *_):
        pass

    def say(self, body, status=200, kind="application/json"):
        data = body if isinstance(body, bytes) else (json.dumps(body) if kind == "application/json" else body).encode()
        self.send_response(status)
        self.send_header("Content-Type", kind)
        self.send_header("Content-Length", str(len(data)))
        self.send_header("Cache-Control", "no-store")
        self.end_headers()
        self.wfile.write(data)

    def do_GET(self):
        where = urllib.parse.urlsplit(self.path)
        path, ask = where.path.lstrip("/") or "index.html", urllib.parse.parse_qs(where.query)
        if path == "api/state":
            with LOCK:
                self.say(DOC.state())
        elif path == "api/events":
            self.events()
        elif path == "api/starters":
            self.say(STARTERS)
        elif path == "api/schema":
            self.say((TOP / "docs/schema/recipe.schema.json").read_bytes())
        elif path == "api/fonts":
            find = ask.get("find", [""])[0].lower()
            self.say([f for f in FONTS if find in f["family"].lower()][:60])
        elif path == "api/font.svg":
            text, family = ask.get("text", [""])[0], ask.get("family", [""])[0]
            self.say(f'<svg xmlns="http://www.w3.org/2000/svg" width="300" height="40"><text y="30" font-size="28" font-family="{family}">{text}</text></svg>', kind="image/svg+xml")
        elif path == "api/recipes":
            self.say([{"file": p.name, "name": p.stem} for p in sorted((TOP / "examples").glob("*.yaml"))])
        elif path == "api/cautions":
            self.say(CAUTIONS)
        elif path.startswith("api/output/"):
            self.say((pathlib.Path(OUT) / "sign" / path.split("/")[-1]).read_bytes(), kind={"svg": "image/svg+xml", "png": "image/png", "pdf": "application/pdf"}.get(path.split(".")[-1], "text/plain"))
        else:
            file = CLIENT / "out" / path
            kinds = {".html": "text/html", ".js": "text/javascript", ".css": "text/css", ".ttf": "font/ttf"}
            self.say(file.read_bytes(), kind=kinds.get(file.suffix, "text/plain")) if file.is_file() else self.say({"error": {"what": "not here"}}, 404)

    def events(self):
        self.send_response(200)
        self.send_header("Content-Type", "text/event-stream")
        self.end_headers()
        ear = queue.Queue()
        EARS.append(ear)
        try:
            while True:
                name, data = ear.get()
                self.wfile.write(f"event: {name}\ndata: {json.dumps(data)}\n\n".encode())
                self.wfile.flush()
        except OSError:
            EARS.remove(ear)

    def do_POST(self):
        body = self.rfile.read(int(self.headers.get("Content-Length", 0)))
        path = urllib.parse.urlsplit(self.path).path.lstrip("/")
        if path == "api/font":
            return self.say({"file": "font.ttf"})
        ask = json.loads(body)
        with LOCK:
            if ask.get("revision", DOC.revision) != DOC.revision:
                return self.say({"error": {"what": "somebody else changed it"}, "state": DOC.state()}, 409)
            before = DOC.text
            if path == "api/edit":
                try:
                    text = yaml.dump(edited(DOC.tree, ask["edits"]), sort_keys=False, allow_unicode=True, default_flow_style=None, width=200)
                except (KeyError, IndexError, TypeError) as error:
                    return self.say({"error": {"what": f"there is no {error}", "path": ask["edits"][0]["path"]}}, 400)
                revision = DOC.revision
                DOC.take(text, ask.get("merge"))
                if DOC.error:
                    problem = dict(DOC.error, path=ask["edits"][0]["path"])
                    DOC.past.pop()
                    DOC.become(before)
                    DOC.revision = revision
                    return self.say({"error": problem}, 422)
            elif path == "api/text":
                DOC.take(ask["text"])
            elif path == "api/undo" and DOC.past:
                DOC.future.append(DOC.text)
                DOC.become(DOC.past.pop())
            elif path == "api/redo" and DOC.future:
                DOC.past.append(DOC.text)
                DOC.become(DOC.future.pop())
            elif path == "api/save":
                DOC.saved = True
                DOC.file = DOC.file or (ask.get("name", "sign") + ".yaml")
            elif path == "api/open":
                DOC.__init__()
                DOC.revision = ask.get("revision", 1)
                if "file" in ask:
                    DOC.file, DOC.name = ask["file"], pathlib.Path(ask["file"]).stem
                    DOC.become((TOP / "examples" / ask["file"]).read_text())
                else:
                    DOC.name, DOC.file = ask["name"], ask["name"] + ".yaml"
                    DOC.become(subprocess.run([HOLDFAST, "new", ask["starter"]], capture_output=True, text=True).stdout)
            elif path == "api/make":
                return self.say({"files": [p.name for p in (pathlib.Path(OUT) / "sign").iterdir()]})
            self.say(DOC.state())
            for ear in EARS:
                ear.put(("state", DOC.state()))


def starters():
    out = []
    for kind in ("name", "plate", "house-number", "badge", "stake", "gate-arch", "initial", "monogram"):
        text = subprocess.run([HOLDFAST, "new", kind], capture_output=True, text=True).stdout
        recipe = pathlib.Path(OUT) / f"{kind}.yaml"
        recipe.write_text(text)
        subprocess.run([HOLDFAST, "make", str(recipe), "-o", OUT], capture_output=True)
        svg = next((pathlib.Path(OUT) / kind).glob("*.svg"), None)
        out.append({"kind": kind, "about": kind, "svg": re.sub(r"<\?xml.*?\?>", "", svg.read_text()) if svg else ""})
    return out


def fonts():
    out = {}
    for line in subprocess.run(["fc-list", "--format", "%{family[0]}\t%{style[0]}\n"], capture_output=True, text=True).stdout.splitlines():
        family, _, style = line.partition("\t")
        out.setdefault(family, set()).add(style or "Regular")
    return [{"family": family, "styles": sorted(styles)} for family, styles in sorted(out.items())]


if __name__ == "__main__":
    STARTERS, FONTS = starters(), fonts()
    CAUTIONS = [{"key": row[0].strip(" `"), "text": row[1].strip(), "said_by": row[2].strip()}
                for row in (line.strip("|\n").split("|") for line in (TOP / "docs/cautions.md").open() if line.startswith("| `"))]
    if len(sys.argv) > 1:
        DOC.file = sys.argv[1]
        DOC.name = pathlib.Path(DOC.file).stem
        DOC.become(pathlib.Path(DOC.file).read_text())
    port = int(sys.argv[2]) if len(sys.argv) > 2 else 8123
    print(f"http://127.0.0.1:{port}/", flush=True)
    http.server.ThreadingHTTPServer(("127.0.0.1", port), Page).serve_forever()
