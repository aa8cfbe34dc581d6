# SPDX-License-Identifier: GPL-3.0-or-later
"""The habits that a tool can keep: folder order, headers, format, spelling, licence lines."""
import pathlib
import re
import subprocess

import pytest

TOP = pathlib.Path(__file__).resolve().parents[2]


def run(*command):
    done = subprocess.run(command, cwd=TOP, capture_output=True, text=True)
    assert done.returncode == 0, done.stdout + done.stderr


def files(*patterns):
    listed = subprocess.run(["git", "ls-files", *patterns], cwd=TOP, capture_output=True, text=True)
    return [name for name in listed.stdout.splitlines() if (TOP / name).is_file()]


def test_folder_order():
    run("/usr/bin/python3", "tools/layers.py")


def test_folder_order_can_fail(tmp_path):
    (tmp_path / "geom").mkdir()
    (tmp_path / "geom" / "a.c").write_text('#include "hold/hold.h"\n')
    done = subprocess.run(["/usr/bin/python3", TOP / "tools/layers.py", tmp_path], capture_output=True)
    assert done.returncode == 1 and b"geom/ must not know hold/" in done.stdout


@pytest.mark.parametrize("told, files", [
    # run.h brings out.h along: that is no leave to write reports oneself
    (b"cli/a.c:3: hf_out_report: cli/ goes through run/ only, not out/",
     {"out/out.h": "void hf_out_report(void);", "run/run.h": '#include "out/out.h"',
      "cli/a.c": '#include "run/run.h"\nvoid\nf(void) { hf_out_report(); }'}),
    # a door that brings a private header along
    (b"run/a.c:2: hf_cut_try: cure/cut-private.h is private; use the door of cure/",
     {"cure/cut-private.h": "int hf_cut_try(int);", "cure/cure.h": '#include "cure/cut-private.h"',
      "run/a.c": '#include "cure/cure.h"\nint g(void) { return hf_cut_try(1); }'}),
    # declared by hand, with no header at all
    (b"geom/a.c:1: hf_hold_check: geom/ must not know hold/; move what is shared up",
     {"hold/hold.h": "int hf_hold_check(int);", "geom/a.c": "int hf_hold_check(int);"}),
    # in a comment or a text it is no use of it
    (b"folder order holds",
     {"hold/hold.h": "int hf_hold_check(int);", "geom/a.c": '/* see hf_hold_check() */ const char *a = "hf_hold_check";'}),
])
def test_folder_order_sees_through_headers(tmp_path, told, files):
    for name, text in files.items():
        (tmp_path / name).parent.mkdir(exist_ok=True)
        (tmp_path / name).write_text(text + "\n")
    done = subprocess.run(["/usr/bin/python3", TOP / "tools/layers.py", tmp_path], capture_output=True)
    assert told in done.stdout and done.returncode == (0 if told == b"folder order holds" else 1)


def test_headers_compile_alone():
    run("bash", "tools/headers-alone.sh")


def test_format():
    run("clang-format", "--dry-run", "-Werror", *files("*.c", "*.h", "*.cpp"))


def test_spelling():
    run("codespell", "--ignore-words", "tools/words.txt", *[f for f in files("*.c", "*.h", "*.cpp", "*.md", "*.py", "demo", "check")])


def test_licence_lines():
    missing = [name for name in files("*.c", "*.h", "*.cpp", "*.py", "*.sh", "*meson.build", "demo", "check", ".ci/run")
               if "SPDX-License-Identifier: GPL-3.0-or-later" not in (TOP / name).read_text()[:400]]
    assert not missing


def test_file_names_are_unique():
    names = [pathlib.Path(name).name for name in files("src/*.c", "src/*.h", "src/*.cpp")]
    assert sorted(set(names)) == sorted(names)


def test_numbers_to_files_never_by_printf():
    """A comma in a cut file is scrap metal: number text is made in base/ only."""
    bad = []
    for name in files("src/*.c"):
        if name.startswith("src/base/"):
            continue
        for number, line in enumerate((TOP / name).read_text().splitlines(), 1):
            if re.search(r'%[-+ 0#]*[0-9.*]*[feEgG]\b', line):
                bad.append(f"{name}:{number}: {line.strip()}")
    assert not bad, "\n".join(bad)


COMMENT = re.compile(r"/\*.*?\*/|//[^\n]*", re.S)
OURS = r"(?:hf_[a-z0-9_]+[a-z0-9]|Hf[A-Z]\w+|HF_[A-Z0-9_]+[A-Z0-9])\b(?![_*])"


def test_comments_name_what_is_there():
    """Files, functions, types and constants of ours that a comment names are somewhere in the code."""
    code = COMMENT.sub(" ", "\n".join((TOP / name).read_text() for name in files("src/*.[ch]", "src/*.cpp", "src/*.def", "tests/unit/*.[ch]")))
    known = set(re.findall(r"\w+", code)) | {f"HF_{made}_{name}" for made, name in re.findall(r"^(LAW|FIGURE)\((\w+)", code, re.M)}
    there = {pathlib.Path(name).name for name in files()}
    bad = []
    for name in files("src/*.[ch]", "src/*.cpp"):
        for text in COMMENT.findall((TOP / name).read_text()):
            bad += [f"{name}: there is no {file}" for file in re.findall(r"(?<![\w./-])([a-z][a-z0-9-]+\.(?:c|h|cpp|def))\b", text) if file not in there]
            bad += [f"{name}: there is no {symbol}" for symbol in re.findall(rf"\b{OURS}", text) if symbol not in known]
    assert not bad, "\n".join(bad)


