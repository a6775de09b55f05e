# SPDX-License-Identifier: MIT
# Sourced from the project's folder: makes the packages of the release build in a folder of their own ($here, taken away at the end),
# and names them ($deb, $dev). What is done to a root is done by $sudo.
sudo=""
[ "$(id -u)" -eq 0 ] || sudo=sudo
here=$(mktemp -d)
trap '$sudo rm -rf "$here"' EXIT
(cd build/release && cpack -G DEB -B "$here") > "$here/log" 2>&1 || { cat "$here/log"; exit 1; }
deb=$(ls "$here"/curdwright_*.deb)
dev=$(ls "$here"/libcurdwright-dev_*.deb)
