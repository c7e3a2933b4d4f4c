/// All that a construction says, in words: what it is cut from, its sizes with their defaults, what
/// is fixed to it, and what a person does in order.
///
///     for (const Section& section : construction_sections(*pouch)) say(section.heading);
///
/// The pouch is one made with the construction's own sizes, so that lengths can be told.
#pragma once

#include <string>
#include <vector>

#include "base/message.h"
#include "pouch/pouch.h"

namespace pouchwright::tell {

/// One thing that is told of: what it is called in a job or in the construction's file, how large
/// or which it is, and all that is to say of it. Each but the first may be empty.
using Row = std::vector<base::Value>;
struct Section {
  const char* heading = "";  ///< a key
  std::vector<Row> rows;
};

/// None without rows; operations are the last.
[[nodiscard]] std::vector<Section> construction_sections(const pouch::Pouch& pouch);

/// `190 mm (7 1/2 in) x 150 mm (5 7/8 in)`
[[nodiscard]] base::Message by(base::Length width, base::Length length);

/// As a person would write a sum of sizes: `depth − 2 · lip_drop`, `1/2 · gusset`; empty for none.
[[nodiscard]] std::string formula(const pouch::LinearForm& form);

}  // namespace pouchwright::tell
