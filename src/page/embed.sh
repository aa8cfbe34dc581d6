#!/bin/bash
# SPDX-License-Identifier: GPL-3.0-or-later
# usage: embed.sh FOLDER DEPFILE: bundles client/ and writes FOLDER/page-assets.c and .h, the files of
# the page as a resource of the binary. Installs what the bundler needs (package-lock.json) first.
set -euo pipefail
here=$(cd "$(dirname "$0")" && pwd)
client=$here/client out=$1 depfile=$2
bundle=$out/page-bundle

if [[ ! -d $client/node_modules/esbuild || $client/package-lock.json -nt $client/node_modules/.package-lock.json ]]; then
  npm ci --prefix "$client" --no-audit --no-fund --loglevel=error >"$out/npm.log" 2>&1 ||
    { cat "$out/npm.log" >&2; echo "what the page is bundled with could not be fetched; build without the page: meson configure -Dpage=disabled" >&2; exit 1; }
fi
rm -rf "$bundle"
node "$client/build.mjs" "$(realpath -m "$bundle")"

# what is bundled from others keeps their terms beside it: /licences.txt of the page
for file in "$client"/node_modules/{preact,@preact/signals,@preact/signals-core}/LICENSE /usr/share/doc/fonts-vollkorn/copyright; do
  [[ -f $file ]] && printf '== %s ==\n\n%s\n\n' "$(basename "$(dirname "$file")")" "$(<"$file")"
done >"$bundle/licences.txt"

{
  echo '<gresources><gresource prefix="/holdfast/page">'
  for file in "$bundle"/*; do
    echo "<file compressed=\"true\">$(basename "$file")</file>"
  done
  echo '</gresource></gresources>'
} >"$bundle.gresource.xml"
for kind in source header; do
  ending=c
  [[ $kind == header ]] && ending=h
  glib-compile-resources --generate-$kind --manual-register --c-name hf_page_assets --internal \
    --sourcedir "$bundle" --target "$out/page-assets.$ending" "$bundle.gresource.xml"
done

{
  printf '%s' "$out/page-assets.c $out/page-assets.h:"
  find "$client" -path "$client/node_modules" -prune -o -path "$client/out" -prune -o -type f \
    \( -path "$client/src/*" -o -name build.mjs -o -name package-lock.json \) -print | sort | sed 's/ /\\ /g' | tr '\n' ' ' | sed 's/^/ /'
  echo
} >"$depfile"
