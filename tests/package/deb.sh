#!/usr/bin/env bash
# SPDX-License-Identifier: MIT
# The Debian packages of the release build: what they hold, what lintian says, and the program on a root that has nothing else.
# The root is a minimal Debian 12 (mmdebstrap), else an empty folder with the package unpacked; the last line says which.
set -euo pipefail
cd "$(dirname "$0")/../.."
. tests/package/packages.sh
dpkg-deb -x "$deb" "$here/tree"
dpkg-deb -x "$dev" "$here/dev"

# What Debian's policy asks of every package, and the standard places of shells and manual.
for file in bin/curdwright share/doc/curdwright/copyright share/doc/curdwright/changelog.gz share/doc/curdwright/notices.gz share/doc/curdwright/sbom.cdx.json share/man/man1/curdwright.1.gz share/man/man5/curdwright-recipe.5.gz \
  share/man/man7/curdwright-amounts.7.gz share/bash-completion/completions/curdwright share/zsh/vendor-completions/_curdwright share/fish/vendor_completions.d/curdwright.fish; do
  [ -s "$here/tree/usr/$file" ] || { echo "the package has no $file"; exit 1; }
done
# What is compiled in is told in both packages, with its notices: one for each part of the bill that asks for one.
for pair in tree/usr/share/doc/curdwright:10:9 dev/usr/share/doc/libcurdwright-dev:5:4; do
  IFS=: read -r doc parts notices <<< "$pair"
  [ "$(grep -c '"bom-ref"' "$here/$doc/sbom.cdx.json")" -eq $((parts + 1)) ]
  [ "$(gzip -dc "$here/$doc/notices.gz" | grep -c '^==== ')" -eq "$notices" ]
done
gzip -dc "$here/tree/usr/share/doc/curdwright/notices.gz" | grep Powell > /dev/null
# One page for each command and topic, and for the whole.
topics=$(build/release/curdwright shell offer -- help "" | tail -n +2 | wc -l)
[ "$(find "$here/tree/usr/share/man" -name '*.gz' | wc -l)" -eq $((topics + 1)) ]
dpkg-deb -c "$deb" | awk '$2 != "root/root" { print "not of root: " $0; bad = 1 } END { exit bad }'
# A static program needs no other package; one that is not must say what it needs.
if ldd "$here/tree/usr/bin/curdwright" 2>&1 | grep -q 'statically linked\|not a dynamic'; then
  [ -z "$(dpkg-deb -f "$deb" Depends)" ]
else
  dpkg-deb -f "$deb" Depends | grep -q libc6
fi
gzip -dc "$here/tree/usr/share/doc/curdwright/changelog.gz" | dpkg-parsechangelog -l - > "$here/changelog"
grep -q "^Version: $(dpkg-deb -f "$deb" Version)$" "$here/changelog"
lintian --fail-on error,warning "$deb" "$dev"

# On a root of its own: installed, used, taken away without a trace.
root=$here/root
if $sudo mmdebstrap --variant=essential bookworm "$root" > "$here/log" 2>&1; then
  kind="a minimal Debian $(cat "$root/etc/debian_version")"
  $sudo cp "$deb" "$root/tmp/curdwright.deb"
  $sudo chroot "$root" dpkg -i /tmp/curdwright.deb > "$here/log" 2>&1 || { cat "$here/log"; exit 1; }
else
  kind="an empty folder (no minimal Debian could be had: $(grep -m1 '^E:' "$here/log" || tail -n 1 "$here/log"))"
  mkdir -p "$root/tmp"
  dpkg-deb -x "$deb" "$root"
fi
on_root() { $sudo chroot "$root" /usr/bin/curdwright "$@"; }
[ "$(on_root --version)" = "$(build/release/curdwright --version)" ]
on_root new start --legume pea-split-yellow --recipe-file /tmp/peas.json --kitchen-file /tmp/kitchen.json > /dev/null
on_root check /tmp/peas.json --kitchen /tmp/kitchen.json
on_root sheet /tmp/peas.json --kitchen /tmp/kitchen.json > "$here/sheet"
build/release/curdwright sheet "$root/tmp/peas.json" --kitchen "$root/tmp/kitchen.json" | sed "s#$root##" > "$here/here"
cmp "$here/sheet" "$here/here"
[ "$(on_root shell offer -- sheet --units "" | tail -n +2 | cut -f 1 | tr '\n' ' ')" = "metric us " ]
if [ -e "$root/var/lib/dpkg/info/curdwright.list" ]; then
  $sudo chroot "$root" dpkg --verify curdwright
  $sudo chroot "$root" dpkg -P curdwright > "$here/log" 2>&1 || { cat "$here/log"; exit 1; }
  [ -z "$(find "$root/usr" -name '*curdwright*' ! -path '*/doc/*')" ]
fi
echo "package: $(basename "$deb"), $(stat -c %s "$deb") bytes, installed and run on $kind"
