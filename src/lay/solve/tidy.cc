#include "lay/solve/tidy.h"

#include <algorithm>
#include <tuple>
#include <utility>

namespace pouchwright::lay {

namespace {

int settings_inside(const Part& part) {
  if (part.way == Part::Way::free || part.parts.empty()) return 0;
  int settings = 0;
  const std::size_t cuts = part.parts.size() - 1;
  for (std::size_t i = 0; i < cuts;) {
    const std::size_t first = i++;
    while (i < cuts && part.parts[i] == part.parts[first]) ++i;
    ++settings;
  }
  for (std::size_t i = 0; i < part.parts.size(); ++i) {
    const auto here = part.parts.begin() + static_cast<std::ptrdiff_t>(i);
    if (std::find(part.parts.begin(), here, *here) == here) settings += settings_inside(*here);
  }
  return settings;
}

/// Pieces before what is divided, waste last; the larger first. Like parts compare equal.
bool before(const Part& a, const Part& b) {
  const auto rank = [](const Part& part) {
    return part.way == Part::Way::waste ? 2 : part.way == Part::Way::piece ? 0 : 1;
  };
  const auto key = [&](const Part& part) {
    return std::tuple{rank(part), -part.width, -part.length, part.way, part.kind, part.turned};
  };
  if (key(a) != key(b)) return key(a) < key(b);
  return std::lexicographical_compare(a.parts.begin(), a.parts.end(), b.parts.begin(),
                                      b.parts.end(), before);
}

/// The wastes at the end become one.
void join_wastes(Part& part) {
  while (part.parts.size() > 1) {
    const Part last = part.parts.back();
    Part& other = part.parts[part.parts.size() - 2];
    if (last.way != Part::Way::waste || other.way != Part::Way::waste) return;
    (part.way == Part::Way::beside ? other.width : other.length) +=
        part.way == Part::Way::beside ? last.width : last.length;
    part.parts.pop_back();
  }
}

void put_in_order(Part& part) {
  for (Part& inner : part.parts) put_in_order(inner);
  if (part.way != Part::Way::beside && part.way != Part::Way::behind) return;
  std::stable_sort(part.parts.begin(), part.parts.end(), before);
  join_wastes(part);
}

}  // namespace

int settings_for(const std::vector<Part>& cut_offs) {
  int settings = 0;
  for (auto here = cut_offs.begin(); here != cut_offs.end(); ++here) {
    if (std::find(cut_offs.begin(), here, *here) != here) continue;
    settings += 1 + settings_inside(*here);
  }
  return settings;
}

std::vector<Part> tidied(std::vector<Part> cut_offs) {
  std::vector<Part> ordered = cut_offs;
  for (Part& part : ordered) put_in_order(part);
  return settings_for(ordered) < settings_for(cut_offs) ? ordered : cut_offs;
}

}  // namespace pouchwright::lay
