#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""The one-way pipeline is law: a folder of src/ includes only itself and folders before it, and
another folder only through its doors. Exit 1 with the line and the part to move."""
import pathlib
import re
import sys

ORDER = ["base", "stock", "geom", "type", "drawing", "recipe", "shop", "layout", "metal", "thin", "hold",
         "sign", "tie", "mend", "cure", "lead", "sheet", "cut", "price", "out", "run", "page", "cli"]
ONLY_THROUGH = {"cli": {"base", "stock", "run", "page", "cli"}, "page": {"base", "stock", "run", "page"}}


def troubles(src: pathlib.Path):
    for path in sorted(src.rglob("*.[ch]*")):
        here = path.relative_to(src).parts[0]
        if here not in ORDER:
            yield f"{path}: folder '{here}' is not in the order; add it to tools/layers.py"
            continue
        for number, line in enumerate(path.read_text().splitlines(), 1):
            found = re.match(r'#include "([^/"]+)/([^"]+)"', line)
            if not found:
                if re.match(r'#include "', line):
                    yield f"{path}:{number}: write the include with its folder"
                continue
            there, file = found.groups()
            if there not in ORDER or ORDER.index(there) > ORDER.index(here):
                yield f"{path}:{number}: {here}/ must not know {there}/; move what is shared up"
            elif there != here and file.endswith("-private.h"):
                yield f"{path}:{number}: {there}/{file} is private; use the door of {there}/"
            elif here in ONLY_THROUGH and there not in ONLY_THROUGH[here]:
                yield f"{path}:{number}: {here}/ goes through run/ only, not {there}/"


if __name__ == "__main__":
    found = list(troubles(pathlib.Path(sys.argv[1] if len(sys.argv) > 1 else "src")))
    print("\n".join(found) if found else "folder order holds")
    sys.exit(bool(found))
