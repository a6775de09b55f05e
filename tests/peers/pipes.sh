#!/usr/bin/env bash
# SPDX-License-Identifier: MIT
# `each` as one stage among others: shared out by GNU parallel, and as the pipe stage of a distributed engine (Dask, with worker
# processes of its own). Both must give the bytes that one run gives.
set -euo pipefail
cd "$(dirname "$0")/../.."
bash tests/install-build-tools.sh all
here=$(mktemp -d)
trap 'rm -rf "$here"' EXIT
export PATH="$PWD/build/release:$PATH" PYTHONDONTWRITEBYTECODE=1

awk 'BEGIN { split("chickpea-kabuli soybean pea-split-yellow mung-whole", id, " ")
  for (i = 1; i <= 3000; ++i) if (i % 100 == 0) print "{bad"; else printf "{\"title\":\"%d\",\"legume\":\"%s\",\"want\":{\"blocks\":%d}}\n", i, id[i % 4 + 1], i % 9 + 1 }' > "$here/in.jsonl"
# Bad lines make the status 1; anything else is a fault.
curdwright each < "$here/in.jsonl" > "$here/one.jsonl" || [ $? -eq 1 ]
[ "$(wc -l < "$here/one.jsonl")" -eq 3000 ]

# The place of a bad line is told within its share, so that it is left out of the comparison.
plain() { sed -E 's/"line_number":[0-9]+/"line_number":0/' "$1"; }

parallel --pipe --keep-order --block 20k --jobs 3 curdwright each < "$here/in.jsonl" > "$here/shared.jsonl" 2> "$here/parallel.log" || true
cmp <(plain "$here/one.jsonl") <(plain "$here/shared.jsonl")
echo "GNU parallel: 3000 lines, the same bytes"

/usr/bin/python3 tests/peers/pipe_dask.py "$here/in.jsonl" "$here/dask.jsonl"
cmp <(plain "$here/one.jsonl") <(plain "$here/dask.jsonl")
echo "Dask, two worker processes: 3000 lines, the same bytes"
