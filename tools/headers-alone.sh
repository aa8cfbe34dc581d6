#!/bin/bash
# SPDX-License-Identifier: GPL-3.0-or-later
# Every header compiles by itself.
set -u
cd "$(dirname "$0")/.." || exit 3
flags=$(pkg-config --cflags glib-2.0 gio-2.0 cairo pangocairo harfbuzz fontconfig yaml-0.1 json-glib-1.0 libsoup-3.0)
bad=0
for header in $(find src -name '*.h' | sort); do
  # shellcheck disable=SC2086
  echo "#include \"${header#src/}\"" |
    ${CC:-cc} -std=c11 -D_GNU_SOURCE -Wall -Wextra -Werror -Isrc $flags -x c -fsyntax-only - || { echo "not alone: $header"; bad=1; }
done
[ $bad = 0 ] && echo "headers compile alone"
exit $bad
