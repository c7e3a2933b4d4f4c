#include "draw/sheets/construction.h"

#include <string>
#include <utility>

#include "draw/folds/picture.h"
#include "ink/flow.h"
#include "ink/labels.h"
#include "tell/construction.h"

namespace pouchwright::draw {
namespace {

/// A value of more bytes may be broken.
constexpr std::size_t kLongValue = 40;
/// A picture in its column, mm.
constexpr double kHighestPicture = 66;

/// `drawn` with what it shows above it.
Frame captioned(const Drawing& drawn, const std::string& caption) {
  Frame picture;
  picture.write(caption, {0, kSmallestSize});
  const double top = kSmallestSize + 2;
  picture.place({drawn.items, drawn.extent}, {0, top});
  picture.box = {0, 0, drawn.extent.width(), top + drawn.extent.height()};
  return picture;
}

std::string row_words(const tell::WordsRow& row) {
  std::string text = row.name;
  if (!row.value.empty())
    text += ": " + (row.value.size() < kLongValue ? kept_together(row.value) : row.value);
  if (!row.meaning.empty()) text += (row.value.empty() ? ": " : "; ") + row.meaning;
  return text;
}

}  // namespace

std::vector<Drawing> construction_pages(const pouch::Pouch& pouch, Point room, const Icons& icons,
                                        const base::Voice& words, const TextMeasure& measure) {
  const tell::ConstructionWords told = tell::construction_words(pouch, words);
  TextPages pages("construction-" + pouch.construction().name, told.title, room,
                  TextPages::Columns::two, measure);
  pages.add({text_paragraph(told.about), text_paragraph(told.flap)});
  const Point picture_room{pages.width(), kHighestPicture};
  pages.add(captioned(finished_picture(pouch, picture_room, words, measure),
                      words.say("construction-picture-made")));
  pages.add(captioned(fold_picture(pouch, cut_panel(pouch), picture_room, icons, words, measure),
                      words.say("construction-picture-cut")));
  for (const tell::WordsSection& section : told.sections) {
    Paragraphs paragraphs{heading(section.heading)};
    const bool in_order = &section == &told.sections.back();
    for (const tell::WordsRow& row : section.rows) {
      paragraphs.push_back(in_order ? step(row_words(row)) : point(row_words(row)));
    }
    pages.add(paragraphs);
  }
  return pages.finished();
}

}  // namespace pouchwright::draw
