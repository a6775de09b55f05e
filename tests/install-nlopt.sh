#!/usr/bin/env bash
# SPDX-License-Identifier: MIT
# NLopt as a static library, from Debian's own source package: its binary package has a shared one only, which one program that
# works anywhere cannot link. Built without its one LGPL part, so that the rest is under MIT and like licences. Where the source
# cannot be had, Debian's shared library is taken, and the program is linked against it.
set -euo pipefail
prefix=${1:-/usr/local}
notice=$prefix/share/doc/nlopt/copyright
[ -e "$prefix/lib/libnlopt.a" ] && [ -s "$notice" ] && exit 0
sudo=""
[ "$(id -u)" -eq 0 ] || sudo=sudo
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
chmod 755 "$work"

fetch() {
  mkdir -p parts lists/partial
  # Sources come from where this system has its packages from.
  cat /etc/apt/sources.list /etc/apt/sources.list.d/*.list 2>/dev/null | sed -n 's/^deb /deb-src /p' > parts/source.list
  cat /etc/apt/sources.list.d/*.sources 2>/dev/null | sed 's/^Types:.*/Types: deb-src/' > parts/source.sources
  local apt=(apt-get -q -o Dir::Etc::sourcelist=/nowhere -o "Dir::Etc::sourceparts=$work/parts" -o "Dir::State::lists=$work/lists" -o APT::Sandbox::User=)
  "${apt[@]}" update
  "${apt[@]}" source --download-only nlopt
  tar xf nlopt_*.orig.tar.gz
}

build() {
  cmake -S nlopt-* -B made -DCMAKE_BUILD_TYPE=Release -DCMAKE_INSTALL_LIBDIR=lib -DCMAKE_POSITION_INDEPENDENT_CODE=ON -DBUILD_SHARED_LIBS=OFF -DNLOPT_LUKSAN=OFF -DNLOPT_CXX=OFF \
    -DNLOPT_PYTHON=OFF -DNLOPT_OCTAVE=OFF -DNLOPT_MATLAB=OFF -DNLOPT_GUILE=OFF -DNLOPT_SWIG=OFF -DNLOPT_TESTS=OFF
  cmake --build made -j2
  $sudo cmake --install made --prefix "$prefix"
}

# Its notices go with the program that it is linked into: of the whole, of each algorithm that is in it, and of its random numbers.
keep_notice() {
  $sudo mkdir -p "$(dirname "$notice")"
  {
    cat nlopt-*/COPYING
    for part in nlopt-*/src/algs/*/{COPYING,COPYRIGHT}; do
      case $part in */luksan/* | */\**) continue ;; esac
      echo "---- $(basename "$(dirname "$part")")"
      cat "$part"
    done
    echo "---- mt19937ar"
    sed '/\*\//q' nlopt-*/src/util/mt19937ar.c
  } | $sudo tee "$notice" >/dev/null
}

# Tied together by hand: within a condition the shell does not stop at what fails.
install_static() { cd "$work" && fetch && { [ -e "$prefix/lib/libnlopt.a" ] || build; } && keep_notice; }

echo "building: nlopt"
if ! (install_static) >"$work/log" 2>&1; then
  tail -3 "$work/log"
  echo "no static nlopt: Debian's shared one is taken"
  DEBIAN_FRONTEND=noninteractive $sudo apt-get install -y -qq --no-install-recommends libnlopt-dev >/dev/null
fi
