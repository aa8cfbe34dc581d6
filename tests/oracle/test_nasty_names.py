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
    assert len(info.stdout.decode().splitlines()) < 25 and re.search(r"(?m)^Title: .*, (proof|shop sheet|drilling template)$", info.stdout.decode())


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


# ---- every message of the program ----------------------------------------------------------------

# a place of the recipe that is quoted when it is wrong, NAME standing for it
QUOTED = ["sign: [NAME]", "metal: {kind: NAME, thickness: 3 mm}", "mount: NAME", "read from: NAME", "house number: NAME", "alone: [[NAME]]", "accept: [{finding: NAME, reason: x}]", "accept: [{finding: sharp-point, of: NAME, reason: x}]",
          "limits: {NAME: 3 mm}", "limits: {thin-web: NAME}", "order: {NAME: x}", "process: {kerf: NAME}", "NAME: 3",
          "- NAME: {}", "- plate: {NAME: 1}", "- plate: {shape: NAME}", "- plate: {shape: round, diameter: NAME}", "- plate: {shape: round, diameter: 9 mm, on: NAME}", "- ring: {outer: 90 mm, width: 9 mm, turn: NAME}",
          "- dot: {diameter: 9 mm, at: NAME}", "- dot: {diameter: 9 mm, at: [NAME, 0 mm]}", "- words: {text: A, font: NAME, height: 50 mm}", "- words: {text: A, font: {family: Inter, style: NAME}, height: 50 mm}",
          "- words: {text: A, font: {file: NAME}, height: 50 mm}", "- words: {text: A, font: Inter, height: 50 mm, stand on: NAME}", "- words: {text: A, font: Inter, height: 50 mm, band: [NAME, NAME]}",
          "- star: {diameter: 60 mm, points: NAME, depth: NAME}", "- bar: {length: 100 mm, height: 9 mm, below: NAME}", "- plate: {name: NAME, shape: round, diameter: 9 mm}", "- plate: {name: NAME, shape: round, diameter: 8 mm}",
          "- words: {text: NAME, font: Bebas Neue, height: 50 mm}", "- hole: {diameter: 3 mm, on: NAME}"]


def wrong(names):
    """A recipe with every one of those places, each with the next name."""
    told = iter(names * len(QUOTED))
    lines = [re.sub("NAME", lambda _: quoted(next(told)), line) for line in QUOTED]
    head = [line for line in lines if not line.startswith("- ")]
    keys = {line.split(":")[0] for line in head}
    rest = ["holdfast: 1"] + ([] if "metal" in keys else ["metal: {kind: mild steel, thickness: 3 mm}"])
    seen, single = set(), []
    for line in head:  # a key twice would be the only mistake told
        if line.split(":")[0] not in seen:
            single.append(line)
        seen.add(line.split(":")[0])
    return "\n".join(rest + single + ["entries:"] + ["  " + line for line in lines if line.startswith("- ")]) + "\n"


def packed(names):
    """A sign whose findings name every one of them: rings that hold nothing, holes that are too small."""
    text = "holdfast: 1\nsign: " + quoted(names[0]) + "\nmetal: {kind: mild steel, thickness: 3 mm}\nprocess: {kerf: 1.5 mm}\nentries:\n"
    for i, name in enumerate(names):
        text += f"  - plate: {{name: {quoted(name)}, shape: round, diameter: 20 mm, at: [{60 * i} mm, 0 mm]}}\n  - hole: {{name: {quoted(name + ' hole')}, diameter: 1 mm, on: {quoted(name)}, at: centre}}\n"
    return text


PLAIN = [f"plain{i:02d}" for i in range(len(NASTY))]
CUT = 121  # HF_SEEN_QUOTED of src/base/seen.h, and one


def look_at_said(said, lines=None, data=False):
    assert not raw(said), said[:400]
    assert data or not re.search(r"A{%d}" % CUT, said), "a value is cut"
    assert not re.search(r"(?m)^\s*(harbour: whole|next|whole)\b", said), said[:400]
    assert lines is None or said.count("\n") == lines, (said.count("\n"), lines, said[:2000])


def by(n, things):
    return [things[i:i + n] for i in range(0, len(things), n)]


def test_every_refusal(tmp_path):
    """As many lines as with plain names, each with its place and its remedy."""
    for word, names in (("nasty", NASTY), ("plain", PLAIN)):
        for i, pack in enumerate(by(7, names)):
            (tmp_path / f"{word}{i}.yaml").write_text(wrong(pack))
    files = len(by(7, NASTY))
    for command in (["check"], ["make", "-o", "out"], ["cure"]):
        nasty = holdfast(*command, *[f"nasty{i}.yaml" for i in range(files)], cwd=tmp_path) if command != ["cure"] else holdfast("cure", "nasty0.yaml", cwd=tmp_path)
        assert nasty.returncode == 2
        look_at_said(nasty.stdout + nasty.stderr)
        for line in nasty.stderr.splitlines():
            assert re.match(r"(holdfast: )?nasty\d+\.yaml:\d+:\d+: .*; .*|holdfast: |\s+and \d+ more|.*more mistakes?", line), line


