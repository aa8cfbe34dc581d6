# SPDX-License-Identifier: GPL-3.0-or-later
"""Golden cases: a recipe in plain text, and the verdict that a person has read and agreed to.

A file of cases:

    # what it is about, and where its figures come from
    == common            begins every recipe of the file
    == case NAME         the rest of one recipe
    == shop              (optional) its shop file
    == file NAME         (optional) a file beside it, a drawing
    == expect            the verdict, then one line a finding: GRAVITY KEY: SENTENCE

HOLDFAST_RECORD=1 writes what is found today into the files: read the difference before you keep it.
Cases in known-bad/ say what would be right, and fail today; one that passes fails the run, and is moved
here. Nobody knows yet in which words it will be said: there a line may end in `...`, for any words.
"""
import json
import os
import pathlib
import re

import pytest
from conftest import holdfast

HERE = pathlib.Path(__file__).resolve().parent
RECORD = os.environ.get("HOLDFAST_RECORD") == "1"
MARK = re.compile(r"^== (common|case|shop|file|expect)(?: (.*))?$")


class Case:
    def __init__(self, file, name):
        self.file, self.name = file, name
        self.recipe, self.shop, self.files, self.expect = [], None, {}, []


def read(file):
    """The cases of @file, each with its recipe, shop and expected lines."""
    cases, common, into = [], [], []
    for line in file.read_text().splitlines():
        mark = MARK.match(line)
        if mark is None:
            into.append(line)
        elif mark[1] == "common":
            into = common
        elif mark[1] == "case":
            cases.append(Case(file, mark[2]))
            into = cases[-1].recipe
        elif mark[1] == "file":
            into = cases[-1].files[mark[2]] = []
        elif mark[1] == "shop":
            into = cases[-1].shop = []
        else:
            into = cases[-1].expect
    for case in cases:
        case.recipe = common + case.recipe
        case.expect = [line for line in case.expect if line.strip()]
    return cases


def verdict(case, folder):
    """What holdfast says of the recipe, as the lines that a case expects."""
    (folder / "sign.yaml").write_text("\n".join(case.recipe) + "\n")
    if case.shop is not None:
        (folder / "shop.yaml").write_text("\n".join(case.shop) + "\n")
    for name, lines in case.files.items():
        (folder / name).write_text("\n".join(lines) + "\n")
    home = {**os.environ, "XDG_CONFIG_HOME": str(folder / "none")}
    done = holdfast("check", "sign.yaml", "--json", cwd=folder, env=home)
    if done.returncode == 2:
        return ["refused"] + [line.removeprefix("holdfast: ") for line in done.stderr.splitlines()]
    assert done.returncode in (0, 1), done.stderr
    report = json.loads(done.stdout)
    assert done.returncode == (0 if report["verdict"] == "whole" else 1)
    lines = [report["verdict"]]
    for found in report["findings"]:
        lines.append(f"{found['gravity']} {found['key']}: {found['text']}")
        if found["accepted"]:
            lines.append(f"  accepted: {found['accepted']}")
    return lines


def record(case, lines):
    """Puts @lines in place of what the case expects."""
    out, mine, skip = [], False, False
    for line in case.file.read_text().splitlines():
        mark = MARK.match(line)
        if mark:
            mine = mark[2] == case.name if mark[1] == "case" else mine
            skip = mark[1] == "expect" and mine
            if skip:
                out += [line, *lines, ""]
                continue
        if not skip:
            out.append(line)
    case.file.write_text("\n".join(out).rstrip("\n") + "\n")


def params(pattern):
    return [pytest.param(case, id=f"{case.file.stem}: {case.name}") for file in sorted(HERE.glob(pattern)) for case in read(file)]


@pytest.mark.parametrize("case", params("*.case"))
def test_case(case, tmp_path):
    lines = verdict(case, tmp_path)
    if RECORD:
        record(case, lines)
        return
    assert lines == case.expect


def fits(lines, expect):
    """Are @lines what is expected, with any words where `...` stands?"""
    if len(lines) != len(expect):
        return False
    return all(line.startswith(want[:-3]) if want.endswith("...") else line == want for line, want in zip(lines, expect))


class KnownBad(Exception):
    """Still wrong."""


@pytest.mark.xfail(strict=True, raises=KnownBad)
@pytest.mark.parametrize("case", params("known-bad/*.case"))
def test_known_bad(case, tmp_path):
    """Nothing but the known mistake is forgiven: a crash fails, and so does being right."""
    lines = verdict(case, tmp_path)
    if not fits(lines, case.expect):
        raise KnownBad("\n".join(lines))


def test_known_bad_can_pass():
    assert fits(["not whole", "stop narrow-gap: here: 1 mm"], ["not whole", "stop narrow-gap: ..."])
    assert not fits(["whole"], ["not whole", "stop narrow-gap: ..."])
    assert not fits(["not whole", "stop thin-web: here"], ["not whole", "stop narrow-gap: ..."])


def test_every_law_has_a_case():
    """Each finding of docs/limits.md shows up in some case, and is absent from another of its file."""
    rows = re.findall(r"^\| `([a-z-]+)` \| .* \| (?:stop|caution|note) \|(.*)", (HERE / "../../docs/limits.md").read_text(), re.M)
    # what is only found when a program is made: tests/oracle/test_cut_program.py, test_sign.c
    keys = [key for key, rest in rows if "looked at when the program is made" not in rest]
    assert len(keys) > 20
    for key in keys:
        file = HERE / f"{key}.case"
        assert file.exists(), f"no case for {key}"
        found = [any(f" {key}: " in line for line in case.expect) for case in read(file)]
        assert any(found) and not all(found), f"{key}: a case on each side is wanted"
