#!/usr/bin/env bash
# SPDX-License-Identifier: MIT
# Whether a recipe of a long stream costs what one of a short stream does, and whether memory stays flat: run by hand, figures in
# docs/performance.md.
#
#     bash tests/bench/each_scale.sh [PROGRAM] [LINES ...]      # ./build/release/curdwright, 1000 10000 100000 1000000
#
# The recipes are drawn from a fixed seed; one line in a hundred is broken. Prints the microseconds that a line takes (the time of the
# processor, user and system) and the peak of resident memory. Answers go to /dev/null; the lines stand in a file of their own meanwhile,
# about half a gigabyte for a million of them.
set -euo pipefail
program=${1:-./build/release/curdwright}
shift || true
[ $# -gt 0 ] || set -- 1000 10000 100000 1000000
folder=$(mktemp -d)
trap 'rm -rf "$folder"' EXIT

lines() {
  awk -v n="$1" 'BEGIN {
    srand(20261124)
    split("soybean chickpea-kabuli lentil-red-split mung-whole pea-split-yellow faba-split", legume, " ")
    for (i = 1; i <= n; ++i) {
      kind = 1 + int(6 * rand()); blocks = 1 + int(12 * rand()); hours = 10 + int(11 * rand())
      if (i % 100 == 0) { print "{\"legume\": \"soybeen\", \"want\": {\"blocks\": " blocks "}}"; continue }
      printf "{\"schema\": \"curdwright.recipe/1\", \"title\": \"batch %d\", \"legume\": \"%s\", \"want\": {\"blocks\": %d}, \"block\": {\"mass\": \"300 g\"}, \"soak\": {\"time\": \"%d h\"}, ", i, legume[kind], blocks, hours
      printf "\"blend\": {\"total_water_to_dry\": 6.5, \"time\": \"45 s\"}, \"strain\": {\"washes\": [{\"water_to_dry\": 1}]}, \"starch\": {\"remove\": \"settle\", \"time\": \"40 min\"}, \"cook\": {\"hold\": \"15 min\"}, "
      printf "\"coagulate\": {\"with\": \"calcium-sulfate-dihydrate\", \"at\": \"80 degC\", \"wait\": \"15 min\", \"make_up\": 1.5}, \"press\": {\"pressure\": \"4 kPa\", \"time\": \"30 min\", \"where\": \"room\"}, \"chill\": {\"in\": \"ice-water\"}}\n"
    }
  }'
}

printf '%10s %14s %12s %10s\n' lines 'us a line' 'wall s' 'peak kB'
for n in "$@"; do
  lines "$n" > "$folder/in.jsonl"
  # A stream with broken lines ends in 1: that is its answer, no failure.
  /usr/bin/time -f '%U %S %e %M' -o "$folder/time" "$program" each "$folder/in.jsonl" > /dev/null || [ $? -eq 1 ]
  grep -v '^Command' "$folder/time" | awk -v n="$n" '{ printf "%10d %14.1f %12.2f %10d\n", n, 1e6 * ($1 + $2) / n, $3, $4 }'
done
