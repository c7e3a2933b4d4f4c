#!/bin/sh
# Fetches the sources of the libraries that the browser's edition is built of.
#   sh src/web/libraries/fetch.sh [FOLDER]     default: .build/web-sources
# By apt, with lists and settings of its own beside the archives, so that nothing of this machine is changed and
# nobody needs to be root: apt holds each archive to Debian's signed list, and here it is held to sources.txt.
set -eu
web=$(cd "$(dirname "$0")/.." && pwd)
into=${1:-$web/../../.build/web-sources}
mkdir -p "$into/apt/lists/partial" "$into/apt/cache/archives/partial" "$into/apt/parts"
into=$(cd "$into" && pwd)

packages() { sed -n 's/^\([^#|]*[^#| ]\) *|.*/\1/p' "$web/sources.txt"; }
archive_of() { sed -n "s/^$1 *| *\([^ |]*\).*/\1/p" "$web/sources.txt"; }
sum_of() { sed -n "s/^$1 *|[^|]*| *\([^ |]*\).*/\1/p" "$web/sources.txt"; }
is_right() {
  test -f "$into/$(archive_of "$1")" &&
    test "$(sha256sum "$into/$(archive_of "$1")" | cut -d' ' -f1)" = "$(sum_of "$1")"
}

missing=""
for package in $(packages); do is_right "$package" || missing="$missing $package"; done
if [ -z "$missing" ]; then exit 0; fi
echo "web: fetching the sources of$missing" >&2

for list in /etc/apt/sources.list.d/*.sources; do
  if test -f "$list"; then
    sed 's/^Types:.*/Types: deb-src/' "$list" > "$into/apt/parts/$(basename "$list")"
  fi
done
for list in /etc/apt/sources.list /etc/apt/sources.list.d/*.list; do
  if test -f "$list"; then
    sed -n 's/^deb /deb-src /p' "$list" > "$into/apt/parts/$(basename "$list" .list).list"
  fi
done
cd "$into"
apt() {
  apt-get -q -o "Dir::Etc::SourceList=/dev/null" -o "Dir::Etc::SourceParts=$into/apt/parts" \
    -o "Dir::State::Lists=$into/apt/lists" -o "Dir::Cache=$into/apt/cache" -o APT::Sandbox::User= "$@"
}
apt update >&2
for package in $missing; do
  # An archive may come and Debian's packing of it not: the archive is what counts, see below.
  apt source --download-only "$package" >&2 || true
  if ! is_right "$package"; then
    echo "web: $(archive_of "$package") cannot be had, or is not what sources.txt says" >&2
    exit 1
  fi
done
rm -rf "$into/apt/cache"
