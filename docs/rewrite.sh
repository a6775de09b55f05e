#!/usr/bin/env bash
# SPDX-License-Identifier: MIT
# Writes what the program tells of itself anew: docs/schema, docs/commands.md, docs/formats.md. Tests hold them to the program.
#
#     bash docs/rewrite.sh [PROGRAM]     PROGRAM: build/release/curdwright when not given
set -euo pipefail
cd "$(dirname "$0")"
program=$(realpath "${1:-../build/release/curdwright}")
bash schema/rewrite.sh "$program"
"$program" help --format markdown > commands.md
# formats.md begins with what a person wrote; a section for each schema stands behind the mark.
sed -i '/^<!-- From here on/q' formats.md
for kind in $("$program" shell offer -- schema '' | tail -n +2 | cut -f1); do
  printf '\n'
  "$program" schema "$kind" --format markdown | sed -e '$ { /^$/d }'
done >> formats.md
