#!/usr/bin/env bash
# SPDX-License-Identifier: MIT
# Writes the schemas of this folder anew from the program; a test holds them against it.
#   bash docs/schema/rewrite.sh [PROGRAM]
set -euo pipefail
cd "$(dirname "$0")"
program=${1:-../../build/release/curdwright}
for what in $("$program" shell offer -- schema "" | tail -n +2 | cut -f1); do "$program" schema "$what" > "$what.schema.json"; done
