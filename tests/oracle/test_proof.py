# SPDX-License-Identifier: GPL-3.0-or-later
"""proof.png, proof.pdf and shop-sheet.pdf from outside: read by Pillow and by poppler's tools, measured, searched."""
import hashlib
import io
import os
import re
import subprocess

import numpy
import pytest
import yaml
from fontTools.ttLib import TTFont
from PIL import Image

from conftest import HOLDFAST, TOP, holdfast

SAMPLES = ["boat-yard", "bakery", "nothing", "awkward"]
TOOL = TOP / "build/tests/tools/proof_samples"


def write_samples(folder, **env):
    subprocess.run([TOOL, folder], check=True, capture_output=True, env={**os.environ, **env})
    return folder


@pytest.fixture(scope="module")
def samples(tmp_path_factory):
    return write_samples(tmp_path_factory.mktemp("samples"))


def pdf_text(path):
    """All words in reading order of each page, line breaks and hyphenless wraps taken out."""
    text = subprocess.run(["pdftotext", "-enc", "UTF-8", path, "-"], check=True, capture_output=True).stdout
    return " ".join(text.decode().split())


def pdf_lines(path):
    """As it stands on the page, line by line: a row's word and its value come together."""
    text = subprocess.run(["pdftotext", "-layout", "-enc", "UTF-8", path, "-"], check=True, capture_output=True).stdout
    return " ".join(text.decode().split())


def pdf_info(path):
    return subprocess.run(["pdfinfo", path], check=True, capture_output=True, text=True).stdout


def pdf_pixels(path, dpi):
    data = subprocess.run(["pdftoppm", "-r", str(dpi), "-f", "1", "-l", "1", "-png", path],
                          check=True, capture_output=True).stdout
    return numpy.asarray(Image.open(io.BytesIO(data)).convert("RGB")).astype(int)


def cautions(output):
    """Rows of docs/cautions.md, which test_cautions.c holds against the table in the source."""
    rows = [line.strip("| \n").split(" | ") for line in (TOP / "docs/cautions.md").read_text().splitlines()
            if line.startswith("| `")]
    found = {row[0].strip("`"): row[1] for row in rows if output in row[5].split(", ")}
    assert found
    return found


# ---------------------------------------------------------------- picture


@pytest.mark.parametrize("name", SAMPLES)
def test_picture_size(samples, name):
    with Image.open(samples / name / "proof.png") as picture:
        assert max(picture.size) == 1600 and min(picture.size) > 400
    with Image.open(samples / name / "small.png") as picture:
        assert max(picture.size) == 200


def test_picture_carries_cautions(samples):
    with Image.open(samples / "boat-yard" / "proof.png") as picture:
        picture.load()
        warning = picture.text["Warning"]
        assert picture.text["Title"] == "Boat yard"
    assert "kerf" not in warning and "pierce" not in warning
    for text in cautions("proof").values():
        assert text in warning


def steel_share(pixels, box_mm, area_mm2):
    """Dark pixels: their own box against the sign's, their number against its area, in mm2."""
    dark = pixels.sum(axis=2) < 3 * 90  # the plate is mild steel
    columns = numpy.flatnonzero(dark.sum(axis=0) > 200)  # not the figures beside it
    scale = box_mm / (columns[-1] - columns[0] + 1)
    return dark.sum() * scale * scale / area_mm2


def test_picture_shows_the_metal(samples):
    """The bakery plate is 420 mm wide. Marks and figures cover a little of it."""
    import json
    report = json.loads((samples / "bakery" / "report.json").read_text())
    with Image.open(samples / "bakery" / "proof.png") as picture:
        pixels = numpy.asarray(picture.convert("RGB")).astype(int)
    wall = pixels[160:1090]
    assert steel_share(wall, 420, report["figures"]["area"]) == pytest.approx(1, abs=0.02)


# ---------------------------------------------------------------- papers

PAPERS = [("proof.pdf", (595.276, 841.89)), ("letter.pdf", (612, 792)),
          ("shop-sheet.pdf", (595.276, 841.89)), ("shop-letter.pdf", (612, 792))]


