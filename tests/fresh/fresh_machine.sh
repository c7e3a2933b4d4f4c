#!/bin/sh
# Does what README.md says on machines that have nothing: two bare Debian 12 systems made by
# debootstrap. Run by hand, as root; takes half an hour and 4 GB below $FRESH_FOLDER.
#
#   sudo sh tests/fresh/fresh_machine.sh [MIRROR]
#
# In the first, the two commands of README.md, as a person types them who has copied this folder
# there; then an installation to another prefix, and the Debian package. Into the second, which has no
# compiler, only that package. What they make must be out-samples/, byte for byte. The last lines are
# a summary; the exit code is 0 where nothing in it failed.
#   MIRROR          where Debian's packages come from       [http://deb.debian.org/debian]
#   FRESH_FOLDER    holds the two systems, and the log      [a new folder below /var/tmp]
#   FRESH_KEEP=yes  leaves the systems there, to look around in
# Only what is committed is copied. Mounts and processes live in namespaces of their own, so that none
# is left behind however this ends.
set -eu
top=$(cd "$(dirname "$0")/../.." && pwd)

if [ "${FRESH_INSIDE:-}" != yes ]; then
  for tool in debootstrap unshare git; do
    if ! command -v "$tool" >/dev/null 2>&1; then echo "fresh: $tool is missing" >&2; exit 1; fi
  done
  if [ "$(id -u)" != 0 ]; then echo "fresh: run this as root" >&2; exit 1; fi
  FRESH_INSIDE=yes exec unshare --mount --pid --fork --kill-child --mount-proc sh "$0" "$@"
fi

mirror=${1:-http://deb.debian.org/debian}
folder=${FRESH_FOLDER:-$(mktemp -d /var/tmp/pouchwright-fresh.XXXXXX)}
mkdir -p "$folder"
log=$folder/log
first=$folder/first
second=$folder/second
summary=$folder/summary
: >"$log"
: >"$summary"
failed=0

# Takes away the systems; what the host lends them is unmounted before.
clear_away() {
  for system in "$first" "$second"; do
    if mountpoint -q "$system"; then umount --recursive --lazy "$system"; fi
    rm -rf --one-file-system "$system"
  done
  rm -rf "$folder/expected"
}
trap 'if [ "${FRESH_KEEP:-}" != yes ]; then clear_away; fi' EXIT
trap 'exit 1' HUP INT TERM

tell() { echo "$1" | tee -a "$summary" >&2; }

# step WHAT COMMAND...: runs it with its words in the log, and notes how it went and how long it took.
# A shell that asks for the status of a function goes on after faults in it, so it is asked later.
step() {
  what=$1
  shift
  printf '\n==== %s\n' "$what" >>"$log"
  began=$(date +%s)
  set +e
  (set -e; "$@") >>"$log" 2>&1 </dev/null
  status=$?
  set -e
  if [ "$status" = 0 ]; then how="ok    "; else how=FAILED failed=$((failed + 1)); fi
  tell "$how $what ($(($(date +%s) - began)) s)"
}

# in_system SYSTEM SCRIPT: there, as root who has just logged in.
in_system() {
  chroot "$1" /usr/bin/env -i HOME=/root TERM=dumb PATH=/usr/sbin:/usr/bin:/sbin:/bin sh -euc "$2"
}

# What a machine has besides its files: processes, devices, names of other machines. Bound to itself,
# the folder is a file system, which a root has to be for tests that mount something.
start_system() {
  mount --bind "$1" "$1"
  mount -t proc proc "$1/proc"
  mount -t sysfs sysfs "$1/sys"
  mount --rbind /dev "$1/dev"
  cp -L /etc/resolv.conf /etc/hosts "$1/etc/"
}

make_systems() {
  clear_away
  debootstrap --variant=minbase bookworm "$first" "$mirror"
  cp -a "$first" "$second"
  start_system "$first"
  start_system "$second"
  mkdir "$first/root/pouchwright"
  git -c safe.directory='*' -C "$top" archive HEAD | tar -xC "$first/root/pouchwright"
  cp -a "$first/root/pouchwright/out-samples" "$folder/expected"
}

# Each file that is kept; make.sh makes some more.
same_samples() {
  for file in "$folder"/expected/*; do
    cmp "$file" "$first/root/pouchwright/out-samples/${file##*/}"
  done
}

# The program must find all it needs where it was installed to: the source folder is away meanwhile.
install_elsewhere() {
  in_system "$first" '
    cmake --install root/pouchwright/.build/release --prefix "/opt/a place"
    mv root/pouchwright root/away
    cd /tmp
    "/opt/a place/bin/pouchwright" packet --out elsewhere.pdf --quiet \
      "/opt/a place/share/pouchwright/patterns/heron-quay.toml"
    mv /root/away /root/pouchwright'
  cmp "$first/tmp/elsewhere.pdf" "$folder/expected/packet.pdf"
}

make_package() {
  in_system "$first" '
    cd root/pouchwright
    sh shared/setup.sh package
    cpack --preset release
    dpkg-deb --info .build/release/pouchwright_*.deb'
  cp "$first"/root/pouchwright/.build/release/pouchwright_*.deb "$second/root/"
}

install_package() {
  in_system "$second" '
    if command -v g++ || command -v cmake; then exit 1; fi
    export DEBIAN_FRONTEND=noninteractive
    apt-get update -q
    apt-get install -y -q --no-install-recommends ./root/pouchwright_*.deb'
}

use_package() {
  in_system "$second" '
    cd /tmp
    pouchwright check /usr/share/pouchwright/patterns/heron-quay.toml
    pouchwright packet /usr/share/pouchwright/patterns/heron-quay.toml --out packet.pdf'
  cmp "$second/tmp/packet.pdf" "$folder/expected/packet.pdf"
}

page_and_completion() {
  in_system "$second" '
    ls -l /usr/share/man/man1/pouchwright.1*
    zcat -f /usr/share/man/man1/pouchwright.1* | grep -F "pouchwright packet"
    bash -c ". /usr/share/bash-completion/completions/pouchwright
             COMP_WORDS=(pouchwright temp) COMP_CWORD=1
             _pouchwright
             test \"\${COMPREPLY[*]}\" = template"'
}

remove_package() {
  in_system "$second" '
    apt-get purge -y -q pouchwright
    found=$(find /usr /etc /opt -iname "*pouchwright*")
    echo "$found"
    test -z "$found"'
}

step "two bare Debian 12 systems" make_systems
step "README's first command: sh out-samples/make.sh" \
  in_system "$first" 'cd root/pouchwright; sh out-samples/make.sh'
step "the sample's prints are those of out-samples/" same_samples
step "README's second command: sh tests/run.sh" \
  in_system "$first" 'cd root/pouchwright; sh tests/run.sh'
# What it says at its end: what failed or was skipped, and how many.
sed -n '/==== README.s second/,$p' "$log" | grep -a -E \
  '^run.sh: |\*\*\*(Failed|Skipped|Timeout|Not Run|Exception)|^[0-9]+ (passed|skipped)' |
  sed 's/^/         /' | tee -a "$summary" >&2 || true
step "cmake --install to another prefix" install_elsewhere
step "cpack makes a Debian package" make_package
step "the package alone, in a system without a compiler" install_package
step "it makes the sample packet, the same bytes" use_package
step "its manual page and completion" page_and_completion
step "its removal leaves nothing" remove_package

printf '\n%s: %s failed; the whole log is %s\n' "fresh machine" "$failed" "$log"
cat "$summary"
test "$failed" = 0
