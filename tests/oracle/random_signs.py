# SPDX-License-Identifier: GPL-3.0-or-later
"""Seeded random recipes: faces x scripts x texts x shapes, up to 300 mm. Invented texts only."""
import random

BOLD = "{family: DejaVu Sans, style: Bold}"
LATIN = ["Bebas Neue", "Bebas Neue", BOLD, BOLD, "Lobster Two", "DejaVu Sans", "DejaVu Serif", "Amiri"]
TEXTS = {
    "latin": (LATIN, ["Harbour", "Quay", "No. 7", "TIDE", "Ferry", "Boats & Nets", "Pottery", "oil", "1894", "Éclair",
                      "Ångström", "Señor", "Škuner", "Kelp", "Gull", "MOOR", "bakery", "Lamp", "W", "i", "&", "A-B"]),
    "greek": ([BOLD, "DejaVu Sans", "DejaVu Serif"], ["Λιμάνι", "ΨΑΡΙ", "φάρος"]),
    "cyrillic": ([BOLD, "DejaVu Sans", "DejaVu Serif"], ["Гавань", "ЙОД", "маяк"]),
    "arabic": (["Amiri"], ["ميناء", "خبز", "بحر"]),
    "hebrew": (["Frank Ruehl CLM"], ["נמל", "לחם", "ים"]),
    "japanese": (["IPAGothic"], ["港", "魚屋", "いか"]),
}
SHAPES = ["bar", "plate", "cut", "band", "arc", "outline", "window", "plain", "ring-tie"]


# every second sign is one that has a chance: a stout face, letters without counters or loose dots
STOUT = ["Bebas Neue", BOLD]
PLAIN_TEXTS = ["LIFT", "HULL", "FISH", "MILL", "NET", "SHELL", "HUT 7", "TIFF", "KILN", "LILT"]


def words(rng):
    if rng.random() < 0.5:
        return rng.choice(STOUT), rng.choice(PLAIN_TEXTS)
    script = rng.choice(["latin"] * 6 + [s for s in TEXTS if s != "latin"])
    faces, texts = TEXTS[script]
    return rng.choice(faces), rng.choice(texts)


def recipe(seed):
    """The text of recipe number `seed`, and what it was made of."""
    rng = random.Random(seed)
    face, text = words(rng)
    shape = rng.choice(SHAPES)
    t = rng.choice([1.5, 1.5, 2, 3, 4])
    k = rng.choice([1.0, 1.0, 1.4, 1.8])
    h = round(rng.uniform(25, 90), 1)
    spacing = rng.choice(["0 mm", "joined", "-1 mm", "2 mm", "4 mm", "-4 %"])
    q = f'text: "{text}", font: {face}'
    entries = {
        "bar": [f"bar: {{name: rail, length: {rng.randint(120, 300)} mm, height: {rng.randint(3, 16)} mm}}",
                f"words: {{{q}, height: {h} mm, stand on: rail, spacing: {spacing}}}"],
        "plate": [f"plate: {{name: board, shape: {rng.choice(['rectangle', 'oval'])}, width: {rng.randint(100, 300)} mm, height: {rng.randint(40, 120)} mm}}",
                  f"words: {{{q}, height: {min(h, 40)} mm, on: board, at: centre, shift: [0 mm, {rng.randint(-5, 60)} mm]}}"],
        "cut": [f"plate: {{name: board, shape: rounded, corner: 8 mm, width: {rng.randint(150, 300)} mm, height: {rng.randint(60, 140)} mm}}",
                f"words: {{{q}, height: {min(h, 60)} mm, on: board, at: centre, as: opening}}"],
        "band": [f"ring: {{name: outer, outer: {(d := rng.randint(160, 300))} mm, width: {rng.randint(3, 9)} mm}}",
                 f"ring: {{name: inner, outer: {d - rng.randint(50, 90)} mm, width: {rng.randint(3, 9)} mm}}",
                 f"words: {{{q}, height: {rng.randint(18, 40)} mm, band: [inner, outer], at: {rng.choice(['top', 'bottom'])}}}"],
        "arc": [f"ring: {{name: hoop, outer: {(d := rng.randint(120, 220))} mm, width: {rng.randint(4, 10)} mm}}",
                f"words: {{{q}, height: {min(h, 38)} mm, arc radius: {d / 2 - rng.uniform(-1, 4):.2f} mm, at: top, letters: {rng.choice(['rigid', 'bent'])}}}"],
        "outline": [f"plate: {{name: board, shape: outline, grow: {rng.randint(3, 12)} mm, around: [name]}}",
                    f"words: {{name: name, {q}, height: {min(h, 45)} mm, as: opening}}"],
        "window": [f"ring: {{name: hoop, outer: {rng.randint(100, 260)} mm, width: {rng.randint(4, 12)} mm}}",
                   f"initial: {{text: \"{text[0]}\", font: {face}, fill window of: hoop, bite: {rng.randint(1, 4)} mm}}"],
        "plain": [f"words: {{{q}, height: {h} mm, spacing: {spacing}}}"],
        "ring-tie": [f"bar: {{name: rail, length: {rng.randint(120, 300)} mm, height: {rng.choice([2, 2.5, 3.2, 6, 12])} mm}}",
                     f"dot: {{diameter: {rng.randint(6, 30)} mm, on: rail, at: [left end, right end]}}",
                     f"words: {{{q}, height: {h} mm, stand on: rail, spacing: {spacing}, bite: {rng.choice([1, 1.5, 2])} mm}}"],
    }[shape]
    lines = "\n".join(f"  - {entry}" for entry in entries)
    return (f"holdfast: 1\nmetal: {{kind: mild steel, thickness: {t} mm}}\nprocess: {{kerf: {k} mm}}\nentries:\n{lines}\n",
            {"seed": seed, "shape": shape, "face": face, "text": text, "t": t, "k": k})
