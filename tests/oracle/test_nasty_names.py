# SPDX-License-Identifier: GPL-3.0-or-later
"""Sixty nasty names through every writer of out/, each file read back by a reader that is not ours.

SVG by lxml (XML 1.0 knows no control characters, not even as references), DXF by ezdxf and line by line (DXF reference:
group code and value on a line each), PDF by poppler, JSON by Python, YAML by PyYAML. Nothing that a terminal obeys
(ECMA-48) or that turns what stands around it (Unicode PropList.txt, Bidi_Control) stands raw in any of them.
"""
import io
import json
import re
import subprocess
import unicodedata

import ezdxf
import pytest
import yaml
from lxml import etree

from conftest import holdfast

NASTY = [
    # what terminals obey: ECMA-48
    "\x1b[2J\x1b[H\x1b[1;32mharbour: whole\x1b[0m\x1b[8m", "\x9b2J", "\x1b]0;title\x07", "\x1bP1$r\x1b\\", "a\rwhole", "\b\b\b\bwhole", "\x07", "\x00x".replace("\x00", "\x01"), "\x7f", "\x85next",
    "\x0c", "\x0b", "\x1f", "\x90\x9c", "tab\there", "new\nline", "cr\r\nlf",
    # what turns or hides: Unicode
    "\u202egnp.exe", "\u2066x\u2069", "\u200fx", "\u061cx", "x\u2028y", "x\u2029y", "\u200bx", "\ufeffx", "\u00adx", "e\u0301\u0301\u0301\u0301\u0301", "\u2800x", "\ue000x", "\U000e0041x", "\U0001f6a2", "\ufffd", "\u0300x",
    # what files obey: XML, JSON, YAML, PDF, DXF, NC, printf, shells, paths
    "</title><script>alert(1)</script>", "]]>", "<!--", "-->", "&amp;", "&#27;", "&lt;", "<?xml?>", "\"quote\"", "'", "\\", "\\u001b", "\\U+000A", "^J", "%%u", "\\P", "(M30)", ")", "(((", "<<>>", "endobj",
    "%n%s%x", "%%EOF", "{}", "{0}", "{measured}", "[x]", "${HOME}", "$(id)", "`id`", "; rm -rf", "|", "#", ": ", "- x", "*a", "&a", "!!str", "  0\nSECTION", "../../x", "A" * 300,
]
OBEYED = set(range(0x20)) | set(range(0x7f, 0xa0)) | {0x61c, 0x200e, 0x200f} | set(range(0x2028, 0x202f)) | set(range(0x2066, 0x206a))


def quoted(name):
    """A double-quoted scalar (YAML 1.2.2, 5.7)."""
    return '"' + "".join(c if c not in '"\\' and c.isprintable() else f"\\U{ord(c):08x}" for c in name) + '"'


def recipe(name):
    """A loose part, a hole too small, an accepted caution: the name stands in titles, findings, reasons and orders."""
    q = [quoted(name + tail) for tail in ("", "2", "3")]
    return f"""holdfast: 1
sign: {q[0]}
metal: {{kind: mild steel, thickness: 3 mm}}
process: {{kerf: 1.5 mm}}
order: {{customer: {q[0]}, number: {q[1]}}}
accept: [{{finding: small-opening, reason: {q[0]}}}]
entries:
  - ring: {{name: {q[0]}, outer: 100 mm, width: 20 mm}}
  - plate: {{name: {q[1]}, shape: round, diameter: 10 mm}}
  - hole: {{name: {q[2]}, diameter: 1 mm, on: {q[1]}, at: centre}}
"""


def raw(text, lines="\n"):
    return sorted({hex(ord(c)) for c in text if ord(c) in OBEYED and c not in lines})


def look_at_svg(data):
    root = etree.fromstring(data, etree.XMLParser(resolve_entities=False))
    text = data.decode()
    assert not raw(text)
    titles = [e for e in root.iter("{*}title")]
    assert len(titles) >= 2 and all(len(e) == 0 for e in titles) and not list(root.iter("{*}script"))
    assert not raw("".join(root.itertext()))


