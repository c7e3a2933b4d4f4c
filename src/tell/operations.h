/// What people read for an operation, wherever a list or a table speaks of one: a few words, and
/// which step of the steps pages shows its picture. An operation's id stays in files and reports.
///
///     const OperationWords said(pouch, words);
///     said.name(8);           // `fold the flap over`
///     said.listed({8, 9});    // `fold the flap over (step 8), sew … (step 9)`
///
/// Not for how an operation is done (see steps.h), nor for what a construction says of it
/// (construction.h).
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "base/voice.h"
#include "pouch/pouch.h"
#include "tell/step_list.h"

namespace pouchwright::tell {

/// `pouch` and `words` must outlive it.
class OperationWords {
 public:
  OperationWords(const pouch::Pouch& pouch, const base::Voice& words)
      : pouch_(&pouch), words_(words), numbers_(step_numbers(pouch)) {}

  /// As an order, without a capital: `sew both sides`. By the construction's index, as all here.
  [[nodiscard]] std::string name(std::size_t operation) const;
  /// The number of its step on the steps pages; nothing where the job skips it.
  [[nodiscard]] std::optional<std::size_t> step(std::size_t operation) const;

  /// Names of what follows each other, each with its step; of those that share one only the last.
  [[nodiscard]] std::string listed(const std::vector<std::size_t>& operations) const;

 private:
  const pouch::Pouch* pouch_;
  base::Voice words_;
  StepNumbers numbers_;
};

/// One of a row of names, which share a step with their neighbours or have their own.
struct StepName {
  std::string name;
  std::optional<std::size_t> step;
};
/// Without what only repeats the name before it, as the further turns of a roll.
[[nodiscard]] std::vector<StepName> each_once(std::vector<StepName> names);
/// `pull the slip card out, look inside (step 7), fold the flap over (step 8)`.
[[nodiscard]] std::string with_steps(const std::vector<StepName>& names, const base::Voice& words);

}  // namespace pouchwright::tell
