# SPDX-License-Identifier: GPL-3.0-or-later
"""Golden cases of cures: a small sign, and the list that it is offered, as a person has read it and agreed to.

The format is that of test_cases.py; what is expected is the verdict, then one line a cure, in its order:
WHOLE OR NOT KEY: SENTENCE; where none makes it whole, why, as the terminal says it.
"""
import json

import pytest
from conftest import holdfast

from test_cases import HERE, RECORD, params, read, record


def offered(case, folder):
    (folder / "sign.yaml").write_text("\n".join(case.recipe) + "\n")
    done = holdfast("cure", "sign.yaml", "--json", cwd=folder)
    assert done.returncode in (0, 1), done.stderr
    told = json.loads(done.stdout)
    lines = [told["verdict"]]
    lines += [f"{'whole' if cure['whole'] else 'not whole'} {cure['key']}: {cure['sentence']}" for cure in told["cures"]]
    if told["verdict"] != "whole" and not any(cure["whole"] for cure in told["cures"]):
        said = holdfast("cure", "sign.yaml", cwd=folder).stdout
        lines += ["why " + line.strip() for line in said[said.index("what no change takes away"):].splitlines() if line and "cutting:" not in line]
    return lines


@pytest.mark.parametrize("case", params("cures/*.case"))
def test_cures(case, tmp_path):
    lines = offered(case, tmp_path)
    if RECORD:
        record(case, lines)
        return
    assert lines == case.expect


def test_none_is_among_them():
    cases = read(HERE / "cures" / "families.case")
    assert len(cases) >= 9 and any(line.startswith("why ") for case in cases for line in case.expect)