@pytest.mark.parametrize("name", SAMPLES)
@pytest.mark.parametrize("file,size", PAPERS)
def test_paper_size(samples, name, file, size):
    """ISO 216 A4 210 x 297 mm, US Letter 8.5 x 11 in, either way up."""
    found = re.search(r"Page size:\s+([\d.]+) x ([\d.]+)", pdf_info(samples / name / file))
    assert sorted(map(float, found.groups())) == pytest.approx(sorted(size), abs=0.05)


def steel_box(pixels):
    steel = (abs(pixels - [0x3b, 0x3f, 0x44]).max(axis=2) <= 6)
    columns, rows = numpy.flatnonzero(steel.any(axis=0)), numpy.flatnonzero(steel.any(axis=1))
    return columns[-1] - columns[0] + 1, rows[-1] - rows[0] + 1


@pytest.mark.parametrize("name,width,height", [("boat-yard", None, None)])
@pytest.mark.parametrize("file", ["shop-sheet.pdf", "shop-letter.pdf"])
def test_sheet_scale(samples, name, width, height, file):
    """Printed and measured with a ruler: at 200 dpi the steel is as large as the scale says."""
    import json
    figures = json.loads((samples / name / "report.json").read_text())["figures"]
    width, height = width or figures["box"]["width"], height or figures["box"]["height"]
    per = float(re.search(r"scale 1 : ([\d.]+)", pdf_text(samples / name / file)).group(1))
    dpi = 200
    pixels = pdf_pixels(samples / name / file, dpi)
    mm = 25.4 / dpi * per
    bar = subprocess.run(["pdftotext", "-bbox", samples / name / file, "-"], check=True, capture_output=True, text=True).stdout
    end = float(re.search(r'yMin="([\d.]+)"[^>]*>scale<', bar).group(1))  # close-ups of findings are below it
    wide, high = steel_box(pixels[: int(end / 72 * dpi)])
    assert wide * mm == pytest.approx(width, abs=2.5 * mm)
    assert high * mm == pytest.approx(height, abs=2.5 * mm)
    # a scale that is one step larger would not have fitted: the drawing fills the page one way
    page = pixels.shape[1] * mm, pixels.shape[0] * mm
    assert width > 0.3 * page[0] or height > 0.3 * page[1]


def test_proof_says(samples):
    text = pdf_text(samples / "boat-yard" / "proof.pdf")
    for words in ["Boat yard", "the harbour office", "SQ-17", "12 December", "2 pieces",
                  "Saltmarsh Boats", "14 characters, Lobster Two", "3 mm mild steel", "1200",
                  "2 holes of 16 mm; weight 52 % and 48 %", "1.98 kg each, 3.96 kg all 2", "agreed as drawn", "signed", "date",
                  "which rusts outdoors", "2 signs as drawn", "Not delivered unless the order says so",
                  "accepted: hung on a rail that is out of level itself"]:
        assert words in text, words
    for caution in cautions("proof").values():
        assert caution in text, caution


@pytest.mark.parametrize("name", SAMPLES)
def test_proof_says_nothing_of_the_bench(samples, name):
    text = pdf_text(samples / name / "proof.pdf").lower()
    for word in ["kerf", "pierce", "cut length", "limit", "thin-web"]:
        assert word not in text, word


def test_sheet_says(samples):
    text = pdf_text(samples / "boat-yard" / "shop-sheet.pdf")
    for words in ["Boat yard, shop sheet", "whole", "the harbour office", "SQ-17", "cut length", "pierces", "kerf", "1.98 kg each, 3.96 kg all 2",
                  "no kerf allowance", "common practice", "thin-web", "Lobster Two",
                  "accepted: hung on a rail that is out of level itself"]:
        assert words in text, words
    assert "agreed as drawn" not in text
    zinc = {"fumes-zinc", "fumes-chromium", "fumes-ozone", "water-table"}  # of other metals
    for key, caution in cautions("shop sheet").items():
        assert (caution in text) == (key not in zinc), caution


def test_a_sign_that_is_not_whole_is_not_for_signing(samples):
    text = pdf_text(samples / "bakery" / "proof.pdf")
    assert "must not be cut as drawn" in text and "Not for signing" in text
    assert "agreed as drawn" not in text and "signed" not in text
    assert "the web is 1.2 mm" in text
    sheet = pdf_text(samples / "bakery" / "shop-sheet.pdf")
    assert "not whole" in sheet and "the web is 1.2 mm, needs 3 mm" in sheet and "across" in sheet


