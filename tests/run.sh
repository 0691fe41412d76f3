#!/bin/sh
# tests/run.sh: builds Tonestair and runs all its tests, plain and under the sanitizers
#
# Installs what is missing with apt-get where it may. The last line reads "N passed, N failed".
# TONESTAIR_BUILD names another folder to build in.
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -u

top=$(cd "$(dirname "$0")/.." && pwd)
. "$top/data/packages.sh"
packages_need $packages_build $packages_show $packages_headless $packages_test

builds=${TONESTAIR_BUILD:-$top/_build}
passed=0
failed=0

count () { # FOLDER: adds what meson's log of the last run says
  set -- $(/usr/bin/python3 "$top/tests/count-results.py" "$1/meson-logs/testlog.json")
  passed=$((passed + $1))
  failed=$((failed + $2))
}

fail () {
  echo "$1" >&2
  failed=$((failed + 1))
}

run () { # NAME TESTS_ARGS -- SETUP_ARGS
  name=$1 folder=$builds/$1
  shift
  tests=''
  while [ "$1" != -- ]; do tests="$tests $1"; shift; done
  shift
  echo "== $name"
  if [ ! -f "$folder/build.ninja" ]; then
    meson setup --werror --fatal-meson-warnings "$@" "$folder" "$top" > /dev/null ||
      { fail "$name: meson setup failed"; return; }
  fi
  ninja -C "$folder" > "$folder/build.log" 2>&1 ||
    { tail -n 60 "$folder/build.log"; fail "$name: the build failed"; return; }
  rm -f "$folder/meson-logs/testlog.json"
  meson test -C "$folder" --no-rebuild --print-errorlogs $tests || true
  count "$folder"
}

run plain -- -Dbuildtype=debugoptimized
run sanitized --timeout-multiplier 4 -- -Dbuildtype=debugoptimized \
  -Db_sanitize=address,undefined -Db_lundef=false

echo "$passed passed, $failed failed"
[ "$failed" -eq 0 ] && [ "$passed" -gt 0 ]
