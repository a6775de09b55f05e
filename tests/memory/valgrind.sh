#!/usr/bin/env bash
# SPDX-License-Identifier: MIT
# Every command in every form (tests/support/every_command.txt) under valgrind's memcheck: no wrong read or write, no use of what
# was never set, nothing lost. Slow, so by hand: some two minutes of one core.
#     bash tests/memory/valgrind.sh [PROGRAM]
# Memcheck sees the allocations of a program that is linked dynamically; without PROGRAM the objects of the release build are linked so.
set -euo pipefail
cd "$(dirname "$0")/../.."
here=$(mktemp -d)
trap 'rm -rf "$here"' EXIT
if [ $# -gt 0 ]; then
  program=$(realpath "$1")
else
  program=$here/program
  link=$(ninja -C build/release -t commands curdwright | grep -e ' -o curdwright ')
  (cd build/release && sh -c "$(sed "s# -static-pie # #; s# -o curdwright # -o $program #" <<< "$link")")
fi
list=$PWD/tests/support/every_command.txt
cp -r tests/cli/files/. examples/recipes examples/kitchens "$here"
cd "$here"
printf '{"legume":"soybean"}\n{bad\n' > lines.jsonl
ldd "$program" | grep libc > out || { echo "$program is linked statically, so memcheck would not see its allocations"; exit 2; }
mkdir bin
printf '#!/bin/sh\nexec valgrind -q --error-exitcode=99 --leak-check=full --show-leak-kinds=definite,indirect,possible --errors-for-leak-kinds=definite,indirect,possible --log-file=log.%%p %s "$@"\n' "$program" > bin/curdwright
chmod +x bin/curdwright
PATH=$here/bin:$PATH

# A check that finds nothing must be able to find something.
printf '#include <cstdlib>\n#include <cstdio>\nint main() { int* p = static_cast<int*>(std::malloc(8)); if (p[1] == 7) std::puts("7"); }\n' > bad.cpp
g++ -g -O0 bad.cpp -o bad
valgrind -q --error-exitcode=99 ./bad > out 2>&1 && { echo "memcheck does not see a value that was never set"; exit 2; }

clean=0 bad=0
while IFS= read -r line; do
  [[ -n "$line" && "$line" != '#'* ]] || continue
  status=0
  sh -c "curdwright $line" > out 2> err < /dev/null || status=$?
  if [ "$status" -gt 3 ]; then
    bad=$((bad + 1))
    echo "FAULT ($status): curdwright $line"
    cat log.* err | head -30
  else
    clean=$((clean + 1))
  fi
  rm -f log.*
done < "$list"
echo "memcheck: $clean commands clean, $bad with faults"
[ "$bad" -eq 0 ] && [ "$clean" -ge 70 ]
