/// What is done once before the bundles: cloth opened, machines threaded, irons warmed and tried,
/// cards traced. As far as the work table knows such kinds.
///
/// Inside `batch` only, for steps.cc.
#pragma once

#include <cstddef>
#include <vector>

#include "batch/work/elements.h"

namespace pouchwright::batch {

struct Preparing {
  const WorkTable* table = nullptr;
  const Settings* settings = nullptr;
  bool tries_iron = true;  ///< no trial has shown yet how hot and how long
  std::size_t cards = 0;   ///< to be traced and cut
};

/// Puts them before all others, and has what they make ready wait for them.
void prepare(std::vector<Element>& elements, const Preparing& what);

}  // namespace pouchwright::batch
