#!/usr/bin/env bash
# SPDX-License-Identifier: MIT
# Installs the release build to a folder of its own, moves that folder, and builds a project against it.
set -euo pipefail
cd "$(dirname "$0")/../.."
here=$(mktemp -d)
trap 'rm -rf "$here"' EXIT
cmake --install build/release --prefix "$here/first" >/dev/null
mv "$here/first" "$here/moved"
cmake -S tests/consumer -B "$here/build" -G Ninja -DCMAKE_PREFIX_PATH="$here/moved" >/dev/null
cmake --build "$here/build" >/dev/null
"$here/build/consumer" > "$here/out"
cat "$here/out"
[ "$(wc -l < "$here/out")" -eq 5 ]
grep -Eq '^pressed curd +[0-9]+ g$' "$here/out"
"$here/moved/bin/curdwright" --version | grep -q '^curdwright 0\.1\.0 '
# Every public header stands alone, and needs neither the JSON nor the option library.
for header in "$here"/moved/include/curdwright/*.hpp "$here"/moved/include/curdwright/stages/*.hpp; do
  echo "#include \"$header\"" | g++ -std=c++20 -fsyntax-only -I"$here/moved/include" -x c++ -
  ! grep -lE 'nlohmann|CLI/' "$header"
done
echo "consumer: built, run and relocated"
