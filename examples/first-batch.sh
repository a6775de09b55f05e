#!/usr/bin/env bash
# SPDX-License-Identifier: MIT
# Installs what the build needs on Debian 12, builds the release preset, and prints the first sheet.
set -euo pipefail
cd "$(dirname "$0")/.."
bash tests/install-build-tools.sh
cmake --preset release -DCURDWRIGHT_BUILD_TESTS=OFF -DCURDWRIGHT_BUILD_EXAMPLES=OFF
cmake --build --preset release --target curdwright_program
./build/release/curdwright sheet examples/recipes/01-chickpea.json
