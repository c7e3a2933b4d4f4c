/// The steps sheet: every step of the assembly with its picture, on one page or two.
///
///     std::vector<Drawing> pages = steps_sheet(*pouch, {.room = {190, 277}}, words, measure);
///
/// Not at full size: these pages carry no check square. Not for a single picture (fold_picture.h).
#pragma once

#include <cstddef>
#include <map>
#include <string>
#include <vector>

#include "diag/words.h"
#include "drawing/fold_picture.h"
#include "drawing/scene.h"
#include "drawing/step_facts.h"
#include "pouch/pouch.h"

namespace pouchwright::drawing {

/// Pages are not planned for more than this; a long construction with long words takes more.
inline constexpr std::size_t kStepsPages = 2;

struct StepsLook {
  Point room{190, 277};  ///< what a page may hold, mm
  Wording wording = Wording::words;
  StepFacts facts{};
};

/// One step in words, for those who have it read to them.
struct StepText {
  std::vector<std::string> operations;  ///< ids of the construction; none: to be marked
  std::string words;                    ///< sentences
};
[[nodiscard]] std::vector<StepText> steps_in_words(const pouch::Pouch& pouch,
                                                   const StepFacts& facts,
                                                   const diag::Words& words);

/// Which step of the sheet shows an operation, by its id; from 1, as the sheet numbers them.
/// Operations that the job skips have none.
using StepNumbers = std::map<std::string, std::size_t, std::less<>>;
[[nodiscard]] StepNumbers step_numbers(const pouch::Pouch& pouch);

/// Each drawing starts at 0, 0 and is as wide as the room and no higher. The pictures have one
/// scale, the largest at which all steps find room on kStepsPages. Every step has its number, its
/// words (or icons) and its picture. The wordless sheet has no text but numbers.
[[nodiscard]] std::vector<Drawing> steps_sheet(const pouch::Pouch& pouch, const StepsLook& look,
                                               const diag::Words& words,
                                               const TextMeasure& measure);

}  // namespace pouchwright::drawing
