# SPDX-License-Identifier: GPL-3.0-or-later
"""What was agreed: the digest worked out anew from docs/maths.md#agreed by hashlib (FIPS 180-4), for plates whose rings
are known by hand; what changes it and what does not; and how the command, the report and the proof tell it."""
import hashlib
import json
import re
import subprocess

import pytest

from conftest import HOLDFAST, holdfast

pytestmark = pytest.mark.skipif(not HOLDFAST.exists(), reason="the command is not built")

HEAD = """holdfast: 1
sign: Net Loft
metal: {{kind: mild steel, thickness: 3 mm}}
process: {{kerf: {kerf}}}
{more}
entries:
"""
PLATE = "  - plate: {name: board, shape: rectangle, width: 200 mm, height: 80 mm}\n"
WORDS = "  - words: {{name: word, as: opening, text: NET, font: {{family: Allerta, style: Stencil}}, height: 40 mm, spacing: 8 %, at: [{x} mm, 0 mm]}}\n"


def made(folder, entries, more="", kerf="1.5 mm"):
    (folder / "sign.yaml").write_text(HEAD.format(more=more, kerf=kerf) + entries)
    done = holdfast("make", "sign.yaml", "-o", "out", cwd=folder)
    assert done.returncode in (0, 1), done.stderr
    return done.stdout, json.loads((folder / "out/sign/report.json").read_text())


def proof_text(folder):
    text = subprocess.run(["pdftotext", "-enc", "UTF-8", folder / "out/sign/proof.pdf", "-"], check=True, capture_output=True).stdout
    return " ".join(text.decode().split())


def digest(*rings, metal="mild steel 3.00", mount="none", finish="unsaid"):
    lines = ["holdfast 1", metal, mount, finish, *sorted(rings)]
    return hashlib.sha256("".join(line + "\n" for line in lines).encode()).hexdigest()


OUTER = "-10000 -4000 10000 -4000 10000 4000 -10000 4000 "
WINDOW = "-3000 -1000 -3000 1000 3000 1000 3000 -1000 "  # clockwise


def test_by_hand(tmp_path):
    assert made(tmp_path, PLATE)[1]["proof"]["digest"] == digest(OUTER)
    hole = "  - plate: {shape: rectangle, as: opening, width: 60 mm, height: 20 mm}\n"
    assert made(tmp_path, PLATE + hole)[1]["proof"]["digest"] == digest(OUTER, WINDOW)
    told = made(tmp_path, PLATE, "mount: studs\nfinish: {powder coat: RAL 9005, coat: 0.1 mm}")[1]["proof"]["digest"]
    assert told == digest(OUTER, mount="studs", finish="powder coat RAL 9005")
    told = made(tmp_path, PLATE, 'finish: {paint: "#1F3D2B"}')[1]
    assert told["proof"]["digest"] == digest(OUTER, finish="paint #1f3d2b")


def test_what_changes_it(tmp_path):
    told = lambda *a, **k: made(tmp_path, *a, **k)[1]["proof"]["digest"]  # noqa: E731
    plain = told(PLATE + WORDS.format(x=0))
    assert told(PLATE + WORDS.format(x=0.02)) != plain, "a letter moved by a fiftieth of a millimetre"
    assert told(PLATE + WORDS.format(x=0), "finish: oiled") != plain
    assert told(PLATE + WORDS.format(x=0), "mount: holes") != plain


@pytest.mark.parametrize("more,kerf", [("limits: {thin-web: 2 mm, narrow-gap: 1 mm}", "1.5 mm"), ("", "1.2 mm"), ("wall: brick", "1.5 mm"),
                                       ("read from: 20 m", "1.5 mm"), ("order: {customer: Net Loft, number: SQ-9, proof: 4, revision: A}", "1.5 mm"),
                                       ("sign: Another name", "1.5 mm")])
