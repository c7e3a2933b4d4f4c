#include "ink/flow.h"

#include <algorithm>
#include <utility>

#include "ink/canvas.h"

namespace pouchwright::ink {
namespace {

using Look = Paragraph::Look;

constexpr double kColumnGap = 10;
constexpr double kNarrowestColumn = 70;
/// About 75 letters of running text: beyond that the eye loses the next line (common practice, no
/// source).
constexpr double kLongestLine = 146;
/// Words left of a picture are at least this wide.
constexpr double kLeastBeside = 60;
constexpr double kMarkIndent = 6;

double size_of(Look look) { return look == Look::heading ? kHeadingSize : kTextSize; }

Weight weight_of(Look look) {
  if (look == Look::aside) return Weight::italic;
  return look == Look::heading || look == Look::strong ? Weight::bold : Weight::regular;
}

double space_before(Look look) { return look == Look::heading ? 4 : 1.6; }

/// Where the second of two columns begins, so that both end as high as can be. No heading stands
/// last in the first.
std::size_t even_split(const std::vector<Frame>& frames) {
  double all = 0;
  for (const Frame& frame : frames) all += frame.box.y1;
  std::size_t best = frames.size();
  double lowest = all;
  double above = 0;
  for (std::size_t i = 1; i < frames.size(); ++i) {
    above += frames[i - 1].box.y1;
    const double height = std::max(above, all - above);
    if (height >= lowest || frames[i - 1].is_heading) continue;
    lowest = height;
    best = i;
  }
  return best;
}

}  // namespace

Frame title_head(const std::string& title, double size, Point room, const TextMeasure& measure) {
  constexpr double kUnderTitle = 2;
  Frame head = laid_out({{.words = title,
                          .size = size,
                          .weight = Weight::bold,
                          .role = size == kTitleSize ? Role::by_size : Role::none}},
                        room.x, 1, measure);
  head.box.y1 += kUnderTitle;
  return head;
}

Paragraph heading(std::string words) { return {Look::heading, std::move(words)}; }
Paragraph text_paragraph(std::string words) { return {Look::text, std::move(words)}; }
Paragraph strong(std::string words) { return {Look::strong, std::move(words)}; }
Paragraph aside(std::string words) { return {Look::aside, std::move(words)}; }
Paragraph step(std::string words) { return {Look::step, std::move(words)}; }
Paragraph point(std::string words, std::string mark) {
  return {Look::point, std::move(words), std::move(mark)};
}

Flow::Flow(SheetRoom sheet, FlowLook look) : sheet_(std::move(sheet)), look_(std::move(look)) {
  const double gaps = (look_.columns - 1) * kColumnGap;
  width_ = (sheet_.room.x - gaps) / look_.columns;
  begin_page();
}

void Flow::begin_page() {
  const Frame& head = pages_.empty() ? look_.first_head : look_.later_head;
  const bool is_full = look_.breaks == Breaks::pages && look_.height == PageHeight::room;
  const double height = is_full ? sheet_.room.y : head.box.y1;
  pages_.push_back({.name = sheet_.name,
                    .title = sheet_.title,
                    .extent = {0, 0, sheet_.room.x, height},
                    .items = head.items});
  column_ = 0;
  top_ = head.box.y1;
  y_ = top_;
  is_empty_ = true;
}

void Flow::begin_column() {
  if (column_ + 1 >= look_.columns) return begin_page();
  ++column_;
  y_ = top_;
  is_empty_ = true;
}

void Flow::make_room(double height) {
  if (look_.breaks == Breaks::pages && y_ > top_ && y_ + height > sheet_.room.y) begin_column();
}

ItemIndex Flow::add(const Frame& frame) {
  make_room((is_empty_ ? 0 : look_.gap) + frame.box.y1);
  const double left = column_ * (width_ + kColumnGap);
  Drawing& page = pages_.back();
  if (!is_empty_) {
    if (look_.rule) {
      const double y = y_ + look_.gap / 2;
      page.add(Shape{.group = Group::label,
                     .path = line({left, y}, {left + width_, y}),
                     .stroke = look_.rule,
                     .name = "rule"});
    }
    y_ += look_.gap;
  }
  const ItemIndex first{pages_.size() - 1, page.items.size()};
  for (const Item& item : frame.items) page.add(moved(item, {left, y_}));
  y_ += frame.box.y1;
  page.extent.y1 = std::max(page.extent.y1, y_);
  is_empty_ = false;
  return first;
}

std::vector<ItemIndex> Flow::add(const std::vector<Frame>& frames) {
  std::vector<ItemIndex> firsts;
  for (std::size_t i = 0; i < frames.size(); ++i) {
    if (frames[i].is_heading && i + 1 < frames.size()) {
      make_room(frames[i].box.y1 + look_.gap + frames[i + 1].box.y1);
    }
    firsts.push_back(add(frames[i]));
  }
  return firsts;
}

void Flow::add_under(const Frame& head, const std::vector<Frame>& frames) {
  if (frames.size() > 1) make_room(frames[0].box.y1 + look_.gap + frames[1].box.y1);
  Frame before = look_.later_head;
  for (const Frame& frame : frames) {
    add(frame);
    look_.later_head = head;
  }
  look_.later_head = std::move(before);
}

TextPages::TextPages(std::string name, std::string title, Point room, Columns columns,
                     const TextMeasure& measure)
    : measure_(&measure),
      flow_(
          {std::move(name), title, room},
          {.first_head = title_head(title, kTitleSize, room, measure),
           .later_head = title_head(title, kTextSize, room, measure),
           .columns =
               columns == Columns::two && (room.x - kColumnGap) / 2 >= kNarrowestColumn ? 2 : 1}) {}

/// A paragraph at 0, 0 and the height it takes, the space before it included.
Frame TextPages::laid(const Paragraph& paragraph, double width) const {
  const bool has_mark = paragraph.look == Look::step || paragraph.look == Look::point;
  Row row{.words = paragraph.words,
          .size = size_of(paragraph.look),
          .weight = weight_of(paragraph.look)};
  if (has_mark) {
    row.indent = kMarkIndent;
    row.role = Role::item;
  }
  const bool is_head = paragraph.look == Look::heading;
  Frame placed = laid_out({row}, is_head ? width : std::min(width, kLongestLine), 1, *measure_);
  if (has_mark && !placed.items.empty()) {
    Text mark = std::get<Text>(placed.items.front());
    mark.words = paragraph.look == Look::step ? std::to_string(step_) : paragraph.mark;
    mark.weight = paragraph.look == Look::step ? Weight::bold : Weight::regular;
    mark.at.x = 0;
    mark.role = Role::mark;
    placed.items.insert(placed.items.begin(), std::move(mark));
  }
  return moved(std::move(placed), {0, space_before(paragraph.look)});
}

std::vector<Frame> TextPages::laid(const Paragraphs& paragraphs, double width) {
  std::vector<Frame> frames;
  for (const Paragraph& paragraph : paragraphs) {
    if (paragraph.look == Look::heading) step_ = 0;
    if (paragraph.look == Look::step) ++step_;
    frames.push_back(laid(paragraph, width));
    frames.back().is_heading = paragraph.look == Look::heading;
  }
  return frames;
}

void TextPages::add(const Paragraphs& paragraphs) { flow_.add(laid(paragraphs, width())); }

std::vector<ItemIndex> TextPages::add(const Table& table) {
  const std::vector<Frame> rows = rows_of(table, width(), *measure_);
  std::vector<ItemIndex> places = flow_.add(rows);
  for (std::size_t i = 0; i < rows.size(); ++i) {
    const auto& items = rows[i].items;
    const auto last = std::find_if(items.rbegin(), items.rend(), [](const Item& item) {
      return std::holds_alternative<Text>(item);
    });
    places[i].item += static_cast<std::size_t>(std::distance(last, items.rend())) - 1;
  }
  return places;
}

ItemIndex TextPages::add(const Frame& picture, double gap) {
  return flow_.add(moved(picture, {0, gap}));
}

void TextPages::add_beside(const Paragraphs& paragraphs, const Frame& picture) {
  const double beside = width() - picture.box.x1 - kColumnGap;
  if (beside < kLeastBeside) {
    add(paragraphs);
    add(picture);
    return;
  }
  Frame both{.items = {}, .box = {0, 0, width(), 0}};
  double y = 0;
  for (const Frame& one : laid(paragraphs, beside)) {
    both.place(one, {0, y});
    y += one.box.y1;
  }
  // Behind the words in what is read aloud, which say what it shows.
  both.place(picture, {width() - picture.box.x1, kPictureGap});
  both.box.y1 = std::max(y, picture.box.y1 + kPictureGap);
  flow_.add(both);
}

void TextPages::add_in_columns(const Paragraphs& paragraphs) {
  const double column = (width() - kColumnGap) / 2;
  if (column < kNarrowestColumn) return add(paragraphs);
  const std::vector<Frame> frames = laid(paragraphs, column);
  const std::size_t second = even_split(frames);
  Frame both{.items = {}, .box = {0, 0, width(), 0}};
  double y = 0;
  for (std::size_t i = 0; i < frames.size(); ++i) {
    if (i == second) y = 0;
    both.place(frames[i], {i < second ? 0 : column + kColumnGap, y});
    y += frames[i].box.y1;
    both.box.y1 = std::max(both.box.y1, y);
  }
  flow_.add(both);
}

}  // namespace pouchwright::ink
