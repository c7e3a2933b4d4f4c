#include "draw/sheets/cut_plan_rows.h"

#include <algorithm>
#include <set>
#include <utility>

namespace pouchwright::draw::cut_plan {
namespace {

using base::Length;

/// A row is drawn at least this high, and higher where all rows together stay within the other.
constexpr double kRowHeight = 62;
constexpr double kLeastSelvedge = 1.2;

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

std::vector<lay::Area> waste_of(const lay::Area& part, const std::vector<lay::Area>& pieces) {
  std::vector<lay::Area> waste;
  std::set<Length> along = {part.y, part.y + part.length};
  for (const lay::Area& piece : pieces) {
    along.insert(std::clamp(piece.y, part.y, part.y + part.length));
    along.insert(std::clamp(piece.y + piece.length, part.y, part.y + part.length));
  }
  for (auto from = along.begin(); std::next(from) != along.end(); ++from) {
    const Length to = *std::next(from);
    std::vector<std::pair<Length, Length>> taken;
    for (const lay::Area& piece : pieces) {
      if (piece.y < to && piece.y + piece.length > *from) {
        taken.emplace_back(piece.x, piece.x + piece.width);
      }
    }
    std::sort(taken.begin(), taken.end());
    taken.emplace_back(part.x + part.width, part.x + part.width);
    Length reached = part.x;
    for (const auto& [start, end] : taken) {
      if (start > reached) waste.push_back({reached, *from, start - reached, to - *from});
      reached = std::max(reached, end);
    }
  }
  return waste;
}

}  // namespace pouchwright::draw::cut_plan
