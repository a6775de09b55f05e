#!/usr/bin/env bash
# SPDX-License-Identifier: MIT
# What is published, read by independent readers: installs the locked packages and runs the checks, against the release build.
set -euo pipefail
cd "$(dirname "$0")"
npm ci --silent --no-audit --no-fund
root=$(realpath ../../..)
program=${1:-$root/build/release/curdwright}
node published.mjs "$program" "$root"
node hostile.mjs "$program" "$root"
