#include "draw/sheets/cut_plan_lines.h"

#include <algorithm>
#include <map>
#include <optional>
#include <string>
#include <tuple>
#include <utility>
#include <vector>

#include "draw/sheets/cut_plan_figures.h"
#include "ink/arrows.h"
#include "ink/labels.h"

namespace pouchwright::draw::cut_plan {
namespace {

using base::Length;

constexpr Stroke kClothStroke{LinePattern::continuous, 0.5};
constexpr Stroke kSelvedgeStroke{LinePattern::continuous, 0.18};
constexpr Stroke kFoldStroke{LinePattern::long_dash_dot, 0.35};
/// In the middle of a trial strip.
constexpr double kDot = 0.8;

/// The shop's cut, which is squared off.
void draw_crooked_end(RowSheet& sheet) {
  if (sheet.drawn.end == LayToDraw::End::square || sheet.view.row.from > Length()) return;
  const double slant = kCrooked * 0.6;
  Path edge = {{Verb::move, {sheet.cloth.x0, sheet.cloth.y0}, {}, {}},
               {Verb::line, {sheet.cloth.x0 - kCrooked, sheet.cloth.y0}, {}, {}},
               {Verb::line, {sheet.cloth.x0 - kCrooked + slant, sheet.cloth.y1}, {}, {}},
               {Verb::line, {sheet.cloth.x0, sheet.cloth.y1}, {}, {}}};
  sheet.strip.draw(Group::cut, std::move(edge), kPieceStroke, "crooked end");
}

/// A double-headed line along the piece's own length.
void arrow(RowSheet& sheet, const Box& box, bool turned) {
  const double head = 1.2;
  const Point middle{(box.x0 + box.x1) / 2, (box.y0 + box.y1) / 2};
  const double reach = std::min(6.0, (turned ? box.height() : box.width()) * 0.3);
  // Off the middle where a name may stand beside it.
  const double aside = (turned ? box.width() : box.height()) > 2 * kLine ? 1.5 : 0;
  if (reach < 2 * head) return;
  const auto at = [&](double along) {
    return turned ? Point{middle.x + aside, middle.y + along}
                  : Point{middle.x + along, middle.y + aside};
  };
  Path path = line(at(-reach), at(reach));
  for (const double end : {-reach, reach}) {
    const Path barbs = arrow_head(at(end), at(0), {head, head}, Ends::open);
    path.insert(path.end(), barbs.begin(), barbs.end());
  }
  sheet.taken.take(grown(bounds(path), 0.3));
  sheet.strip.draw(Group::grain, std::move(path), kArrowStroke, "direction");
}

void pieces(RowSheet& sheet) {
  for (const lay::Placed* placed : sheet.pieces) {
    const lay::Placed& piece = *placed;
    const Box box = sheet.view.box_of(piece.area);
    draw_piece(sheet.strip, box, sheet.looks.at(alike(piece)));
    arrow(sheet, box, piece.turned);
  }
}

/// Bands beside the cloth that can be used, the upper one named.
void selvedges(RowSheet& sheet) {
  const double high = selvedge_height(sheet.drawn, sheet.view.scale);
  if (high <= 0) return;
  for (const double top : {sheet.cloth.y0 - high, sheet.cloth.y1}) {
    sheet.strip.items.emplace_back(
        Shape{.group = Group::cut,
              .path = rectangle({sheet.cloth.x0, top, sheet.cloth.x1, top + high}),
              .stroke = kSelvedgeStroke,
              .fill = Fill::grey,
              .name = "selvedge"});
  }
}

/// Where the cloth is folded while it is cut.
void folds(RowSheet& sheet) {
  for (const lay::Section& section : sheet.lay().sections) {
    if (section.plies.way != lay::Plies::Way::folded) continue;
    const Length from = std::max(section.from, sheet.view.row.from);
    const Length to = std::min(section.from + section.length, sheet.view.row.to);
    if (from >= to) continue;
    for (int fold = 1; fold < section.plies.count; ++fold) {
      const Box at = sheet.view.box_of({fold * section.ply_width, from, Length(), to - from});
      sheet.strip.draw(Group::fold, line({at.x0, at.y0}, {at.x1, at.y0}), kFoldStroke, "fold");
    }
  }
  sheet.taken.take({0, sheet.cloth.y0, kLine, sheet.cloth.y1});
}

void trial_strips(RowSheet& sheet) {
  for (const lay::Area& strip : sheet.trial) {
    const Box box = sheet.view.box_of(strip);
    sheet.strip.draw(Group::cut, rectangle(box), kPieceStroke, "trial strip");
    // Small pieces of the pouch have none.
    const Point middle{(box.x0 + box.x1) / 2, (box.y0 + box.y1) / 2};
    sheet.strip.items.emplace_back(
        Shape{.group = Group::label,
              .path = rectangle(grown({middle.x, middle.y, middle.x, middle.y}, kDot / 2)),
              .stroke = std::nullopt,
              .fill = Fill::solid,
              .name = "trial dot"});
  }
}

/// Where the top left corner of words as large as `own` may stand in `box`, by shares of the room there is.
std::vector<Point> corners_inside(const Box& box, const Box& own, const std::vector<double>& across,
                                  const std::vector<double>& down) {
  const double room_x = box.width() - own.width();
  const double room_y = box.height() - own.height();
  std::vector<Point> corners;
  if (room_x < 0 || room_y < 0) return corners;
  for (const double x : across) {
    for (const double y : down) corners.push_back({box.x0 + x * room_x, box.y0 + y * room_y});
  }
  return corners;
}

std::optional<Text> name_in(RowSheet& sheet, const Box& inside, Text name) {
  struct Try {
    int turn;
    std::vector<double> across, down;
  };
  static const std::vector<Try> kTries = {{0, {0.5}, {0.3, 0.1, 0.7, 0.9}},
                                          {270, {0.2, 0.8, 0.1, 0.9}, {0.5}},
                                          {0, {0.5, 0.2, 0.8, 0.0, 1.0}, {0.5, 0.2, 0.8, 0.0, 1.0}},
                                          {270, {0.5, 0.0, 1.0}, {0.5, 0.2, 0.8, 0.0, 1.0}}};
  for (const Try& one : kTries) {
    name.turn_deg = one.turn;
    auto placed = sheet.taken.put(
        name, corners_inside(inside, bounds(name, sheet.measure), one.across, one.down));
    if (placed) return placed;
  }
  return std::nullopt;
}

/// Figures have no descenders and no accents: the smallest piece has room for a line of them alone.
std::optional<Text> number_in(RowSheet& sheet, const Box& inside, Text number) {
  constexpr double kFigureHeight = 0.73;  ///< of the em
  const double high = kFigureHeight * number.size;
  const double wide = sheet.measure.measure(number.words, number.size, number.weight).width;
  for (const int turn : {0, 270}) {
    number.turn_deg = turn;
    const Box own = turn == 0 ? Box{0, 0, wide, high} : Box{0, 0, high, wide};
    for (const Point corner : corners_inside(inside, own, {0.5, 0.2, 0.8}, {0.5, 0.2, 0.8})) {
      const Box box = moved(own, corner);
      if (!sheet.taken.is_free(box)) continue;
      number.at = turn == 0 ? Point{box.x0, box.y1} : Point{box.x1, box.y1};
      sheet.taken.take(box);
      return number;
    }
  }
  return std::nullopt;
}

/// White under words that stand on dots or lines.
void clear_under(RowSheet& sheet, const Text& words, const lay::Placed& piece) {
  const Look look = sheet.looks.at(alike(piece));
  if (look != Look::dotted && look != Look::ruled) return;
  sheet.strip.items.emplace_back(
      Shape{.group = Group::label,
            .path = rectangle(grown(bounds(words, sheet.measure), kClearance / 2)),
            .stroke = std::nullopt,
            .fill = Fill::paper,
            .name = "clear under words"});
}

/// Beside its arrow, along or across it: the piece's number, and what it is where several kinds lie
/// on the cloth; left out where there is no room.
void names(RowSheet& sheet) {
  const bool are_alike = sheet.drawn.kinds.size() + sheet.drawn.by_products.size() == 1;
  for (std::size_t i = 0; i < sheet.pieces.size(); ++i) {
    const lay::Placed& piece = *sheet.pieces[i];
    const auto& names = piece.by_product ? sheet.drawn.by_products : sheet.drawn.kinds;
    const std::string number = std::to_string(sheet.numbers[i]);
    const std::string& kind = names[static_cast<std::size_t>(piece.kind)];
    const Box inside = grown(sheet.view.box_of(piece.area), -0.4);
    Text name{.group = Group::label, .words = number, .at = {}, .size = kSmallestSize};
    std::optional<Text> written;
    if (!are_alike) {
      name.words = kind + " " + number;
      written = name_in(sheet, inside, name);
      name.words = number;
    }
    if (!written) written = name_in(sheet, inside, name);
    if (!written) written = number_in(sheet, inside, name);
    if (!written) {
      ++sheet.unnumbered;
      continue;
    }
    clear_under(sheet, *written, piece);
    sheet.strip.items.emplace_back(*written);
  }
}

/// The size of what is worth keeping, where it lies.
void name_what_is_left(RowSheet& sheet) {
  for (const lay::Area& area : sheet.lay().kept) {
    if (area.y < sheet.view.row.from || area.y >= sheet.view.row.to) continue;
    const Box box = sheet.view.box_of(area);
    const auto lies_on = [&](const lay::Area& strip) {
      return overlap(box, sheet.view.box_of(strip));
    };
    if (std::any_of(sheet.trial.begin(), sheet.trial.end(), lies_on)) continue;
    const Block words{{.words = sheet.words.say({"lay-picture-left",
                                                 {{"width", base::at_most(area.width)},
                                                  {"length", base::at_most(area.length)}}}),
                       .size = kSmallestSize}};
    const auto written = sheet.taken.put(words, {grown(box, -1.5)}, std::nullopt);
    if (!written) continue;
    sheet.strip.items.insert(sheet.strip.items.end(), written->items.begin(), written->items.end());
  }
}

/// Ticks along the lower and the left edge, so that a place between two figures can be read.
void ruler(RowSheet& sheet) {
  constexpr double kTick = 1;
  const Length every =
      sheet.words.unit() == base::Unit::inch ? Length::inches(5) : Length::whole_mm(100);
  const double foot = sheet.cloth.y1 + selvedge_height(sheet.drawn, sheet.view.scale);
  Path ticks;
  for (Length at = sheet.view.row.from; at <= sheet.view.row.to; at += every) {
    const double x = sheet.view.box_of({Length(), at, Length(), Length()}).x0;
    append(ticks, line({x, foot}, {x, foot + kTick}));
  }
  const double left = sheet.cloth.x0 - kCrooked;
  for (Length at; at <= sheet.lay().width; at += every) {
    const double y = sheet.view.box_of({at, sheet.view.row.from, Length(), Length()}).y0;
    append(ticks, line({left - kTick, y}, {left, y}));
  }
  sheet.strip.draw(Group::label, std::move(ticks), kArrowStroke, "ruler");
}

/// Of all pieces of a kind each one's number, in the order in which they are cut: length by length, strip by strip.
std::map<const lay::Placed*, int> numbers_of(const lay::Lay& lay) {
  const std::vector<Row> lengths = lengths_of(lay);
  // Lengths follow each other along the cloth.
  const auto length_of = [&](const lay::Placed& piece) {
    return std::partition_point(lengths.begin(), lengths.end(),
                                [&](const Row& one) { return one.to <= piece.area.y; });
  };
  std::vector<const lay::Placed*> order;
  for (const lay::Placed& piece : lay.pieces) {
    if (piece.layer == 0) order.push_back(&piece);
  }
  std::stable_sort(order.begin(), order.end(), [&](const lay::Placed* a, const lay::Placed* b) {
    return std::tuple(length_of(*a), a->area.x, a->area.y) <
           std::tuple(length_of(*b), b->area.x, b->area.y);
  });
  std::map<std::pair<bool, int>, int> counts;
  std::map<const lay::Placed*, int> numbers;
  for (const lay::Placed* piece : order) {
    numbers[piece] = ++counts[{piece->by_product, piece->kind}];
  }
  return numbers;
}

/// Of the row, without what is drawn on it.
RowSheet sheet_of(const LayToDraw& drawn, const RowView& view, const base::Voice& words,
                  const TextMeasure& measure) {
  const Row& row = view.row;
  const std::map<const lay::Placed*, int> numbers = numbers_of(*drawn.lay);
  RowSheet sheet{drawn, view,
                 view.box_of({Length(), row.from, drawn.lay->width, row.to - row.from}), words,
                 measure};
  sheet.looks = looks_of(*drawn.lay);
  for (const lay::Placed& piece : drawn.lay->pieces) {
    const bool lies_in = piece.area.y >= row.from && piece.area.y < row.to && piece.layer == 0;
    if (!lies_in) continue;
    sheet.pieces.push_back(&piece);
    sheet.numbers.push_back(numbers.at(&piece));
  }
  for (const lay::Area& strip : drawn.trial) {
    if (strip.y >= row.from && strip.y < row.to) sheet.trial.push_back(strip);
  }
  return sheet;
}

}  // namespace

RowPicture row_picture(const LayToDraw& drawn, const Row& row, double scale, double width,
                       const base::Voice& words, const TextMeasure& measure) {
  RowSheet sheet =
      sheet_of(drawn, {row, scale, width, selvedge_height(drawn, scale)}, words, measure);
  draw_crooked_end(sheet);
  pieces(sheet);
  sheet.strip.draw(Group::cut, rectangle(sheet.cloth), kClothStroke, "cloth");
  selvedges(sheet);
  folds(sheet);
  trial_strips(sheet);
  measure_across(sheet);
  sheet.strip.write(words.text(drawn.lay->width),
                    {kLine - 1, (sheet.cloth.y0 + sheet.cloth.y1) / 2}, Anchor::middle,
                    Weight::regular, kSmallestSize, 270);
  ruler(sheet);
  names(sheet);
  number_cuts(sheet);
  name_what_is_left(sheet);
  // Numbers stand above the row that follows: see the gap of the heading.
  sheet.strip.box.y1 = measure_along(sheet) + kGap + kAboveRow - kLine;
  return {std::move(sheet.strip), sheet.unnumbered};
}

}  // namespace pouchwright::draw::cut_plan
