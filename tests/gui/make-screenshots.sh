#!/bin/sh
# tests/gui/make-screenshots.sh: makes screenshots/ anew from the demo plan
#
#   sh make-screenshots.sh BUILD_FOLDER
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -eu

[ $# -eq 1 ] || { echo "usage: sh make-screenshots.sh BUILD_FOLDER" >&2; exit 2; }
top=$(cd "$(dirname "$0")/../.." && pwd)
build=$(cd "$1" && pwd)
export TS_TEST_GUI="$build/src/gui/tonestair" TS_TEST_SOURCE="$top" TONESTAIR_DATA="$top/data"

shoot () { # OPTIONS-OF-HEADLESS -- NAME...
  options=''
  while [ "$1" != -- ]; do options="$options $1"; shift; done
  shift
  sh "$top/tests/gui/headless" $options -- \
    /usr/bin/python3 "$top/tests/gui/make_screenshots.py" "$top/screenshots" "$@"
}

mkdir -p "$top/screenshots"
shoot --limit 1200 --size 1290x810 -- empty main-window other-mixes out-of-reach curve-and-areas stair-check values arms-length two-pictures \
  correction-card correction-chart clipping paints paint mix-by-hand swatch-sheet brief finish-check mixing-card order-of-work
shoot --dark --size 1290x810 -- main-window-dark values-dark
shoot --scale 2 --size 2580x1620 -- main-window-2x
shoot --size 970x610 -- main-window-960x600
"$build/src/cli/tonestair-cli" card "$top/data/demo/lighthouse.tonestair" \
  --out "$top/screenshots/card.png"
rm -f "$top/screenshots/card-2.png" # one page is enough to look at
