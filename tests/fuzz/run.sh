#!/usr/bin/env bash
# SPDX-License-Identifier: MIT
# Builds the fuzz targets and runs each for so many seconds, on one core; prints a table. Fails where one of them finds a fault.
#   bash tests/fuzz/run.sh [SECONDS_PER_TARGET [TARGET...]]
# What is found lands in build/<preset>/found/<target>. Mend the fault, then move the input to tests/fuzz/found/<target>.
set -euo pipefail
cd "$(dirname "$0")/../.."
seconds=${1:-60}
targets=("${@:2}")
[ ${#targets[@]} -gt 0 ] || targets=(json quantity price time recipe kitchen pointer record told diary_line diary each sheet)
preset=${CURDWRIGHT_FUZZ_PRESET:-fuzz}
build=build/$preset
[ -f "$build/build.ninja" ] || cmake --preset "$preset" >/dev/null
cmake --build "$build" --target "${targets[@]/#/fuzz_}"

# Longest input that is tried: what one such text can be, or a few kilobytes of whole files.
longest() {
  case $1 in
    quantity | price) echo 80 ;;
    pointer | told) echo 400 ;;
    diary) echo 24576 ;;
    *) echo 6144 ;;
  esac
}

# The sanitizer would keep freed memory of 256 MiB back, and count it.
export ASAN_OPTIONS=quarantine_size_mb=8
failed=0
echo "| target | executions | seconds | edges covered | faults found |"
echo "| --- | ---: | ---: | ---: | ---: |"
for target in "${targets[@]}"; do
  mkdir -p "$build/corpus/$target" "$build/found/$target"
  folders=("$build/corpus/$target" "tests/fuzz/corpus/$target")
  [ -d "tests/fuzz/found/$target" ] && folders+=("tests/fuzz/found/$target")
  [ "$target" = json ] && folders+=(tests/cli/json_suite)
  log=$build/$target.log
  begin=$SECONDS
  found=0
  "$build/tests/fuzz/fuzz_$target" -max_total_time="$seconds" -timeout=5 -rss_limit_mb=256 -max_len="$(longest "$target")" -dict=tests/fuzz/words.dict \
    -print_final_stats=1 -artifact_prefix="$build/found/$target/" "${folders[@]}" >"$log" 2>&1 || found=1
  runs=$(sed -n 's/^stat::number_of_executed_units: *//p' "$log")
  edges=$(grep -o 'cov: [0-9]*' "$log" | tail -1 | tr -dc 0-9)
  echo "| $target | ${runs:-0} | $((SECONDS - begin)) | ${edges:-0} | $found |"
  if [ "$found" -ne 0 ] || [ "${runs:-0}" -eq 0 ]; then
    failed=1
    grep -m1 -E 'ERROR|runtime error|terminate|what\(\)' "$log" >&2 || tail -5 "$log" >&2
  fi
done
exit $failed
