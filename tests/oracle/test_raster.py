# SPDX-License-Identifier: GPL-3.0-or-later
"""Pictures traced back, from outside: letters by fontTools and silhouettes from formulas are rendered by librsvg and
saved by Pillow at four sizes, smooth, in black and white, spoilt by JPEG, turned; what is traced is measured against
the true outline in shapely. Turns and kinds of dots are compared with Pillow's reading of the same file; the
threshold with Otsu's criterion (IEEE Trans. SMC 9 (1979) 62-66) worked out anew; bombs are refused by their heads."""
import io
import json
import math
import pathlib
import random
import struct
import subprocess
import zlib

import numpy as np
import pytest
from fontTools.pens.basePen import BasePen
from fontTools.ttLib import TTFont
from PIL import Image, ImageDraw, ImageOps
from shapely import affinity
from shapely.geometry import Polygon

from measured import measured

HERE = pathlib.Path(__file__).parent
DUMP = HERE.parents[1] / "build" / "tests" / "tools" / "raster_dump"
HIGH = (40, 80, 160, 320)  # dots
MOST = 0.6  # of a dot
LETTERS = "ABDGHKMOPQRSWaegkoqsbd&48"
STEP = 0.25  # dots between the places at which departures are measured


# ---- true outlines ------------------------------------------------------------------------------

class Rings(BasePen):
    def __init__(self, glyphs):
        super().__init__(glyphs)
        self.rings = []

    def _moveTo(self, p):
        self.rings.append([p])

    def _lineTo(self, p):
        self.rings[-1].append(p)

    def _curveToOne(self, a, b, c):
        p = self.rings[-1][-1]
        for i in range(1, 25):
            t, u = i / 24, 1 - i / 24
            self.rings[-1].append(tuple(u ** 3 * p[k] + 3 * u * u * t * a[k] + 3 * u * t * t * b[k] + t ** 3 * c[k] for k in (0, 1)))


def even_odd(rings):
    shape = Polygon()
    for ring in rings:
        if len(ring) > 2:
            shape = shape.symmetric_difference(Polygon(ring).buffer(0))
    return shape


def faces():
    listed = subprocess.run(["fc-list", "-f", "%{file}\n", ":lang=en"], capture_output=True, text=True, check=True).stdout
    return sorted(f for f in set(listed.split()) if f.endswith((".ttf", ".otf")))


def letter(rng):
    glyphs = TTFont(rng.choice(faces())).getGlyphSet()
    wanted = rng.choice(LETTERS)
    name = {"&": "ampersand", "4": "four", "8": "eight"}.get(wanted, wanted)
    if name not in glyphs:
        return letter(rng)
    pen = Rings(glyphs)
    glyphs[name].draw(pen)
    return even_odd(pen.rings)


def silhouette(rng):
    """A closed wave round a middle, with notches, and one or two openings of the same kind."""
    def wave(x, y, size):
        waves = [(rng.randint(2, 7), rng.uniform(0.02, 0.12), rng.uniform(0, 2 * math.pi)) for _ in range(4)]
        return [(x + size * (1 + sum(a * math.sin(n * t + p) for n, a, p in waves)) * math.cos(t),
                 y + size * (1 + sum(a * math.sin(n * t + p) for n, a, p in waves)) * math.sin(t))
                for t in (2 * math.pi * i / 240 for i in range(240))]
    shape = Polygon(wave(0, 0, 1)).buffer(0)
    for k in range(rng.randint(1, 2)):
        shape = shape.difference(Polygon(wave(-0.35 + 0.7 * k, 0, 0.18)).buffer(0))
    notch = rng.uniform(0, 360)
    return shape.difference(affinity.rotate(Polygon([(0.75, 0), (2, -0.3), (2, 0.3)]), notch, origin=(0, 0)))


def placed(shape, high, rng):
    x0, y0, _, y1 = shape.bounds
    k = high / (y1 - y0)
    return affinity.affine_transform(shape, [k, 0, 0, k, -x0 * k + 6 + rng.random(), -y0 * k + 6 + rng.random()])


# ---- pictures -----------------------------------------------------------------------------------

def polygons(shape):
    return list(shape.geoms) if hasattr(shape, "geoms") else [shape]


def rendered(shape):
    w, h = math.ceil(shape.bounds[2]) + 7, math.ceil(shape.bounds[3]) + 7
    d = "".join("M" + "L".join(f"{x:.4f} {h - y:.4f}" for x, y in ring.coords) + "Z"
                for p in polygons(shape) for ring in (p.exterior, *p.interiors))
    svg = (f'<svg xmlns="http://www.w3.org/2000/svg" width="{w}" height="{h}"><rect width="100%" height="100%" fill="#fff"/>'
           f'<path fill-rule="evenodd" d="{d}"/></svg>')
    png = subprocess.run(["rsvg-convert"], input=svg.encode(), capture_output=True, check=True).stdout
    return Image.open(io.BytesIO(png)).convert("L")


