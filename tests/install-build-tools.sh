#!/usr/bin/env bash
# SPDX-License-Identifier: MIT
# Debian packages for building (and with "all", for testing). Does nothing when they are there.
set -euo pipefail
packages=(g++ cmake ninja-build libcli11-dev nlohmann-json3-dev libfmt-dev libexpected-dev libboost-dev libeigen3-dev libutf8proc-dev tzdata)
if [ "${1:-}" = all ]; then
  packages+=(catch2 librapidcheck-dev libudunits2-dev libgsl-dev libmuparser-dev clang libclang-rt-dev valgrind strace cppcheck gcovr nodejs npm bash-completion zsh fish man-db groff mandoc pkg-config lintian mmdebstrap dpkg-dev universal-ctags graphviz python3 python3-numpy python3-distributed parallel
             chromium fonts-dejavu-core poppler-utils)
fi
missing=()
for p in "${packages[@]}"; do
  # A tool that is there from elsewhere (node, say) serves as well.
  case "$p" in
    nodejs) command -v node >/dev/null && continue ;;
    npm) command -v npm >/dev/null && continue ;;
  esac
  dpkg-query -W -f '${Status}' "$p" 2>/dev/null | grep -q 'install ok installed' || missing+=("$p")
done
sudo=""
[ "$(id -u)" -eq 0 ] || sudo=sudo
if [ ${#missing[@]} -gt 0 ]; then
  echo "installing: ${missing[*]}"
  $sudo apt-get update -qq
  DEBIAN_FRONTEND=noninteractive $sudo apt-get install -y -qq --no-install-recommends "${missing[@]}" >/dev/null
fi
bash "$(dirname "$0")/install-nlopt.sh"
