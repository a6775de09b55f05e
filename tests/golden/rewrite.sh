#!/usr/bin/env bash
# SPDX-License-Identifier: MIT
# Writes the golden sheets anew from what the program prints now. Never run by a test: read the difference before you keep it.
#
#     bash tests/golden/rewrite.sh [PROGRAM]     PROGRAM: build/release/curdwright when not given
set -euo pipefail
cd "$(dirname "$0")/../.."
program=$(realpath "${1:-build/release/curdwright}")
golden=tests/golden
unset CURDWRIGHT_KITCHEN NO_COLOR CLICOLOR_FORCE
export TZ=UTC LC_ALL=C

rm -f "$golden"/*.txt "$golden"/*.json
while read -r status name arguments; do
  case "$status" in '' | '#'*) continue ;; esac
  got=0
  # The arguments are words of a list that we wrote, to be split at spaces.
  # shellcheck disable=SC2086
  "$program" $arguments >"$golden/$name" </dev/null || got=$?
  if [ "$got" != "$status" ]; then
    echo "$name: status $got, but $golden/sheets.list says $status" >&2
    exit 1
  fi
done <"$golden/sheets.list"
git --no-pager diff --stat -- "$golden" 2>/dev/null || true
