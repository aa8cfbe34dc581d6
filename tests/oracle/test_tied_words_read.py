# SPDX-License-Identifier: GPL-3.0-or-later
"""Letters stay readable when ties hold their counters: an open-source text reader reads them before and after.

Reader: tesseract (Debian package tesseract-ocr, Apache-2.0), English, one word a picture. Words: Debian's
wamerican (public domain). A word counts only if it is read right before the ties; of those at least 97 %
must be read right after. The interval is Wilson's score interval, 95 %
(E. B. Wilson, J. Am. Stat. Assoc. 22 (1927) 209-212; from memory).
"""
import concurrent.futures
import io
import math
import os
import pathlib
import random
import subprocess
import sys

import pytest
from PIL import Image, ImageChops, ImageDraw

from conftest import holdfast

sys.path.insert(0, str(pathlib.Path(__file__).parent))
from reading import rings_of_svg  # noqa: E402

WORDS = pathlib.Path("/usr/share/dict/words")
FACES = ["{family: Bebas Neue, style: Bold}", "{family: DejaVu Sans, style: Bold}", "{family: DejaVu Serif, style: Bold}",
         "{family: League Spartan, style: Bold}", "{family: Vollkorn, style: Bold}", "{family: Inter, style: Bold}"]
COUNTERS = set("ABDOPQRabdegopq")


def interval(hits, n, z=1.96):
    p = hits / n
    middle, half = p + z * z / (2 * n), z * math.sqrt(p * (1 - p) / n + z * z / (4 * n * n))
    return (middle - half) / (1 + z * z / n), (middle + half) / (1 + z * z / n)


def some_words(n):
    rng = random.Random("words to tie")
    plain = [w for w in WORDS.read_text().split() if w.isascii() and w.isalpha() and 4 <= len(w) <= 9 and w == w.lower()]
    picked = [form(w) for w, form in zip(rng.sample(plain, 4 * n), rng.choices([str.upper, str.capitalize, str.lower], k=4 * n))]
    return [(i, w, FACES[i % len(FACES)]) for i, w in enumerate(w for w in picked if COUNTERS & set(w))]


def extent(ring):
    xs, ys = [x for x, _ in ring], [y for _, y in ring]
    return (max(xs) - min(xs)) * (max(ys) - min(ys))


def read(svg):
    """What the reader sees: openings black on white at 1 mm a pixel, smoothed, off the plate's edge."""
    rings = sorted(rings_of_svg(svg), key=lambda ring: -extent(ring))  # the plate first, a counter after its letter
    x0, y0 = min(x for x, _ in rings[0]), min(y for _, y in rings[0])
    x1, y1 = max(x for x, _ in rings[0]), max(y for _, y in rings[0])
    picture = Image.new("1", (int(4 * (x1 - x0)), int(4 * (y1 - y0))), 1)
    for ring in rings[1:]:
        mask = Image.new("1", picture.size, 0)
        ImageDraw.Draw(mask).polygon([(4 * (x - x0), 4 * (y - y0)) for x, y in ring], fill=1)
        picture = ImageChops.logical_xor(picture, mask)
    padded = picture.convert("L").resize((picture.width // 4, picture.height // 4), Image.Resampling.LANCZOS)
    buffer = io.BytesIO()
    padded.save(buffer, "PNG")
    done = subprocess.run(["tesseract", "stdin", "stdout", "--psm", "8", "-l", "eng"], input=buffer.getvalue(), capture_output=True,
                          check=True, env={**os.environ, "OMP_THREAD_LIMIT": "1"})
    return "".join(c for c in done.stdout.decode() if c.isalnum()).casefold()  # Bebas Neue has capitals only


def both(job, folder):
    """(word, right before, right after, whole, what was read after)"""
    number, word, face = job
    answers = []
    for ties in ("", "  - ties: {}\n"):
        recipe = folder / f"w{number}{'t' if ties else ''}.yaml"
        recipe.write_text("holdfast: 1\nmetal: {kind: mild steel, thickness: 2 mm}\nprocess: {kerf: 1 mm}\nentries:\n"
                          f"  - plate: {{name: plate, shape: rectangle, width: {95 * len(word) + 60} mm, height: 190 mm}}\n"
                          f"  - words: {{name: word, text: {word}, font: {face}, height: 90 mm, on: plate, as: opening, spacing: 6 mm}}\n{ties}")
        done = holdfast("make", recipe, "-o", folder, "--pixels", "200", "--quiet")
        assert done.returncode in (0, 1), done.stderr
        out = folder / recipe.stem
        answers.append((done.returncode, read(next(f for f in (out / "metal.svg", out / "not-to-be-cut.svg") if f.exists()))))
        if not ties and answers[0][1] != word.casefold():
            return word, False, False, False, answers[0][1]
    return word, True, answers[1][1] == word.casefold(), answers[1][0] == 0, answers[1][1]


def count(n, folder):
    """Of the first n words that are read right before: how many after."""
    hits, right, lost = 0, 0, []
    jobs = some_words(n)
    with concurrent.futures.ThreadPoolExecutor(os.cpu_count()) as pool:
        for start in range(0, len(jobs), 20):
            if right == n:
                break
            for word, before, after, _, seen in pool.map(lambda job: both(job, folder), jobs[start:start + 20]):
                if before and right < n:
                    right += 1
                    hits += after
                    lost += [] if after else [f"{word} read as {seen!r}"]
    return hits, right, lost


def check(n, folder):
    if not WORDS.exists():
        pytest.skip("no list of words: install wamerican")
    hits, right, lost = count(n, folder)
    low, high = interval(hits, right)
    print(f"{hits} of {right} words read right with ties: {hits / right:.1%}, interval {low:.1%} to {high:.1%}; lost: {lost}")
    assert right >= n
    return hits / right


def test_words_with_ties_are_read(tmp_path):
    assert check(12, tmp_path) >= 0.83  # 97 % of 12 words allows one; two may be chance


@pytest.mark.long
def test_three_hundred_words_with_ties_are_read(tmp_path):
    assert check(300, tmp_path) >= 0.97
