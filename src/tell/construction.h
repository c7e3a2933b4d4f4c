/// All that a construction says, in words: what it is cut from, its sizes with their defaults, what
/// is fixed to it, and what a person does in order.
///
///     const ConstructionWords told = construction_words(*pouch, words);
///     for (const WordsSection& section : told.sections) say(section.heading);
///
/// The pouch is one made with the construction's own sizes, so that lengths can be told. Not for
/// how the words stand on a page (see construction_page.h).
#pragma once

#include <string>
#include <vector>

#include "base/voice.h"
#include "pouch/pouch.h"

namespace pouchwright::tell {

/// One thing that is told of: what it is called in a job or in the construction's file, how large
/// or which it is, and what that means. Each but the name may be empty.
struct WordsRow {
  std::string name, value, meaning;
};
struct WordsSection {
  std::string heading;
  std::vector<WordsRow> rows;
};
struct ConstructionWords {
  std::string title;  ///< `foldover: Fold-over pouch, …`
  std::string about;
  std::string flap;
  std::vector<WordsSection> sections;  ///< none without rows; operations are the last
};

[[nodiscard]] ConstructionWords construction_words(const pouch::Pouch& pouch,
                                                   const base::Voice& words);

/// As a person would write a sum of sizes: `depth − 2 · lip_drop`, `1/2 · gusset`; empty for none.
[[nodiscard]] std::string formula(const pouch::LinearForm& form);

}  // namespace pouchwright::tell
