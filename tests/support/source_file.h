/// Files of the source folder, as the readers of `input` take them.
#pragma once

#include <doctest/doctest.h>

#include <fstream>
#include <sstream>
#include <string>

#include "input/node.h"

namespace pouchwright::test {

/// The text of a file of the source folder, named as in messages.
inline input::LoadedFile source_file(const std::string& name) {
  std::ifstream in(std::string(POUCHWRIGHT_SOURCE) + "/" + name, std::ios::binary);
  REQUIRE(in);
  std::ostringstream text;
  text << in.rdbuf();
  return {name, text.str()};
}

}  // namespace pouchwright::test
