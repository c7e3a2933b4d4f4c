/// What a job leaves open and got otherwise from earlier versions: its cards and templates from
/// before do not fit the ones of today.
#pragma once

#include <string>
#include <vector>

#include "base/length.h"
#include "pouch/pouch.h"

namespace pouchwright::tell {

/// A value that the job does not state, by its path in the file.
struct ChangedDefault {
  std::string path;
  base::Length now, was;
};

/// In the construction's order; nothing of what the job states or what changes neither panel nor
/// cards.
[[nodiscard]] std::vector<ChangedDefault> changed_defaults(const pouch::Pouch& pouch);

}  // namespace pouchwright::tell
