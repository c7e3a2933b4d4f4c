/// The sheet that carries the job on paper: one or several square codes, and in words what they are
/// for; or, where the job is too long for them, that its file is to be kept.
///
///     auto pages = job_code({.title = "Carry pouch", .codes = {square}}, words, measure, room);
///
/// The job's own words are not printed beside it: they are those of a file, and nobody has to learn
/// them.
#pragma once

#include <string>
#include <vector>

#include "base/voice.h"
#include "draw/with_ink.h"
#include "ink/code_square.h"

namespace pouchwright::draw {

struct JobCode {
  /// What a telephone by itself makes of a code: the job's text, a page that opens, or letters that
  /// only the program's page reads.
  enum class Holds { text, link, packed };

  std::string title;  ///< of the job
  Holds holds = Holds::text;
  std::vector<ink::CodeSquare> codes{};  ///< parts in order; empty: the job is too long
  std::string page{};                    ///< where the group's page is; empty: it has none
  std::vector<std::string> files{};      ///< what the job names, and the codes do not hold
  bool lacks_settings = false;           ///< was more set for this packet than the codes hold?
};

/// The most modules along a side, without the quiet zone, with which a telephone in the hand still
/// reads a code on pages of `room`. May be less than the least code's.
[[nodiscard]] int most_modules(Point room);

/// Pages of `room`; one on A4 and Letter. Requires: no code has more than most_modules(room).
[[nodiscard]] std::vector<Drawing> job_code(const JobCode& sheet, const base::Voice& words,
                                            const TextMeasure& measure, Point room);

}  // namespace pouchwright::draw
