# SPDX-License-Identifier: GPL-3.0-or-later
"""Seeded signs that want a cure: 20 faces, 8 scripts, standing and cut through, straight, on an arc,
in a band, on a bar; letters 1.5 to 4 times as high as the least that the face allows for the text.
Invented texts only. Faces: Debian's font packages (tests/packages.txt, examples/packages.txt)."""
import functools
import json
import pathlib
import random
import subprocess
import sys

LATIN_FACES = [("Bebas Neue", "Bold"), ("Bebas Neue", "Regular"), ("DejaVu Sans", "Bold"), ("DejaVu Sans", "Book"),
               ("DejaVu Serif", "Bold"), ("DejaVu Serif", "Book"), ("DejaVu Sans Mono", "Bold"), ("Lobster Two", "Bold"),
               ("Leckerli One", "Regular"), ("League Spartan", "Bold"), ("Allerta", "Medium"), ("Vollkorn", "Regular"),
               ("Vollkorn", "Black"), ("Inter", "Regular")]
FACES = {
    "latin": LATIN_FACES,
    "greek": [("DejaVu Sans", "Bold"), ("DejaVu Serif", "Bold"), ("Vollkorn", "Black")],
    "cyrillic": [("DejaVu Sans", "Bold"), ("DejaVu Serif", "Bold"), ("Vollkorn", "Bold")],
    "arabic": [("Amiri", "Bold"), ("Amiri", "Regular"), ("DejaVu Sans", "Bold")],
    "hebrew": [("Frank Ruehl CLM", "Bold"), ("David CLM", "Bold"), ("Nachlieli CLM", "Bold")],
    "japanese": [("IPAGothic", "Regular")],
    "devanagari": [("Lohit Devanagari", "Regular")],
    "thai": [("Loma", "Bold")],
}
TEXTS = {
    "latin": ["BAKERY", "Harbour", "Quay 4", "No. 68", "POTTERY", "Boats & Nets", "gauge", "À Bordée", "Ångström", "Señor", "garçon",
              "ĄĘ", "Škuner", "\"Old Pier\"", "Ahoy!", "8:09", "1906", "Kelp·Rope", "bread", "ROPE DOCK", "Zoë", "quoin", "@ 40 %"],
    "greek": ["ΘΑΛΑΣΣΑ", "φάρος", "Ψωμί", "Βράχος"],
    "cyrillic": ["ГАВАНЬ", "Йод", "маяк", "Ёлка", "фарватер"],
    "arabic": ["ميناء", "خبز", "بَحْر", "شارع"],
    "hebrew": ["נמל", "לֶחֶם", "סירה", "שׁוּק"],
    "japanese": ["港", "魚屋", "いかだ", "国道"],
    "devanagari": ["घाट", "नाव", "रोटी", "हिंदी"],
    "thai": ["ท่าเรือ", "ปลา", "ขนม"],
}
STANDING = ["bar", "band", "arc", "board"]
CUT = ["plate", "plate arc", "ring"]


# What smallest() told for the seeds of the long run: asking anew takes longer than the checks themselves.
# `python3 tests/oracle/cure_signs.py HOLDFAST 500` writes it; test_tie_style.py asks some anew.
TABLE = pathlib.Path(__file__).with_name("smallest-heights.json")


def smallest(holdfast, family, style, text, t, k):
    """Least letter heights {standing, cut through} as `holdfast fonts --smallest` tells them; None: at no size, or
    the face lacks a letter."""
    done = subprocess.run([holdfast, "fonts", family, "--smallest", "--thickness", f"{t} mm", "--kerf", f"{k} mm",
                           "--text", text, "--json"], capture_output=True, text=True, check=True)
    for face in json.loads(done.stdout)["faces"]:
        if face["family"] == family and face["style"] == style:
            return {way: (face.get(way) or {}).get("height") for way in ("standing", "cut through")}
    raise LookupError(f"{family} {style} is not installed")


@functools.cache
def table():
    return json.loads(TABLE.read_text()) if TABLE.exists() else {}


