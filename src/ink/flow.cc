#include "ink/flow.h"

#include <algorithm>
#include <utility>

#include "ink/canvas.h"

namespace pouchwright::ink {
namespace {

using Look = Paragraph::Look;

constexpr double kColumnGap = 10;
constexpr double kNarrowestColumn = 70;
/// Wider rooms have words of 10 pt, narrower ones of 9 pt.
constexpr double kWideRoom = 150;
/// Words left of a picture are at least this wide.
constexpr double kLeastBeside = 60;
constexpr double kMarkIndent = 6;

double size_of(Look look, double body) { return look == Look::heading ? kHeadingSize : body; }

Weight weight_of(Look look) {
  return look == Look::heading || look == Look::strong ? Weight::bold : Weight::regular;
}

double space_before(Look look) { return look == Look::heading ? 4 : 1.6; }

}  // namespace

Paragraph heading(std::string words) { return {Look::heading, std::move(words)}; }
Paragraph text_paragraph(std::string words) { return {Look::text, std::move(words)}; }
Paragraph strong(std::string words) { return {Look::strong, std::move(words)}; }
Paragraph step(std::string words) { return {Look::step, std::move(words)}; }
Paragraph point(std::string words, std::string mark) {
  return {Look::point, std::move(words), std::move(mark)};
}

TextPages::TextPages(std::string name, std::string title, Point room, Columns columns,
                     const TextMeasure& measure)
    : name_(std::move(name)),
      title_(std::move(title)),
      room_(room),
      measure_(&measure),
      body_(room.x >= kWideRoom ? kLabelSize : kTextSize) {
  const double half = (room.x - kColumnGap) / 2;
  columns_ = columns == Columns::two && half >= kNarrowestColumn ? 2 : 1;
  width_ = columns_ == 2 ? half : room.x;
  begin_page();
}

void TextPages::begin_page() {
  pages_.push_back({.name = name_, .title = title_, .extent = {0, 0, room_.x, room_.y}});
  column_ = 0;
  y_ = 0;
  const bool is_first = pages_.size() == 1;
  const Row title{
      .words = title_, .size = is_first ? kTitleSize : kTextSize, .weight = Weight::bold};
  const Frame placed = laid_out({title}, room_.x, 1, *measure_);
  put(placed, {0, 0});
  y_ = placed.box.y1 + 2;
  top_ = y_;
}

void TextPages::begin_column() {
  if (column_ + 1 >= columns_) return begin_page();
  ++column_;
  y_ = top_;
}

double TextPages::height_of_page() const {
  // Later pages have the smaller title, in one line or more.
  const Row title{.words = title_, .size = kTextSize, .weight = Weight::bold};
  return room_.y - laid_out({title}, room_.x, 1, *measure_).box.y1 - 2;
}

void TextPages::make_room(double height) {
  if (y_ + height > room_.y && y_ > top_) begin_column();
}

void TextPages::put(const Frame& frame, Point at) {
  const double left = column_ * (width_ + kColumnGap);
  for (const Item& item : frame.items) pages_.back().add(moved(item, {left + at.x, at.y}));
}

/// A paragraph at 0, 0 and the height it takes, the space before it included.
Frame TextPages::laid(const Paragraph& paragraph, double width) const {
  const bool has_mark = paragraph.look == Look::step || paragraph.look == Look::point;
  Row row{.words = paragraph.words,
          .size = size_of(paragraph.look, body_),
          .weight = weight_of(paragraph.look)};
  if (has_mark) row.indent = kMarkIndent;
  Frame placed = laid_out({row}, width, 1, *measure_);
  if (has_mark && !placed.items.empty()) {
    Text mark = std::get<Text>(placed.items.front());
    mark.words = paragraph.look == Look::step ? std::to_string(step_) : paragraph.mark;
    mark.weight = paragraph.look == Look::step ? Weight::bold : Weight::regular;
    mark.at.x = 0;
    placed.items.emplace_back(std::move(mark));
  }
  return moved(std::move(placed), {0, space_before(paragraph.look)});
}

void TextPages::count(const Paragraph& paragraph) {
  if (paragraph.look == Look::heading) step_ = 0;
  if (paragraph.look == Look::step) ++step_;
}

void TextPages::add(const Paragraphs& paragraphs) {
  for (std::size_t i = 0; i < paragraphs.size(); ++i) {
    count(paragraphs[i]);
    const Frame one = laid(paragraphs[i], width_);
    double height = one.box.y1;
    // A heading alone at the foot of a page announces nothing.
    if (paragraphs[i].look == Look::heading && i + 1 < paragraphs.size()) {
      height += laid(paragraphs[i + 1], width_).box.y1;
    }
    make_room(height);
    put(one, {0, y_});
    y_ += one.box.y1;
  }
}

ItemIndex TextPages::add(const Frame& picture, double gap) {
  make_room(gap + picture.box.y1);
  const ItemIndex first{pages_.size() - 1, pages_.back().items.size()};
  put(picture, {0, y_ + gap});
  y_ += gap + picture.box.y1;
  return first;
}

void TextPages::add_beside(const Paragraphs& paragraphs, const Frame& picture) {
  const double beside = width_ - picture.box.x1 - kColumnGap;
  if (beside < kLeastBeside) {
    add(paragraphs);
    add(picture);
    return;
  }
  std::vector<Frame> all;
  double height = 0;
  for (const Paragraph& paragraph : paragraphs) {
    count(paragraph);
    all.push_back(laid(paragraph, beside));
    height += all.back().box.y1;
  }
  height = std::max(height, picture.box.y1 + kPictureGap);
  make_room(height);
  put(picture, {width_ - picture.box.x1, y_ + kPictureGap});
  double y = y_;
  for (const Frame& one : all) {
    put(one, {0, y});
    y += one.box.y1;
  }
  y_ += height;
}

std::vector<Drawing> stacked(const std::vector<Frame>& frames, const SheetRoom& sheet,
                             Breaks breaks) {
  std::vector<Drawing> drawings;
  double y = 0;
  const auto begin_drawing = [&] {
    Drawing drawing{.name = sheet.name, .title = sheet.title};
    drawing.extent = {0, 0, sheet.room.x, breaks == Breaks::pages ? sheet.room.y : 0};
    drawings.push_back(std::move(drawing));
    y = 0;
  };
  begin_drawing();
  for (std::size_t i = 0; i < frames.size(); ++i) {
    const Frame& frame = frames[i];
    const bool leads = frame.is_heading && i + 1 < frames.size();
    const double needs = frame.box.y1 + (leads ? frames[i + 1].box.y1 : 0);
    if (breaks == Breaks::pages && y > 0 && y + needs > sheet.room.y) begin_drawing();
    for (const Item& item : frame.items) drawings.back().add(moved(item, {0, y}));
    y += frame.box.y1;
    drawings.back().extent.y1 = std::max(drawings.back().extent.y1, y);
  }
  return drawings;
}

}  // namespace pouchwright::ink
