#!/bin/sh
# check-man.sh: manual pages must be set without a warning
#
# SPDX-License-Identifier: GPL-3.0-or-later
set -u
for page; do
  said=$(groff -man -ww -z "$page" 2>&1)
  [ -z "$said" ] || { printf '%s\n' "$page: $said" >&2; exit 1; }
done
