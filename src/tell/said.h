/// What is said of one thing to do: what, in bold, and how below it.
///
///     Said{"steps-pair", {"steps-pair-how"}}
#pragma once

#include <vector>

#include "base/message.h"

namespace pouchwright::tell {

/// A heading, without a full stop, and the sentences below it.
struct Said {
  base::Message head;
  std::vector<base::Message> sentences;
};

}  // namespace pouchwright::tell
