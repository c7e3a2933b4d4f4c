/// What is said to whatever a machine sews: with which stitch and needle, how far in, how long, and
/// what to do with the threads at its ends.
///
/// Not for what is fixed (see attachments.h), nor for the whole step (see steps.h).
#pragma once

#include <cstddef>
#include <vector>

#include "base/message.h"
#include "base/voice.h"
#include "pouch/fold/moment.h"
#include "pouch/pouch.h"
#include "tell/step_facts.h"

namespace pouchwright::tell {

/// An operation of a step, and what is known of the day.
struct SeamToTell {
  const pouch::Pouch& pouch;
  const pouch::FoldMoment& moment;
  std::size_t operation = 0;  ///< index into the construction's
  const StepFacts& facts;
  const base::Voice& words;
};

/// Is the operation sewn with an overedge, as far as is known?
[[nodiscard]] bool is_overedged(const SeamToTell& seam);

/// Sentences to a sewn edge, a finished end, a hem, secured tails. Each of an operation that does
/// so.
[[nodiscard]] std::vector<base::Message> sew_words(const SeamToTell& seam);
[[nodiscard]] std::vector<base::Message> finish_words(const SeamToTell& seam);
[[nodiscard]] std::vector<base::Message> hem_words(const SeamToTell& seam);
[[nodiscard]] std::vector<base::Message> tails_words(const SeamToTell& seam);

}  // namespace pouchwright::tell
