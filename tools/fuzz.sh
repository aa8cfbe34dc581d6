#!/bin/bash
# SPDX-License-Identifier: GPL-3.0-or-later
# usage: tools/fuzz.sh SECONDS   builds every fuzz target with clang's libFuzzer, runs each so long
# Starts from the kept corpus; what it finds new stays in a temporary folder unless it crashes.
set -euo pipefail
cd "$(dirname "$0")/.."
seconds=${1:-60}
[[ -f build-fuzz/build.ninja ]] || CC=clang CXX=clang++ meson setup build-fuzz -Dtests=true -Dfuzzer=true -Dwerror=false \
  -Db_sanitize=address,undefined -Db_lundef=false -Doptimization=1 >/dev/null
ninja -C build-fuzz >build-fuzz/log 2>&1 || { tail -n 20 build-fuzz/log; exit 1; }
bad=0
for target in build-fuzz/fuzz/fuzz_*; do
  [[ -f $target && -x $target ]] || continue
  name=$(basename "$target")
  name=${name#fuzz_}
  fresh=$(mktemp -d)
  echo "  $name"
  if ! ASAN_OPTIONS=detect_leaks=0 "$target" -max_total_time="$seconds" -timeout=20 -rss_limit_mb=2048 -artifact_prefix="fuzz/found-$name-" \
    "$fresh" "fuzz/corpus/$name" >"$fresh.log" 2>&1; then
    tail -n 25 "$fresh.log"
    bad=1
  fi
  rm -rf "$fresh"
done
exit $bad
