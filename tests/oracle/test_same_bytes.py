# SPDX-License-Identifier: GPL-3.0-or-later
"""Proof and papers have the same bytes whatever the user's own settings for fonts are.

The other settings are such as fonts.conf(5) of Fontconfig documents: hinting, smoothing, subpixels, which family stands
in for which, where fonts lie and in which order. Which font files there are is the same.
"""
import hashlib
import os
import pathlib
import subprocess
import xml.sax.saxutils

import pytest

from conftest import HOLDFAST

RECIPE = """holdfast: 1
sign: "Saltmarsh \u6e2f \u05e9\u05dc\u05d5\u05dd \u0928\u092e\u0938\u094d\u0924\u0947 \u0395\u03bb \u2116"
metal: {kind: mild steel, thickness: 3 mm}
process: {kerf: 1.5 mm}
order: {customer: "\u30d5\u30a7\u30ea\u30fc \u2192 Quay", number: SQ-1}
entries:
  - plate: {name: board, shape: rectangle, width: 300 mm, height: 90 mm}
  - words: {text: QUAY, font: Bebas Neue, height: 60 mm, on: board, as: opening}
"""


def folders():
    """Where font files lie, each folder by itself."""
    listed = subprocess.run(["fc-list", "--format", "%{file}\n"], capture_output=True, text=True, check=True).stdout
    return sorted({str(pathlib.Path(line).parent) for line in listed.splitlines() if line})


def settings(tmp_path, name, where, rules):
    file = tmp_path / name
    dirs = "".join(f"<dir>{xml.sax.saxutils.escape(folder)}</dir>" for folder in where)
    file.write_text(f'<?xml version="1.0"?><!DOCTYPE fontconfig SYSTEM "fonts.dtd"><fontconfig>{dirs}<cachedir>{tmp_path}/cache</cachedir>{rules}</fontconfig>')
    return str(file)


def edit(target, **values):
    return f'<match target="{target}">' + "".join(f'<edit name="{key}" mode="assign">{value}</edit>' for key, value in values.items()) + "</match>"


HARSH = edit("font", antialias="<bool>false</bool>", hinting="<bool>true</bool>", hintstyle="<const>hintfull</const>", autohint="<bool>true</bool>", rgba="<const>rgb</const>",
             lcdfilter="<const>lcdlegacy</const>", embolden="<bool>true</bool>") + edit("pattern", dpi="<double>200</double>", antialias="<bool>false</bool>")
SOFT = edit("font", antialias="<bool>true</bool>", hinting="<bool>false</bool>", hintstyle="<const>hintnone</const>")
OTHER_FACES = "".join(f'<match target="pattern"><test name="family"><string>{family}</string></test><edit name="family" mode="prepend" binding="strong"><string>DejaVu Sans Mono</string></edit></match>'
                      for family in ("serif", "Vollkorn"))


def digests(tmp_path, name, env):
    out = tmp_path / name
    done = subprocess.run([str(HOLDFAST), "make", "-q", "sign.yaml", "-o", str(out)], cwd=tmp_path, env={**os.environ, **env}, capture_output=True, text=True)
    assert done.returncode in (0, 1), done.stderr
    return {file.name: hashlib.sha256(file.read_bytes()).hexdigest() for file in sorted((out / "sign").iterdir())}


def test_other_settings_same_bytes(tmp_path):
    (tmp_path / "sign.yaml").write_text(RECIPE)
    where = folders()
    if not where:
        pytest.skip("no fonts are here")
    plain = digests(tmp_path, "plain", {"FONTCONFIG_FILE": settings(tmp_path, "plain.conf", where, "")})
    assert {"proof.png", "proof.pdf"} <= set(plain)
    for name, order, rules, env in [("harsh", where[::-1], HARSH, {}), ("soft", where, SOFT, {}), ("faces", where[::-1], OTHER_FACES, {}),
                                    ("tongue", where, HARSH, {"LANGUAGE": "ja:zh", "LANG": "C.UTF-8", "PANGO_LANGUAGE": "ja"})]:
        other = digests(tmp_path, name, {"FONTCONFIG_FILE": settings(tmp_path, f"{name}.conf", order, rules), **env})
        assert other == plain, (name, [file for file in plain if plain[file] != other.get(file)])


def test_the_settings_do_differ(tmp_path):
    """The same settings change what Fontconfig itself answers: else the test above could not fail."""
    def asked(rules):
        env = {**os.environ, "FONTCONFIG_FILE": settings(tmp_path, "x.conf", folders(), rules)}
        return subprocess.run(["fc-match", "-f", "%{family} %{antialias} %{hintstyle} %{embolden}", "Vollkorn"], env=env, capture_output=True, text=True, check=True).stdout
    assert len({asked(HARSH), asked(SOFT), asked(OTHER_FACES), asked("")}) == 4