def test_long_list_runs_on(samples):
    path = samples / "awkward" / "shop-sheet.pdf"
    text = pdf_text(path)
    pages = int(re.search(r"Pages:\s+(\d+)", pdf_info(path)).group(1))
    assert pages > 1
    for i in range(45):
        assert f"place {i}: the gap is narrow" in text
    for page in range(1, pages + 1):
        assert f"page {page} of {pages}" in text


def test_words_of_every_script(samples):
    for paper in ("proof.pdf", "shop-sheet.pdf"):
        text = pdf_text(samples / "awkward" / paper)
        assert "Långviks Båtar, Été & ÑuŠ" in text and "21 characters" in text
        assert "4 characters, DejaVu Sans" in text  # four Arabic letters, as joined as they may be
        if subprocess.run(["fc-list", ":lang=ja"], capture_output=True, text=True).stdout:
            assert "港町" in text


@pytest.mark.parametrize("name", SAMPLES)
def test_same_bytes(samples, tmp_path, name):
    """No clock, no locale, no time zone, no random name of a font."""
    again = write_samples(tmp_path, TZ="Asia/Tokyo", LC_ALL="de_DE.UTF-8", LANGUAGE="ja")
    for file in ("proof.png", "proof.pdf", "letter.pdf", "shop-sheet.pdf", "report.json"):
        assert (samples / name / file).read_bytes() == (again / name / file).read_bytes(), file
    assert "CreationDate" not in pdf_info(samples / name / "proof.pdf")


def said(mm, inches):
    """A length as the papers say it, in mm; of inches only the whole ones are looked for."""
    return str(int(mm / 25.4 + 1 / 32)) if inches else f"{round(mm, 1):g}"


def check_figures(folder, text):
    """What the papers print is what the report has."""
    import json
    report = json.loads((folder / "report.json").read_text())
    sheet, text = pdf_lines(folder / "shop-sheet.pdf"), text + pdf_lines(folder / "proof.pdf")
    figures, inches = report["figures"], report["units"]["told"] != "mm"
    for paper in (text, sheet):
        for side in ("width", "height"):
            assert said(figures["box"][side], inches) in paper, side
    digest = report["proof"]["digest"]
    assert "-".join(digest[i:i + 4] for i in (0, 4, 8, 12)) in text and digest in text
    assert f"pierces {figures['pierces']}" in sheet and f"parts {figures['parts']}" in sheet
    if not inches:
        assert f"cut length {figures['cut_length'] / 1000:.2f}".rstrip("0").rstrip(".") in sheet
        grams = figures["mass"] * 1000
        assert (f"{grams:.0f} g" if grams < 999.5 else f"{grams / 1000:.2f}".rstrip("0").rstrip(".") + " kg") in text
        for hole in [it for it in report["hanging"]["points"] if it["kind"] == "hole"][:40]:
            x = hole["place"]["x"] - figures["box"]["x"]
            assert f"{said(x, False)} mm from the left" in sheet, hole
    for word in ("kerf", "pierce", "cut length"):
        assert word not in text, word


EXAMPLES = sorted((TOP / "examples").glob("*.yaml"))


def words_of(recipe):
    """Every line of words and every initial of a recipe, read by PyYAML."""
    for entry in yaml.safe_load(recipe.read_text())["entries"]:
        for kind, fields in entry.items():
            if kind in ("words", "initial"):
                text = fields["text"]
                yield from [text] if isinstance(text, str) else text


@pytest.mark.skipif(not HOLDFAST.exists(), reason="the command is not built")
@pytest.mark.parametrize("example", EXAMPLES, ids=[path.stem for path in EXAMPLES])
def test_example(tmp_path, example):
    """The words to be checked by the customer are those of the recipe; the verdict is on both."""
    done = holdfast("make", example, "-o", tmp_path)
    assert done.returncode in (0, 1), done.stderr
    text = pdf_text(tmp_path / example.stem / "proof.pdf")
    pages = int(re.search(r"Pages:\s+(\d+)", pdf_info(tmp_path / example.stem / "proof.pdf")).group(1))
    assert pages == 1
    check_figures(tmp_path / example.stem, text)
    for line in words_of(example):
        if line.isascii():  # poppler gives other scripts back in its own order
            assert " ".join(line.split()) in text, line
    assert ("agreed as drawn" in text) == (done.returncode == 0)
    with Image.open(tmp_path / example.stem / "proof.png") as picture:
        assert max(picture.size) == 1600


