#include <algorithm>
#include <optional>

#include "job/commands/packet_sections.h"
#include "paper/notes.h"
#include "render/text.h"

namespace pouchwright::job {
namespace {

/// What a page's foot takes of a sheet's room, mm.
constexpr double kFoot = 7;
/// Of the foot's words, below the top of a full-size page's lower margin; they need that much more.
constexpr double kFootBase = 3.4;
constexpr double kFootDescent = 1;
/// Of the line below it that says who answers for the words.
constexpr double kDraftFoot = 4.2;
/// At a sheet's edge many printers leave so much white (common practice, no source).
constexpr double kUnprintable = 5;

/// Is there a line of words between the drawing and the edge that printers leave white?
bool margin_has_room(const Run& run) {
  return run.settings().paper.margins.bottom.in_mm() >= kFootBase + kFootDescent + kUnprintable;
}

ink::Box printable(const Section& section, const Run& run) {
  const auto& margins = run.settings().paper.margins;
  return {margins.left.in_mm(), margins.top.in_mm(), section.pages.width - margins.right.in_mm(),
          section.pages.height - margins.bottom.in_mm()};
}

std::string what_it_is(const Section& section, const Run& run) {
  std::string said = run.say({section.full_size ? "packet-full-size" : "packet-not-full-size",
                              {{"section", section.pages.title}}});
  // Beside a drawing there is one line for all of it.
  const bool is_draft = run.words().undrafted().has_value();
  if (is_draft && section.full_size) said += " · " + run.say({"language-draft"});
  return said;
}

/// Below the foot of a sheet that is read.
void add_draft(paper::Page& page, const Run& run) {
  const SheetPaper paper = packet_paper(run);
  page.furniture.emplace_back(
      ink::Text{.words = draft_words(run),
                .at = {paper.at.x, paper.at.y + paper.room.y + kFoot + kDraftFoot - kFootDescent},
                .size = ink::kSmallestSize,
                .weight = ink::Weight::italic,
                .role = ink::Role::none});
}

/// On the left what the page is, on the right its number. Full-size pages have it in the lower
/// margin, since all else is the drawing's.
void add_foot(const Section& section, paper::Page& page, const std::string& number,
              const Run& run) {
  const SheetPaper paper = packet_paper(run);
  const ink::Box room = printable(section, run);
  const double left = section.full_size ? room.x0 : paper.at.x;
  const double right = section.full_size ? room.x1 : paper.at.x + paper.room.x;
  const double base =
      section.full_size ? room.y1 + kFootBase : paper.at.y + paper.room.y + kFoot - kFootDescent;
  const bool is_draft = run.words().undrafted().has_value();
  if (is_draft && !section.full_size) add_draft(page, run);
  page.furniture.emplace_back(ink::Text{.words = what_it_is(section, run),
                                        .at = {left, base},
                                        .size = ink::kSmallestSize,
                                        .role = ink::Role::none});
  page.furniture.emplace_back(ink::Text{.words = number,
                                        .at = {right, base},
                                        .size = ink::kSmallestSize,
                                        .anchor = ink::Anchor::end,
                                        .role = ink::Role::none});
}

/// The same over a full-size page's drawing, where it has room.
void add_notes(const Section& section, paper::Notes& notes, std::size_t page,
               const std::string& number, const Run& run) {
  const ink::Box room = printable(section, run);
  notes.add(page, number, {room.x1, room.y1});
  notes.add(page, what_it_is(section, run), {room.x0, room.y1});
}

/// Each reference names the first page of its section.
void refer(std::vector<Section>& sections, const Run& run) {
  for (Section& section : sections) {
    for (const Section::Reference& reference : section.references) {
      const auto named = std::find_if(sections.begin(), sections.end(), [&](const Section& one) {
        return one.name == reference.section;
      });
      ink::Item& item = section.pages.drawings[reference.at.page].items[reference.at.item];
      std::get<ink::Text>(item).words =
          run.say({reference.words,
                   {{"section", named->pages.title}, {"page", named->pages.pages.front().label}}});
    }
  }
}

}  // namespace

SheetPaper packet_paper(const Run& run) {
  SheetPaper paper = sheet_paper(run.settings().paper);
  paper.room.y -= kFoot + (run.words().undrafted() ? kDraftFoot : 0);
  return paper;
}

void number_pages(std::vector<Section>& sections, const Run& run) {
  const render::FontMeasure measure(run.fonts());
  std::size_t count = 0;
  for (const Section& section : sections) count += section.pages.pages.size();
  std::size_t number = 0;
  for (Section& section : sections) {
    const bool in_margin = !section.full_size || margin_has_room(run);
    std::optional<paper::Notes> notes;
    if (!in_margin) notes.emplace(section.pages, printable(section, run), measure);
    for (std::size_t i = 0; i < section.pages.pages.size(); ++i) {
      paper::Page& page = section.pages.pages[i];
      page.label = std::to_string(++number);
      const std::string of_all = run.say({"packet-page", {{"page", page.label}, {"pages", count}}});
      if (in_margin) {
        add_foot(section, page, of_all, run);
      } else {
        add_notes(section, *notes, i, of_all, run);
      }
    }
  }
  refer(sections, run);
  for (Section& section : sections) {
    if (!section.full_size) turn_to_reading(section.pages, run);
  }
}

}  // namespace pouchwright::job
