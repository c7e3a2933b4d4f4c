#include "draw/sheets/cut_plan_rows.h"

#include <algorithm>
#include <array>
#include <string_view>
#include <utility>

namespace pouchwright::draw::cut_plan {
namespace {

using base::Length;

/// A row is drawn at least this high, and higher where all rows together stay within the other.
constexpr double kRowHeight = 62;
constexpr double kLeastSelvedge = 1.2;

constexpr Stroke kDotStroke{LinePattern::far_specks, 0.35};

/// Rows of small squares, every other one half a step aside; a row is one dashed line.
Path dots_in(const Box& box) {
  const std::vector<double> dashes = ink::dashes_of(kDotStroke.pattern, kDotStroke.width);
  const double apart = dashes[0] + dashes[1];
  Path path;
  bool is_aside = false;
  for (double y = box.y0 + apart / 4; y + kDotStroke.width <= box.y1; y += apart / 2) {
    const double first = box.x0 + (is_aside ? 0.75 : 0.25) * apart;
    if (first + dashes[0] <= box.x1) append(path, line({first, y}, {box.x1, y}));
    is_aside = !is_aside;
  }
  return path;
}

double row_height(const LayToDraw& drawn, double scale) {
  return drawn.lay->width.in_mm() * scale + 2 * selvedge_height(drawn, scale) + 3 * kLine + kGap;
}

}  // namespace

std::vector<Row> lengths_of(const lay::Lay& lay) {
  std::vector<Row> all;
  for (const lay::CutOff& off : lay.cut_offs) all.push_back({off.from, off.from + off.length});
  if (all.empty()) all.push_back({Length(), lay.length});
  return all;
}

double selvedge_height(const LayToDraw& drawn, double scale) {
  return drawn.selvedge > Length() ? std::max(kLeastSelvedge, drawn.selvedge.in_mm() * scale) : 0;
}

std::vector<Row> rows_of(const lay::Lay& lay, double room) {
  std::vector<Row> rows;
  for (const Row& length : lengths_of(lay)) {
    const bool fits = !rows.empty() && (length.to - rows.back().from).in_mm() <= room + 1e-9;
    if (fits && rows.back().to == length.from) {
      rows.back().to = length.to;
    } else {
      rows.push_back(length);
    }
  }
  return rows;
}

double scale_for(const LayToDraw& drawn, double width, double height) {
  const lay::Lay& lay = *drawn.lay;
  double longest = 1;
  for (const Row& length : lengths_of(lay)) {
    longest = std::max(longest, (length.to - length.from).in_mm());
  }
  const double cloth = std::max(1.0, lay.width.in_mm());
  for (double row = height; row >= kRowHeight; row -= 2) {
    const double scale = std::min(row / cloth, (width - kLeft) / longest);
    const auto count = static_cast<double>(rows_of(lay, (width - kLeft) / scale).size());
    if (count * row_height(drawn, scale) <= height) return scale;
  }
  return std::min(std::min(kRowHeight, height) / cloth, (width - kLeft) / longest);
}

std::map<Alike, Look> looks_of(const lay::Lay& lay) {
  std::map<Alike, double> areas;
  for (const lay::Placed& piece : lay.pieces) {
    areas[alike(piece)] += piece.area.width.in_mm() * piece.area.length.in_mm();
  }
  std::vector<std::pair<Alike, double>> order(areas.begin(), areas.end());
  std::stable_sort(order.begin(), order.end(),
                   [](const auto& a, const auto& b) { return a.second > b.second; });
  constexpr std::array kLooks = {Look::dotted, Look::pale, Look::grey, Look::ruled};
  std::map<Alike, Look> looks;
  for (std::size_t i = 0; i < order.size(); ++i) {
    looks[order[i].first] = kLooks[std::min(i, kLooks.size() - 1)];
  }
  return looks;
}

void draw_piece(Frame& strip, const Box& box, Look look, const char* name) {
  const Fill fill = look == Look::pale ? Fill::pale : look == Look::grey ? Fill::grey : Fill::none;
  strip.items.emplace_back(Shape{.group = Group::cut,
                                 .path = rectangle(box),
                                 .stroke = kPieceStroke,
                                 .fill = fill,
                                 .name = name});
  if (look == Look::dotted) {
    strip.draw(Group::seam, dots_in(grown(box, -kDotStroke.width)), kDotStroke,
               std::string_view(name) == "piece" ? "dots" : name);
  }
  if (look == Look::ruled) {
    Path lines = hatch(box, kRuledSpacing);
    if (!lines.empty()) strip.draw(Group::seam, std::move(lines), kRuledStroke, "ruled");
  }
}

}  // namespace pouchwright::draw::cut_plan
