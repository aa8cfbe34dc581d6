# SPDX-License-Identifier: GPL-3.0-or-later
"""What clang-tidy finds, with the checks of .clang-tidy; needs build/ (its list of compile commands)."""
import subprocess

import pytest

from conftest import TOP


def tidy(*words):
    done = subprocess.run(["run-clang-tidy", "-p", "build", "-quiet", *words, r"src/[a-z]+/[a-z-]+\.c$"], cwd=TOP, capture_output=True, text=True)
    assert done.returncode == 0, done.stdout[-6000:] + done.stderr[-500:]


def test_what_reading_once_shows():
    """A fifth of a second a file; walking all paths of a function takes ten times as long."""
    tidy("-checks=-clang-analyzer-*")


@pytest.mark.long
def test_all_paths():
    tidy()