def test_the_slack_and_what_goes_over_a_limit_are_said_once():
    """stock/practice.h has both figures; a comment may name them."""
    bad = []
    for name in files("src/*.[ch]"):
        code = COMMENT.sub("", (TOP / name).read_text())
        if name != "src/stock/practice.h":
            bad += [f"{name}: {line.strip()}" for line in code.splitlines() if re.search(r"\b1\.25\b|\bSLACK +0\.01\b", line)]
    assert not bad, "\n".join(bad)


def test_every_unit_test_is_run():
    listed = (TOP / "tests/unit/meson.build").read_text()
    missing = [name for name in files("tests/unit/test_*.c") if f"'{pathlib.Path(name).stem[5:]}'" not in listed]
    assert not missing


def test_formulas_cited_in_the_code_are_in_the_maths():
    headings = {re.sub(r"[^a-z0-9 -]", "", line.lstrip("# ").lower()).replace(" ", "-")
                for line in (TOP / "docs/maths.md").read_text().splitlines() if line.startswith("#")}
    cited = {anchor for name in files("src/*", "tests/*.c") for anchor in re.findall(r"maths\.md#([a-z0-9-]+)", (TOP / name).read_text())}
    assert cited and cited <= headings, cited - headings


def test_links_in_the_documents_lead_somewhere():
    bad = []
    for name in files("*.md"):
        for target in re.findall(r"\]\(([^)#\s]+)", (TOP / name).read_text()):
            if "://" not in target and not (TOP / name).parent.joinpath(target).exists():
                bad.append(f"{name}: {target}")
    assert not bad


def test_no_clock_seed_or_locale_in_the_library():
    """Same recipe, same bytes: nothing of src/ but the command's own watching looks at a clock."""
    bad = []
    for name in files("src/*.c", "src/*.cpp"):
        for number, line in enumerate((TOP / name).read_text().splitlines(), 1):
            if re.search(r"\b(g_get_real_time|g_date_time_new_now|time\(NULL\)|gettimeofday|g_random_|rand\(\)|strtod\()", line):
                bad.append(f"{name}:{number}: {line.strip()}")
    assert not bad, "\n".join(bad)


def test_shell():
    run("shellcheck", "demo", "check", ".ci/run", *files("*.sh", "tools/completion.bash"))


FUNCTION = re.compile(r"^(?:[A-Za-z_][\w *]*?[ *])(hf_\w+)\(([^;{}]*)\)[^;{}]*;([^\n]*)", re.M)


def without_a_word(header):
    """Functions of a header that nothing is said of: no comment before or behind them, none that names them, and not
    one of a block whose first comment begins with 'Each'."""
    found = []
    for match in FUNCTION.finditer(header):
        name = match[1]
        block = header[header.rfind("\n\n", 0, match.start()) + 1:match.start()]
        line_before = header[:match.start()].rstrip("\n").rsplit("\n", 1)[-1].strip()
        said = "/*" in match[3] or (line_before.endswith("*/") and not header[:match.start()].endswith("\n\n"))
        named = re.search(r"(?:/\*\*|^ \*)[^\n]*\b" + name + r"\b", header, re.M)
        if not said and not named and "/** Each" not in block and not match[0].startswith(("typedef", "static")):
            found.append(name)
    return found


def test_every_function_of_a_header_has_a_word():
    missing = {name: found for name in files("src/*.h") if (found := without_a_word((TOP / name).read_text()))}
    assert not missing


def test_a_function_without_a_word_is_found():
    header = "/** hf_a: does a. */\nvoid hf_a(void);\nint hf_b(int x); /* b */\n\nint hf_c(void);\n\n/** Each does one. */\nint hf_d(void);\nint hf_e(void);\n"
    assert without_a_word(header) == ["hf_c"]


ASKS_FOR_A_UNIT = {"src/base/units.c", "src/recipe/measure.c", "src/recipe/read-figures.c",  # the door; what asks for a unit names several
                   "src/hold/formula.c", "src/hold/law-table.c", "src/faces/smallest-size.c"}  # reads a formula; a page of docs; no recipe


def test_lengths_become_text_by_one_door():
    """A figure with ' mm' glued to it is told in mm whatever the recipe speaks: base/units.h is the door."""
    glued = re.compile(r'%[^ "]*[a-z] mm\b|^" mm\b')
    found = {name for name in files("src/*.c") for literal in re.findall(r'"(?:[^"\\\n]|\\.)*"', (TOP / name).read_text()) if glued.search(literal)}
    assert found <= ASKS_FOR_A_UNIT
    assert glued.search('"%s mm"') and "src/base/units.c" in found
