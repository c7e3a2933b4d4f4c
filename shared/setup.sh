#!/bin/sh
# Installs what building, testing and running pouchwright needs on Debian 12.
# Runs as root or through sudo; does nothing where all is there already.
#   sh shared/setup.sh          build and run
#   sh shared/setup.sh tests    and what the tests look through
#   sh shared/setup.sh package  build, and make a Debian package by cpack
#   sh shared/setup.sh browser  only what the tests of the desk's page run in
#   sh shared/setup.sh firefox  a second browser, which only the page that is one file is tested in
#   sh shared/setup.sh web      what makes the page that is one file, and the sources of its libraries
set -eu

build="g++ cmake ninja-build pkg-config libcairo2-dev libpango1.0-dev libfontconfig1-dev libqpdf-dev libqrencode-dev
  libcli11-dev libtomlplusplus-dev libfmt-dev libutfcpp-dev nlohmann-json3-dev libboost-dev libzip-dev
  zlib1g-dev fonts-noto-core"
package="dpkg-dev file"
tests="doctest-dev python3 clang-format poppler-utils qpdf librsvg2-bin libxml2-utils locales-all coinor-cbc glpk-utils
  $package groff-base zbar-tools"
# Of the libraries, the browser's edition takes only headers from here; their sources are fetched.
web="cmake ninja-build emscripten patch xz-utils bzip2 libfmt-dev libtomlplusplus-dev libutfcpp-dev nlohmann-json3-dev
  libboost-dev fonts-noto-core librsvg2-bin"
wanted=$build
if [ "${1:-}" = web ]; then wanted=$web; fi
if [ "${1:-}" = package ]; then wanted="$build $package"; fi
if [ "${1:-}" = tests ]; then wanted="$build $tests"; fi
if [ "${1:-}" = browser ]; then
  wanted=chromium
  # Others than Debian's, which bring npm along, are as good.
  if ! command -v npm >/dev/null 2>&1; then wanted="chromium nodejs npm"; fi
fi
if [ "${1:-}" = firefox ]; then wanted=firefox-esr; fi

fetch() {
  if [ "$1" = web ]; then sh "$(dirname "$0")/../src/web/libraries/fetch.sh"; fi
}

missing=""
if command -v dpkg-query >/dev/null 2>&1; then
  for package in $wanted; do
    state=$(dpkg-query -W -f '${Status}' "$package" 2>/dev/null || true)
    if [ "$state" != "install ok installed" ]; then missing="$missing $package"; fi
  done
  if [ -z "$missing" ]; then
    fetch "${1:-}"
    exit 0
  fi
fi

system=unknown
if [ -r /etc/os-release ]; then
  system=$(. /etc/os-release && echo "${ID:-unknown} ${VERSION_ID:-}")
fi
case $system in
  "debian 12"*) ;;
  *)
    echo "setup: this is $system, not Debian 12, so nothing was installed." >&2
    echo "setup: please install these, by their names on Debian 12:" $wanted >&2
    exit 1
    ;;
esac

if [ "$(id -u)" = 0 ]; then
  as_root=""
elif command -v sudo >/dev/null 2>&1; then
  as_root=sudo
else
  echo "setup: run this as root, or install sudo; these are missing:$missing" >&2
  exit 1
fi

echo "setup: installing$missing" >&2
export DEBIAN_FRONTEND=noninteractive
$as_root apt-get update -q >&2
$as_root apt-get install -y -q --no-install-recommends $missing >&2
fetch "${1:-}"
