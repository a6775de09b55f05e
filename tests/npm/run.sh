#!/usr/bin/env bash
# SPDX-License-Identifier: MIT
# Installs the locked packages and runs the checks that need them, against the release build.
set -euo pipefail
cd "$(dirname "$0")"
npm ci --silent --no-audit --no-fund
node schemas.mjs "$PWD/../../build/release/curdwright" "$PWD/../.."
node food_tables.mjs "$PWD/../../build/release/curdwright"
node calendar.mjs --samples
node day.mjs "$PWD/../../build/release/curdwright" "$PWD/../.."
bash texts/run.sh
