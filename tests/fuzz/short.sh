#!/usr/bin/env bash
# SPDX-License-Identifier: MIT
# The short run: built without optimising, a few seconds for each target, so that a new fault in plain sight is found at once.
set -euo pipefail
CURDWRIGHT_FUZZ_PRESET=fuzz-short exec bash "$(dirname "$0")/run.sh" "${1:-2}"