def known(holdfast, *asked):
    """smallest(), from the table where it is there."""
    key = " | ".join(map(str, asked))
    if key not in table():
        table()[key] = smallest(holdfast, *asked)
    return table()[key]


def recipe(seed, holdfast):
    """The text of sign number `seed`, and what it was made of."""
    rng = random.Random(f"cure {seed}")
    script = rng.choice(["latin"] * 7 + [s for s in FACES if s != "latin"])
    family, style = rng.choice(FACES[script])
    text = rng.choice(TEXTS[script])
    t, k = rng.choice([(1.5, 1.0), (2, 1.2), (3, 1.4), (3, 1.6), (4, 1.8)])
    cut = rng.random() < 0.5
    least = known(holdfast, family, style, text, t, k)["cut through" if cut else "standing"] or 60
    h = round(min(least * rng.uniform(1.5, 4), 400), 1)
    long = len(text) * h * (1.6 if script == "japanese" else 1.25 if script in ("thai", "devanagari") else 0.85)
    font = f"{{family: {family}, style: {style}}}"
    quoted = text.replace('"', '\\"')
    words = f'name: words, text: "{quoted}", font: {font}, height: {h} mm'
    shape = rng.choice(CUT if cut else STANDING)
    d = max(2.6 * h, long / 3.1416 * 1.5 + h)
    grow = round(max(12.0, h * rng.uniform(0.12, 0.3)), 1)
    web = max(6.0, 2.5 * t, h * 0.07)
    entries = {
        "bar": [f"bar: {{name: rail, length: {long * 1.15:.0f} mm, height: {web:.1f} mm}}", f"words: {{{words}, stand on: rail}}"],
        "band": [f"ring: {{name: outer, outer: {d + 2 * web:.1f} mm, width: {web:.1f} mm}}",
                 f"ring: {{name: inner, outer: {d - 2 * h:.1f} mm, width: {web:.1f} mm}}",
                 f"words: {{{words}, band: [inner, outer], at: {rng.choice(['top', 'bottom'])}}}"],
        "arc": [f"ring: {{name: hoop, outer: {d:.1f} mm, width: {web:.1f} mm}}",
                f"words: {{{words}, arc radius: {d / 2 - rng.uniform(1, 3):.2f} mm, at: top, letters: {rng.choice(['rigid', 'bent'])}}}"],
        "board": [f"words: {{{words}}}",
                  f"bar: {{name: rail, length: {long * 1.1:.0f} mm, height: {web:.1f} mm, below: words, gap: -{web / 2:.1f} mm}}"],
        "plate": [f"plate: {{name: plate, shape: rounded, corner: 8 mm, width: {long * 1.2 + 2 * grow:.0f} mm, height: {h * 1.9 + 2 * grow:.0f} mm}}",
                  f"words: {{{words}, on: plate, at: centre, as: opening}}"],
        "plate arc": [f"plate: {{name: plate, shape: round, diameter: {d + 3.2 * h:.1f} mm}}",
                      f"words: {{{words}, arc radius: {d / 2:.1f} mm, at: {rng.choice(['top', 'bottom'])}, as: opening}}"],
        "ring": [f"ring: {{name: ring, outer: {d + 3.4 * h:.1f} mm, width: {2.6 * h:.1f} mm}}",
                 f"words: {{{words}, arc radius: {d / 2 + 0.1 * h:.1f} mm, at: {rng.choice(['top', 'bottom'])}, as: opening}}"],
    }[shape]
    lines = "\n".join(f"  - {entry}" for entry in entries)
    return (f"# seed {seed}\nholdfast: 1\nmetal: {{kind: mild steel, thickness: {t} mm}}\nprocess: {{kerf: {k} mm}}\nentries:\n{lines}\n",
            {"seed": seed, "script": script, "shape": shape, "cut": cut, "face": f"{family} {style}", "text": text, "t": t, "k": k, "h": h})


if __name__ == "__main__":
    for number in range(1, int(sys.argv[2]) + 1):
        recipe(number, sys.argv[1])
    TABLE.write_text(json.dumps(table(), ensure_ascii=False, indent=0, sort_keys=True) + "\n")
