# SPDX-License-Identifier: GPL-3.0-or-later
"""`holdfast shop`: starting values against the energy model written again here (handbook 4.2: v = eta P / (t k rho h), eta 0.30 to 0.50), rows that
can't be true, mistakes with their place. Melting iron: NIST WebBook, iron, 72.4 kJ/mol from 298 K to liquid at 1809 K; 55.845 g/mol, 7850 kg/m3."""
import re

import pytest

from conftest import holdfast

MELT = 72.4e3 / 55.845 * 7850 / 1e6  # J/mm3


@pytest.fixture
def shop(tmp_path):
    def it(text, *options):
        file = tmp_path / "shop.yaml"
        file.write_text(f"holdfast: 1\n{text}")
        return holdfast("shop", file, *options)

    return it


def test_starting_values_are_those_of_the_model(shop):
    said = shop("kerf: 1.4 mm\n").stdout
    rows = re.findall(r"^  mild steel +([\d.]+) mm +kerf ([\d.]+) mm +(\d+) A +(\d+) mm/min +pierce [\d.]+ s  \(feed (\d+) mm/min to (\d+) mm/min\)$", said, re.M)
    assert len(rows) == 9 and "starting values, make a test cut" in said
    for row in rows:
        thickness, kerf, current, feed, low, high = map(float, row)
        assert kerf == 1.4
        for share, given in ((0.3, low), (0.4, feed), (0.5, high)):
            assert given == pytest.approx(60 * share * 125 * current / (thickness * kerf * MELT), rel=0.01)
    feeds = {float(row[0]): float(row[3]) for row in rows if row[2] == "45"}
    assert sorted(feeds, reverse=True) == sorted(feeds, key=feeds.get), "thicker is slower"


def test_its_own_rows_and_what_can_not_be(shop):
    row = "{{metal: mild steel, thickness: {} mm, kerf: 1.4 mm, current: 45 A, feed: {} mm/min}}"
    good = shop(f"chart: [{row.format(3, 2600)}, {row.format(4, 2000)}]\n")
    assert good.returncode == 0 and "caution" not in good.stdout and "your process (cut chart)" in good.stdout and "2600 mm/min" in good.stdout
    for rows, says in ((f"{row.format(3, 400)}", "mild steel of 3 mm"), (f"{row.format(3, 9000)}", "mild steel of 3 mm"),
                       (f"{row.format(3, 2000)}, {row.format(4, 2500)}", "mild steel of 4 mm"), (f"{row.format(3, 16000)}", "faster than the table moves")):
        found = [line for line in shop(f"chart: [{rows}]\n").stdout.splitlines() if line.startswith("  caution")]
        assert found and any(says in line for line in found), (rows, found)


def test_mistakes_have_their_place(shop, tmp_path):
    done = shop("moves: {good side: north}\n")
    assert done.returncode == 2 and "shop.yaml:2" in done.stderr
    assert holdfast("shop", tmp_path / "none.yaml").returncode != 0
    assert holdfast("shop", "a", "b").returncode == 2


def test_the_table_and_inches(shop):
    said = shop("table: [1250 mm, 2500 mm]\nslats: {pitch: 100 mm, run: along y}\nprogram: {arc on: M4}\n").stdout
    assert "1250 x 2500 mm" in said and "every 100 mm, along y" in said and "arc on M4, off M5; nothing of the torch's height" in said
    assert " in/min" in shop("", "--units", "in").stdout
