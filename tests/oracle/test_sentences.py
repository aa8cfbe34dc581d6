# SPDX-License-Identifier: GPL-3.0-or-later
"""What is said when something can't be done: each recipe or command line with the sentence, and what the sentence is for.

Not the program's own words are the yardstick here but whether the sentence helps: who follows it gets on. So the
remedies are followed too, where they can be (test_what_is_said_to_fit_fits, test_the_remedy_works).
"""
import ctypes
import ctypes.util
import glob
import os
import re
import shutil
import subprocess

import pytest

from conftest import HOLDFAST, TOP, holdfast

HEAD = "holdfast: 1\nmetal: {kind: mild steel, thickness: 3 mm}\nprocess: {kerf: 1.5 mm}\n"
PLATE = "entries:\n  - plate: {name: p, shape: round, diameter: 60 mm}\n"
RINGS = "entries:\n  - ring: {name: o, outer: 300 mm, width: 10 mm}\n  - ring: {name: i, outer: 200 mm, width: 10 mm}\n"


def said(tmp_path, text, words=("check",), name="sign.yaml"):
    (tmp_path / name).write_text(text) if isinstance(text, str) else (tmp_path / name).write_bytes(text)
    done = holdfast(*words, name, cwd=tmp_path)
    return done.returncode, done.stderr.removeprefix("holdfast: ").strip()


