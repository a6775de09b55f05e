#!/usr/bin/env bash
# SPDX-License-Identifier: MIT
# The sources read by two programs that look for slips. None may be found.
#     bash tests/static.sh                   cppcheck over src/ and include/; part of tests/run.sh, some 40 s of one core
#     bash tests/static.sh tidy [FILE...]    clang-tidy with the checks of .clang-tidy; all of src/ by hand, some 25 s of one core a file
set -euo pipefail
cd "$(dirname "$0")/.."
if [ "${1:-}" = tidy ]; then
  shift
  files=("$@")
  [ $# -gt 0 ] || mapfile -t files < <(find src -name '*.cpp' | sort)
  cmake --preset clang >/dev/null  # for what the compiler is told; clang-tidy does not know all that g++ does
  bad=0
  for file in "${files[@]}"; do
    clang-tidy -p build/clang --quiet "$file" 2>/dev/null || { bad=$((bad + 1)); echo "FAILED $file"; }
  done
  echo "clang-tidy: ${#files[@]} files, $bad with findings"
  [ "$bad" -eq 0 ] || exit 1
  exit 0
fi
here=$(mktemp -d)
trap 'rm -rf "$here"' EXIT
check() { cppcheck --std=c++20 --language=c++ --enable=warning,performance,portability --inline-suppr --quiet --error-exitcode=1 "$@"; }
# A check that finds nothing must be able to find something.
printf 'int f() { int a[2] = {1, 2}; return a[2]; }\n' > "$here/bad.cpp"
if check "$here/bad.cpp" 2> "$here/found"; then
  echo "cppcheck does not find a read past the end"
  exit 2
fi
check -j2 -I include -I src src include
echo "cppcheck: $(find src include -name '*.?pp' | wc -l) files, nothing found"
