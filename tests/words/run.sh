#!/bin/sh
# Runs the test, or leaves with 77 where its data were not fetched.
set -eu
here=$(cd "$(dirname "$0")" && pwd)
if [ ! -d "$here/../browser/node_modules/cldr-core" ]; then
  echo "skipped: npm ci was not run in tests/browser"
  exit 77
fi
exec "${NODE:-node}" --test "$here/cldr.test.mjs"
