#include <algorithm>

#include "lay/lay.h"

namespace pouchwright::lay {

namespace {

using What = Fault::What;

bool good_side(Length side) { return side > Length() && side <= base::kLongest; }

bool fits(const Kind& kind, Length width, Length length) {
  const bool upright = kind.turn != Turn::across && kind.width <= width && kind.length <= length;
  const bool turned = kind.turn != Turn::along && kind.length <= width && kind.width <= length;
  return upright || turned;
}

bool good_plies(const Plies& plies) {
  switch (plies.way) {
    case Plies::Way::single:
      return plies.count == 1;
    case Plies::Way::folded:
      return plies.count == 2 || plies.count == 4;
    case Plies::Way::stacked:
      return plies.count >= 1 && plies.count <= kMostPlies;
  }
  return false;
}

/// Whether the kind can be cut at all; a kind with a bad size is reported as that only.
void check_fit(const Request& request, int index, std::vector<Fault>& found) {
  const Kind& kind = request.kinds[static_cast<std::size_t>(index)];
  const Length longest = request.longest.value_or(2 * base::kLongest);
  if (!good_side(kind.width) || !good_side(kind.length) || request.cloth.width <= Length()) return;
  if (!fits(kind, request.cloth.width, 2 * base::kLongest)) {
    found.push_back({What::too_large, index});
  } else if (!fits(kind, request.cloth.width, longest)) {
    found.push_back({What::too_long_for_table, index});
  } else if (request.plies.way == Plies::Way::folded && good_plies(request.plies) &&
             !fits(kind, Length::nm(request.cloth.width.in_nm() / request.plies.count), longest)) {
    found.push_back({What::too_wide_folded, index});
  }
}

void check_kinds(const Request& request, std::vector<Fault>& found) {
  std::int64_t pieces = 0;
  for (std::size_t k = 0; k < request.kinds.size(); ++k) {
    const Kind& kind = request.kinds[k];
    const int index = static_cast<int>(k);
    if (!good_side(kind.width) || !good_side(kind.length)) found.push_back({What::bad_size, index});
    if (kind.demand < 1 || kind.demand > kMostPieces) {
      found.push_back({What::bad_demand, index});
    } else {
      pieces += kind.demand;
    }
    check_fit(request, index, found);
  }
  if (pieces > kMostPieces) found.push_back({What::too_many_pieces, 0});
}

}  // namespace

std::vector<Fault> faults(const Request& request) {
  std::vector<Fault> found;
  if (request.kinds.empty()) found.push_back({What::nothing_to_cut, 0});
  if (request.kinds.size() > kMostKinds) found.push_back({What::too_many_kinds, 0});
  if (request.by_products.size() > kMostKinds) found.push_back({What::too_many_by_products, 0});
  if (request.cloth.width <= Length() || request.cloth.width > base::kLongest) {
    found.push_back({What::bad_cloth, 0});
  }
  if (request.longest && *request.longest <= Length()) found.push_back({What::bad_longest, 0});
  if (!good_plies(request.plies)) found.push_back({What::bad_plies, 0});
  check_kinds(request, found);
  for (std::size_t i = 0; i < request.by_products.size(); ++i) {
    const Kind& kind = request.by_products[i];
    const bool good = good_side(kind.width) && good_side(kind.length) && kind.demand >= 1 &&
                      kind.demand <= kMostPieces;
    if (!good) found.push_back({What::bad_by_product, static_cast<int>(i)});
  }
  for (std::size_t i = 0; i < request.remnants.size(); ++i) {
    const Stock& remnant = request.remnants[i];
    if (!good_side(remnant.width) || !good_side(remnant.length)) {
      found.push_back({What::bad_remnant, static_cast<int>(i)});
    }
  }
  std::stable_sort(found.begin(), found.end(),
                   [](const Fault& a, const Fault& b) { return a.what < b.what; });
  return found;
}

int across(Length cloth_width, const Kind& kind) {
  std::int64_t most = 0;
  if (kind.turn != Turn::across) most = cloth_width.in_nm() / kind.width.in_nm();
  if (kind.turn != Turn::along) {
    most = std::max(most, cloth_width.in_nm() / kind.length.in_nm());
  }
  return static_cast<int>(std::min<std::int64_t>(most, kMostPieces));
}

}  // namespace pouchwright::lay
