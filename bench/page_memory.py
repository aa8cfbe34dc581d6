#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""How the page's server fares over many edits: memory from edit 1,000 to edit 10,000, and how long an edit takes
from key to answer and to the new view, as a plain client on the same machine sees it.

usage: page_memory.py [RECIPE [EDITS]]     (HOLDFAST=path of the command; reference sign B, 10,000)
Prints one JSON object. Every tenth edit is undone and made again; a page listens all the time.
"""
import json
import pathlib
import statistics
import sys
import tempfile
import time

TOP = pathlib.Path(__file__).resolve().parents[1]
sys.path.insert(0, str(TOP / "tests"))
from serving import Serving  # noqa: E402


def resident(serving):
    """kB, the least of some moments in which nothing is worked on."""
    samples = []
    for _ in range(5):
        time.sleep(0.3)
        for line in pathlib.Path(f"/proc/{serving.process.pid}/status").read_text().splitlines():
            if line.startswith("VmRSS:"):
                samples.append(int(line.split()[1]))
    return min(samples)


def latencies(serving, path, values, rounds=60):
    """Milliseconds from sending an edit to its answer, and to its view."""
    answers, views = [], []
    revision = serving.state["revision"]
    for n in range(rounds):
        before = time.monotonic()
        made = serving.edit(("set", path, values[n % len(values)]), revision=revision)
        answers.append(1000 * (time.monotonic() - before))
        revision = made["revision"]
        _, when = serving.hear("view", lambda it: it["revision"] >= revision)
        views.append(1000 * (when - before))
        serving.events.clear()
        time.sleep(0.05)
    return answers, views


def told(times):
    times = sorted(times)
    return {"median": round(statistics.median(times), 1), "p95": round(times[int(0.95 * (len(times) - 1))], 1)}


def main():
    recipe = pathlib.Path(sys.argv[1] if len(sys.argv) > 1 else TOP / "bench/reference-b.yaml")
    edits = int(sys.argv[2]) if len(sys.argv) > 2 else 10000
    path = "entries[2].words.height"
    values = [f"{80 - n / 4:g} mm" for n in range(9)]
    with tempfile.TemporaryDirectory() as folder:
        own = pathlib.Path(folder) / recipe.name
        own.write_bytes(recipe.read_bytes())
        with Serving(own, state=pathlib.Path(folder) / "state") as serving:
            serving.keep()
            serving.listen()
            serving.view()
            answers, views = latencies(serving, path, values)
            revision = serving.state["revision"]
            memory = {}
            for n in range(1, edits + 1):
                made = serving.edit(("set", path, f"{60 + n % 200 / 10:g} mm"), revision=revision)
                revision = made["revision"]
                if n % 10 == 0:
                    revision = serving.post("/api/undo", {"revision": revision})["revision"]
                    revision = serving.post("/api/redo", {"revision": revision})["revision"]
                serving.events.clear()
                if n in (edits // 10, edits):
                    serving.view()
                    memory[n] = resident(serving)
            journal = sum(file.stat().st_size for file in (pathlib.Path(folder) / "state").rglob("journal"))
    first, last = memory[edits // 10], memory[edits]
    print(json.dumps({"recipe": recipe.name, "edits": edits, "answer ms": told(answers), "view ms": told(views), "memory kB": memory,
                      "growth %": round(100 * (last - first) / first, 2), "journal bytes an edit": round(journal / edits)}))


if __name__ == "__main__":
    main()
