/// The parts of a construction file that stand on their own: sums of sizes, counts and what is
/// repeated by them, pieces and attachments.
///
/// Inside `input` only; callers outside use read_construction() in data.h.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "input/construction_names.h"

namespace pouchwright::input {

/// `{ depth = 1, lip_drop = -1 }` under `key`: whole numbers, or fractions as text; empty where
/// there is none.
[[nodiscard]] pouch::LinearForm form_under(TableReader& reader, std::string_view key, Names& names);

/// The `[count]` table. `value` is the job's, or the default.
[[nodiscard]] std::vector<pouch::CountRule> counts_of(
    const Node& table, const std::function<std::optional<int>(const pouch::CountRule&)>& stated,
    const Context& context);

/// The numbers that `repeat = "rolls up from 1"` (1, 2, … rolls) or `"rolls down to 2"` (rolls, …
/// 2) stands for; empty after an error, or where the count is below.
[[nodiscard]] std::vector<int> repeats_of(const base::Placed<std::string>& text,
                                          const std::vector<pouch::CountRule>& counts,
                                          const Context& context);

/// `text` with {n}, {n-1} and {n+1} filled in.
[[nodiscard]] std::string with_number(std::string text, int number);

[[nodiscard]] pouch::PieceRule piece_of(const Node& node, const Context& context, Names& names);

/// An attachment, and the name of the one that it is half of, which may stand further down; empty
/// where it is whole.
struct ReadAttachment {
  pouch::Attachment made;
  std::string half_of;
};
[[nodiscard]] ReadAttachment attachment_of(const Node& node, const Context& context, Names& names);

}  // namespace pouchwright::input
