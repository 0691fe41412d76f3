#!/bin/sh
# data/demo/run.sh: builds Tonestair and opens the demo plan
#
#   sh data/demo/run.sh                      in a window
#   sh data/demo/run.sh --headless OUT_DIR   without a display: leaves the mixing card, a plan and a
#                                            picture of the window in OUT_DIR
#
# Installs what is missing with apt-get where it may. TONESTAIR_BUILD names another build folder.
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -eu

top=$(cd "$(dirname "$0")/../.." && pwd)
. "$top/data/packages.sh"

out=''
case ${1:-} in
  '') ;;
  --headless)
    [ $# -eq 2 ] || { echo "usage: sh data/demo/run.sh [--headless OUT_DIR]" >&2; exit 2; }
    mkdir -p "$2"
    out=$(cd "$2" && pwd) ;;
  *)
    echo "usage: sh data/demo/run.sh [--headless OUT_DIR]" >&2
    exit 2 ;;
esac

packages_need $packages_build $packages_show ${out:+$packages_headless}

build=${TONESTAIR_BUILD:-$top/_build/demo}
[ -f "$build/build.ninja" ] || meson setup -Dbuildtype=release "$build" "$top" > /dev/null
ninja -C "$build" > "$build/build.log" || { tail -n 40 "$build/build.log"; exit 1; }

demo=$top/data/demo
cli=$build/src/cli/tonestair-cli
gui=$build/src/gui/tonestair
# What is not installed is found here.
export TONESTAIR_DATA="$top/data"

if [ -z "$out" ]; then
  exec "$gui" "$demo/lighthouse.tonestair"
fi

"$cli" check "$demo/lighthouse.tonestair"
"$cli" card "$demo/lighthouse.tonestair" --out "$out/card.pdf"
"$cli" card "$demo/lighthouse.tonestair" --out "$out/card.png"
"$cli" card "$demo/lighthouse.tonestair" --out "$out/card.csv"
sh "$top/tests/gui/headless" --size 1280x800 -- \
  /usr/bin/python3 "$top/tests/gui/picture_of_window.py" "$gui" "$demo/lighthouse.tonestair" \
  "$out/window.png"
echo "In $out: card.pdf, card.png, card.csv, window.png"
