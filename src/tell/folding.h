/// What is said to a fold: what turns about which line, and what tells the hands that it lies right.
///
///     if (const auto folding = fold_words(pouch, step.moment, index, words)) say(*folding);
#pragma once

#include <cstddef>
#include <optional>

#include "base/message.h"
#include "base/voice.h"
#include "pouch/fold/moment.h"
#include "pouch/pouch.h"
#include "tell/said.h"

namespace pouchwright::tell {

/// To the fold lines, before anything is folded.
[[nodiscard]] Said mark_words(const pouch::Pouch& pouch, const base::Voice& words);

/// To an operation that folds. None: the later turns of a roll, of which its first tells.
[[nodiscard]] std::optional<Said> fold_words(const pouch::Pouch& pouch,
                                             const pouch::FoldMoment& moment, std::size_t operation,
                                             const base::Voice& words);

/// The fold of the compartment on which the centre strip's lower end lies.
[[nodiscard]] base::Message fold_under_card(const pouch::Pouch& pouch,
                                            const pouch::FoldMoment& moment,
                                            std::size_t compartment, const base::Voice& words);
/// Does the film on which the compartment's card is laid face down, so that the work is turned over?
[[nodiscard]] bool film_faces_down(const pouch::Pouch& pouch, const pouch::FoldMoment& moment,
                                   std::size_t compartment);

}  // namespace pouchwright::tell
