#!/usr/bin/env bash
# SPDX-License-Identifier: MIT
# The library's Debian package on a minimal Debian 12 that has a compiler and what the package asks for, and nothing else: installed, then
# an example program is built against it by CMake and another one by pkg-config, and both are run. Some minutes, and the network.
#     bash tests/package/library.sh
set -euo pipefail
cd "$(dirname "$0")/../.."
sudo=""
[ "$(id -u)" -eq 0 ] || sudo=sudo
here=$(mktemp -d)
trap '$sudo rm -rf "$here"' EXIT
(cd build/release && cpack -G DEB -B "$here") > "$here/log" 2>&1 || { cat "$here/log"; exit 1; }
dev=$(ls "$here"/libcurdwright-dev_*.deb)
# "a (>= 1), b | c" becomes "a,b".
needs=$(dpkg-deb -f "$dev" Depends | sed -e 's/([^)]*)//g' -e 's/|[^,]*//g' -e 's/ //g')
root=$here/root
$sudo mmdebstrap --variant=apt --include="g++,cmake,make,pkg-config,$needs" bookworm "$root" > "$here/log" 2>&1 || { tail -20 "$here/log"; exit 1; }
$sudo cp "$dev" "$root/tmp/library.deb"
$sudo chroot "$root" dpkg -i /tmp/library.deb > "$here/log" 2>&1 || { cat "$here/log"; exit 1; }
$sudo cp -r tests/consumer "$root/tmp/consumer"
$sudo mkdir -p "$root/tmp/examples" && $sudo cp examples/library/*.cpp "$root/tmp/examples/"
on_root() { $sudo chroot "$root" /bin/sh -euc "$1"; }
on_root 'cd /tmp/consumer && sed -i "s#[$]{CMAKE_CURRENT_SOURCE_DIR}/../../examples/library#/tmp/examples#" CMakeLists.txt && cmake -S . -B /tmp/build > /tmp/log 2>&1 && cmake --build /tmp/build >> /tmp/log 2>&1' || { $sudo tail -20 "$root/tmp/log"; exit 1; }
on_root '/tmp/build/consumer' > "$here/out"
cat "$here/out"
grep -Eq '^pressed curd +[0-9]+ g$' "$here/out"
on_root 'g++ -std=c++20 /tmp/examples/plan_a_batch.cpp $(pkg-config --cflags --libs curdwright) -o /tmp/by-pkg-config && /tmp/by-pkg-config' | cmp - "$here/out"
$sudo chroot "$root" dpkg -P libcurdwright-dev > "$here/log" 2>&1 || { cat "$here/log"; exit 1; }
[ -z "$(find "$root/usr" -path '*curdwright*' ! -path '*/doc/*')" ]
echo "library: $(basename "$dev"), installed on a minimal Debian $(cat "$root/etc/debian_version"), built against and run by CMake and by pkg-config"
