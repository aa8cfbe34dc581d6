# SPDX-License-Identifier: GPL-3.0-or-later
"""The command as a user meets it: help, mistakes, exit codes, many recipes, completion, man page."""
import json
import os
import pty
import re
import subprocess

import pytest

from conftest import HOLDFAST, TOP, holdfast

PLATE = """holdfast: 1
metal: {kind: mild steel, thickness: 3 mm}
process: {kerf: 1.5 mm}
entries:
  - plate: {name: board, shape: rectangle, width: 200 mm, height: 80 mm}
"""
COMMANDS = ["make", "check", "cure", "look", "new", "recipe", "fonts", "replay", "shop", "coupon", "page"]


def test_help_teaches():
    done = holdfast("--help")
    assert done.returncode == 0 and "holdfast make boats.yaml" in done.stdout
    for command in COMMANDS:
        assert f"  {command}" in done.stdout
        one = holdfast(command, "--help")
        assert one.returncode == 0 and f"holdfast {command}" in one.stdout and one.stderr == ""


def test_wrong_options_say_what_is_wrong():
    done = holdfast("mkae", "a.yaml")
    assert done.returncode == 2 and "did you mean 'make'" in done.stderr and done.stdout == ""
    done = holdfast("make", "--pixles", "3", "a.yaml")
    assert done.returncode == 2 and "--pixles" in done.stderr and done.stdout == ""
    done = holdfast("make", "--also", "dwg", "a.yaml")
    assert done.returncode == 2 and "dxf-inch" in done.stderr
    assert holdfast().returncode == 2
    assert holdfast("make").returncode == 2


def test_missing_file():
    done = holdfast("check", "/nonexistent/a.yaml")
    assert done.returncode == 2 and "/nonexistent/a.yaml" in done.stderr


def test_several_recipes_in_order_highest_code(tmp_path):
    good, bad, wrong = (tmp_path / f"{name}.yaml" for name in ("good", "bad", "wrong"))
    good.write_text(PLATE)
    bad.write_text(PLATE + "  - hole: {diameter: 50 mm, as: metal, at: [300 mm, 0 mm]}\n")
    bad.write_text(PLATE + "  - plate: {shape: round, diameter: 30 mm, at: [300 mm, 0 mm]}\n")
    wrong.write_text(PLATE.replace("width", "widht"))
    done = holdfast("check", good, bad, wrong)
    assert done.returncode == 2
    assert re.match(r"good: whole", done.stdout) and "bad: NOT WHOLE" in done.stdout
    assert "wrong.yaml:5:" in done.stderr and "width" in done.stderr
    assert holdfast("check", good, bad).returncode == 1
    assert holdfast("check", good).returncode == 0
    both = json.loads(holdfast("check", good, bad, "--json").stdout)
    assert [one["verdict"] for one in both] == ["whole", "not whole"]
    assert json.loads(holdfast("check", good, "--json").stdout)["verdict"] == "whole"
    assert holdfast("check", good, bad, "--quiet").stdout == ""


def test_an_array_whatever_fails(tmp_path):
    """--json of several recipes: those that can be read, and an array also when it is not the first, or none."""
    good = tmp_path / "good.yaml"
    good.write_text(subprocess.run([HOLDFAST, "new", "name"], capture_output=True, text=True, check=True).stdout)
    (tmp_path / "bad.yaml").write_text("bad")
    (tmp_path / "worse.yaml").write_text("worse")
    for names, n in (("bad good worse", 1), ("good bad", 1), ("bad worse", 0)):
        done = holdfast("check", *(tmp_path / f"{name}.yaml" for name in names.split()), "--json")
        assert done.returncode == 2 and len(json.loads(done.stdout)) == n, names


def test_names_of_dots_stay_in_the_folder(tmp_path):
    for name in ("..yaml", "...yaml", ".hidden.yaml"):
        recipe = tmp_path / name
        recipe.write_text(subprocess.run([HOLDFAST, "new", "name"], capture_output=True, text=True, check=True).stdout)
        out = tmp_path / "deep" / "out"
        assert holdfast("make", recipe, "-o", out, "--pixels", "200").returncode in (0, 1)
        assert os.listdir(tmp_path / "deep") == ["out"] and all(p.is_dir() for p in out.iterdir())
    assert {p.name for p in out.iterdir()} == {"..yaml", "...yaml", ".hidden"}


def test_make_never_touches_its_input(tmp_path):
    recipe = tmp_path / "sign.yaml"
    recipe.write_bytes(b"\xef\xbb\xbf" + PLATE.replace("\n", "\r\n").encode())
    before = recipe.read_bytes(), os.stat(recipe).st_mtime_ns
    assert holdfast("make", recipe, "-o", tmp_path / "out").returncode == 0
    assert (recipe.read_bytes(), os.stat(recipe).st_mtime_ns) == before