def trace(path, *words):
    ran = subprocess.run([DUMP, path, *map(str, words)], capture_output=True, text=True, timeout=120)
    assert ran.returncode == 0, ran.stderr
    return json.loads(ran.stdout)


def shape_of(traced):
    return even_odd([ring for shape in traced["shapes"] for ring in shape])


def departure(traced, truth):
    """Of what was traced from the true edge, and how much of the true edge lies farther from what was traced."""
    def places(shape):
        for p in polygons(shape):
            for ring in (p.exterior, *p.interiors):
                n = max(8, int(ring.length / STEP))
                yield from (ring.interpolate(i / n, normalized=True) for i in range(n))
    edge, back = truth.boundary, traced.boundary
    away = [p.distance(back) for p in places(truth)]
    return max(p.distance(edge) for p in places(traced)), sum(d > MOST for d in away) / len(away)


def counters(shape):
    return sum(len(p.interiors) for p in polygons(shape) if p.area > 4)


def saved(picture, how, path):
    if how == "jpeg":
        picture.save(path.with_suffix(".jpg"), quality=70)
        return path.with_suffix(".jpg")
    if how == "turned":  # a quarter turn, and a mark that says so
        exif = Image.Exif()
        exif[0x112] = 6
        picture.rotate(90, expand=True).save(path.with_suffix(".jpg"), quality=90, exif=exif)
        return path.with_suffix(".jpg")
    picture.save(path.with_suffix(".png"))
    return path.with_suffix(".png")


def troubles_of(seeds, how, tmp_path):
    worst, wrong = 0, []
    for seed in seeds:
        for high in HIGH:
            rng = random.Random(seed * 1000 + high)
            shape = placed((letter if seed % 2 else silhouette)(random.Random(seed)), high, rng)
            if how == "scan":  # askew on the glass
                shape = affinity.rotate(shape, rng.uniform(-9, 9), origin="center")
                shape = affinity.translate(shape, 9 - shape.bounds[0], 9 - shape.bounds[1])
            got = shape_of(trace(saved(rendered(shape), how, tmp_path / "it")))
            off, farther = departure(got, shape)
            worst = max(worst, off)
            # a corner sharper than a dot is cut off by the dots themselves: the rest of the edge is there
            if off > MOST or farther > 0.1 or counters(got) != counters(shape):
                wrong.append((seed, high, how, round(off, 3), round(farther, 3), counters(got), counters(shape)))
    print(f"{how}: at most {worst:.3f} of a dot")
    return wrong


@pytest.mark.parametrize("seed, how", enumerate(["smooth", "jpeg", "turned", "scan"]))
def test_traced_back(seed, how, tmp_path):
    assert troubles_of([seed], how, tmp_path) == []


@pytest.mark.long
@pytest.mark.parametrize("how", ["smooth", "jpeg", "turned", "scan"])
def test_a_hundred_traced_back(how, tmp_path):
    assert troubles_of(range(100), how, tmp_path) == []


# ---- files --------------------------------------------------------------------------------------

def flag():
    """Nothing of it is the same when it is turned or mirrored."""
    picture = Image.new("RGB", (90, 60), "white")
    pen = ImageDraw.Draw(picture)
    pen.rectangle((8, 8, 20, 50), fill="black")
    pen.rectangle((8, 8, 70, 16), fill="navy")
    pen.rectangle((40, 30, 60, 40), fill=(90, 0, 0))
    return picture


def covered(traced):
    """Which dots' middles are dark."""
    picture = Image.new("1", (traced["width"] * 4, traced["height"] * 4))
    pen = ImageDraw.Draw(picture)
    high = traced["height"]
    for ring in sorted((r for s in traced["shapes"] for r in s), key=lambda r: -Polygon(r).area):
        pen.polygon([(4 * x, 4 * (high - y)) for x, y in ring], fill=1)
    return np.asarray(picture)[2::4, 2::4]


@pytest.mark.parametrize("ending", ["png", "jpg"])
@pytest.mark.parametrize("turn", range(1, 9))
def test_turned_as_pillow_turns_it(turn, ending, tmp_path):
    exif = Image.Exif()
    exif[0x112] = turn
    flag().save(tmp_path / f"f.{ending}", exif=exif, quality=95)
    seen = ImageOps.exif_transpose(Image.open(tmp_path / f"f.{ending}")).convert("L")
    traced = trace(tmp_path / f"f.{ending}")
    assert (traced["width"], traced["height"], traced["turn"]) == (*seen.size, turn)
    assert (covered(traced) != (np.asarray(seen) < 128)).mean() < 0.01


def deep(picture):
    return Image.fromarray(np.asarray(picture.convert("L")).astype("uint16") * 257)


KINDS = {
    "grey.png": lambda p: p.convert("L"), "palette.png": lambda p: p.convert("P"), "bits.png": lambda p: p.convert("1"),
    "alpha.png": lambda p: p.convert("RGBA"), "grey-alpha.png": lambda p: p.convert("LA"), "deep.png": deep,
    "grey.jpg": lambda p: p.convert("L"), "inks.jpg": lambda p: p.convert("CMYK"), "waves.jpg": lambda p: p,
}


