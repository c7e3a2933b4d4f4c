/// The list of fonts, fonts/pinned.txt.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "ink/scene.h"

namespace pouchwright::render {

struct PinnedFont {
  ink::Weight weight = ink::Weight::regular;
  std::string family;
  std::string file;
  std::string package;  ///< Debian's, that holds the file
};

/// In the list's order. Fails: throws base::Failure where it cannot be read or understood, or lacks
/// a weight.
[[nodiscard]] std::vector<PinnedFont> pinned_fonts(const std::filesystem::path& list);

/// A font that is missing or damaged, told with its package.
[[noreturn]] void refuse(const PinnedFont& font, const char* key);

}  // namespace pouchwright::render
