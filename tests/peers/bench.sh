#!/usr/bin/env bash
# SPDX-License-Identifier: MIT
# Measured by hand, never by the test run: plans a second beside NumPy on one core, and beside a spreadsheet where there is one
# (Debian's libreoffice-calc-nogui). Figures in docs/performance.md.
#   bash tests/peers/bench.sh [ROUNDS]
set -euo pipefail
cd "$(dirname "$0")/../.."
rounds=${1:-15}
jobs=build/release/tests/peer_jobs
peers=tests/peers
cmake --build build/release --target peer_jobs -- -j2 >/dev/null
here=$(mktemp -d)
trap 'rm -rf "$here"' EXIT
export OMP_NUM_THREADS=1 OPENBLAS_NUM_THREADS=1 PYTHONDONTWRITEBYTECODE=1
one_core=(taskset -c 0)
python=/usr/bin/python3

$jobs write "$here/jobs" 10000
echo "== NumPy as it comes"
"${one_core[@]}" $python $peers/bench.py "$here/jobs" $jobs "$rounds"
echo "== NumPy at its best: memory of large arrays is kept, not given back to the system and zeroed anew"
MALLOC_MMAP_THRESHOLD_=1073741824 MALLOC_TRIM_THRESHOLD_=2147483648 "${one_core[@]}" $python $peers/bench.py "$here/jobs" $jobs "$rounds"

if ! command -v soffice >/dev/null; then
  echo "no soffice here: the spreadsheet is left out"
  exit 0
fi
$jobs simple "$here/simple" 1000
$python $peers/make_spreadsheet.py write "$here/simple" "$here/formulas.fods" 1000
$python $peers/make_spreadsheet.py write "$here/simple" "$here/numbers.fods" 1000 --values
$python $peers/make_spreadsheet.py write "$here/simple" "$here/one.fods" 1
# Full precision, and a profile of its own, which the first start makes.
convert() {
  "${one_core[@]}" soffice "-env:UserInstallation=file://$here/profile" --headless \
    --convert-to 'csv:Text - txt - csv (StarCalc):44,34,76,1,,0,false,false' --outdir "$here" "$here/$1.fods" >/dev/null 2>&1
}
seconds() {
  local start end
  start=$(date +%s.%N)
  convert "$1"
  end=$(date +%s.%N)
  $python -c "print(f'{$end - $start:.2f}')"
}
convert one
for _ in 1 2 3 4 5; do
  for file in one numbers formulas; do seconds $file >> "$here/$file.times"; done
done
$python $peers/make_spreadsheet.py check "$here/simple" "$here/formulas.csv"
$python - "$here" <<'PY'
import statistics, sys
t = {f: [float(x) for x in open(f"{sys.argv[1]}/{f}.times")] for f in ("one", "numbers", "formulas")}
for f, what in (("one", "start, one row"), ("numbers", "1,000 rows of numbers"), ("formulas", "1,000 rows of formulas")):
    print(f"spreadsheet, {what}: {statistics.median(t[f]):.2f} s ({min(t[f]):.2f} to {max(t[f]):.2f})")
above = [f - o for f, o in zip(t["formulas"], t["one"])]
reckoned = [f - n for f, n in zip(t["formulas"], t["numbers"])]
print(f"above the start {1e3 / statistics.median(above):,.0f} recipes a second; formulas read and reckoned alone {1e3 / statistics.median(reckoned):,.0f}")
PY
