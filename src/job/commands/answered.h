/// What all questions of `new` share: whom to ask, and the job that comes of the answers so far.
///
///     Answered with(run);
///     with.state("paper.size", "A4");
///
/// Inside `job` only. Not for the questions (see interview.h).
#pragma once

#include <optional>
#include <string>

#include "base/length.h"
#include "job/commands/asker.h"
#include "job/job_text/starter.h"
#include "job/run.h"

namespace pouchwright::job {

inline constexpr const char* kNone = "none";
/// What somebody begins with.
inline constexpr const char* kFromLiners = "liners";
inline constexpr const char* kFromPouch = "pouch";
inline constexpr const char* kFromPanel = "panel";
inline constexpr const char* kFromCard = "card";
inline constexpr const char* kFromCloth = "cloth";

struct Answered {
  const Run& run;
  const Answers& answers;
  Asker ask;
  std::string from{};  ///< one of the words above
  base::Unit units = base::Unit::mm;
  Starter made{};

  /// `run` must outlive it.
  explicit Answered(const Run& of) : run(of), answers(of.options().answers), ask(of) {}

  [[nodiscard]] bool begins_with(const char* way) const { return from == way; }
  /// The job says `text` at `path`; a person's control characters become blanks.
  void state(const std::string& path, std::string text);
  /// A comment of the job does.
  void show(const std::string& path, const std::string& text);
  /// More than nothing, a number without a unit in the job's.
  [[nodiscard]] std::optional<base::Length> length(const std::string& text) const;
  /// As the job says it: exactly what was read.
  [[nodiscard]] std::string in_words(base::Length length) const {
    return base::exact_text(length, units);
  }
};

}  // namespace pouchwright::job
