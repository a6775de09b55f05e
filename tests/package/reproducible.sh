#!/usr/bin/env bash
# SPDX-License-Identifier: MIT
# Whether the same source gives the same bytes: built twice from nothing, in two folders of different names and depths, with
# different clocks, zones, languages and masks, and compared: program, library, pages, packages. Some ten minutes on two cores.
#     bash tests/package/reproducible.sh [JOBS]
set -euo pipefail
cd "$(dirname "$0")/../.."
jobs=${1:-2}
here=$(mktemp -d)
trap 'rm -rf "$here"' EXIT
chmod 755 "$here"
export CCACHE_DISABLE=1  # a compiler that only remembers proves nothing

build() {  # FOLDER
  mkdir -p "$1"
  tar c --exclude=./build --exclude=./.git --exclude=node_modules . | tar x -m -C "$1"
  cmake -S "$1" -B "$1/build/release" -G Ninja -DCMAKE_BUILD_TYPE=Release "-DCMAKE_CXX_FLAGS_RELEASE=-O2 -DNDEBUG" -DCMAKE_CXX_COMPILER_LAUNCHER= -DCURDWRIGHT_BUILD_TESTS=OFF -DCURDWRIGHT_BUILD_EXAMPLES=OFF > "$1/log"
  cmake --build "$1/build/release" -j"$jobs" >> "$1/log"
  (cd "$1/build/release" && cpack -G DEB) >> "$1/log" 2>&1
}

one=$here/one two="$here/another folder/that lies/deeper"
(umask 022; TZ=UTC LC_ALL=C build "$one") || { tail -20 "$one/log"; exit 1; }
(umask 077; TZ=Asia/Tokyo LC_ALL=C.UTF-8 build "$two") || { tail -20 "$two/log"; exit 1; }

compared=0
for file in curdwright src/libcurdwright.a src/libcurdwright_zones.a $(cd "$one/build/release" && ls ./*.deb && find src/share -type f); do
  cmp "$one/build/release/$file" "$two/build/release/$file"
  compared=$((compared + 1))
done
echo "reproducible: $compared files are the same, byte for byte"
(cd "$one/build/release" && sha256sum curdwright ./*.deb)
