#!/bin/sh
# Links pouchwright.html again with another FriBidi or libqrencode (LGPL 2.1), from the objects that the build keeps:
# nothing of the program is compiled, and what the new library does differently is in the new file.
#   sh src/web/relink.sh OUT libweb_fribidi.a=MINE.a [libweb_qrencode.a=MINE.a]
# OUT is a folder for the new page. The archives are those of the build folder (POUCHWRIGHT_BUILT, or .build/web); how
# their own objects were compiled is told by `ninja -C .build/web -t commands libweb_fribidi.a`.
set -eu
top=$(cd "$(dirname "$0")/../.." && pwd)
built=$(cd "${POUCHWRIGHT_BUILT:-$top/.build/web}" && pwd)
mkdir -p "$1"
out=$(cd "$1" && pwd)
shift
export NODE_PATH="${NODE_PATH:-/usr/share/nodejs}" EMSDK_PYTHON="${EMSDK_PYTHON:-/usr/bin/python3}"

last_of() { ninja -C "$built" -t commands "$1" | tail -n 1; }
link=$(last_of src/pouchwright.js | sed "s# -o src/pouchwright.js # -o $out/pouchwright.js #")
for change in "$@"; do
  library=${change%%=*}
  mine=$(cd "$(dirname "${change#*=}")" && pwd)/$(basename "${change#*=}")
  case $link in
    *" $library "*) ;;
    *) echo "relink.sh: $library is no library of the program" >&2; exit 2 ;;
  esac
  test -f "$mine"
  link=$(printf '%s\n' "$link" | sed "s# $library # $mine #")
done
cd "$built"
sh -ec "$link"
sh -ec "$(last_of pouchwright.html | sed "s#$built/src/pouchwright.js#$out/pouchwright.js#; s#$built/pouchwright.html#$out/pouchwright.html#")"
