# SPDX-License-Identifier: GPL-3.0-or-later
"""Nothing is lost: full disk, read-only folder, killed while writing, two runs into one folder.

Two recipes of one name are made in turn into the same folder: one whole, one not. After any
accident each file is whole, from one run or the other, and the message says what to do.
"""
import hashlib
import json
import os
import signal
import subprocess
import time

import pytest

from conftest import HOLDFAST, LONG, holdfast

PLATE = """holdfast: 1
metal: {kind: mild steel, thickness: 3 mm}
process: {kerf: 1.5 mm}
entries:
  - plate: {name: board, shape: rectangle, width: 200 mm, height: 80 mm}
  - words: {text: %s, font: Bebas Neue, height: 50 mm, spacing: 3 mm, on: board, at: centre, as: opening}
"""
WHOLE, NOT_WHOLE = PLATE % "LIFT", PLATE % "BOAT"


@pytest.fixture
def two(tmp_path):
    """Recipe files of the same name with different verdicts, and the folder both are made into."""
    paths = []
    for folder, text in (("a", WHOLE), ("b", NOT_WHOLE)):
        (tmp_path / folder).mkdir()
        paths.append(tmp_path / folder / "sign.yaml")
        paths[-1].write_text(text)
    return paths[0], paths[1], tmp_path / "out"


def digests(folder):
    return {p.name: hashlib.sha256(p.read_bytes()).hexdigest() for p in sorted(folder.iterdir())}


def known_outputs(two, tmp_path):
    """name -> digests that either recipe gives when nothing goes wrong."""
    known = {}
    for number, recipe in enumerate(two[:2]):
        assert holdfast("make", recipe, "-o", tmp_path / f"alone{number}").returncode == number
        for name, digest in digests(tmp_path / f"alone{number}" / "sign").items():
            known.setdefault(name, set()).add(digest)
    return known


def assert_consistent(folder):
    report = json.loads((folder / "report.json").read_text())
    for file in report["files"]:
        assert hashlib.sha256((folder / file["name"]).read_bytes()).hexdigest() == file["sha256"], file["name"]
    stems = {p.name.split(".")[0] for p in folder.iterdir()}
    assert ("metal" in stems) == (report["verdict"] == "whole")
    assert ("not-to-be-cut" in stems) == (report["verdict"] != "whole")


def test_outlines_of_an_earlier_run_go(two):
    whole, not_whole, out = two
    assert holdfast("make", whole, "-o", out, "--also", "dxf-inch").returncode == 0
    (out / "sign" / "cut.nc").write_text("earlier program")
    (out / "sign" / "notes.txt").write_text("the shop's own")
    assert holdfast("make", not_whole, "-o", out).returncode == 1
    names = {p.name for p in (out / "sign").iterdir()}
    assert names == {"not-to-be-cut.svg", "not-to-be-cut.dxf", "proof.png", "proof.pdf", "report.json", "notes.txt"}
    (out / "sign" / "notes.txt").unlink()
    assert_consistent(out / "sign")


def test_same_bytes(two, tmp_path):
    whole, _, _ = two
    for folder in ("one", "two"):
        assert holdfast("make", whole, "-o", tmp_path / folder, env={**os.environ, "LC_ALL": "C.UTF-8", "TZ": "UTC" if folder == "one" else "Asia/Tokyo"}).returncode == 0
        if folder == "one":
            time.sleep(1.1)  # a clock in a file would show
    assert digests(tmp_path / "one" / "sign") == digests(tmp_path / "two" / "sign")


