#!/usr/bin/env bash
# SPDX-License-Identifier: MIT
# Installs the locked packages and runs the checks that need them, against the release build.
set -euo pipefail
cd "$(dirname "$0")"
npm ci --silent --no-audit --no-fund
node=node
# The browser driver wants Node 20; Debian 12 has 18.
if [ "$(node -p 'process.versions.node.split(".")[0]')" -lt 20 ]; then
  npm install --silent --no-audit --no-fund --no-save --prefix ../../build/node20 node@20.19.5
  node=$PWD/../../build/node20/node_modules/node/bin/node
fi
node schemas.mjs "$PWD/../../build/release/curdwright" "$PWD/../.."
node food_tables.mjs "$PWD/../../build/release/curdwright"
node calendar.mjs --samples
node day.mjs "$PWD/../../build/release/curdwright" "$PWD/../.."
"$node" pages.mjs "$PWD/../../build/release/curdwright" "$PWD/../.."
node sbom.mjs ../../build/release/src/program/sbom.cdx.json ../../build/release/src/library/sbom.cdx.json
bash texts/run.sh
