/// What the fuzz targets share. A target is a file with LLVMFuzzerTestOneInput; clang links it with
/// libFuzzer (preset `fuzz`), every other build with driver.cc, which replays seeds and a stated
/// number of mutations, the same on every machine.
#pragma once

#include <cstddef>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <sstream>
#include <string>
#include <string_view>

#include "input/node.h"

// libFuzzer calls it by this name.
// NOLINTNEXTLINE(readability-identifier-naming)
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size);

namespace pouchwright::fuzz {

/// Ends the process after saying what does not hold.
inline void hold(bool holds, std::string_view what) {
  if (holds) return;
  std::fprintf(stderr, "does not hold: %.*s\n", static_cast<int>(what.size()), what.data());
  std::abort();
}

inline std::string text_of(const std::uint8_t* data, std::size_t size) {
  // Bytes are read as letters: char may alias anything.
  return std::string(reinterpret_cast<const char*>(data), size);
}

/// A file of the source folder, named as in messages.
inline input::LoadedFile source_file(const std::string& name) {
  std::ifstream in(std::string(POUCHWRIGHT_SOURCE) + "/" + name, std::ios::binary);
  hold(static_cast<bool>(in), "the source folder has " + name);
  std::ostringstream text;
  text << in.rdbuf();
  return {name, text.str()};
}

}  // namespace pouchwright::fuzz