# ---------------------------------------------------------------- fonts


def embedded(path):
    table = subprocess.run(["pdffonts", path], check=True, capture_output=True, text=True).stdout
    return [line.split()[0] for line in table.splitlines()[2:]]


def only_font(folder, fs_type):
    """A fontconfig world of one font, whose licence bits are as given."""
    source = subprocess.run(["fc-match", "-f", "%{file}", "DejaVu Sans"], capture_output=True, text=True).stdout
    font = TTFont(source)
    font["OS/2"].fsType = fs_type
    (folder / "fonts").mkdir()
    font.save(folder / "fonts" / "only.ttf")
    conf = folder / "fonts.conf"
    conf.write_text(f'<?xml version="1.0"?><fontconfig><dir>{folder}/fonts</dir>'
                    f"<cachedir>{folder}/cache</cachedir></fontconfig>")
    return str(conf)


@pytest.mark.parametrize("fs_type,may", [(0, True), (4, True), (8, True), (2, False), (0x100, False), (0x200, False)])
def test_embedding(tmp_path, fs_type, may):
    """OpenType OS/2 fsType (from memory): 0 installable, 4 preview and print, 8 editable, 2 restricted,
    0x100 no subsetting, 0x200 bitmaps only. A font that may not be embedded is drawn as outlines: as
    much ink, no font in the file."""
    write_samples(tmp_path, FONTCONFIG_FILE=only_font(tmp_path, fs_type))
    path = tmp_path / "bakery" / "proof.pdf"
    assert bool(embedded(path)) == may
    assert ("please check every letter" in pdf_text(path)) == may
    ink = (pdf_pixels(path, 60).sum(axis=2) < 600).mean()
    assert ink > 0.1


def test_text_is_text(samples):
    assert any("Vollkorn" in name or "Serif" in name for name in embedded(samples / "boat-yard" / "proof.pdf"))


# ---------------------------------------------------------------- README

README_WORDS = {
    "no-certification": ["strength, wind or\nfixings", "no structural or legal certification"],
    "local-codes": ["local codes and licensed practice come first"],
    "edges": ["sharp", "deburr"], "hung-sign": ["metal anchors", "1/5"], "permit": ["ask your building department"],
    "eyes": ["shade"], "fire": ["fire watch"], "fumes": ["extracted"], "fumes-zinc": ["Zinc"],
    "fumes-chromium": ["stainless"], "fumes-ozone": ["ozone"], "noise": ["noise"], "shock": ["shock"],
    "water-table": ["water table", "hydrogen"], "hot-parts": ["hot"],
}


def test_readme_carries_its_cautions():
    readme = (TOP / "README.md").read_text()
    section = readme[readme.index("## Cautions"):readme.index("## Where things are")]
    assert set(README_WORDS) == set(cautions("README"))
    for words in README_WORDS.values():
        for word in words:
            assert word in section, word


# ---------------------------------------------------------------- colours