def test_killed_while_writing(two, tmp_path):
    whole, not_whole, out = two
    known = known_outputs(two, tmp_path)
    started = time.monotonic()
    holdfast("make", whole, "-o", out)
    usual = time.monotonic() - started
    rounds = 120 if LONG else 30
    for i in range(rounds):
        process = subprocess.Popen([HOLDFAST, "make", [not_whole, whole][i % 2], "-o", out], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        time.sleep(usual * 1.1 * i / rounds)
        process.send_signal(signal.SIGKILL)
        process.wait()
        for name, digest in digests(out / "sign").items():
            if name in known:
                assert digest in known[name], f"{name} is neither run's file after a kill in round {i}"
        stems = {p.name for p in (out / "sign").iterdir()}
        assert not {"metal.svg", "not-to-be-cut.svg"} <= stems, "both outlines at once"
    assert holdfast("make", whole, "-o", out).returncode == 0
    assert set(digests(out / "sign")) == {"metal.svg", "metal.dxf", "proof.png", "proof.pdf", "report.json"}, "leftovers stay"
    assert_consistent(out / "sign")


def test_stopped_by_the_user(two):
    whole, _, out = two
    process = subprocess.Popen([HOLDFAST, "make", whole, "-o", out, "--watch"], stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)

    def until(fits):
        ends = time.monotonic() + 300  # a last resort
        while not fits():
            assert time.monotonic() < ends
            time.sleep(0.05)

    until((out / "sign" / "report.json").exists)
    first = (out / "sign" / "report.json").read_text()
    edits = 0

    def is_seen():  # it may not watch yet: written until it is seen, as somebody who saves again
        nonlocal edits
        edits += 1
        whole.write_text(NOT_WHOLE + "#" * edits)
        time.sleep(0.5)
        return (out / "sign" / "report.json").read_text() != first

    until(is_seen)
    process.send_signal(signal.SIGINT)
    process.communicate(timeout=300)
    assert process.returncode == 130
    assert_consistent(out / "sign")
    assert json.loads((out / "sign" / "report.json").read_text())["verdict"] == "not whole"


def test_two_runs_into_one_folder(two):
    whole, not_whole, out = two
    for _ in range(20 if LONG else 5):
        both = [subprocess.Popen([HOLDFAST, "make", recipe, "-o", out], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
                for recipe in (whole, not_whole)]
        assert sorted(p.wait() for p in both) == [0, 1]
        assert_consistent(out / "sign")


def test_equal_names_are_refused(two):
    whole, not_whole, out = two
    done = holdfast("make", whole, not_whole, "-o", out)
    assert done.returncode == 2 and "would both go into 'sign'" in done.stderr and not out.exists()


def as_nobody():
    os.setgid(65534)
    os.setuid(65534)


def test_read_only_folder(two, tmp_path):
    if os.getuid() != 0:
        pytest.skip("needs root to become somebody who may not write")
    whole, _, out = two
    assert holdfast("make", whole, "-o", out).returncode == 0
    before = digests(out / "sign")
    for path in [tmp_path, *tmp_path.parents]:
        os.chmod(path, os.stat(path).st_mode | 0o055)
    done = holdfast("make", whole, "-o", out, preexec_fn=as_nobody, env={**os.environ, "HOME": "/nonexistent"})
    assert done.returncode == 3
    assert "choose a folder that you may write to with -o" in done.stderr, done.stderr
    assert digests(out / "sign") == before


def test_full_disk(two, tmp_path):
    whole, not_whole, _ = two
    disk = tmp_path / "disk"
    disk.mkdir()
    if os.getuid() != 0 or subprocess.run(["mount", "-t", "tmpfs", "-o", "size=640k", "tmpfs", disk], capture_output=True).returncode:
        pytest.skip("needs a small disk of its own (mount)")
    try:
        assert holdfast("make", whole, "-o", disk, "--pixels", "400").returncode == 0
        known = {name: {digest} for name, digest in digests(disk / "sign").items()}
        (disk / "filler").write_bytes(b"x" * (os.statvfs(disk).f_bavail * os.statvfs(disk).f_bsize - 8192))
        done = holdfast("make", whole, "-o", disk, "--pixels", "401")
        assert done.returncode == 3 and "make room on the disk" in done.stderr, done.stderr
        left = digests(disk / "sign")
        assert set(left) <= set(known), "a temporary file stays on the full disk"
        assert left["proof.png"] in known["proof.png"] and left["report.json"] in known["report.json"]
    finally:
        subprocess.run(["umount", disk], check=True)
