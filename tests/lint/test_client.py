# SPDX-License-Identifier: GPL-3.0-or-later
"""The page's TypeScript: strict types, lint rules, its size (at most 80 kB gzipped). Its own unit tests run in
test_new_kind.py, with a kind of entry more than it knows."""
import os
import re
import shutil
import subprocess

import pytest

from conftest import HOLDFAST, TOP

CLIENT = TOP / "src" / "page" / "client"


def run(*words):
    return subprocess.run(words, cwd=CLIENT, capture_output=True, text=True, env={**os.environ, "HOLDFAST": str(HOLDFAST)}, timeout=600)


@pytest.fixture(autouse=True)
def tools():
    if shutil.which("node") is None or not (CLIENT / "node_modules").exists():
        pytest.skip("the page is not built here: no Node")


@pytest.mark.parametrize("words", [("node", "node_modules/typescript/bin/tsc", "--noEmit"), ("node", "node_modules/eslint/bin/eslint.js", "--max-warnings", "0", ".")],
                         ids=["types", "rules"])
def test_client(words):
    done = run(*words)
    assert done.returncode == 0, done.stdout[-4000:] + done.stderr[-2000:]


def test_size(tmp_path):
    done = run("node", "build.mjs", str(tmp_path))
    assert done.returncode == 0, done.stderr
    assert {"index.html", "page.js", "page.css"} <= {it.name for it in tmp_path.iterdir()}
    assert "sourceMappingURL" not in (tmp_path / "page.js").read_text()


def test_names_become_text_never_markup():
    """HTML living standard: what is put in by these is parsed, so a name could bring a script along."""
    doors = re.compile(r"\b(innerHTML|outerHTML|insertAdjacentHTML|document\.write|dangerouslySetInnerHTML|setHTML|srcdoc|createContextualFragment)\b")
    files = [file for kind in ("ts", "tsx", "html") for file in (CLIENT / "src").rglob(f"*.{kind}")]
    assert len(files) > 10
    found = {str(file.relative_to(CLIENT)): doors.findall(file.read_text()) for file in files}
    assert not {name: words for name, words in found.items() if words}
