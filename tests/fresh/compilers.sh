#!/bin/sh
# Builds the program by gcc and by clang, optimised, and compares all that the two write, byte for byte.
# Run by hand: clang is not among what setup.sh installs. What is passed goes to cmake.
#   sh tests/fresh/compilers.sh [-DCMAKE_CXX_COMPILER_LAUNCHER=...]
set -eu
cd "$(dirname "$0")/../.."
for compiler in g++ clang++; do
  cmake -S . -B ".build/$compiler" -G Ninja -DCMAKE_BUILD_TYPE=Release -DPOUCHWRIGHT_TESTS=OFF \
    "-DCMAKE_CXX_COMPILER=$compiler" "$@" >/dev/null
  cmake --build ".build/$compiler" --target pouchwright
done
python3 tests/fresh/same_bytes.py .build/g++/src/pouchwright .build/clang++/src/pouchwright
