/// Messages as running text on paper.
#pragma once

#include <string>
#include <vector>

#include "base/message.h"
#include "base/voice.h"

namespace pouchwright::ink {

/// Sentences that run on; no line breaks within one of their lengths.
[[nodiscard]] std::string kept_words(const std::vector<base::Message>& sentences,
                                     const base::Voice& voice);

}  // namespace pouchwright::ink
