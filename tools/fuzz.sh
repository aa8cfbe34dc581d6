#!/bin/bash
# SPDX-License-Identifier: GPL-3.0-or-later
# usage: tools/fuzz.sh SECONDS [TARGET...]   builds the fuzz targets with clang's libFuzzer, runs each so long
# Starts from the kept corpus; what it finds new stays in a temporary folder unless it crashes. Says of each, in
# one line: tries, edges of the program that were reached, the slowest try, the most memory. Entropic scheduling is
# off: it took a third of the time of those whose tries are dear.
set -euo pipefail
cd "$(dirname "$0")/.."
seconds=${1:-60}
[[ $# -gt 0 ]] && shift
[[ -f build-fuzz/build.ninja ]] || CC=clang CXX=clang++ meson setup build-fuzz -Dtests=true -Dfuzzer=true -Dwerror=false \
  -Db_sanitize=address,undefined -Db_lundef=false -Doptimization=2 >/dev/null
wanted=("${@/#/fuzz/fuzz_}")
ninja -C build-fuzz "${wanted[@]}" >build-fuzz/log 2>&1 || { tail -n 20 build-fuzz/log; exit 1; }

# stat LOG NAME: a figure of libFuzzer's last words; ? where it did not come to them
stat() {
  local found
  found=$(sed -n "s/^stat::$2: *//p" "$1" | tail -n 1)
  echo "${found:-?}"
}

# tell NAME LOG: `  journal   12000 tries, 850 of 41000 edges, slowest 0 s, 120 MB`
tell() {
  local reached all
  reached=$(grep -oE 'cov: [0-9]+' "$2" | tail -n 1 | cut -d' ' -f2)
  all=$(grep -oE '\([0-9]+ inline 8-bit counters\)' "$2" | head -n 1 | tr -dc '0-9 ' | cut -d' ' -f1)
  printf '  %-8s %8s tries, %6s of %s edges, slowest %s s, %s MB\n' "$1" "$(stat "$2" number_of_executed_units)" \
    "${reached:-?}" "${all:-?}" "$(stat "$2" slowest_unit_time_sec)" "$(stat "$2" peak_rss_mb)"
}

bad=0
for target in build-fuzz/fuzz/fuzz_*; do
  [[ -f $target && -x $target ]] || continue
  name=$(basename "$target")
  name=${name#fuzz_}
  [[ $# -eq 0 || " $* " == *" $name "* ]] || continue
  fresh=$(mktemp -d)
  if ! ASAN_OPTIONS=detect_leaks=0 "$target" -max_total_time="$seconds" -timeout=20 -rss_limit_mb=2048 -entropic=0 -print_final_stats=1 \
    -artifact_prefix="fuzz/found-$name-" "$fresh" "fuzz/corpus/$name" >"$fresh.log" 2>&1; then
    tail -n 25 "$fresh.log"
    bad=1
  fi
  tell "$name" "$fresh.log"
  rm -rf "$fresh" "$fresh.log"
done
exit $bad
