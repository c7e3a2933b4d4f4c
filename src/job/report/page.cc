#include "job/report/page.h"

#include <utility>

#include "ink/labels.h"

namespace pouchwright::job {

using Texts = std::vector<std::string>;

namespace {

/// A value of more bytes may be broken.
constexpr std::size_t kLongValue = 40;
/// White above and below a table beyond its rows' own, mm.
constexpr double kAroundTable = 2;

Texts texts_of(const Line& line, const base::Voice& words) {
  Texts texts;
  for (const base::Value& cell : line.cells) texts.push_back(words.text(cell));
  return texts;
}

/// `depth: 150 mm; bottom to flap fold`
std::string sentence(const Texts& cells) {
  std::string text = cells.front();
  for (std::size_t i = 1; i < cells.size(); ++i) {
    if (cells[i].empty()) continue;
    text += text.size() == cells.front().size() ? ": " : "; ";
    text += i == 1 && cells[i].size() < kLongValue ? ink::kept_together(cells[i]) : cells[i];
  }
  return text;
}

ink::Paragraphs paragraphs(const Block& block, const base::Voice& words) {
  ink::Paragraphs all;
  for (const Line& line : block.lines) {
    const std::string text = sentence(texts_of(line, words));
    const bool is_heading = line.kind == Line::Kind::heading;
    if (block.look == Block::Look::prose) {
      if (!is_heading) all.push_back(ink::text_paragraph(text));
    } else if (is_heading) {
      all.push_back(ink::heading(text));
    } else {
      all.push_back(block.look == Block::Look::steps ? ink::step(text) : ink::point(text));
    }
  }
  return all;
}

/// The heading names only the numbers: what the boxes are for is plain.
ink::Table table_of(const Block& block, const base::Voice& words) {
  ink::Table table;
  for (const Line& line : block.lines) {
    ink::TableRow row{.cells = texts_of(line, words)};
    if (line.kind == Line::Kind::heading) {
      row.cells.front().clear();
      row.is_head = true;
    }
    row.has_box = !row.cells.front().empty();
    table.rows.push_back(std::move(row));
  }
  return table;
}

}  // namespace

std::vector<ink::Drawing> pages(const std::vector<Block>& blocks, const PageLook& look,
                                const base::Voice& words, const ink::TextMeasure& measure) {
  ink::TextPages pages(look.name, look.title, look.room, look.columns, measure);
  bool is_first = true;
  for (const Block& block : blocks) {
    if (block.look == Block::Look::table) {
      pages.add_gap(kAroundTable);
      pages.add(table_of(block, words));
      pages.add_gap(kAroundTable);
    } else {
      pages.add(paragraphs(block, words));
    }
    if (!std::exchange(is_first, false)) continue;
    for (const ink::Frame& picture : look.pictures) pages.add(picture);
  }
  return pages.finished();
}

}  // namespace pouchwright::job
