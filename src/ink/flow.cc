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

void Picture::draw(Path path, Stroke stroke) {
  items.emplace_back(Shape{.group = Group::label,
                           .path = std::move(path),
                           .stroke = stroke,
                           .fill = Fill::none,
                           .name = ""});
}

void Picture::write(std::string words, Point at, Anchor anchor, Weight weight) {
  items.emplace_back(Text{.group = Group::label,
                          .words = std::move(words),
                          .at = at,
                          .size = kSmallestSize,
                          .anchor = anchor,
                          .weight = weight,
                          .turn_deg = 0});
}

void Picture::place(const Picture& other, Point at) {
  for (const Item& item : other.items) items.push_back(moved(item, at));
}

/// Paragraphs at 0, 0 and the height they take, the space before the first one included.
struct TextPages::Laid {
  std::vector<Item> items;
  double height = 0;
};

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
  const PlacedBlock placed = laid_out({title}, room_.x, 1, *measure_);
  put(placed.items, {0, 0});
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

void TextPages::put(const std::vector<Item>& items, Point at) {
  const double left = column_ * (width_ + kColumnGap);
  for (const Item& item : items) pages_.back().add(moved(item, {left + at.x, at.y}));
}

TextPages::Laid TextPages::laid(const Paragraph& paragraph, double width) const {
  const bool has_mark = paragraph.look == Look::step || paragraph.look == Look::point;
  Row row{.words = paragraph.words,
          .size = size_of(paragraph.look, body_),
          .weight = weight_of(paragraph.look)};
  if (has_mark) row.indent = kMarkIndent;
  PlacedBlock placed = laid_out({row}, width, 1, *measure_);
  if (has_mark && !placed.items.empty()) {
    Text mark = std::get<Text>(placed.items.front());
    mark.words = paragraph.look == Look::step ? std::to_string(step_) : paragraph.mark;
    mark.weight = paragraph.look == Look::step ? Weight::bold : Weight::regular;
    mark.at.x = 0;
    placed.items.emplace_back(std::move(mark));
  }
  Laid made;
  const double space = space_before(paragraph.look);
  for (const Item& item : placed.items) made.items.push_back(moved(item, {0, space}));
  made.height = placed.box.y1 + space;
  return made;
}

void TextPages::count(const Paragraph& paragraph) {
  if (paragraph.look == Look::heading) step_ = 0;
  if (paragraph.look == Look::step) ++step_;
}

void TextPages::add(const Paragraphs& paragraphs) {
  for (std::size_t i = 0; i < paragraphs.size(); ++i) {
    count(paragraphs[i]);
    const Laid one = laid(paragraphs[i], width_);
    double height = one.height;
    // A heading alone at the foot of a page announces nothing.
    if (paragraphs[i].look == Look::heading && i + 1 < paragraphs.size()) {
      height += laid(paragraphs[i + 1], width_).height;
    }
    make_room(height);
    put(one.items, {0, y_});
    y_ += one.height;
  }
}

void TextPages::add(const Picture& picture, double gap) {
  make_room(gap + picture.height);
  put(picture.items, {0, y_ + gap});
  y_ += gap + picture.height;
}

void TextPages::add_beside(const Paragraphs& paragraphs, const Picture& picture) {
  const double beside = width_ - picture.width - kColumnGap;
  if (beside < kLeastBeside) {
    add(paragraphs);
    add(picture);
    return;
  }
  std::vector<Laid> all;
  double height = 0;
  for (const Paragraph& paragraph : paragraphs) {
    count(paragraph);
    all.push_back(laid(paragraph, beside));
    height += all.back().height;
  }
  height = std::max(height, picture.height + kPictureGap);
  make_room(height);
  put(picture.items, {width_ - picture.width, y_ + kPictureGap});
  double y = y_;
  for (const Laid& one : all) {
    put(one.items, {0, y});
    y += one.height;
  }
  y_ += height;
}

}  // namespace pouchwright::ink
