/// The program's own icons, for tests of what draws them.
#pragma once

#include <doctest/doctest.h>

#include <fstream>
#include <sstream>
#include <string>

#include "draw/sheets/scenes.h"
#include "input/icons.h"

namespace pouchwright::test {

inline const ink::Icons& own_icons() {
  static const ink::Icons kIcons = [] {
    std::ifstream in(std::string(POUCHWRIGHT_SOURCE) + "/shared/icons.toml", std::ios::binary);
    REQUIRE(in);
    std::ostringstream text;
    text << in.rdbuf();
    base::Diagnostics diagnostics;
    ink::Icons icons =
        input::read_icons({"icons.toml", text.str()}, draw::icon_names(), diagnostics);
    REQUIRE_FALSE(diagnostics.has_errors());
    return icons;
  }();
  return kIcons;
}

}  // namespace pouchwright::test