# what it should help to do; the entries or lines behind the head; what is said (all of these), what is not said
RECIPES = [
    ("to see that no shorter text helps, but what stands beside the words",
     RINGS + '  - words: {text: SALTMARSH QUAY, font: Bebas Neue, height: 40 mm, band: [o, i]}\n  - dot: {diameter: 250 mm, band: [o, i], at: ["1 o\'clock", "11 o\'clock"]}\n',
     ["there is no room at all for", "move or shrink what stands beside it"], ["-", "% narrower"]),
    ("to see how long the words are, how much room there is, and which letters fit",
     RINGS + "  - words: {text: SALTMARSH QUAY, font: Bebas Neue, height: 80 mm, band: [o, i]}\n  - dot: {diameter: 30 mm, band: [o, i], at: [left, right]}\n",
     ["are 490.1 mm long on the circle, and there is room for 231.3 mm", "take 45 mm letters, which fit"], []),
    ("to write the length right at once, not in two refusals",
     "entries:\n  - plate: {shape: rectangle, width: -100, height: 60 mm}\n", ["width is -100, which is below 0 and has no unit; write 100 mm, or 100 in"], ["-100 mm"]),
    ("to take the minus out", "entries:\n  - plate: {shape: rectangle, width: -100 mm, height: 60 mm}\n", ["which is below 0; write it without the minus: 100 mm"], ["too small"]),
    ("to see the one letter that nobody can see",
     "entries:\n  - plate: {shape: re\u0441tangle, width: 100 mm, height: 60 mm}\n", ["its 3rd character '\u0441' (U+0441) is Cyrillic and only looks like c; write \"rectangle\""], []),
    ("the same in the word of an entry", "entries:\n  - \u0440late: {shape: round, diameter: 100 mm}\n", ["(U+0440) is Cyrillic and only looks like p; write \"plate\""], []),
    ("the same in digits", "entries:\n  - plate: {shape: round, diameter: \uff11\uff10\uff10 mm}\n", ["(U+FF11) is full-width and only looks like 1"], []),
    ("the same in a name", "entries:\n  - plate: {name: \u0430, shape: round, diameter: 100 mm}\n  - hole: {diameter: 9 mm, on: a, at: centre}\n",
     ["no entry is called \"a\": the \"\u0430\" of line 5 only looks like it", "(U+0430) is Cyrillic"], []),
    ("the same in a font", "entries:\n  - words: {text: S, font: \u0412ebas Neue, height: 50 mm}\n", ["(U+0412) is Cyrillic and only looks like B", "\"Bebas Neue\""], []),
    ("the same in a letter that the face lacks", "entries:\n  - words: {text: \u041eAR, font: Lobster Two, height: 50 mm}\n", ["which is Cyrillic and only looks like O"], []),
    ("a letter typed for a digit", "entries:\n  - plate: {shape: round, diameter: 3O mm}\n", ["\"3O mm\" has a letter where a digit belongs; write 30 mm"], ["unit"]),
    ("to give two entries names that can be told apart", "entries:\n  - plate: {name: a, shape: round, diameter: 100 mm}\n  - plate: {name: \u0430, shape: round, diameter: 100 mm}\n",
     ["two entries have names that look the same", "the other is in line 5"], []),
    ("to find the value, not to read it", "entries:\n  - plate: {shape: round, diameter: " + "0" * 30 + "." + "9" * 5000 + " mm}\n", ["is not a length"], ["9" * 130]),
    ("the same of a figure out of range", "entries:\n  - plate: {shape: round, diameter: 0." + "0" * 36 + "1 mm" + " " * 3000 + "}\n", ["too small"], [" " * 50]),
    ("to see that a date stands where a length belongs", "entries:\n  - plate: {shape: round, diameter: 2026-03-14}\n", ["\"2026-03-14\" is a date, a length is wanted"], ["unit"]),
    ("to see that no unit was meant", "entries:\n  - plate: {shape: round, diameter: 3..4 mm}\n", ["\"3..4 mm\" is not a length"], ["unit \""]),
    ("to choose a font when no name is near", "entries:\n  - words: {text: S, font: Zzyzx Qwrt, height: 50 mm}\n", ["no installed font has a name like it; holdfast fonts lists all"], ["nearest"]),
    ("to hear of scripts when a script is not there", "entries:\n  - words: {text: S, font: Brush Script MT, height: 50 mm}\n", ["installed scripts: ", "\"Lobster Two\""], ["Bebas"]),
    ("to hear of faces of the same kind", "entries:\n  - words: {text: S, font: Oswald, height: 50 mm}\n", ["installed condensed faces: \"Bebas Neue\""], ["Lobster"]),
    ("and of the one that was meant, where it is a slip", "entries:\n  - words: {text: S, font: Bebas Nue, height: 50 mm}\n", ["the nearest installed: \"Bebas Neue\""], []),
    ("to know what a limit of 0 does", "limits: {thin-web: 0 mm}\n" + PLATE, ["with a limit of 0 or less \"thin-web\" would let everything pass; give the figure that your process holds, or take the line out"], ["speak"]),
    ("not to be sent on to what is refused next", "limits: {thin-web: 0}\n" + PLATE, ["with a limit of 0 or less \"thin-web\" would let everything pass"], ["0 mm", "unit"]),
    ("to see that a polygon has whole sides", "entries:\n  - plate: {shape: polygon, sides: 2.5, diameter: 60 mm}\n", ["sides is 2.5, which is not a whole number; write a whole number from 3 to 100"], ["small"]),
    ("to write the share that was meant", "entries:\n  - star: {diameter: 60 mm, points: 5, depth: 45}\n", ["write 45 % if that is meant"], []),
    ("to say length or share", "entries:\n  - words: {text: SO, font: Bebas Neue, height: 50 mm, spacing: 5}\n", ["5 mm", "5 %"], []),
    ("to know that the list goes on", "entries:\n" + "".join(f"  - dot: {{name: k{i}, diameter: 9 mm}}\n" for i in range(30)) + "  - dot: {diameter: 9 mm, on: zzzzzz}\n",
     ["k0, k1, ", " (and 19 more)"], []),
    ("the same of styles", "entries:\n  - words: {text: S, font: {family: Inter, style: Zigzag}, height: 50 mm}\n", ["\" (and 6 more)"], []),
    ("to see what stands there and what belongs there", "entries: hello\n", ["\"entries\" wants a list, not just \"hello\"; write it like this: entries: ["], ["can't be"]),
    ("the same of a table", "entries:\n  - words: {text: S, font: Bebas Neue, height: {a: 1}}\n", ["\"height\" wants one value, not a table of keys"], ["can't be"]),
    ("to get at an installed font by its name", "entries:\n  - words: {text: S, font: {file: /usr/share/fonts/x.ttf}, height: 50 mm}\n", ["name an installed font by its family"], []),
    ("not to be told 'a ties'", "entries:\n  - ties: {name: t}\n  - words: {text: S, font: Bebas Neue, height: 50 mm, stand on: t}\n", ["\"t\" is ties, and \"stand on\" is no place for it; name a plate or a bar"], ["a ties"]),
    ("nor 'a holes', nor 'a ear'", "entries:\n  - ear: {name: e, hole: 8 mm, on: e2, at: top}\n  - plate: {name: e2, shape: round, diameter: 99 mm}\n  - words: {text: S, font: Bebas Neue, height: 50 mm, stand on: e}\n",
     ["\"e\" is an ear"], ["a ear"]),
    ("to see that a name is empty", "entries:\n  - plate: {name: \"\\u200b\\u2060\", shape: round, diameter: 60 mm}\n", ["name has nothing that can be seen"], []),
    ("the same of spaces", "entries:\n  - plate: {name: \"\\u00a0 \", shape: round, diameter: 60 mm}\n", ["name has nothing that can be seen"], []),
    ("the same of a text", "entries:\n  - words: {text: \"\\u200b\", font: Bebas Neue, height: 60 mm}\n", ["text has nothing that can be seen"], []),
    ("the same of the sign", "sign: \"\\u3164\"\n" + PLATE, ["sign has nothing that can be seen"], []),
]


