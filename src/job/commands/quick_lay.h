/// A cut plan without a job: a cloth and pieces, as texts of the command line.
///
///     auto made = quick_request({.cloth = "150 cm", .pieces = {"190 x 380 mm * 40"}}, style);
#pragma once

#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "base/length.h"
#include "base/message.h"

namespace pouchwright::job {

struct ClothPlan;

/// `[NAME =] LENGTH x LENGTH [* COUNT]` a piece.
struct QuickLay {
  std::string cloth;
  std::vector<std::string> pieces;
  std::string turn = "either";
  std::string cuts = "straight";
  std::string plies = "1";
  std::optional<std::string> table_length;
  std::optional<std::string> selvedge;
};

/// What is wrong with a text of the command line: exit 2.
struct QuickFault {
  base::Message message;
  base::Message hint;
};

/// The request that the texts make. `style` is set to the unit of the cloth's width.
/// Fails: a fault where a text cannot be read; an error where it can be read but not be cut.
[[nodiscard]] std::variant<ClothPlan, QuickFault> quick_request(const QuickLay& quick,
                                                                base::LengthStyle& style);

}  // namespace pouchwright::job
