#include "draw/sheets/cut_plan_lines.h"

#include <algorithm>
#include <optional>
#include <utility>
#include <vector>

#include "draw/sheets/cut_plan_figures.h"
#include "ink/arrows.h"
#include "ink/labels.h"

namespace pouchwright::draw::cut_plan {
namespace {

using base::Length;

constexpr Stroke kClothStroke{LinePattern::continuous, 0.5};
constexpr Stroke kSelvedgeStroke{LinePattern::continuous, 0.25};
constexpr Stroke kFoldStroke{LinePattern::long_dash_dot, 0.25};
constexpr Stroke kTrialStroke{LinePattern::continuous, 0.18};
/// In the middle of a trial strip.
constexpr double kDot = 0.8;

void hatch_waste(RowSheet& sheet, const Box& box) {
  Path lines = hatch(box, kWasteSpacing);
  if (!lines.empty()) sheet.strip.draw(Group::seam, std::move(lines), kWasteStroke, "waste");
}

/// Where no piece lies; and at the cut end, what squaring takes off it.
void draw_waste(RowSheet& sheet) {
  std::vector<lay::Area> taken;
  for (const lay::Placed* piece : sheet.pieces) taken.push_back(piece->area);
  taken.insert(taken.end(), sheet.trial.begin(), sheet.trial.end());
  const lay::Area row{Length(), sheet.view.row.from, sheet.lay().width,
                      sheet.view.row.to - sheet.view.row.from};
  for (const lay::Area& free : waste_of(row, taken)) hatch_waste(sheet, sheet.view.box_of(free));
  if (sheet.drawn.end == LayToDraw::End::square || sheet.view.row.from > Length()) return;
  const double slant = kCrooked * 0.6;
  Path edge = {{Verb::move, {sheet.cloth.x0, sheet.cloth.y0}, {}, {}},
               {Verb::line, {sheet.cloth.x0 - kCrooked, sheet.cloth.y0}, {}, {}},
               {Verb::line, {sheet.cloth.x0 - kCrooked + slant, sheet.cloth.y1}, {}, {}},
               {Verb::line, {sheet.cloth.x0, sheet.cloth.y1}, {}, {}}};
  sheet.strip.draw(Group::cut, std::move(edge), kPieceStroke, "crooked end");
  Path lines =
      hatch({sheet.cloth.x0 - kCrooked + slant, sheet.cloth.y0, sheet.cloth.x0, sheet.cloth.y1},
            kWasteSpacing);
  if (!lines.empty()) sheet.strip.draw(Group::seam, std::move(lines), kWasteStroke, "to square");
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
  sheet.marks.words.take(grown(bounds(path), 0.3));
  sheet.strip.draw(Group::grain, std::move(path), kArrowStroke, "direction");
}

void pieces(RowSheet& sheet) {
  for (const lay::Placed* placed : sheet.pieces) {
    const lay::Placed& piece = *placed;
    const Box box = sheet.view.box_of(piece.area);
    sheet.strip.draw(Group::cut, rectangle(box), kPieceStroke, "piece");
    sheet.marks.outlines.take(rectangle(box), 0);
    arrow(sheet, box, piece.turned);
  }
}

/// Bands beside the cloth that can be used, the upper one named.
void selvedges(RowSheet& sheet) {
  const double high = selvedge_height(sheet.drawn, sheet.view.scale);
  if (high <= 0) return;
  sheet.strip.draw(
      Group::cut,
      rectangle({sheet.cloth.x0, sheet.cloth.y0 - high, sheet.cloth.x1, sheet.cloth.y0}),
      kSelvedgeStroke, "selvedge");
  sheet.strip.draw(
      Group::cut,
      rectangle({sheet.cloth.x0, sheet.cloth.y1, sheet.cloth.x1, sheet.cloth.y1 + high}),
      kSelvedgeStroke, "selvedge");
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
  sheet.marks.words.take({0, sheet.cloth.y0, kLine, sheet.cloth.y1});
}

void trial_strips(RowSheet& sheet) {
  for (const lay::Area& strip : sheet.trial) {
    const Box box = sheet.view.box_of(strip);
    sheet.strip.draw(Group::cut, rectangle(box), kTrialStroke, "trial strip");
    sheet.marks.outlines.take(rectangle(box), 0);
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
    auto placed = sheet.marks.words.put(
        name, corners_inside(inside, bounds(name, sheet.measure), one.across, one.down));
    if (placed) return placed;
  }
  return std::nullopt;
}

/// The piece's name beside its arrow, along or across it; left out where there is no room.
void names(RowSheet& sheet) {
  for (const lay::Placed* placed : sheet.pieces) {
    const lay::Placed& piece = *placed;
    const auto& names = piece.by_product ? sheet.drawn.by_products : sheet.drawn.kinds;
    Text name{.group = Group::label,
              .words = names[static_cast<std::size_t>(piece.kind)],
              .at = {},
              .size = kSmallestSize};
    const auto written = name_in(sheet, grown(sheet.view.box_of(piece.area), -0.4), name);
    if (written) sheet.strip.items.emplace_back(*written);
  }
}

/// Of the row, without what is drawn on it.
RowSheet sheet_of(const LayToDraw& drawn, const RowView& view, const base::Voice& words,
                  const TextMeasure& measure) {
  const Row& row = view.row;
  RowSheet sheet{drawn, view,
                 view.box_of({Length(), row.from, drawn.lay->width, row.to - row.from}), words,
                 measure};
  for (const lay::Placed& piece : drawn.lay->pieces) {
    const bool lies_in = piece.area.y >= row.from && piece.area.y < row.to && piece.layer == 0;
    if (lies_in) sheet.pieces.push_back(&piece);
  }
  for (const lay::Area& strip : drawn.trial) {
    if (strip.y >= row.from && strip.y < row.to) sheet.trial.push_back(strip);
  }
  return sheet;
}

}  // namespace

Frame row_picture(const LayToDraw& drawn, const Row& row, double scale, double width,
                  const base::Voice& words, const TextMeasure& measure) {
  RowSheet sheet =
      sheet_of(drawn, {row, scale, width, selvedge_height(drawn, scale)}, words, measure);
  draw_waste(sheet);
  pieces(sheet);
  sheet.strip.draw(Group::cut, rectangle(sheet.cloth), kClothStroke, "cloth");
  selvedges(sheet);
  folds(sheet);
  trial_strips(sheet);
  measure_across(sheet);
  sheet.strip.write(words.text(drawn.lay->width),
                    {kLine - 1, (sheet.cloth.y0 + sheet.cloth.y1) / 2}, Anchor::middle,
                    Weight::regular, kSmallestSize, 270);
  number_cuts(sheet);
  names(sheet);
  // Its numbers stand above it: see the gap of the heading.
  sheet.strip.box.y1 = measure_along(sheet) + kGap;
  return std::move(sheet.strip);
}

}  // namespace pouchwright::draw::cut_plan