@pytest.mark.parametrize("name", KINDS)
def test_every_kind_of_dots(name, tmp_path):
    KINDS[name](flag()).save(tmp_path / name, progressive=name == "waves.jpg", quality=95, dpi=(254, 254))
    traced = trace(tmp_path / name)
    assert (covered(traced) != (np.asarray(flag().convert("L")) < 128)).mean() < 0.01
    assert traced["dot mm"] == pytest.approx(0.1, rel=2e-3)  # PNG counts dots a metre, JPEG whole ones an inch


def test_seen_through_is_paper(tmp_path):
    picture = flag().convert("RGBA")
    dots = np.asarray(picture).copy()
    dots[dots[..., :3].sum(2) == 765] = (0, 0, 0, 0)  # the paper: black, but not there
    Image.fromarray(dots).save(tmp_path / "cut-out.png")
    assert (covered(trace(tmp_path / "cut-out.png")) != (np.asarray(flag().convert("L")) < 128)).mean() < 0.01


@pytest.mark.parametrize("seed", range(4))
def test_threshold_is_otsus(seed, tmp_path):
    rng = np.random.default_rng(seed)
    ink, paper = rng.integers(20, 110), rng.integers(150, 240)
    dots = np.where(rng.random((90, 120)) < 0.3, ink, paper) + rng.normal(0, 15, (90, 120))
    dots = dots.clip(0, 255).astype(np.uint8)
    Image.fromarray(dots).save(tmp_path / "noise.png")
    def between(t):
        below, above = dots[dots < t], dots[dots >= t]
        return len(below) * len(above) * (below.mean() - above.mean()) ** 2 if len(below) and len(above) else 0
    found = trace(tmp_path / "noise.png", 1)["threshold"]
    assert between(found) == pytest.approx(max(map(between, range(1, 256))), rel=1e-9)


# ---- hostile ------------------------------------------------------------------------------------

def chunk(kind, data):
    return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))


def png(width, height, *chunks):
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", struct.pack(">IIBBBBB", width, height, 8, 0, 0, 0, 0)) + b"".join(chunks)


def jpeg_head(width, height):
    picture = io.BytesIO()
    Image.new("L", (16, 16), 255).save(picture, "jpeg")
    data = bytearray(picture.getvalue())
    at = data.index(b"\xff\xc0")
    data[at + 5:at + 9] = struct.pack(">HH", height, width)
    return bytes(data)


BOMBS = {
    "wide.png": (png(100000, 100000, chunk(b"IDAT", zlib.compress(b"\0" * 1000000))), "has 100000 by 100000 dots"),
    "big.jpg": (jpeg_head(65000, 65000), "has 65000 by 65000 dots"),
    "words.png": (png(64, 64, chunk(b"zTXt", b"a\0\0" + zlib.compress(b"x" * 100000000)), chunk(b"IDAT", b"")), "broken"),
    "none.png": (png(0, 5), "broken"),
    "half.jpg": (jpeg_head(3000, 3000), "broken"),
}


@pytest.mark.parametrize("name", BOMBS)
def test_bombs_are_refused(name, tmp_path):
    data, why = BOMBS[name]
    (tmp_path / name).write_bytes(data)
    cost = measured(DUMP, tmp_path / name)
    assert cost.code == 2 and why in cost.said
    assert cost.seconds < 1 and cost.kilobytes < 200000


def test_cut_short_is_refused(tmp_path):
    for ending in ("png", "jpg"):
        flag().save(tmp_path / f"f.{ending}")
        data = (tmp_path / f"f.{ending}").read_bytes()
        for n in range(20, len(data) * 4 // 5, max(1, len(data) // 12)):
            (tmp_path / "part").write_bytes(data[:n])
            ran = subprocess.run([DUMP, tmp_path / "part"], capture_output=True, text=True, timeout=60)
            assert ran.returncode == 2 and "broken" in ran.stderr, (ending, n)


@pytest.mark.long  # it measures time
def test_a_photograph_of_12_megapixels(tmp_path):
    """Something like a garden: soft shades of every size with the noise of a camera."""
    from scipy import ndimage
    rng = np.random.default_rng(1)
    dots = sum(ndimage.zoom(rng.normal(size=(3000 // s + 2, 4000 // s + 2)), s, order=1)[:3000, :4000] * s ** 0.5
               for s in (2, 8, 40, 200))
    dots = (dots - dots.min()) / (dots.max() - dots.min()) * 255 + rng.normal(size=dots.shape) * 6
    Image.fromarray(dots.clip(0, 255).astype("uint8")).convert("RGB").save(tmp_path / "photo.jpg", quality=88)
    cost = measured(DUMP, tmp_path / "photo.jpg", "--quiet")
    assert cost.code == 0 and cost.seconds < 2
