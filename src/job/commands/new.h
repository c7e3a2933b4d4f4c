/// What a starter job is made from: answers as options, or somebody who can be asked.
///
/// Not for the text of the job (see starter.h).
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

namespace pouchwright::job {

/// Shows a question and returns what was answered, without the end of the line; empty (no value)
/// where nothing will come any more.
using Ask = std::function<std::optional<std::string>(const std::string& question)>;

/// The options of `new`, besides those that other commands have as well.
struct Answers {
  std::optional<std::string>
      from;  ///< what somebody starts from: liners, pouch, panel, card, cloth
  std::optional<std::string> construction, title;
  std::optional<std::string> liner;         ///< "80 x 120 x 9 mm", one as it is folded
  std::optional<std::string> width, depth;  ///< finished sizes
  std::optional<std::string> panel;         ///< "8 1/2 x 15 in", as cut
  std::optional<std::string> fold_at;       ///< "6 in, 12 in", from the panel's start
  std::optional<std::string> card_kind, card;
  std::optional<std::string> laminate, outer;
  std::optional<std::string> plies;           ///< how the cloth lies: single, folded 2, folded 4
  std::optional<std::string> machine, knife;  ///< what sews the sides, and what it trims
  std::optional<std::string> pouches, helpers;
  std::vector<std::string> days;  ///< "JOB.toml [* POUCHES]": a day of these, and nothing is asked
  bool overwrites = false;        ///< may an existing file be replaced?
};

}  // namespace pouchwright::job