def luminance(rgb):
    """Relative luminance, WCAG 2.1 (from memory)."""
    parts = [(rgb >> shift & 0xff) / 255 for shift in (16, 8, 0)]
    linear = [v / 12.92 if v <= 0.04045 else ((v + 0.055) / 1.055) ** 2.4 for v in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(a, b):
    high, low = sorted((luminance(a), luminance(b)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def test_contrast():
    """4.5 : 1 for text (WCAG 2.1, 1.4.3, from memory), on every ground that it stands on."""
    header = (TOP / "src/out/pen-private.h").read_text()
    tone = {name: int(value, 16) for name, value in re.findall(r"HF_(\w+) = 0x([0-9a-f]{6})", header)}
    for text, ground in [("INK", "PAPER_TONE"), ("SOFT_INK", "PAPER_TONE"), ("INK", "WALL"),
                         ("CARD_TONE", "HOT"), ("HOT", "CARD_TONE"), ("HOT", "PAPER_TONE")]:
        assert contrast(tone[text], tone[ground]) > 4.5, (text, ground)
    assert contrast(0x000000, 0xffffff) == pytest.approx(21)


def test_same_bytes_whichever_thread_is_first(tmp_path):
    """Picture and paper are made side by side: no line of one breaks elsewhere for it (it did, once in ten runs)."""
    text = """holdfast: 1
metal: {kind: mild steel, thickness: 1.5 mm}
process: {kerf: 1.8 mm}
entries:
  - words: {text: "ميناء", font: Amiri, height: 56.7 mm, spacing: 0 mm}
"""
    (tmp_path / "sign.yaml").write_text(text)
    seen = set()
    for i in range(16):
        done = holdfast("make", "-q", "sign.yaml", "-o", str(i), cwd=tmp_path)
        assert done.returncode in (0, 1), done.stderr
        folder = tmp_path / str(i) / "sign"
        seen.add(tuple(hashlib.sha256((folder / name).read_bytes()).hexdigest() for name in ("proof.pdf", "proof.png")))
    assert len(seen) == 1


# ---------------------------------------------------------------- the shop


MARK = (0xd0, 0x20, 0x90)  # of no metal, wall or ink


def mark_boxes(pdf, tmp_path):
    """Of each page, in points: where the mark's colour is, by poppler's pixels."""
    dpi = 144
    subprocess.run(["pdftoppm", "-r", str(dpi), "-png", pdf, tmp_path / "page"], check=True)
    boxes = []
    for file in sorted(tmp_path.glob("page*.png")):
        pixels = numpy.asarray(Image.open(file).convert("RGB")).astype(int)
        there = (abs(pixels - MARK).max(axis=2) <= 8)
        file.unlink()
        if there.any():
            x, y = numpy.flatnonzero(there.any(axis=0)), numpy.flatnonzero(there.any(axis=1))
            boxes.append((x[0] * 72 / dpi, y[0] * 72 / dpi, (x[-1] + 1 - x[0]) * 72 / dpi, (y[-1] + 1 - y[0]) * 72 / dpi))
    return boxes


@pytest.mark.parametrize("size", [(60, 60), (300, 100), (40, 160)])
def test_mark_of_the_shop(tmp_path, size):
    """It stands on the proof once, at the head of the page, in its own proportion; name and address beside it, not over it."""
    Image.new("RGB", size, MARK).save(tmp_path / "mark.png")
    (tmp_path / "shop.yaml").write_text("holdfast: 1\nkerf: 1.5 mm\nname: Quay Ironworks\naddress: [2 Ropewalk, Saltmarsh Quay]\nmark: mark.png\n")
    (tmp_path / "sign.yaml").write_text("holdfast: 1\nsign: Plate\nmetal: {kind: mild steel, thickness: 3 mm}\nentries:\n"
                                        "  - plate: {shape: rectangle, width: 200 mm, height: 90 mm}\n")
    done = holdfast("make", "sign.yaml", "-o", "out", cwd=tmp_path)
    assert done.returncode == 0, done.stderr
    proof = tmp_path / "out/sign/proof.pdf"
    (box,) = mark_boxes(proof, tmp_path)
    assert box[2] / box[3] == pytest.approx(size[0] / size[1], rel=0.06)
    assert box[0] < 60 and box[1] < 60 and max(box[2:]) > 40
    words = subprocess.run(["pdftotext", "-bbox", proof, "-"], check=True, capture_output=True, text=True).stdout
    left, bottom = re.search(r'xMin="([\d.]+)" yMin="([\d.]+)"[^>]*>Quay<', words).groups()
    assert float(left) >= box[0] + box[2] and float(bottom) < box[1] + box[3] + 5


@pytest.mark.parametrize("bad", [b"", b"not a picture", b"\x89PNG\r\n\x1a\n" + 40 * b"\0"])
def test_a_mark_that_is_none_is_refused(tmp_path, bad):
    (tmp_path / "mark.png").write_bytes(bad)
    (tmp_path / "shop.yaml").write_text("holdfast: 1\nkerf: 1.5 mm\nmark: mark.png\n")
    (tmp_path / "sign.yaml").write_text("holdfast: 1\nmetal: {kind: mild steel, thickness: 3 mm}\nentries:\n"
                                        "  - plate: {shape: rectangle, width: 200 mm, height: 90 mm}\n")
    done = holdfast("check", "sign.yaml", cwd=tmp_path)
    assert done.returncode == 2 and "mark.png" in done.stderr and "PNG" in done.stderr, done.stderr
