#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""What a search for cures costs, in unions and processor seconds, and how many signs it makes whole.

usage: bench/cures.py [FROM TO]     seeds of tests/oracle/cure_signs.py (1 to 80); needs a build in build/

A union: one plain GEOS unary union of sign B, of the same run (bench_verdict). Signs that are whole as they
are, and recipes that can't be laid out, are left out. Look, no gate.
"""
import json
import os
import pathlib
import re
import subprocess
import sys
import tempfile

TOP = pathlib.Path(__file__).resolve().parents[1]
HOLDFAST = TOP / "build" / "holdfast"
sys.path.insert(0, str(TOP / "tests" / "oracle"))
import cure_signs  # noqa: E402


def union_ms():
    told = subprocess.run([TOP / "build/bench/bench_verdict", TOP / "bench/reference-b.yaml"], capture_output=True, text=True,
                          check=True).stdout
    return float(re.search(r"geos unary union +([\d.]+) ms", told)[1])


def search(seed, folder):
    """None where no cure is needed; else (whole, processor seconds, what was found)."""
    text, facts = cure_signs.recipe(seed, HOLDFAST)
    recipe = folder / f"{seed}.yaml"
    recipe.write_text(text)
    process = subprocess.Popen([HOLDFAST, "cure", recipe, "--json"], stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True)
    told = process.stdout.read()
    _, status, usage = os.wait4(process.pid, 0)
    if os.waitstatus_to_exitcode(status) not in (0, 1) or json.loads(told)["verdict"] == "whole":
        return None
    cures = json.loads(told)["cures"]
    stops = [finding["text"] for finding in json.loads(told)["findings"] if finding["gravity"] == "stop"]
    return bool(cures) and cures[0]["whole"], usage.ru_utime + usage.ru_stime, facts, stops


def quantile(figures, share):
    return sorted(figures)[min(int(share * len(figures)), len(figures) - 1)]


def main():
    first, last = map(int, sys.argv[1:]) if len(sys.argv) == 3 else (1, 80)
    union = union_ms() / 1000
    with tempfile.TemporaryDirectory() as folder:
        found = [search(seed, pathlib.Path(folder)) for seed in range(first, last + 1)]
    found = [one for one in found if one is not None]
    for whole, seconds, facts, stops in found:
        if not whole:
            print(f"  seed {facts['seed']} {facts['shape']} {facts['face']} {facts['text']} {facts['h']} mm, {seconds:.1f} s: {stops[0]}")
    share = sum(one[0] for one in found) / len(found)
    print(f"{len(found)} signs that need a cure: {share:.0%} whole by the first one; one union {union * 1000:.1f} ms")
    for name, part in (("p50", 0.5), ("p95", 0.95), ("most", 1)):
        seconds = quantile([one[1] for one in found], part)
        print(f"  search, {name}: {seconds:.2f} s of processor, {seconds / union:.0f} unions")


main()
