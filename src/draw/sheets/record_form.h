/// An empty form for what a group writes down with a pencil: its columns are those of a record, so that
/// it can be typed off line by line.
///
///     auto pages = record_form({.works = {"fuse both sides"}}, words, measure, room);
///
/// Not at full size.
#pragma once

#include <string>
#include <vector>

#include "base/voice.h"
#include "draw/with_ink.h"

namespace pouchwright::draw {

struct RecordForm {
  std::string title;                 ///< of the job
  std::vector<std::string> works;    ///< what a line may be about, in order
  std::vector<std::string> makes{};  ///< of a day: what its pouches are called; else empty
};

/// Pages of `room`: what to write, a page of lines at the least, and lines for trials with the iron.
[[nodiscard]] std::vector<Drawing> record_form(const RecordForm& form, const base::Voice& words,
                                               const TextMeasure& measure, Point room);

}  // namespace pouchwright::draw
