#include "tell/changes.h"

#include <algorithm>

namespace pouchwright::tell {

using base::Length;

namespace {

bool is_stated(const base::Placed<Length>& placed) { return !placed.place.file.empty(); }

/// Of sizes that liners decide.
void add_allowances(const pouch::Liners& liners, base::Unit units,
                    std::vector<ChangedDefault>& found) {
  const auto add = [&](const char* path, const base::Placed<Length>& now,
                       const base::PerUnit& usual) {
    if (is_stated(now) || usual.of(units) == usual.mm) return;
    found.push_back({path, usual.of(units), usual.mm});
  };
  add("liners.ease", liners.ease, pouch::kEase);
  add("liners.overlap", liners.overlap, pouch::kOverlap);
}

/// A caught flap that liners decide was as long as it had to be to cover the lip.
void add_flap(const pouch::Pouch& pouch, std::vector<ChangedDefault>& found) {
  const pouch::Request& request = pouch.request;
  const bool follows = request.liners->count && !request.sizes.contains(pouch::size::kFlap);
  if (!follows || pouch.construction().flap_law != pouch::FlapLaw::caught) return;
  const Length covers = pouch.sizes.lip_drop + request.liners->overlap.value;
  const Length was = base::rounded_up(covers, request.cut_step);
  if (3 * was >= pouch.sizes.depth) return;
  found.push_back({"pouch.flap", pouch.sizes.flap, was});
}

}  // namespace

std::vector<ChangedDefault> changed_defaults(const pouch::Pouch& pouch) {
  const pouch::Request& request = pouch.request;
  std::vector<ChangedDefault> found;
  for (const pouch::SizeRule& rule : pouch.construction().sizes) {
    const auto size = request.sizes.find(rule.name);
    const auto was = rule.usual_before(request.units);
    if (size == request.sizes.end() || size->second.stated || !was) continue;
    found.push_back({"pouch." + rule.name, *rule.usual(request.units), *was});
  }
  if (!request.liners || request.panel) return found;
  const bool decide =
      request.liners->count.has_value() &&
      std::any_of(pouch.construction().sizes.begin(), pouch.construction().sizes.end(),
                  [&](const auto& rule) { return !request.sizes.contains(rule.name); });
  if (decide) {
    add_allowances(*request.liners, request.units, found);
    add_flap(pouch, found);
  }
  return found;
}

}  // namespace pouchwright::tell
