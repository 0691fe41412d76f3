#!/bin/sh
# tests/gui/make-help-pictures.sh: makes data/help/pictures anew from the demo plan
#
#   sh make-help-pictures.sh BUILD_FOLDER
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -eu

[ $# -eq 1 ] || { echo "usage: sh make-help-pictures.sh BUILD_FOLDER" >&2; exit 2; }
top=$(cd "$(dirname "$0")/../.." && pwd)
build=$(cd "$1" && pwd)
export TS_TEST_GUI="$build/src/gui/tonestair" TS_TEST_SOURCE="$top" TONESTAIR_DATA="$top/data"

shoot () { # SIZE NAME...
  size=$1
  shift
  sh "$top/tests/gui/headless" --limit 1200 --size "$size" -- \
    /usr/bin/python3 "$top/tests/gui/make_help_pictures.py" "$top/data/help/pictures" "$@"
}

shoot 1290x810 run stair curve correction paints sheet palette bottles finish
shoot 970x610 brief