@pytest.mark.parametrize("row", RECIPES, ids=[row[0] for row in RECIPES])
def test_recipes(tmp_path, row):
    _, text, wanted, unwanted = row
    code, words = said(tmp_path, HEAD + text)
    assert code == 2, words
    place, sentence = words.split(": ", 1)
    assert re.match(r"sign\.yaml:\d+:\d+$", place), words
    assert ";" in sentence, "a remedy"
    for piece in wanted:
        assert piece in sentence, words
    for piece in unwanted:
        assert piece not in sentence, words


# the first bytes, by each format's own specification
FILES = [("a PNG picture", b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR"), ("a JPEG picture", b"\xff\xd8\xff\xe0\0\x10JFIF"), ("a zip archive", b"PK\x03\x04\x14\0"), ("a PDF", b"%PDF-1.7\n%\xe2\xe3"),
         ("an SVG drawing", b'<svg xmlns="http://www.w3.org/2000/svg"/>'), ("an XML document", b'<?xml version="1.0"?>\n<svg/>'), ("a web page", b"<!DOCTYPE html>\n<html>"),
         ("a DXF drawing", b"  0\r\nSECTION\r\n  2\r\nHEADER\r\n"), ("a font", b"\0\x01\0\0\0\x0f"), ("a text in UTF-16", "holdfast: 1".encode("utf-16")), ("formatting", b"{\\rtf1 hello}"),
         ("this is not a recipe", b"Dear Sir,\nplease make: a sign: for us\n"), ("this is not a recipe", b"SALTMARSH BOATS\n"), ("this is not a recipe", b"a\tb\n- {[\n"), ("nothing in this file", b""),
         ("nothing in this file", b"\n# nothing\n")]


@pytest.mark.parametrize("what, content", FILES)
def test_a_file_that_is_no_recipe(tmp_path, what, content):
    code, words = said(tmp_path, content)
    assert code == 2 and what in words and "holdfast new writes" in words, words
    assert len(words) < 200


def as_nobody(*words, cwd):
    if os.getuid() != 0 or shutil.which("setpriv") is None:
        pytest.skip("only root can become somebody else")
    return subprocess.run(["setpriv", "--reuid=65534", "--regid=65534", "--clear-groups", str(HOLDFAST), *words], cwd=cwd, capture_output=True, text=True)


def test_files_that_can_not_be_read(tmp_path):
    (tmp_path / "boats.yaml").write_text(HEAD + PLATE)
    (tmp_path / "folder").mkdir()
    (tmp_path / "folder" / "quay.yaml").write_text(HEAD + PLATE)
    (tmp_path / "empty").mkdir()
    (tmp_path / "link.yaml").symlink_to("gone.yaml")
    (tmp_path / "large.yaml").write_text("# " + "a" * 2_000_000)
    rows = [("boast.yaml", 2, "there is no such file; did you mean \"boats.yaml\"?"), ("boats.yml", 2, "did you mean \"boats.yaml\"?"), ("boats", 2, "did you mean \"boats.yaml\"?"),
            ("folder/quai.yaml", 2, "did you mean \"folder/quay.yaml\"?"), ("zzzz", 2, "there is no such file; look at the path"), ("nowhere/boats.yaml", 2, "there is no folder \"nowhere\" either"),
            ("boats.yaml/x", 2, "there is no such file"), ("link.yaml", 2, "this is a link to \"gone.yaml\", which is not there"), ("folder", 3, "this is a folder; name a file in it, such as quay.yaml"),
            ("empty", 3, "this is a folder; name a file"), ("large.yaml", 2, "the file has 2 MB, and at most 1 MB are read"), ("/dev/zero", 3, "not a plain file"), ("x" * 300, 3, "give the file a shorter name")]
    for name, code, sentence in rows:
        done = holdfast("check", name, cwd=tmp_path)
        assert done.returncode == code and sentence in done.stderr, (name, done.returncode, done.stderr)
        assert "No such file or directory" not in done.stderr


def test_a_file_that_one_may_not_read(tmp_path):
    (tmp_path / "boats.yaml").write_text(HEAD + PLATE)
    (tmp_path / "boats.yaml").chmod(0)
    for folder in [tmp_path, *tmp_path.parents][:4]:
        folder.chmod(folder.stat().st_mode | 0o055)
    done = as_nobody("check", "boats.yaml", cwd=tmp_path)
    assert done.returncode == 3 and "you may not read this file; ask root, whose file it is, to let you read it" in done.stderr, done.stderr


def test_folders_that_are_not_to_be_written_in(tmp_path):
    (tmp_path / "boats.yaml").write_text(HEAD + PLATE)
    for words, sentence in [(["make", "-q", "boats.yaml", "-o", "/proc/out"], "\"/proc\" is the system's own: choose a folder of yours"),
                            (["make", "-q", "boats.yaml", "-o", "/sys/out"], "\"/sys\" is the system's own"),
                            (["new", "name", "/proc/x.yaml"], "\"/proc\" is the system's own"),
                            (["new", "name", "nowhere/x.yaml"], "the folder is not there: make it first, or choose another")]:
        done = holdfast(*words, cwd=tmp_path)
        assert done.returncode == 3 and sentence in done.stderr and "the old file" not in done.stderr, done.stderr


# ---- followed ----------------------------------------------------------------------------------


def test_what_is_said_to_fit_fits(tmp_path):
    """The letter height that a refusal names is laid out, and one clearly larger is not."""
    for entry in ("band: [o, i]}\n  - dot: {diameter: 30 mm, band: [o, i], at: [left, right]}\n", "arc radius: 60 mm}\n", "arc radius: 60 mm, spacing: 2 mm}\n"):
        line = "  - words: {text: SALTMARSH QUAY, font: Bebas Neue, height: %d mm, " + entry
        code, words = said(tmp_path, HEAD + RINGS + line % 80)
        assert code == 2, words
        fits = int(re.search(r"take (\d+) mm letters", words)[1])
        assert said(tmp_path, HEAD + RINGS + line % fits)[0] in (0, 1)
        assert said(tmp_path, HEAD + RINGS + line % (fits + 3))[0] == 2


def test_the_remedy_works(tmp_path):
    for wrong, right in [("diameter: -60", "diameter: 60 mm"), ("diameter: -60 mm", "diameter: 60 mm"), ("diameter: 6O mm", "diameter: 60 mm")]:
        code, words = said(tmp_path, HEAD + PLATE.replace("diameter: 60 mm", wrong))
        assert code == 2 and right.split(": ")[1] in words
        assert said(tmp_path, HEAD + PLATE.replace("diameter: 60 mm", right))[0] == 0


# ---- letters that look alike -------------------------------------------------------------------


def skeleton_of_icu():
    """uspoof_getSkeleton() of ICU: Unicode Technical Standard 39, prototypes of confusables.txt."""
    found = sorted(glob.glob("/usr/lib/*/libicui18n.so.*") + glob.glob("/usr/lib/libicui18n.so.*"))
    version = next((m[1] for name in found if (m := re.search(r"\.so\.(\d+)$", name))), None)
    if version is None:
        pytest.skip("no ICU is here")
    icu = ctypes.CDLL(next(name for name in found if name.endswith(version)))
    status = ctypes.c_int(0)
    opened = getattr(icu, f"uspoof_open_{version}")
    opened.restype = ctypes.c_void_p
    checker = ctypes.c_void_p(opened(ctypes.byref(status)))
    assert status.value <= 0
    get = getattr(icu, f"uspoof_getSkeletonUTF8_{version}")

    def skeleton(text):
        given, out = text.encode(), ctypes.create_string_buffer(400)
        n = get(checker, 0, given, len(given), out, 400, ctypes.byref(status))
        return out.raw[:n].decode()
    return skeleton


def test_the_table_of_letters_is_that_of_unicode():
    skeleton = skeleton_of_icu()
    source = (TOP / "src/base/alike.c").read_text()
    table = {chr(int(code, 16)): plain for code, plain in re.findall(r"\{0x([0-9a-f]{4}), '(.)'\}", source)}
    assert len(table) > 80
    wrong = {c: plain for c, plain in table.items() if skeleton(c) != skeleton(plain)}
    assert not wrong
    ours = {skeleton(chr(c)) for c in range(0x30, 0x7b) if chr(c).isalnum()}
    lacking = [hex(c) for low, high in [(0x370, 0x400), (0x400, 0x530), (0x530, 0x590)] for c in range(low, high)
               if chr(c).isalpha() and chr(c) not in table and skeleton(chr(c)) in ours and c != 0x37a]
    assert not lacking
