#!/usr/bin/env bash
# SPDX-License-Identifier: MIT
# Installs the release build to a folder of its own, moves that folder, and builds a project against it.
set -euo pipefail
cd "$(dirname "$0")/../.."
here=$(mktemp -d)
trap 'rm -rf "$here"' EXIT
cmake --install build/release --prefix "$here/first" >/dev/null
mv "$here/first" "$here/moved"
# The example programs stand for another project: copied away, they build against what is installed.
cp -r examples/library "$here/project"
cmake -S "$here/project" -B "$here/build" -G Ninja -DCMAKE_PREFIX_PATH="$here/moved" >/dev/null
cmake --build "$here/build" >/dev/null
"$here/build/example_plan_a_batch" > "$here/out"
cat "$here/out"
[ "$(wc -l < "$here/out")" -eq 5 ]
grep -Eq '^pressed curd +[0-9]+ g$' "$here/out"
"$here/moved/bin/curdwright" --version | grep -q '^curdwright 0\.1\.0 '
# The same by pkg-config alone, where the folder was moved to.
export PKG_CONFIG_PATH="$here/moved/lib/pkgconfig:/usr/local/lib/pkgconfig:${PKG_CONFIG_PATH:-}"
[ "$(pkg-config --modversion curdwright)" = 0.1.0 ]
g++ -std=c++20 examples/library/plan_a_batch.cpp $(pkg-config --cflags --libs curdwright) -o "$here/by-pkg-config"
"$here/by-pkg-config" | cmp - "$here/out"
! pkg-config --cflags --libs curdwright | grep -F -e "$PWD" -e "$here/first"
# The sources as a part of another project: its targets, and none of ours that it did not ask for. One example is compiled, not linked.
mkdir "$here/whole"
printf 'cmake_minimum_required(VERSION 3.25)\nproject(kitchen LANGUAGES CXX)\nadd_subdirectory("%s" curdwright)\nadd_subdirectory("%s" examples)\n' "$PWD" "$here/project" > "$here/whole/CMakeLists.txt"
cmake -S "$here/whole" -B "$here/whole/build" -G Ninja ${NLopt_DIR:+-DNLopt_DIR="$NLopt_DIR"} >/dev/null
cmake --build "$here/whole/build" --target examples/CMakeFiles/example_plan_a_batch.dir/plan_a_batch.cpp.o >/dev/null
! cmake --build "$here/whole/build" --target help | grep -E '^(test_|fuzz_|bench_)'
# Manual and completions are where man and the shells look.
for file in share/man/man1/curdwright-sheet.1 share/man/man5/curdwright-kitchen.5 share/bash-completion/completions/curdwright share/zsh/site-functions/_curdwright share/fish/vendor_completions.d/curdwright.fish; do
  [ -s "$here/moved/$file" ]
done
MANPATH="$here/moved/share/man" man -P cat curdwright-sheet | grep -q 'print the batch sheet'
# bash finds it by itself, through the folders of bash-completion.
found=$(PATH="$here/moved/bin:$PATH" XDG_DATA_DIRS="$here/moved/share" bash -c '. /usr/share/bash-completion/bash_completion && _completion_loader curdwright; complete -p curdwright')
[ "$found" = "complete -F _curdwright curdwright" ]
# Every public header stands alone, and needs neither the JSON nor the option library.
for header in "$here"/moved/include/curdwright/*.hpp "$here"/moved/include/curdwright/stages/*.hpp; do
  echo "#include \"$header\"" | g++ -std=c++20 -fsyntax-only -I"$here/moved/include" -x c++ -
  ! grep -lE 'nlohmann|CLI/' "$header"
done
echo "consumer: built, run and relocated; taken as sources"
