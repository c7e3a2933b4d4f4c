#include "lay/solve/part.h"

#include <algorithm>
#include <utility>

namespace pouchwright::lay {

Part waste_part(Whole width, Whole length) {
  Part part;
  part.width = width;
  part.length = length;
  return part;
}

Part piece_part(int kind, bool turned, Whole width, Whole length) {
  Part part = waste_part(width, length);
  part.way = Part::Way::piece;
  part.kind = kind;
  part.turned = turned;
  return part;
}

namespace {

/// Puts `part` at the end, opened up if it is divided in the same direction, and joined where it is
/// waste after waste.
void append(std::vector<Part>& parts, Part part, Part::Way way) {
  if (part.width == 0 || part.length == 0) return;
  if (part.way == way) {
    for (Part& inner : part.parts) append(parts, std::move(inner), way);
    return;
  }
  if (part.way == Part::Way::waste && !parts.empty() && parts.back().way == Part::Way::waste) {
    (way == Part::Way::beside ? parts.back().width : parts.back().length) +=
        way == Part::Way::beside ? part.width : part.length;
    return;
  }
  parts.push_back(std::move(part));
}

Part divided(std::vector<Part> parts, Part::Way way, Whole width, Whole length) {
  Part whole = waste_part(width, length);
  for (Part& part : parts) append(whole.parts, std::move(part), way);
  if (whole.parts.size() == 1) {
    Part only = std::move(whole.parts.front());
    return only;
  }
  whole.way = way;
  return whole;
}

}  // namespace

Part beside(std::vector<Part> parts, Whole width, Whole length) {
  Whole used = 0;
  for (Part& part : parts) {
    used += part.width;
    const Whole own = part.width;
    part = within(std::move(part), own, length);
  }
  parts.push_back(waste_part(width - used, length));
  return divided(std::move(parts), Part::Way::beside, width, length);
}

Part behind(std::vector<Part> parts, Whole width, Whole length) {
  Whole used = 0;
  for (Part& part : parts) {
    used += part.length;
    const Whole own = part.length;
    part = within(std::move(part), width, own);
  }
  parts.push_back(waste_part(width, length - used));
  return divided(std::move(parts), Part::Way::behind, width, length);
}

Part within(Part part, Whole width, Whole length) {
  if (part.way == Part::Way::waste) return waste_part(width, length);
  if (part.width < width) {
    const Whole own = part.length;
    const Whole rest = width - part.width;
    std::vector<Part> both;
    both.push_back(std::move(part));
    both.push_back(waste_part(rest, own));
    part = divided(std::move(both), Part::Way::beside, width, own);
  }
  if (part.length < length) {
    const Whole rest = length - part.length;
    std::vector<Part> both;
    both.push_back(std::move(part));
    both.push_back(waste_part(width, rest));
    part = divided(std::move(both), Part::Way::behind, width, length);
  }
  return part;
}

namespace {

void count_into(const Part& part, std::vector<int>& counts) {
  if (part.way == Part::Way::piece && !part.by_product) {
    ++counts[static_cast<std::size_t>(part.kind)];
  }
  for (const Part& inner : part.parts) count_into(inner, counts);
}

Part trim(Part part, std::vector<int>& left) {
  if (part.way == Part::Way::piece) {
    int& room = left[static_cast<std::size_t>(part.kind)];
    if (room == 0) return waste_part(part.width, part.length);
    --room;
    return part;
  }
  for (Part& inner : part.parts) inner = trim(std::move(inner), left);
  if (part.way == Part::Way::waste || part.way == Part::Way::free) return part;
  return divided(std::move(part.parts), part.way, part.width, part.length);
}

}  // namespace

std::vector<int> count_pieces(const Part& part, std::size_t kinds) {
  std::vector<int> counts(kinds, 0);
  count_into(part, counts);
  return counts;
}

Part trimmed(Part part, std::vector<int> most) { return trim(std::move(part), most); }

int cuts_inside(const Part& part) {
  int cuts = part.parts.empty() ? 0 : static_cast<int>(part.parts.size()) - 1;
  for (const Part& inner : part.parts) cuts += cuts_inside(inner);
  return cuts;
}

}  // namespace pouchwright::lay
