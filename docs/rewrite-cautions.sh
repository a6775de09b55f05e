#!/usr/bin/env bash
# SPDX-License-Identifier: MIT
# Writes docs/cautions.md anew from the rows of tests/rules. A test holds the page to them.
#
#     bash docs/rewrite-cautions.sh [TESTS]     TESTS: build/release/tests/test_rules when not given
set -euo pipefail
cd "$(dirname "$0")/.."
"${1:-build/release/tests/test_rules}" "[.write]"
git --no-pager diff --stat -- docs/cautions.md 2>/dev/null || true
