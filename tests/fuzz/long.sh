#!/bin/sh
# A long run of one libFuzzer target, by hand:
#   cmake --preset fuzz && cmake --build --preset fuzz
#   sh tests/fuzz/long.sh construction 300       # seconds
# What it finds lies in .build/fuzz/finds/NAME/: make it small (-minimize_crash=1), put it into
# tests/fuzz/finds/NAME-what-it-is, see the test fail, and repair the fault.
set -eu
here=$(cd "$(dirname "$0")" && pwd)
top=$(cd "$here/../.." && pwd)
name=$1
seconds=${2:-300}
work=$top/.build/fuzz
corpus=$work/corpus/$name
finds=$work/finds/$name
mkdir -p "$corpus" "$finds"

case $name in
  length | lay) split -l 1 -d "$here/$name.txt" "$corpus/seed-" ;;
  job) cp "$top"/patterns/*.toml "$top"/tests/errors/*.toml "$corpus" ;;
  construction) cp "$top"/patterns/*.toml "$top"/tests/errors/constructions/*.toml "$corpus" ;;
  desk) cp "$here"/desk/*.http "$corpus" ;;
  *) echo "long.sh: length, job, construction, lay or desk" >&2; exit 2 ;;
esac
for find in "$here/finds/$name"-*; do
  if [ -e "$find" ]; then cp "$find" "$corpus"; fi
done

# libFuzzer wants keys in quotes, with its own escapes.
sed 's/\\/\\\\/g; s/"/\\"/g; s/^/"/; s/$/"/' "$here/keys.txt" | LC_ALL=C grep -v '[^ -~]' > "$work/keys.dict"

export LSAN_OPTIONS="suppressions=$top/tests/support/leaks.txt:print_suppressions=0"
exec nice "$work/tests/fuzz/fuzz_$name" -max_total_time="$seconds" -timeout=20 -rss_limit_mb=2048 \
  -dict="$work/keys.dict" -artifact_prefix="$finds/" -print_final_stats=1 -seed=1 \
  -max_len=20000 "$corpus"
