#!/bin/sh
# Runs a test of the page in a browser; leaves with 77 where something is missing, and says what.
#   sh tests/web/run.sh file          without any network, where this machine lets a program have none
#   sh tests/web/run.sh site|firefox  with this machine's own, for the host and for what drives the browser
set -eu
here=$(cd "$(dirname "$0")" && pwd)
name=${1:-file}
if [ "$name" = firefox ]; then
  if ! command -v firefox-esr >/dev/null 2>&1; then echo "skipped: firefox-esr is not installed"; exit 77; fi
else
  if ! command -v chromium >/dev/null 2>&1; then echo "skipped: chromium is not installed"; exit 77; fi
  if [ ! -d "$here/../browser/node_modules/playwright-core" ]; then
    echo "skipped: npm ci was not run in tests/browser"
    exit 77
  fi
fi
apart=""
if [ "$name" = file ]; then
  if unshare -n true 2>/dev/null; then
    apart="unshare -n"
  elif unshare -rn true 2>/dev/null; then
    apart="unshare -rn"
  else
    echo "run.sh: this machine's network cannot be taken away"
  fi
fi
exec $apart "${NODE:-node}" --test --test-timeout=600000 "$here/$name.test.mjs"
