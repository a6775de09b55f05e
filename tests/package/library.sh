#!/usr/bin/env bash
# SPDX-License-Identifier: MIT
# The library's Debian package on a minimal Debian 12 that has a compiler and what the package asks for, and nothing else: installed, then
# the example programs are built against it by CMake, and one of them by pkg-config, and run. Some minutes, and the network.
#     bash tests/package/library.sh
set -euo pipefail
cd "$(dirname "$0")/../.."
. tests/package/packages.sh
# "a (>= 1), b | c" becomes "a,b".
needs=$(dpkg-deb -f "$dev" Depends | sed -e 's/([^)]*)//g' -e 's/|[^,]*//g' -e 's/ //g')
root=$here/root
$sudo mmdebstrap --variant=apt --include="g++,cmake,make,pkg-config,$needs" bookworm "$root" > "$here/log" 2>&1 || { tail -20 "$here/log"; exit 1; }
$sudo cp "$dev" "$root/tmp/library.deb"
$sudo chroot "$root" dpkg -i /tmp/library.deb > "$here/log" 2>&1 || { cat "$here/log"; exit 1; }
$sudo cp -r examples/library "$root/tmp/project"
on_root() { $sudo chroot "$root" /bin/sh -euc "$1"; }
on_root 'cmake -S /tmp/project -B /tmp/build > /tmp/log 2>&1 && cmake --build /tmp/build >> /tmp/log 2>&1' || { $sudo tail -20 "$root/tmp/log"; exit 1; }
on_root '/tmp/build/example_plan_a_batch' > "$here/out"
cat "$here/out"
grep -Eq '^pressed curd +[0-9]+ g$' "$here/out"
on_root 'g++ -std=c++20 /tmp/project/plan_a_batch.cpp $(pkg-config --cflags --libs curdwright) -o /tmp/by-pkg-config && /tmp/by-pkg-config' | cmp - "$here/out"
$sudo chroot "$root" dpkg -P libcurdwright-dev > "$here/log" 2>&1 || { cat "$here/log"; exit 1; }
[ -z "$(find "$root/usr" -path '*curdwright*' ! -path '*/doc/*')" ]
echo "library: $(basename "$dev"), installed on a minimal Debian $(cat "$root/etc/debian_version"), built against and run by CMake and by pkg-config"