def test_every_finding_and_cure(tmp_path):
    """What is told of a sign has as many lines with nasty names as with plain ones."""
    packs = by(12, [name + f" {i}" for i, name in enumerate(NASTY)])  # told apart, where two look alike
    for i, pack in enumerate(packs):
        (tmp_path / f"nasty{i}.yaml").write_text(packed(pack))
        (tmp_path / f"plain{i}.yaml").write_text(packed(PLAIN[:len(pack)]))
    for command in (["check"], ["check", "--all"], ["check", "--json"]):
        done = {word: holdfast(*command, *[f"{word}{i}.yaml" for i in range(len(packs))], cwd=tmp_path) for word in ("nasty", "plain")}
        assert done["nasty"].returncode == done["plain"].returncode == 1, done["nasty"].stderr[:500]
        look_at_said(done["nasty"].stdout + done["nasty"].stderr, (done["plain"].stdout + done["plain"].stderr).count("\n"), data="--json" in command)
    for i in range(0, len(packs), 2):
        (tmp_path / f"cure{i}.yaml").write_text(packed(packs[i][:3]))
        done = holdfast("cure", f"cure{i}.yaml", cwd=tmp_path)
        assert done.returncode in (0, 1)
        look_at_said(done.stdout + done.stderr)


def said_to_words(names, tmp_path):
    """What the command line answers to a name where a name may stand; of each name one, of all names all of them."""
    ways = [["check"], [], ["make"], ["new"], ["fonts"], ["new", "name"], ["make", "--also"], ["make", "--pixels"], ["check", "--process"], ["cure", "--take"], ["page", "--no-browser"], ["recipe"], ["help"], ["--"]]
    for i, name in enumerate(names):
        if "\0" in name or name == "--help":
            continue
        way = ways[i % len(ways)]
        yield way, name, holdfast(*way, name, cwd=tmp_path)


@pytest.mark.parametrize("turn", [0, pytest.param(5, marks=pytest.mark.long), pytest.param(2, marks=pytest.mark.long), pytest.param(3, marks=pytest.mark.long), pytest.param(7, marks=pytest.mark.long)])
def test_every_word_of_the_command_line(tmp_path, turn):
    for way, name, done in said_to_words(NASTY[turn:] + NASTY[:turn], tmp_path):
        assert done.returncode in (0, 2, 3), (way, name, done.stderr)
        look_at_said(done.stdout + done.stderr)


@pytest.mark.parametrize("names", [NASTY[::3], pytest.param(NASTY, marks=pytest.mark.long)], ids=["a third", "all"])
def test_every_answer_of_the_page(tmp_path, names):
    """Each call that takes a name, with each of them: the answer is JSON, and nothing in its bytes is obeyed."""
    from urllib.parse import quote

    from serving import PLATE, Serving

    (tmp_path / "signs").mkdir()
    file = tmp_path / "signs" / "board.yaml"
    file.write_text(PLATE)
    with Serving(file, state=tmp_path / "state") as page:
        page.keep()
        page.listen()
        revision = page.state["revision"]
        for name in names:
            asked = [("text", {"text": recipe(name)}), ("edit", {"edits": [{"do": "set", "path": "sign", "value": name}]}), ("edit", {"edits": [{"do": "set", "path": name, "value": "x"}]}),
                     ("edit", {"edits": [{"do": name, "path": "sign"}]}), ("open", {"file": name + "/x"}), ("open", {"starter": name, "name": "x"}), ("take", {"cure": name}), ("make", {"folder": "/" + name})]
            for call, more in asked:
                status, _, answer = page.raw("POST", f"/api/{call}", json.dumps({"revision": revision, **more}))
                assert status in (200, 400, 404, 409), (call, name, answer)
                said = json.loads(answer)
                revision = said.get("revision", revision)
                assert not raw(answer.decode()), (call, name)
                if said.get("error"):
                    look_at_said(said["error"]["what"], 0)
            for path in ("fonts?find=", "font.svg?family=Inter&text=", "font.svg?text=x&family=", "output/", "starter/", "cure/", "font?name="):
                status, _, answer = page.raw("GET", f"/api/{path}{quote(name, safe='')}")
                assert status in (200, 400, 404, 405) and not raw(answer.decode()), (path, name, answer)
        assert all(not raw(json.dumps(data, ensure_ascii=True)) for _, data, _ in page.events)
    look_at_said(page.said, page.said.count("\n"))
    assert page.said.count("\n") < 6
