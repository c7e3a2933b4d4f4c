/// The text of a starter job: what was answered stands in it, everything else as a comment that
/// shows what holds without it.
///
///     Starter starter{construction};
///     starter.stated["liners.count"] = "3";
///     std::string text = starter_text(starter, words);
///
/// Inside `job` only. Not for asking, checking or writing (see commands/new.h).
#pragma once

#include <map>
#include <string>
#include <vector>

#include "base/voice.h"
#include "pouch/construction.h"

namespace pouchwright::job {

/// What was answered, all of it checked by itself but not yet together.
struct Starter {
  /// Cloth that is there, each value as TOML; a roll has no width.
  struct Piece {
    std::string material, width, length;
  };

  pouch::Construction construction;
  /// Values as TOML, by path.
  std::map<std::string, std::string> stated{};
  /// What a comment shows at a path, where that is not what the field's own row has.
  std::map<std::string, std::string> shown{};
  std::vector<Piece> stock{};
  bool takes_all_cloth = false;  ///< as many pouches are made as `stock` yields
};

[[nodiscard]] std::string starter_text(const Starter& starter, const base::Voice& words);

}  // namespace pouchwright::job
