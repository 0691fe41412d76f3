#!/bin/sh
# check-installed.sh: what “meson install” puts where, and whether the desktop takes it
#
#   sh check-installed.sh BUILD_FOLDER
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -eu

build=$1 id=io.github.tonestair.Tonestair
root=$(mktemp -d)
trap 'rm -rf "$root"' EXIT

fail () { echo "check-installed: $*" >&2; exit 1; }

meson install -C "$build" --no-rebuild --destdir "$root" > "$root/log" 2>&1 || { cat "$root/log"; exit 1; }
share=$(dirname "$(find "$root" -path "*/share/applications" -type d)")
[ -d "$share" ] || fail "no share/applications"

for file in applications/$id.desktop metainfo/$id.metainfo.xml icons/hicolor/scalable/apps/$id.svg \
  icons/hicolor/symbolic/apps/$id-symbolic.svg icons/hicolor/scalable/mimetypes/application-x-tonestair-plan+json.svg \
  mime/packages/$id.xml glib-2.0/schemas/$id.gschema.xml man/man1/tonestair.1 man/man1/tonestair-cli.1 \
  tonestair/help/en/README.md tonestair/demo/lighthouse.tonestair; do
  [ -s "$share/$file" ] || fail "no $file"
done
for language in $(grep -v '^#' "$(dirname "$0")/../../po/LINGUAS"); do
  [ -s "$share/locale/$language/LC_MESSAGES/tonestair.mo" ] || fail "no language $language"
done

glib-compile-schemas --strict "$share/glib-2.0/schemas" || fail "the schema does not compile"
if command -v update-mime-database > /dev/null; then
  update-mime-database "$share/mime" > /dev/null 2>&1 || fail "the MIME type is refused"
  grep -q '^50:application/x-tonestair-plan+json:\*\.tonestair$' "$share/mime/globs2" || fail "no glob for plans"
fi
# What the desktop entry opens is what the MIME type is called, and what the window asks for.
grep -q '^MimeType=application/x-tonestair-plan+json;' "$share/applications/$id.desktop" || fail "plans are not opened"

# The program that is installed knows what is installed.
bin=$(dirname "$share")/bin
[ -x "$bin/tonestair" ] || fail "no window"
TONESTAIR_DATA="$share/tonestair" "$bin/tonestair-cli" check "$share/tonestair/demo/lighthouse.tonestair" > "$root/checked" ||
  fail "the installed demo is not read"
grep -q Coat "$root/checked" || fail "the demo's stair is not told"
echo "installed: $(find "$share" "$bin" -type f | wc -l) files"
