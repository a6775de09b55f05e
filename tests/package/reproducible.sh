#!/usr/bin/env bash
# SPDX-License-Identifier: MIT
# Whether the same source gives the same bytes: built twice from nothing, in two folders of different names and depths, with
# different clocks, zones, languages and masks, and compared: program, library, pages, packages. Some fifteen minutes on two cores.
#     bash tests/package/reproducible.sh [JOBS]
# Half of it, against a release build that is there already:
#     bash tests/package/reproducible.sh --against build/release [JOBS]
set -euo pipefail
cd "$(dirname "$0")/../.."
against=""
[ "${1:-}" != --against ] || { against=$(realpath "$2"); shift 2; }
jobs=${1:-2}
here=$(mktemp -d)
trap 'rm -rf "$here"' EXIT
chmod 755 "$here"
export CCACHE_DISABLE=1  # a compiler that only remembers proves nothing
# Taken once: what is edited while this runs would be seen as a difference.
tar c --exclude=./build --exclude=./.git --exclude=node_modules . > "$here/source.tar"

build() {  # FOLDER; joined by &&, for where its end is asked for, `set -e` does not hold
  mkdir -p "$1" && tar x -m -C "$1" -f "$here/source.tar" &&
    cmake -S "$1" -B "$1/build/release" -G Ninja -DCMAKE_BUILD_TYPE=Release "-DCMAKE_CXX_FLAGS_RELEASE=-O2 -DNDEBUG" -DCMAKE_CXX_COMPILER_LAUNCHER= -DCURDWRIGHT_BUILD_TESTS=OFF -DCURDWRIGHT_BUILD_EXAMPLES=OFF > "$1/log" &&
    cmake --build "$1/build/release" -j"$jobs" >> "$1/log" &&
    (cd "$1/build/release" && cpack -G DEB) >> "$1/log" 2>&1
}

one=$here/one/build/release two="$here/another folder/that lies/deeper"
if [ -n "$against" ]; then
  mkdir -p "$one" && cp -r "$against/curdwright" "$against/src" "$one/"
  (cd "$against" && cpack -G DEB -B "$one") > "$here/log" 2>&1 || { tail -20 "$here/log"; exit 1; }
else
  (umask 022; TZ=UTC LC_ALL=C build "$here/one") || { tail -20 "$here/one/log"; exit 1; }
fi
(umask 077; TZ=Asia/Tokyo LC_ALL=C.UTF-8 build "$two") || { tail -20 "$two/log"; exit 1; }

compared=0 differ=0
for file in curdwright src/libcurdwright.a src/libcurdwright_front.a $(cd "$one" && ls ./*.deb && find src/share -type f); do
  cmp "$one/$file" "$two/build/release/$file" || differ=$((differ + 1))
  compared=$((compared + 1))
done
(cd "$one" && sha256sum curdwright ./*.deb)
[ "$differ" -eq 0 ] || { echo "not reproducible: $differ of $compared files differ"; exit 1; }
echo "reproducible: $compared files are the same, byte for byte"
