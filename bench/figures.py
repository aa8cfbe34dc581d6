#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""The figures of speed and memory, as ratios measured in one run; medians. Look, no gate.

usage: bench/figures.py        needs a build in build/ and a quiet machine

Seconds are scaled: what one plain GEOS unary union of sign B takes here, over 10.7 ms.
"""
import os
import pathlib
import re
import resource
import statistics
import subprocess
import sys
import tempfile
import time

TOP = pathlib.Path(__file__).resolve().parents[1]
BUILD = TOP / "build"
HOLDFAST = BUILD / "holdfast"
UNION_MS = 10.7
RANDOM = 200

sys.path.insert(0, str(TOP / "tests" / "oracle"))
import random_signs  # noqa: E402


def child(*words):
    """Wall seconds, peak MB of one run in a process of its own."""
    started = time.monotonic()
    process = subprocess.Popen(words, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    _, _, usage = os.wait4(process.pid, 0)
    return time.monotonic() - started, usage.ru_maxrss / 1024


def cold_make(name, folder):
    runs = [child(HOLDFAST, "make", TOP / "bench" / f"reference-{name}.yaml", "-o", folder) for _ in range(9)]
    return statistics.median(r[0] for r in runs), max(r[1] for r in runs)


def throughput(folder):
    files = []
    for seed in range(1, RANDOM + 1):
        files.append(folder / f"r{seed}.yaml")
        files[-1].write_text(random_signs.recipe(seed)[0])
    started = resource.getrusage(resource.RUSAGE_CHILDREN)
    subprocess.run([HOLDFAST, "check", "--quiet", *files], capture_output=True)
    ended = resource.getrusage(resource.RUSAGE_CHILDREN)
    cpu = ended.ru_utime + ended.ru_stime - started.ru_utime - started.ru_stime
    return RANDOM / cpu * 60


def main():
    verdict = subprocess.run([BUILD / "bench/bench_verdict", TOP / "bench/reference-b.yaml", TOP / "bench/reference-l.yaml"],
                             capture_output=True, text=True, check=True).stdout
    print(verdict, end="")
    unions = [float(ms) for ms in re.findall(r"geos unary union +([\d.]+) ms", verdict)]
    scale = unions[0] / UNION_MS
    ratios = [float(r) for r in re.findall(r"recipe to verdict +[\d.]+ ms +([\d.]+) unions", verdict)]
    fit = subprocess.run([BUILD / "bench/bench_fit", TOP / "bench/reference-l.yaml"], capture_output=True, text=True).stdout
    print(fit, end="")
    rows = [("recipe to verdict, B, unions", ratios[0], 6), ("recipe to verdict, L, unions", ratios[1], 8)]
    with tempfile.TemporaryDirectory() as folder:
        for name, most in (("b", 0.3), ("l", 0.5)):
            seconds, megabytes = cold_make(name, folder)
            rows.append((f"make, cold, {name.upper()}, scaled s", seconds / scale, most))
            rows.append((f"make, peak memory, {name.upper()}, MB", megabytes, 80))
        per_minute = throughput(pathlib.Path(folder))
    rows.append(("arcs over fewest chords, L", float(re.findall(r"arcs: ([\d.]+) of", fit)[-1]), 0.2))
    for what, value, most in rows:
        print(f"{what:34} {value:8.3f}   at most {most:<6} {'reached' if value <= most else 'NOT REACHED'}")
    per_minute *= scale
    print(f"{'random recipes a minute and core':34} {per_minute:8.0f}   at least 1000 {'reached' if per_minute >= 1000 else 'NOT REACHED'}")


main()
