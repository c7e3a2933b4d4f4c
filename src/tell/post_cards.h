/// What stands on the card of each station of a work plan: which step its picture shows, what to do,
/// what good looks like, what goes wrong most often.
///
///     for (const PostCardSaid& card : post_cards_said(line, plan, names, pouch, facts, words)) …
///
/// Not for how it is drawn (draw/sheets/post_cards.h).
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/voice.h"
#include "batch/work/plan.h"
#include "pouch/pouch.h"
#include "tell/step_facts.h"
#include "tell/work.h"

namespace pouchwright::tell {

/// One thing to do: in bold, and how.
struct PostDoes {
  std::string head, how;
};

struct PostCardSaid {
  std::string who;                     ///< all who have the same station
  std::string title;                   ///< what is done there
  std::string first;                   ///< once, before; may be empty
  std::optional<std::size_t> picture;  ///< the assembly step that takes longest, from 0
  std::vector<PostDoes> does;          ///< at most kPostSentences
  std::string good;                    ///< what good looks like; may be empty
  std::vector<std::string> faults;     ///< the commonest
  std::size_t bundles = 0;             ///< of the day; 0: done once
};
inline constexpr std::size_t kPostSentences = 3;

/// One for each different station, in the order of their first step. `words` have a key
/// `post-good-KIND` and `post-fault-KIND`, `post-fault-KIND-2` for the kinds of work that they know.
[[nodiscard]] std::vector<PostCardSaid> post_cards_said(
    const batch::Line& line, const batch::Schedule& plan, const std::vector<WorkName>& names,
    const pouch::Pouch& pouch, const StepFacts& facts, const base::Voice& words);

}  // namespace pouchwright::tell
