/// The program's own icons, for tests of what draws them.
#pragma once

#include "draw/sheets/scenes.h"
#include "input/icons.h"
#include "support/source_file.h"

namespace pouchwright::test {

inline const ink::Icons& own_icons() {
  static const ink::Icons kIcons = [] {
    base::Diagnostics diagnostics;
    ink::Icons icons =
        input::read_icons(source_file("shared/icons.toml"), draw::icon_names(), diagnostics);
    REQUIRE_FALSE(diagnostics.has_errors());
    return icons;
  }();
  return kIcons;
}

}  // namespace pouchwright::test
