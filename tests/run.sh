#!/bin/sh
# Sets up, builds and runs every test. The last line reads `N passed, N failed`.
#   sh tests/run.sh           the release build, warnings as errors in CI
#   sh tests/run.sh asan      the same under the address and undefined-behaviour sanitizers
set -eu
top=$(cd "$(dirname "$0")/.." && pwd)
preset=${1:-release}
# A group's own settings are not what the tests state.
unset POUCHWRIGHT_GROUP
if [ "${CI:-}" = true ] && [ "$preset" = release ]; then preset=ci; fi

sh "$top/shared/setup.sh" tests
cd "$top"
# Without these the tests in a browser are skipped, and say so.
sh shared/setup.sh browser || echo "run.sh: chromium or npm cannot be had" >&2
if command -v npm >/dev/null 2>&1; then
  npm ci --prefix tests/browser --no-audit --no-fund --silent ||
    echo "run.sh: the packages of tests/browser cannot be had" >&2
fi
data=""
if [ -d "$top/../shared/lay-data" ]; then data=$(cd "$top/../shared/lay-data" && pwd); fi
cmake --preset "$preset" -DPOUCHWRIGHT_TESTS=ON -DPOUCHWRIGHT_LAY_DATA="$data" >/dev/null
cmake --build --preset "$preset"

log=$(mktemp)
trap 'rm -f "$log"' EXIT
status=0
ctest --preset "$preset" --no-tests=error -j 2 >"$log" 2>&1 || status=$?
grep -v ' Passed ' "$log" || true

# ctest closes with: `98% tests passed, 2 tests failed out of 100`.
set -- $(sed -n 's/^[0-9]*% tests passed, \([0-9]*\) tests* failed out of \([0-9]*\)$/\1 \2/p' "$log")
failed=${1:-1}
skipped=$(grep -c '\*\*\*Skipped' "$log" || true)
total=$((${2:-1} - skipped))
if [ "$skipped" -ne 0 ]; then echo "$skipped skipped"; fi
echo "$((total - failed)) passed, $failed failed"
if [ "$failed" -ne 0 ] && [ "$status" -eq 0 ]; then status=1; fi
exit "$status"
