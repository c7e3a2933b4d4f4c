#!/bin/sh
# Runs what follows FILE where the page in one file was built, and from what the sources are now; leaves with 77
# elsewhere, and says why.
#   sh tests/web/if_built.sh FILE COMMAND...
set -eu
file=$1
shift
top=$(cd "$(dirname "$0")/../.." && pwd)
if [ ! -e "$file" ]; then
  echo "skipped: the page in one file was not built (cmake --build --preset web)"
  exit 77
fi
newer=$(find "$top/src" "$top/patterns" "$top/shared" "$top/fonts" -type f -newer "$file" ! -name setup.sh | head -n 1)
if [ -n "$newer" ]; then
  echo "skipped: the page in one file is older than ${newer#"$top"/} (cmake --build --preset web)"
  exit 77
fi
exec "$@"