def look_at_dxf(data):
    text = data.decode("ascii")
    lines = text.split("\n")
    assert not raw(text) and lines[-1] == "" and len(lines) % 2 == 1
    codes = lines[:-1:2]
    assert all(re.fullmatch(r" *-?\d+", code) for code in codes), "code and value take turns"
    assert max(map(len, lines)) <= 255
    comments = [value for code, value in zip(codes, lines[1::2]) if int(code) == 999]
    assert comments and not any(re.search(r"\\U\+00[01][0-9A-F]|\\U\+202|\\P", value) for value in comments)
    read = ezdxf.read(io.StringIO(text))
    assert not read.audit().errors and len(read.modelspace()) >= 2


def look_at_pdf(file):
    done = subprocess.run(["pdftotext", "-layout", str(file), "-"], capture_output=True, check=True)
    assert done.stderr == b""
    assert not raw(done.stdout.decode(), "\n\x0c")
    info = subprocess.run(["pdfinfo", "-enc", "UTF-8", str(file)], capture_output=True, check=True)
    assert info.stderr == b"" and not raw(info.stdout.decode())
    assert len(info.stdout.decode().splitlines()) < 25 and re.search(r"(?m)^Title: .*, proof$", info.stdout.decode())


def look_at_json(data, name):
    text = data.decode()
    assert not raw(text)
    report = json.loads(text)
    assert any(name[:40] in str(part) for part in _texts(report)), "a report is data: the name is in it as it is"


def _texts(value):
    if isinstance(value, dict):
        for key, inner in value.items():
            yield key
            yield from _texts(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from _texts(inner)
    elif isinstance(value, str):
        yield value


def cases():
    """All in the long run; a spread of them else. Several signs at once cost no more than one: each writes all its files."""
    return NASTY


@pytest.fixture(scope="module")
def written(tmp_path_factory):
    folder = tmp_path_factory.mktemp("nasty")
    for i, name in enumerate(NASTY):
        (folder / f"n{i}.yaml").write_text(recipe(name))
    done = holdfast("make", *[f"n{i}.yaml" for i in range(len(NASTY))], "-o", "out", "--pixels", "200", "--also", "dxf-inch", "--also", "dxf-r12-mm", "--also", "dxf-r12-inch", cwd=folder)
    return folder, done


def test_there_are_sixty():
    assert len(set(NASTY)) >= 60


def test_the_terminal(written):
    _, done = written
    assert not raw(done.stdout) and not raw(done.stderr)
    assert done.returncode in (1, 2)


@pytest.mark.parametrize("i", range(len(NASTY)))
def test_every_file_of_every_name(written, i):
    folder, done = written
    out, name = folder / "out" / f"n{i}", NASTY[i]
    if not out.exists():
        assert f"n{i}.yaml:" in done.stderr, "refused, with its place"
        return
    files = {file.name: file for file in out.iterdir()}
    assert {"report.json", "proof.pdf", "proof.png", "not-to-be-cut.svg", "not-to-be-cut.dxf"} <= set(files), sorted(files)
    for file in files.values():
        if file.suffix == ".svg":
            look_at_svg(file.read_bytes())
        elif file.suffix == ".dxf":
            look_at_dxf(file.read_bytes())
        elif file.suffix == ".pdf":
            look_at_pdf(file)
        elif file.suffix == ".json":
            look_at_json(file.read_bytes(), name)
        elif file.suffix == ".yaml":
            yaml.safe_load(file.read_text())


@pytest.mark.parametrize("name", ["\x1b[2J", "\u202ex", "a\"b<c", "\u2028"])
def test_the_cured_recipe_and_the_picture_of_a_change(tmp_path, name):
    """cured.yaml keeps the name as it was written; the terminal shows it visibly."""
    text = recipe(name).replace("diameter: 1 mm", "diameter: 5 mm")
    (tmp_path / "sign.yaml").write_text(text)
    done = holdfast("make", "sign.yaml", "--cure", "best", "--pixels", "200", cwd=tmp_path)
    assert not raw(done.stdout + done.stderr)
    cured = tmp_path / "out" / "sign" / "cured.yaml"
    if cured.exists():
        assert not raw(cured.read_text())
        assert yaml.safe_load(cured.read_text())["sign"] == name
