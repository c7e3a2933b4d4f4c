#!/bin/sh
# Whoever changes FriBidi, which is LGPL, gets a page with her own in it: one of its sources is marked, compiled as the
# build does it, and linked to the objects that the build keeps. The mark is in the new page, and it answers as before.
set -eu
built=$POUCHWRIGHT_BUILT
top=$POUCHWRIGHT_SOURCE
here=$(cd "$(dirname "$0")" && pwd)
export NODE_PATH="${NODE_PATH:-/usr/share/nodejs}" EMSDK_PYTHON="${EMSDK_PYTHON:-/usr/bin/python3}"
if ! command -v em++ >/dev/null 2>&1; then echo "skipped: emscripten is not installed"; exit 77; fi
made=$(mktemp -d)
trap 'rm -rf "$made"' EXIT
mark="this FriBidi was changed by whoever uses it"

# One object anew, by the build's own command.
compile=$(ninja -C "$built" -t commands libweb_fribidi.a | grep -- '/fribidi-bidi\.c$')
source=$(printf '%s\n' "$compile" | sed 's/.* -c \(.*\)$/\1/')
object=$(printf '%s\n' "$compile" | sed 's/.* -o \([^ ]*\) .*/\1/')
cp "$source" "$made/fribidi-bidi.c"
printf '\n__attribute__((used)) const char changed_by_user[] = "%s";\n' "$mark" >> "$made/fribidi-bidi.c"
cd "$built"
sh -ec "$(printf '%s\n' "$compile" | sed "s# -c .*# -c $made/fribidi-bidi.c#; s# -o [^ ]* # -o $made/$(basename "$object") #; s# -MF [^ ]* # -MF $made/made.d #") -I$(dirname "$source")"
cp libweb_fribidi.a "$made/mine.a"
emar r "$made/mine.a" "$made/$(basename "$object")"

sh "$top/src/web/relink.sh" "$made/out" "libweb_fribidi.a=$made/mine.a"
grep -q "$mark" "$made/out/pouchwright.wasm"
if grep -q "$mark" src/pouchwright.wasm; then echo "the mark was there before"; exit 1; fi
test -s "$made/out/pouchwright.html"

# A title in two directions goes through FriBidi.
printf 'construction = "foldover"\ntitle = "جيب (A4) ٣ مم"\n' > "$made/job.toml"
for which in old new; do
  mkdir "$made/$which"
  cp "$made/job.toml" "$made/$which/"
  echo '[{"method": "POST", "target": "/api/template/template.pdf", "body": "job.toml"}]' > "$made/$which/asked.json"
done
"${NODE:-node}" "$here/ask.cjs" src/pouchwright.js "$made/old"
"${NODE:-node}" "$here/ask.cjs" "$made/out/pouchwright.js" "$made/new"
head -n 1 "$made/new/0.answer" | grep -q '^200 application/pdf'
cmp "$made/old/0.answer" "$made/new/0.answer"
echo "linked again, with $(wc -c < "$made/out/pouchwright.html") bytes"
