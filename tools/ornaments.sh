#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Writes docs/ornaments.md and the picture sheet in it: tools/ornaments.sh [BUILD]
set -eu
build=${1:-build}
top=$(dirname "$0")/..
"$build/tools/ornaments" > "$top/docs/ornaments.md"
"$build/tools/ornaments" --sheet | rsvg-convert -w 1600 -o "$top/docs/pictures/ornaments.png"
