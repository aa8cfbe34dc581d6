# SPDX-License-Identifier: GPL-3.0-or-later
"""What the checks from outside share: the built command, a recipe in a folder of its own."""
import json
import os
import pathlib
import subprocess

import pytest

TOP = pathlib.Path(__file__).resolve().parents[1]
HOLDFAST = pathlib.Path(os.environ.get("HOLDFAST", TOP / "build" / "holdfast"))
LONG = os.environ.get("HOLDFAST_LONG") == "1"


class Made:
    """One recipe, made: exit code, words, folder with the outputs."""

    def __init__(self, done, folder):
        self.code, self.out, self.err, self.folder = done.returncode, done.stdout, done.stderr, folder

    @property
    def report(self):
        return json.loads((self.folder / "report.json").read_text())

    def read(self, name):
        return (self.folder / name).read_text()


def holdfast(*words, cwd=None, **kwargs):
    return subprocess.run([str(HOLDFAST), *map(str, words)], cwd=cwd, capture_output=True, text=True, timeout=300, **kwargs)


@pytest.fixture
def make(tmp_path):
    """make(text, *options): writes the recipe and makes it; a Made."""

    def it(text, *options, name="sign"):
        recipe = tmp_path / f"{name}.yaml"
        recipe.write_text(text)
        done = holdfast("make", recipe, "-o", tmp_path / "out", *options)
        return Made(done, tmp_path / "out" / name)

    return it


@pytest.fixture
def yardsticks():
    folder = os.environ.get("HOLDFAST_YARDSTICKS")
    if not folder:
        pytest.skip("HOLDFAST_YARDSTICKS is not set: outside yardsticks are not here")
    return pathlib.Path(folder)
