/// The text of a starter job: what was answered stands in it, everything else as a comment that
/// shows what holds without it.
///
///     Starter starter{construction};
///     starter.count = "3";
///     std::string text = starter_text(starter, words);
///
/// Inside `job` only. Not for asking, checking or writing (see new_job.h).
#pragma once

#include <map>
#include <optional>
#include <string>

#include "base/length.h"
#include "base/voice.h"
#include "pouch/construction.h"

namespace pouchwright::job {

/// One folded liner, each side as the job is to say it: with its unit.
struct LinerTexts {
  std::string width, length, thickness;
};

/// What was answered, all of it checked by itself but not yet together.
struct Starter {
  pouch::Construction construction;
  std::string title;
  base::Unit units = base::Unit::mm;
  std::optional<std::string> count;          ///< of liners; absent: none is stated
  std::optional<LinerTexts> liner;           ///< absent: the whole table is a comment
  std::map<std::string, std::string> sizes;  ///< stated sizes by name, each with its unit
  std::string laminate;
  std::string outer;          ///< empty: none
  std::string outer_example;  ///< what a comment shows where there is none
  bool outer_frays = false;   ///< then both ends are overedged
  std::string pouches, helpers, paper;
  std::optional<std::string> printed_square;
};

/// A liner that stands where nobody has measured one.
[[nodiscard]] LinerTexts usual_liner(base::Unit units);

[[nodiscard]] std::string starter_text(const Starter& starter, const base::Voice& words);

}  // namespace pouchwright::job
