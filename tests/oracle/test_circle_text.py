# SPDX-License-Identifier: GPL-3.0-or-later
"""Letters on a circle against headless Chromium's SVG text on a path.

Source: SVG 2, 'Text on a path layout rules', as a browser carries them out (getRotationOfChar,
getStartPositionOfChar), at sixty times scale with true arcs. holdfast centres by ink, a browser by
advance: one turn of the whole is free, the mean of all letters' turns; everything else is compared. Spacing is given as dx: under
letter-spacing a browser counts the space as part of the letter and turns the letter about the middle
of both. Ligatures are off on both sides: a browser may drop them on a path.
"""
import itertools
import json
import math
import subprocess

import pytest

from conftest import TOP

DUMP = TOP / "build" / "tests" / "tools" / "layout_dump"
SCALE = 60  # at 10 the browser measures a path to 4e-5 of its length: 0.03 mm on a long text
FACES = ["Bebas Neue", "Lobster Two", "DejaVu Sans", "DejaVu Serif", "Amiri"]
TEXTS = ["Harbour", "Quay", "AVATAR", "Tide Table", "To Wave", "Ferry", "1894", "Boat Yard",
         "LTA Vy", "pottery"]
SPACINGS = ["0 mm", "2.5 mm"]
PLACES = ["top", "bottom"]

PAGE = """<html><head><style>%(faces)s text{white-space:pre;font-kerning:normal;font-variant-ligatures:none;text-rendering:geometricPrecision}</style></head>
<body><svg xmlns="http://www.w3.org/2000/svg" width="9000" height="9000" viewBox="-4500 -4500 9000 9000">
%(texts)s</svg></body></html>"""


def font_file(family):
    return subprocess.run(["fc-match", "-f", "%{file}", f"{family}:style=Regular"], capture_output=True, text=True).stdout


def ours(tmp_path, number, face, text, spacing, place, height, radius):
    recipe = tmp_path / f"t{number}.yaml"
    recipe.write_text(f"""holdfast: 1
metal: {{kind: mild steel, thickness: 3 mm}}
process: {{kerf: 1.5 mm}}
entries:
  - words: {{text: "{text}", font: {{family: {face}, features: "-liga"}}, height: {height} mm, arc radius: {radius} mm, at: {place}, spacing: {spacing}}}
""")
    done = subprocess.run([DUMP, recipe], capture_output=True, text=True)
    assert done.returncode == 0, done.stderr
    return [json.loads(line) for line in done.stdout.splitlines()]


def cases():
    """Every face with every text; spacing, place, height and radius change from one to the next."""
    for i, (face, text) in enumerate(itertools.product(FACES, TEXTS)):
        yield (face, text, SPACINGS[i % 2], PLACES[(i // 2) % 2], [20, 35, 60, 90][(i * 7) % 4], [150, 220, 400][i % 3])


def arc_path(name, radius, bottom):
    """A whole turn that begins opposite the text: clockwise on screen for tops outward, else counter."""
    r = radius * SCALE
    if not bottom:
        return f'<path id="{name}" fill="none" d="M0 {r} A{r} {r} 0 0 1 0 {-r} A{r} {r} 0 0 1 0 {r}"/>'
    return f'<path id="{name}" fill="none" d="M0 {-r} A{r} {r} 0 0 0 0 {r} A{r} {r} 0 0 0 0 {-r}"/>'


def spaced(text, gap):
    return f'<tspan dx="{" ".join(["0"] + [str(gap)] * (len(text) - 1))}">{text}</tspan>' if gap else text


def turned(degrees):
    return (degrees + 180) % 360 - 180


def test_letters_on_a_circle(tmp_path, browser):
    texts, rows = [], []
    for number, (face, text, spacing, place, height, radius) in enumerate(cases()):
        letters = ours(tmp_path, number, face, text, spacing, place, height, radius)
        assert letters
        bottom = place == "bottom"
        xx, xy, yx, yy, x0, y0 = letters[0]["em"]
        size = math.hypot(xx, yx)
        assert size <= 150, "the browser draws text only up to a size"
        gap = float(spacing.split()[0]) * SCALE
        texts.append(arc_path(f"p{number}", radius, bottom) +
                     f'<text id="t{number}" style="font-family:f{FACES.index(face)};font-size:{size * SCALE}px">'
                     f'<textPath href="#p{number}" startOffset="25%">{spaced(text, gap)}</textPath></text>')
        rows.append((number, face, text, bottom, radius, letters))
    faces = "".join(f'@font-face{{font-family:f{i};src:url("file://{font_file(face)}")}}' for i, face in enumerate(FACES))
    page = tmp_path / "page.html"
    page.write_text(PAGE % {"faces": faces, "texts": "\n".join(texts)})
    browser.get(f"file://{page}")
    browser.set_script_timeout(60)
    browser.execute_async_script("const done = arguments[0]; document.fonts.ready.then(() => setTimeout(done, 200))")
    got = browser.execute_script("""
      return [...document.querySelectorAll('text')].map(t => [...Array(t.getNumberOfChars()).keys()].map(i => {
        const p = t.getStartPositionOfChar(i); return [p.x, p.y, t.getRotationOfChar(i), t.getSubStringLength(i, 1)]; }))""")
    worst_angle = worst_place = 0
    compared = 0
    for (number, face, text, bottom, radius, letters), browser_letters in zip(rows, got):
        wanted = [(c, b) for c, b in zip(text, browser_letters) if c != " "]
        if len(wanted) != len(letters):
            continue  # a ligature: one letter of ours, several characters of the browser's
        # the one unknown is how far the whole is turned: the mean over all letters
        angles = [math.degrees(math.atan2(letter["em"][2], letter["em"][0])) for letter in letters]
        first = turned(angles[0] + wanted[0][1][2])
        shift = first + sum(turned(angle + b[2] - first) for angle, (_, b) in zip(angles, wanted)) / len(angles)
        c, s = math.cos(math.radians(shift)), math.sin(math.radians(shift))
        for angle, (char, (bx, by, rotation, _)), letter in zip(angles, wanted, letters):
            x0, y0 = letter["em"][4:]
            px, py = c * bx / SCALE + s * by / SCALE, s * bx / SCALE - c * by / SCALE
            away = math.hypot(px - x0, py - y0)
            turn = abs(turned(angle + rotation - shift))
            worst_angle, worst_place = max(worst_angle, turn), max(worst_place, away)
            assert turn < 0.01, f"{face} '{text}' {char}: {turn} deg"
            assert away < 0.01, f"{face} '{text}' {char}: {away} mm"
            compared += 1
    print(f"{len(rows)} texts, {compared} letters, worst {worst_angle:.5f} deg, {worst_place:.5f} mm")
    assert compared >= 250
