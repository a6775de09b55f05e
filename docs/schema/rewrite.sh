#!/usr/bin/env bash
# SPDX-License-Identifier: MIT
# Writes the schemas of this folder anew from what the program prints. A test holds them to it.
#
#     bash docs/schema/rewrite.sh [PROGRAM]     PROGRAM: build/release/curdwright when not given
set -euo pipefail
cd "$(dirname "$0")"
program=$(realpath "${1:-../../build/release/curdwright}")
# Each kind that there is, as the program tells who asks for one that there is not.
kinds=$("$program" schema '?' 2>&1 | sed -n 's/^  fix: use one of: //p' | tr -d ',' || true)
test -n "$kinds"
rm -f ./*.schema.json
for kind in $kinds; do
  "$program" schema "$kind" >"$kind.schema.json"
done
