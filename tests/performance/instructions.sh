#!/usr/bin/env bash
# SPDX-License-Identifier: MIT
# Instructions that the main commands take, against those recorded beside this script: 5 % more or less fails.
# bash tests/performance/instructions.sh [--rewrite] [PROGRAM]
set -euo pipefail
cd "$(dirname "$0")/../.."
rewrite=no
[ "${1:-}" != --rewrite ] || { rewrite=yes; shift; }
program=$(realpath "${1:-build/release/curdwright}")
record=$PWD/tests/performance/instructions.txt
allowance=500  # in ten-thousandths
here=$(mktemp -d)
trap 'rm -rf "$here"' EXIT
cp -r examples/recipes examples/kitchens tests/performance/instructions.txt "$here"
cd "$here"

# The C library of a static program chooses its functions by the processor; here it takes those that every x86-64 has. Valgrind
# itself gives addresses without chance, the empty environment a stack that begins at one place, and one core one thread.
tunables=glibc.cpu.hwcaps=
for feature in AVX512F AVX512VL AVX512BW AVX2 AVX FMA FMA4 ERMS FSRM SSSE3 SSE4_1 SSE4_2 BMI1 BMI2 LZCNT MOVBE POPCNT RTM \
  Fast_Unaligned_Load Fast_Unaligned_Copy Fast_Copy_Backward AVX_Fast_Unaligned_Load Slow_BSF; do
  tunables+="-$feature,"
done
tunables="${tunables%,}:glibc.cpu.x86_data_cache_size=32768:glibc.cpu.x86_shared_cache_size=1048576"
ln -s "$program" curdwright
core=$(taskset -cp $$ | sed 's/.*: //; s/[-,].*//')
plainly() { taskset -c "$core" env -i LC_ALL=C TZ=UTC "$@"; }
count() {  # words of a command...
  plainly GLIBC_TUNABLES="$tunables" valgrind --tool=callgrind --callgrind-out-file=/dev/null ./curdwright "$@" > out 2> err < /dev/null || { cat err >&2; return 1; }
  [ -s out ] || { echo "nothing was printed" >&2; return 1; }
  sed -n 's/^==[0-9]*== Collected : //p' err
}

# What the commands read: fifty lines, and a diary of three batches.
for i in $(seq 50); do
  files=(recipes/*.json)
  tr '\n' ' ' < "${files[$((i % ${#files[@]}))]}"
  echo
done > fifty.jsonl
for i in 1 2 3; do
  plainly ./curdwright diary start recipes/01-chickpea.json --diary d.jsonl --at "2027-03-0$i 18:00" > out
  plainly ./curdwright diary add "chickpea-$i" soaked=1.65kg pulp=1.9kg milk=5.3kg curd="1.$i"kg --diary d.jsonl --at "2027-03-0$i 20:00" > out
done

bad=0
while IFS= read -r line; do
  [[ "$line" != '#'* ]] || { echo "$line" >> new; continue; }
  read -r was command <<< "$line"
  eval "words=($command)"
  now=$(count "${words[@]}") || { echo "failed: curdwright $command"; exit 1; }
  printf '%11d  %s\n' "$now" "$command" >> new
  if [ "$was" -eq 0 ]; then
    printf '%11d  not recorded yet: %s\n' "$now" "$command"
    bad=$((bad + 1))
    continue
  fi
  change=$(((now - was) * 10000 / was))
  verdict=""
  [ "$change" -le $allowance ] || verdict="  MORE than recorded"
  [ "$change" -ge -$allowance ] || verdict="  LESS than recorded: well done, record it"
  [ -z "$verdict" ] || bad=$((bad + 1))
  awk -v n="$now" -v c="$change" -v t="$command$verdict" 'BEGIN { printf "%11d  %+6.2f %%  %s\n", n, c / 100, t }' < /dev/null
done < instructions.txt
measured=$(grep -vc '^#' new)
[ "$measured" -ge 20 ] || { echo "only $measured commands were counted"; exit 1; }
if [ $rewrite = yes ]; then
  cp new "$record"
  echo "recorded: $measured commands"
elif [ $bad -gt 0 ]; then
  echo "$bad of $measured commands take over $((allowance / 100)) % more or less than is recorded, or are not recorded. If that is meant: bash tests/performance/instructions.sh --rewrite"
  exit 1
else
  echo "instructions: $measured commands, all within $((allowance / 100)) % of what is recorded"
fi
