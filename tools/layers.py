#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""The one-way pipeline is law: a folder of src/ includes only itself and folders before it, and
another folder only through its doors; nor does it call what it was not meant to see and reaches
through somebody else's header. Exit 1 with the line and the part to move."""
import collections
import pathlib
import re
import sys

ORDER = ["base", "pdf", "stock", "geom", "ornament", "type", "raster", "drawing", "recipe", "shop", "layout", "metal", "thin", "hold", "coupon",
         "sign", "tie", "mend", "cure", "tour", "lead", "sheet", "cut", "program", "replay", "price", "out", "faces", "run", "page", "cli"]
# What is read (fonts, recipes, the shop file) may be asked for where it is; what is made of it only of run/.
READ = {"base", "stock", "type", "recipe", "shop"}
ONLY_THROUGH = {"page": READ | {"faces", "run", "page"}, "cli": READ | {"faces", "run", "page", "cli"}}
COMMENT_OR_TEXT = re.compile(r'/\*.*?\*/|//[^\n]*|"(?:\\.|[^"\\\n])*"', re.S)


def code_of(text: str) -> str:
    """Without comments and texts, line for line."""
    return COMMENT_OR_TEXT.sub(lambda found: "\n" * found.group().count("\n"), text)


def why_not(here: str, there: str, file: str) -> str | None:
    """What is wrong with code of `here` that needs `there/file`."""
    if there not in ORDER or ORDER.index(there) > ORDER.index(here):
        return f"{here}/ must not know {there}/; move what is shared up"
    if there != here and file.endswith("-private.h"):
        return f"{there}/{file} is private; use the door of {there}/"
    if there not in ONLY_THROUGH.get(here, ORDER):
        return f"{here}/ goes through run/ only, not {there}/"
    return None


def declared(src: pathlib.Path) -> dict[str, set[tuple[str, str]]]:
    """Each function of ours, and the headers that declare it."""
    headers = collections.defaultdict(set)
    for path in sorted(src.rglob("*.h")):
        there, file = path.relative_to(src).parts[0], path.name
        for name in re.findall(r"\b(hf_\w+)\s*\(", code_of(path.read_text())):
            headers[name].add((there, file))
    return headers


def troubles(src: pathlib.Path):
    headers = declared(src)
    for path in sorted(src.rglob("*.[ch]*")):
        here = path.relative_to(src).parts[0]
        if here not in ORDER:
            yield f"{path}: folder '{here}' is not in the order; add it to tools/layers.py"
            continue
        text = path.read_text()
        for number, line in enumerate(text.splitlines(), 1):
            found = re.match(r'#include "([^/"]+)/([^"]+)"', line)
            if not found and re.match(r'#include "', line):
                yield f"{path}:{number}: write the include with its folder"
            why = why_not(here, *found.groups()) if found else None
            if why:
                yield f"{path}:{number}: {why}"
        for number, line in enumerate(code_of(text).splitlines(), 1):
            for name in re.findall(r"\bhf_\w+", line):
                whys = [why_not(here, there, file) for there, file in sorted(headers.get(name, ()))]
                if whys and all(whys):
                    yield f"{path}:{number}: {name}: {whys[0]}"


if __name__ == "__main__":
    found = list(troubles(pathlib.Path(sys.argv[1] if len(sys.argv) > 1 else "src")))
    print("\n".join(found) if found else "folder order holds")
    sys.exit(bool(found))
