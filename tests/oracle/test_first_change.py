# SPDX-License-Identifier: GPL-3.0-or-later
"""CONTRIBUTING's first change, followed to the letter in a copy of the tree: a new limit is one file and one
line, and is seen wherever limits are.
"""
import configparser
import json
import os
import re
import shutil
import subprocess
import textwrap

import pytest

from conftest import HOLDFAST, TOP

BLOCK = re.compile(r"^   ```(\w*)\n(.*?)^   ```$", re.M | re.S)


def blocks():
    """(language, file named last before it, text) of each block of the first change."""
    text = (TOP / "CONTRIBUTING.md").read_text()
    text = text[text.index("## A first change"):text.index("## Habits")]
    found = []
    for block in BLOCK.finditer(text):
        named = re.findall(r"[`*]((?:src|tests)/[\w./-]+)[`*]", text[:block.start()])
        found.append((block[1], named[-1].strip("`*"), textwrap.dedent(block[2])))
    return found


def follow(tree):
    """Writes what the steps say: new files, and the line among its like. Returns the files, and the commands."""
    new, changed, commands = [], [], []
    for language, name, text in blocks():
        path = tree / name
        if language == "sh":
            commands += text.splitlines()
        elif path.exists():
            assert len(text.splitlines()) == 1, "one line"
            old = path.read_text()
            last = [found.end() for found in re.finditer(r"^LAW\(.*\n", old, re.M)][-1]
            path.write_text(old[:last] + text + old[last:])
            changed.append(name)
        else:
            path.write_text(text)
            new.append(name)
    return new, changed, commands


def is_told(tree, field):
    """Does it not compile, or fail the test of laws, when the row of the new file lacks @field?"""
    file = tree / "src/hold/heavy.c"
    text = file.read_text()
    without = [line for line in text.splitlines(True) if not line.strip().startswith(f".{field} =")]
    file.write_text("".join(without))
    assert len(without) == len(text.splitlines()) - 1
    built = subprocess.run(["ninja", "-C", tree / "build", "tests/unit/test_law"], capture_output=True)
    told = built.returncode != 0 or subprocess.run([tree / "build/tests/unit/test_law"], capture_output=True).returncode != 0
    file.write_text(text)
    return told


def set_up(tree):
    """`meson setup build`, as our own build folder was set up; what is the same in both is taken from there, so that
    only what the change touches is compiled (ninja tells by commands and times)."""
    ours = HOLDFAST.parent
    options = configparser.ConfigParser()
    options.read(ours / "meson-private" / "cmd_line.txt")
    words = [f"-D{key}={value}" for key, value in options["options"].items()] if "options" in options else []
    done = subprocess.run(["meson", "setup", "build", *words], cwd=tree, capture_output=True, text=True)
    for path in ours.rglob("*"):
        to = tree / "build" / path.relative_to(ours)
        if path.is_file() and not to.exists() and not path.relative_to(ours).parts[0].startswith("meson-"):
            to.parent.mkdir(parents=True, exist_ok=True)
            shutil.copy2(path, to)
    return done


def in_haste(folder):
    """The PATH of a shell whose compiler leaves optimising: what is compiled here is run for a second. The commands
    stay what they are, so ninja takes what was copied for up to date."""
    folder.mkdir()
    for name in ("cc", "gcc", "c++", "g++"):
        path = folder / name
        path.write_text(f'#!/bin/sh\nexec {shutil.which(name)} "$@" -O0 -g0\n')
        path.chmod(0o755)
    return f"{folder}:{os.environ['PATH']}"


@pytest.mark.long  # a new law touches nearly every file: 120 s of compiling
def test_the_first_change_to_the_letter(tmp_path, monkeypatch):
    """Every step and every command, with a build folder of its own."""
    tree = tmp_path / "tree"
    monkeypatch.setenv("PATH", in_haste(tmp_path / "bin"))
    shutil.copytree(TOP, tree, symlinks=True, ignore=lambda folder, names: [
        name for name in names if name in (".git", "__pycache__") or (TOP / folder / name / "build.ninja").exists()])
    new, changed, commands = follow(tree)
    assert len(new) == 2 and len(changed) == 1
    for command in commands:
        done = set_up(tree) if command == "meson setup build" else subprocess.run(
            ["bash", "-c", command], cwd=tree, capture_output=True, text=True,
            env={key: value for key, value in os.environ.items() if key != "HOLDFAST"})
        assert done.returncode == 0, command + "\n" + done.stdout[-3000:] + done.stderr[-1000:]
    assert "| `heavy` |" in (tree / "docs/limits.md").read_text()
    recipe = tmp_path / "sign.yaml"
    text = ("holdfast: 1\nmetal: {kind: mild steel, thickness: 3 mm}\nprocess: {kerf: 1.5 mm}\nentries:\n"
            "  - plate: {name: board, shape: rectangle, width: 1.1 m, height: 1 m}\n")

    def check(more):
        recipe.write_text(text + more)
        return subprocess.run([tree / "build/holdfast", "check", recipe, "--json"], capture_output=True, text=True)

    report = json.loads(check("accept: [{finding: heavy, reason: two of us come}]\n").stdout)
    assert [(it["key"], it["accepted"]) for it in report["findings"]] == [("heavy", "two of us come")]
    assert [it["caution"] for it in report["limits"] if it["key"] == "heavy"] == [25]
    assert json.loads(check("limits: {heavy: 30 kg}\n").stdout)["findings"] == []
    assert 'did you mean "heavy"?' in check("limits: {haevy: 30 kg}\n").stderr
    assert 'did you mean "heavy"?' in check("accept: [{finding: haevy, reason: none}]\n").stderr
    assert [field for field in ("measures", "trouble", "mends", "what", "check", "caution") if not is_told(tree, field)] == []
