#!/bin/sh
# Sets up, builds, and renders the Heron Quay sample job into this folder.
set -eu
here=$(cd "$(dirname "$0")" && pwd)
top=$(dirname "$here")

sh "$top/shared/setup.sh"
cd "$top"
cmake --preset release -DPOUCHWRIGHT_TESTS=OFF >/dev/null
cmake --build --preset release --target pouchwright >/dev/null

program=$top/.build/release/src/pouchwright
job=$top/patterns/heron-quay.toml
"$program" check "$job"
"$program" template "$job" --out "$here" --png --quiet
"$program" mask "$job" --out "$here" --png --quiet
"$program" packet "$job" --out "$here/packet.pdf" --png --quiet
"$program" size "$job" --quiet > "$here/sizes.txt"

cat <<END

Done. Open these:
  $here/packet.pdf     all that the day needs, in order of use
  $here/template.pdf   the cutting template, at full size
  $here/mask.pdf       the slip card, the shield for ironing, and the fold gauge
  $here/sizes.txt      the sizes, to copy from

How to print: in the print window choose 100 % (or "actual size"), never "fit
to page". Then measure the 50 mm check square on the first page with a ruler.
END
