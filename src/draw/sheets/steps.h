/// The steps sheet: every step of the assembly with its picture, six a page.
///
///     std::vector<Drawing> pages = steps_sheet(*pouch, {.room = {190, 277}}, icons, words, measure);
///
/// Not at full size: these pages carry no check square. Not for a single picture (draw/folds/picture.h).
#pragma once

#include <cstddef>
#include <map>
#include <string>
#include <vector>

#include "base/voice.h"
#include "draw/folds/picture.h"
#include "draw/with_ink.h"
#include "ink/icons.h"
#include "pouch/pouch.h"
#include "tell/step_facts.h"

namespace pouchwright::draw {

/// So many steps a page, where their words leave room for pictures.
inline constexpr std::size_t kStepsOnPage = 6;

struct StepsLook {
  Point room{190, 277};  ///< what a page may hold, mm
  Wording wording = Wording::words;
  tell::StepFacts facts{};
};

/// Each drawing starts at 0, 0 and is as wide as the room and no higher. The pictures have one
/// scale, but for those beside a section and where a row leaves room (see steps_layout.h). Every step
/// has its number, its words (or icons) and its picture. The wordless sheet has no text but numbers.
[[nodiscard]] std::vector<Drawing> steps_sheet(const pouch::Pouch& pouch, const StepsLook& look,
                                               const Icons& icons, const base::Voice& words,
                                               const TextMeasure& measure);

}  // namespace pouchwright::draw
