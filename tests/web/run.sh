#!/bin/sh
# Runs the browser's test without any network, where this machine lets a program have none; leaves with 77 where
# something is missing, and says what.
set -eu
here=$(cd "$(dirname "$0")" && pwd)
if ! command -v chromium >/dev/null 2>&1; then echo "skipped: chromium is not installed"; exit 77; fi
if [ ! -d "$here/../browser/node_modules/playwright-core" ]; then
  echo "skipped: npm ci was not run in tests/browser"
  exit 77
fi
apart=""
if unshare -n true 2>/dev/null; then
  apart="unshare -n"
elif unshare -rn true 2>/dev/null; then
  apart="unshare -rn"
else
  echo "run.sh: this machine's network cannot be taken away"
fi
exec $apart "${NODE:-node}" --test --test-timeout=600000 "$here/file.test.mjs"
