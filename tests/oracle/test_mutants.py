# SPDX-License-Identifier: GPL-3.0-or-later
"""Every example, spoilt in one place: refused with its place and a remedy in no time, or worked out; nothing else.

Signals, criticals of GLib, control characters (ECMA-48) and marks of direction (Unicode PropList.txt) are never seen. A
short seeded sample in ./check, thousands in ./check --long; HOLDFAST_SEED=N takes another sample.
"""
import os
import re

import pytest
import yaml

from conftest import HOLDFAST, TOP
from measured import measured
from mutants import VALUES, mutants

OBEYED = re.compile("[\x00-\x09\x0b-\x1f\x7f-\x9f\u061c\u200e\u200f\u2028-\u202e\u2066-\u2069]")
SECONDS, KILOBYTES, LONGEST = 1.0, 200_000, 60
SEED = int(os.environ.get("HOLDFAST_SEED", "20261129"))


def faults(folder, text):
    """What is wrong with how the mutant was met; empty: nothing."""
    (folder / "mutant.yaml").write_text(text)
    code, said, seconds, memory = measured(HOLDFAST, "check", "mutant.yaml", cwd=folder, longest=LONGEST)
    found = []
    if code not in (0, 1, 2):
        found.append(f"exit {code}")
    if "CRITICAL" in said or "WARNING **" in said or "ERROR:" in said:
        found.append("GLib complains")
    if OBEYED.search(said):
        found.append(f"raw {OBEYED.search(said)[0]!r}")
    if code == 2:
        lines = said.splitlines()
        if not re.match(r"holdfast: mutant\.yaml(:\d+:\d+)?: ", said):
            found.append("no place")
        if not all("; " in line for line in lines if not re.search(r": \d+ more mistakes?$", line)):
            found.append("no remedy")
        if seconds > SECONDS:
            found.append(f"{seconds:.1f} s to refuse")
        if memory > KILOBYTES:
            found.append(f"{memory} kB to refuse")
        if len(said) > 12000:
            found.append(f"{len(said)} characters said")
    return [f"{what}: {said[:200]!r}" for what in found]


def examples(longest):
    texts = {file.name: file.read_text() for file in sorted((TOP / "examples").glob("*.yaml"))}
    return {name: text for name, text in texts.items() if len(text) <= longest}


def met(tmp_path, texts, n):
    bad, kinds = [], {}
    for name, text in mutants(texts, SEED, n):
        found = faults(tmp_path, text)
        if found:
            kept = tmp_path / f"bad-{len(bad)}.yaml"
            kept.write_text(text)
            bad.append((name, str(kept), found))
        kinds[not found] = kinds.get(not found, 0) + 1
    return bad


def test_there_are_eighty_values():
    assert len(set(VALUES)) >= 80


def test_spoilt_small_signs(tmp_path):
    """The small ones only: half of the mutants are worked out, and ./check has to stay short."""
    texts = {"plates.yaml": "holdfast: 1\nsign: Quay\nmetal: {kind: mild steel, thickness: 3 mm}\nprocess: {kerf: 1.5 mm}\nmount: holes\nread from: 12 m\nalone: [two]\nlimits: {thin-web: 3 mm}\n"
             "accept: [{finding: sharp-point, of: st, reason: high up}]\norder: {customer: Ferry, number: SQ-1, quantity: 2}\nentries:\n"
             "  - plate: {name: board, shape: rectangle, width: 200 mm, height: 80 mm, corner: 5 mm, turn: 3 deg}\n  - ring: {name: o, outer: 90 mm, width: 8 mm}\n"
             "  - star: {name: st, diameter: 40 mm, points: 5, depth: 45 %, on: o, at: top}\n  - hole: {name: two, diameter: 8 mm, on: board, at: [left end, right end]}\n"
             "  - bar: {length: 100 mm, height: 20 mm, below: o, gap: -3 mm}\n"}
    assert not met(tmp_path, texts, 60)


@pytest.mark.long
def test_spoilt_examples(tmp_path):
    assert not met(tmp_path, examples(10_000), 2500)


@pytest.mark.long
def test_every_key_of_the_recipe_that_says_all(tmp_path, yardsticks):
    text = (yardsticks / "cases/break/00-all-keys.yaml").read_text()
    yaml.safe_load(text)
    assert not met(tmp_path, {"all.yaml": text}, 1500)