def on_a_terminal(*words, env=None):
    """Output of the command when it writes to a terminal."""
    mine, theirs = pty.openpty()
    process = subprocess.Popen([str(HOLDFAST), *map(str, words)], stdout=theirs, stderr=theirs, env={**os.environ, "TERM": "xterm", **(env or {})})
    os.close(theirs)
    out = b""
    while True:
        try:
            piece = os.read(mine, 65536)
        except OSError:
            break
        if not piece:
            break
        out += piece
    process.wait()
    os.close(mine)
    return out.decode()


def test_colours_only_on_a_terminal(tmp_path):
    recipe = tmp_path / "sign.yaml"
    recipe.write_text(PLATE)
    assert "\033[" not in holdfast("check", recipe).stdout
    assert "\033[" in on_a_terminal("check", recipe)
    assert "\033[" not in on_a_terminal("check", recipe, env={"NO_COLOR": "1"})
    # the word is there without the colour
    assert "sign: whole" in re.sub(r"\033\[[0-9;]*m", "", on_a_terminal("check", recipe))


def kinds():
    return [line.split()[0] for line in holdfast("new").stdout.splitlines() if line.strip()]


def test_every_starter_can_be_made(tmp_path):
    assert len(kinds()) >= 5
    for kind in kinds():
        file = tmp_path / f"{kind}.yaml"
        assert holdfast("new", kind, file).returncode == 0
        text = file.read_text()
        assert "1.5 mm" in text and "measure yours" in text
        done = holdfast("check", file)
        assert done.returncode == 0, f"{kind}: {done.stdout}{done.stderr}"
        assert holdfast("new", kind, file).returncode == 2, "an existing file is never overwritten"
        assert file.read_text() == text
    assert "did you mean" in holdfast("new", kinds()[0] + "x").stderr


def test_no_kerf_is_refused(tmp_path):
    recipe = tmp_path / "sign.yaml"
    recipe.write_text(PLATE.replace("process: {kerf: 1.5 mm}\n", ""))
    env = {**os.environ, "XDG_CONFIG_HOME": str(tmp_path / "none")}
    done = holdfast("check", recipe, env=env)
    assert done.returncode == 2 and "kerf" in done.stderr
    (tmp_path / "shop.yaml").write_text("holdfast: 1\nkerf: 1.4 mm\n")
    done = holdfast("check", recipe, env=env)
    assert done.returncode == 0, done.stderr


def test_man_page_and_completion_know_every_command():
    man = (TOP / "docs/holdfast.1").read_text()
    completion = (TOP / "tools/completion.bash").read_text()
    for command in COMMANDS:
        assert f".B {command}" in man and command in completion
        for option in re.findall(r"--([a-z-]+)", holdfast(command, "--help").stdout.split("\n\n")[-1]):
            assert f"--{option}" in completion, f"{command} --{option}"
    script = f"source {TOP}/tools/completion.bash; COMP_WORDS=(holdfast ma); COMP_CWORD=1; _holdfast; echo ${{COMPREPLY[@]}}"
    assert subprocess.run(["bash", "-c", script], capture_output=True, text=True).stdout.strip() == "make"


def test_schemas_are_json():
    for option in ("--schema", "--shop-schema"):
        assert json.loads(holdfast("recipe", option).stdout)["$schema"]
    assert "words" in holdfast("recipe").stdout


@pytest.mark.parametrize("name", ["a\nb", "-x"])
def test_odd_file_names(tmp_path, name):
    recipe = tmp_path / f"{name}.yaml"
    recipe.write_text(PLATE)
    assert holdfast("check", recipe).returncode == 0


def test_font_file_beside_the_recipe(tmp_path):
    """Found from the recipe's own folder wherever the command is started; links may not lead out."""
    font = subprocess.run(["fc-match", "-f", "%{file}", "Bebas Neue:style=Regular"], capture_output=True, text=True).stdout
    folder, outside = tmp_path / "sign", tmp_path / "outside"
    (folder / "fonts").mkdir(parents=True)
    outside.mkdir()
    text = PLATE + '  - words: {text: HI, font: {file: fonts/own.otf}, height: 40 mm, as: opening}\n'
    (folder / "sign.yaml").write_text(text)
    done = holdfast("check", folder / "sign.yaml", cwd=outside)
    assert done.returncode == 2 and "there is no font file" in done.stderr
    (folder / "fonts" / "own.otf").write_bytes(open(font, "rb").read())
    assert holdfast("check", folder / "sign.yaml", cwd=outside).returncode == 0
    assert holdfast("check", "sign.yaml", cwd=folder).returncode == 0
    (folder / "fonts" / "own.otf").rename(outside / "own.otf")
    (folder / "fonts" / "own.otf").symlink_to(outside / "own.otf")
    done = holdfast("check", folder / "sign.yaml", cwd=outside)
    assert done.returncode == 2 and "leads out" in done.stderr
