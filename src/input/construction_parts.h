/// The parts of a construction file that stand on their own: sums of sizes, counts and what is
/// repeated by them, pieces and attachments.
///
/// Inside `input` only; callers outside use read_construction() in data.h.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "input/reader.h"
#include "pouch/construction.h"

namespace pouchwright::input {

/// `{ depth = 1, lip_drop = -1 }`: whole numbers, or fractions as text.
[[nodiscard]] pouch::LinearForm form_of(const Node& table, const Context& context);
/// The form under `key`; empty where there is none.
[[nodiscard]] pouch::LinearForm form_under(TableReader& reader, std::string_view key);

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

[[nodiscard]] pouch::PieceRule piece_of(const Node& node, const Context& context);
[[nodiscard]] pouch::Attachment attachment_of(const Node& node, const Context& context);

}  // namespace pouchwright::input
