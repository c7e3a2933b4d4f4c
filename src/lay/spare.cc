#include "lay/spare.h"

#include <algorithm>
#include <utility>

namespace pouchwright::lay {
namespace {

/// Rows of pieces in `waste`, beginning at its near left corner.
std::vector<Area> rows_in(const Area& waste, Length width, Length length) {
  std::vector<Area> pieces;
  for (Length y = waste.y; y + length <= waste.y + waste.length; y += length) {
    for (Length x = waste.x; x + width <= waste.x + waste.width; x += width) {
      pieces.push_back({x, y, width, length});
    }
  }
  return pieces;
}

}  // namespace

std::vector<Area> in_waste(const Lay& lay, Length width, Length length, int most) {
  std::vector<Area> wastes = lay.wastes;
  std::stable_sort(wastes.begin(), wastes.end(), [](const Area& a, const Area& b) {
    return std::pair(a.y, a.x) < std::pair(b.y, b.x);
  });
  std::stable_partition(wastes.begin(), wastes.end(), [&](const Area& waste) {
    return std::find(lay.kept.begin(), lay.kept.end(), waste) == lay.kept.end();
  });
  std::vector<Area> pieces;
  for (const Area& waste : wastes) {
    std::vector<Area> one_way = rows_in(waste, width, length);
    std::vector<Area> other_way = rows_in(waste, length, width);
    for (const Area& piece : other_way.size() > one_way.size() ? other_way : one_way) {
      if (pieces.size() >= static_cast<std::size_t>(most)) return pieces;
      pieces.push_back(piece);
    }
  }
  return pieces;
}

Length spare_across(const Lay& lay) {
  // Along the cloth, where pieces begin and end; those that end at a line leave it free.
  std::vector<std::pair<Length, Length>> changes;
  for (const Placed& piece : lay.pieces) {
    if (piece.by_product || piece.layer != 0) continue;
    changes.emplace_back(piece.area.y, piece.area.width);
    changes.emplace_back(piece.area.y + piece.area.length, -piece.area.width);
  }
  std::sort(changes.begin(), changes.end());
  Length taken;
  Length most;
  for (const auto& [at, width] : changes) {
    taken += width;
    most = std::max(most, taken);
  }
  return lay.width - most;
}

int layers_under(const Lay& lay, const Step& step) {
  const Plies& plies = lay.sections[static_cast<std::size_t>(step.section)].plies;
  return step.cut == Cut::slit || plies.way == Plies::Way::single ? 1 : plies.count;
}

}  // namespace pouchwright::lay