def test_what_does_not(tmp_path, more, kerf):
    plain = made(tmp_path, PLATE + WORDS.format(x=0))[1]["proof"]["digest"]
    head = HEAD if "sign:" not in more else HEAD.replace("sign: Net Loft\n", "")
    (tmp_path / "sign.yaml").write_text(head.format(more=more, kerf=kerf) + PLATE + WORDS.format(x=0))
    holdfast("make", "-q", "sign.yaml", "-o", "out", cwd=tmp_path)
    assert json.loads((tmp_path / "out/sign/report.json").read_text())["proof"]["digest"] == plain


def test_the_same_twice(tmp_path):
    seen = {made(tmp_path, PLATE + WORDS.format(x=3))[1]["proof"]["digest"] for _ in range(3)}
    assert len(seen) == 1


def test_told_when_it_differs(tmp_path):
    entries = PLATE + WORDS.format(x=0)
    full = made(tmp_path, entries, "order: {proof: 3, revision: B}")[1]["proof"]["digest"]
    first = proof_text(tmp_path)
    short = "-".join(full[i:i + 4] for i in (0, 4, 8, 12))
    assert "proof 3, revision B" in first and short in first and full in first
    for said in (short, full, short.upper().replace("-", " ")):
        agreed = f"agreed: {{proof: 3, revision: B, digest: {said}}}"
        out, report = made(tmp_path, entries, agreed)
        assert "not what was agreed" not in out and report["proof"]["agreed"]["same"] is True
        assert "the same as agreed on proof 3, revision B" in proof_text(tmp_path)
        out, report = made(tmp_path, PLATE + WORDS.format(x=1), agreed)
        assert "this is not what was agreed on proof 3, revision B" in out and report["proof"]["agreed"]["same"] is False
        assert [it["key"] for it in report["findings"]].count("not-agreed") == 1
        assert "This is not what was agreed on proof 3, revision B" in proof_text(tmp_path)


@pytest.mark.parametrize("said", ["3f9a", "3f9a-71c2-04de-88bz", "x" * 16, "3f9a71c204de88b1" * 5])
def test_no_digest(tmp_path, said):
    (tmp_path / "sign.yaml").write_text(HEAD.format(more=f"agreed: {{proof: 3, digest: {said}}}", kerf="1.5 mm") + PLATE)
    done = holdfast("make", "sign.yaml", "-o", "out", cwd=tmp_path)
    assert done.returncode == 2 and re.search(r"sign\.yaml:5:\d+: this is not the digest of a proof", done.stderr), done.stderr


def test_of_two_sheets(tmp_path):
    """Of several sheets it is the digest of their digests, the front first; a change behind the front is told as one in it."""
    back = "back: {metal: mild steel, thickness: 2 mm, kerf: 1.2 mm, behind: 20 mm}"

    def entries(wide):
        return PLATE + f"  - plate: {{shape: rectangle, width: {wide} mm, height: 100 mm, layer: back}}\n"

    front = digest(OUTER)
    behind = digest("-11000 -5000 11000 -5000 11000 5000 -11000 5000 ", metal="mild steel 2.00")
    both = hashlib.sha256(f"{front}\n{behind}\n".encode()).hexdigest()
    assert made(tmp_path, entries(220), back)[1]["proof"]["digest"] == both
    agreed = f"{back}\nagreed: {{proof: 3, digest: {both}}}"
    said, report = made(tmp_path, entries(220), agreed)
    assert "agreed on proof 3" not in said and report["proof"]["agreed"]["same"] is True
    said, report = made(tmp_path, entries(221), agreed)
    assert "this is not what was agreed on proof 3" in said and report["proof"]["agreed"]["same"] is False
    assert [one["key"] for one in report["findings"]].count("not-agreed") == 1
    assert "This is not what was agreed on proof 3" in proof_text(tmp_path)
    accepted = agreed + "\naccept: [{finding: not-agreed, reason: told by telephone}]"
    report = made(tmp_path, entries(221), accepted)[1]
    assert [one["accepted"] for one in report["findings"] if one["key"] == "not-agreed"] == ["told by telephone"]
    assert "acceptance" not in [one["key"] for one in report["findings"]]
