#include "lay/solve/joined.h"

#include <algorithm>
#include <numeric>
#include <utility>

namespace pouchwright::lay {

namespace {

constexpr Whole kMostSteps = 1'000'000;
constexpr std::size_t kMostSets = 150'000;

int bits_for(int demand) {
  int bits = 1;  // one to spare, which shows a count above the demand
  for (; demand > 0; demand /= 2) ++bits;
  return bits;
}

/// By how much of `room` is taken: what no sum of sides can fill of the rest. Too many to list:
/// nothing is certain.
std::vector<Whole> bare_beside(const std::vector<Whole>& sides, Whole room) {
  if (room > kMostSteps) return {};
  std::vector<Whole> bare(static_cast<std::size_t>(room) + 1, kNever);
  for (Whole rest = 0; rest <= room; ++rest) {
    Whole& here = bare[static_cast<std::size_t>(room - rest)];
    here = rest == 0 ? 0 : bare[static_cast<std::size_t>(room - rest + 1)] + 1;
    for (const Whole side : sides) {
      if (side <= rest) here = std::min(here, bare[static_cast<std::size_t>(room - rest + side)]);
    }
  }
  return bare;
}

}  // namespace

bool Joined::possible(const std::vector<Shape>& shapes, std::int64_t most_sets) {
  std::int64_t sets = 1;
  int bits = 0;
  for (const Shape& shape : shapes) {
    if (sets > most_sets / (shape.demand + 1)) return false;
    sets *= shape.demand + 1;
    bits += bits_for(shape.demand);
  }
  return bits <= 64;
}

Joined::Joined(const RollQuestion& question, Whole target, Work& work)
    : shapes_(question.shapes), whole_width_(question.width) {
  if (!measure(question, target)) return;
  pack();
  add_pieces();
  if (!join_all(work)) {
    outcome_ = Outcome::ended;
    return;
  }
  finish(work);
}

/// Turns lengths into steps; false where there is nothing to look for.
bool Joined::measure(const RollQuestion& question, Whole target) {
  const Whole longest = std::min(question.longest, target);
  std::erase_if(poses_ = poses(shapes_, question.width, longest), [&](const Pose& pose) {
    return shapes_[static_cast<std::size_t>(pose.kind)].demand == 0;
  });
  if (poses_.empty()) return false;
  step_across_ = step_along_ = 0;
  for (const Pose& pose : poses_) {
    step_across_ = std::gcd(step_across_, pose.width);
    step_along_ = std::gcd(step_along_, pose.length);
  }
  std::vector<Whole> across;
  std::vector<Whole> along;
  for (Pose& pose : poses_) {
    across.push_back(pose.width /= step_across_);
    along.push_back(pose.length /= step_along_);
  }
  width_ = question.width / step_across_;
  target_ = target / step_along_;
  longest_ = longest / step_along_;
  Wide waste = Wide{width_} * target_;
  for (const Shape& shape : shapes_)
    waste -= shape.area() / step_across_ / step_along_ * shape.demand;
  if (waste < 0) return false;
  if (waste > kNever) {
    outcome_ = Outcome::ended;
    return false;
  }
  may_waste_ = static_cast<Whole>(waste);
  bare_across_ = bare_beside(across, width_);
  bare_along_ = bare_beside(along, target_);
  return true;
}

void Joined::pack() {
  int at = 0;
  std::int64_t number = 1;
  for (const Shape& shape : shapes_) {
    const int bits = bits_for(shape.demand);
    one_packed_.push_back(std::uint64_t{1} << at);
    one_number_.push_back(number);
    // Counting from here upwards, a count above the demand reaches the spare bit.
    const std::uint64_t spare = std::uint64_t{1} << (at + bits - 1);
    const auto demand = static_cast<std::uint64_t>(shape.demand);
    all_packed_ += spare - one_packed_.back() * (demand + 1);
    spare_bits_ |= spare;
    all_number_ += number * shape.demand;
    number *= shape.demand + 1;
    at += bits;
  }
  set_of_number_.assign(static_cast<std::size_t>(number), -1);
}

void Joined::add_pieces() {
  for (std::size_t p = 0; p < poses_.size(); ++p) {
    const auto kind = static_cast<std::size_t>(poses_[p].kind);
    const Corner corner{poses_[p].width, poses_[p].length};
    const Whole area = corner.width * corner.length;
    if (!worth(corner, area)) continue;
    Origin origin;
    origin.first = static_cast<int>(p);
    const int set = set_for(one_packed_[kind], one_number_[kind], area);
    offer(sets_[static_cast<std::size_t>(set)], corner, origin);
  }
}

/// Sets in the order of their numbers: the number of a joined set is the sum of both numbers, so
/// all that can make a set have been joined before its turn.
bool Joined::join_all(Work& work) {
  for (const int& number : set_of_number_) {
    if (number < 0) continue;
    const Set& set = sets_[static_cast<std::size_t>(number)];
    Whole least = kNever;
    for (const Corner& corner : set.corners) {
      least = std::min(least, corner.width * corner.length - set.area);
    }
    done_.push_back(number);
    done_packed_.push_back(set.packed);
    done_waste_.push_back(least);
    if (!join_with_earlier(number, work)) return false;
  }
  return true;
}

bool Joined::join_with_earlier(int v, Work& work) {
  if (!work.spend(static_cast<std::int64_t>(done_.size())) || sets_.size() > kMostSets)
    return false;
  const std::uint64_t base = all_packed_ + done_packed_.back();
  const Whole may_waste = may_waste_ - done_waste_.back();
  const std::size_t count = done_.size();
  for (std::size_t i = 0; i < count; ++i) {
    if (((base + done_packed_[i]) & spare_bits_) != 0 || done_waste_[i] > may_waste) continue;
    const int u = done_[i];
    const auto corners =
        static_cast<std::int64_t>(sets_[static_cast<std::size_t>(v)].corners.size() +
                                  sets_[static_cast<std::size_t>(u)].corners.size());
    const std::int64_t made = join(u, v);
    if (!work.spend(4 * corners + 30 * made)) return false;
  }
  return true;
}

std::int64_t Joined::join(int u, int v) {
  const Set& first = sets_[static_cast<std::size_t>(u)];
  const Set& second = sets_[static_cast<std::size_t>(v)];
  const std::vector<Corner>& a = first.corners;
  const std::vector<Corner>& b = second.corners;
  const Whole area = first.area + second.area;
  made_.clear();
  const auto make = [&](std::size_t i, std::size_t j, bool side_by_side) {
    const Corner corner = side_by_side
                              ? Corner{a[i].width + b[j].width, std::max(a[i].length, b[j].length)}
                              : Corner{std::max(a[i].width, b[j].width), a[i].length + b[j].length};
    if (corner.width > width_ || corner.length > longest_ || !worth(corner, area)) return;
    made_.emplace_back(corner,
                       Origin{u, static_cast<int>(i), v, static_cast<int>(j), side_by_side});
  };
  // Behind each other: for every width, the shortest of each that is no wider.
  for (std::size_t i = 0, j = 0;;) {
    const Whole wide = std::max(a[i].width, b[j].width);
    while (i + 1 < a.size() && a[i + 1].width <= wide) ++i;
    while (j + 1 < b.size() && b[j + 1].width <= wide) ++j;
    make(i, j, false);
    if (i + 1 == a.size() && j + 1 == b.size()) break;
    if (j + 1 == b.size() || (i + 1 < a.size() && a[i + 1].width < b[j + 1].width))
      ++i;
    else
      ++j;
  }
  // Side by side: for every length, the narrowest of each that is no longer.
  for (std::size_t i = a.size() - 1, j = b.size() - 1;;) {
    const Whole longer = std::max(a[i].length, b[j].length);
    while (i > 0 && a[i - 1].length <= longer) --i;
    while (j > 0 && b[j - 1].length <= longer) --j;
    make(i, j, true);
    if (i == 0 && j == 0) break;
    if (j == 0 || (i > 0 && a[i - 1].length < b[j - 1].length))
      --i;
    else
      --j;
  }
  if (made_.empty()) return 0;
  const std::uint64_t packed = first.packed + second.packed;
  const int to = set_for(packed, first.number + second.number, area);
  for (const auto& [corner, origin] : made_) {
    offer(sets_[static_cast<std::size_t>(to)], corner, origin);
  }
  return static_cast<std::int64_t>(made_.size());
}

int Joined::set_for(std::uint64_t packed, std::int64_t number, Whole area) {
  int& found = set_of_number_[static_cast<std::size_t>(number)];
  if (found < 0) {
    found = static_cast<int>(sets_.size());
    sets_.push_back({packed, number, area, {}, {}});
  }
  return found;
}

void Joined::offer(Set& set, const Corner& corner, const Origin& origin) {
  std::vector<Corner>& corners = set.corners;
  const auto after = std::find_if(corners.begin(), corners.end(),
                                  [&](const Corner& other) { return other.width > corner.width; });
  if (after != corners.begin() && std::prev(after)->length <= corner.length) return;
  // Those as wide or wider that are no shorter go.
  auto first = after;
  if (first != corners.begin() && std::prev(first)->width == corner.width) --first;
  auto last = first;
  while (last != corners.end() && last->length >= corner.length) ++last;
  const auto origins = set.origins.begin() + (first - corners.begin());
  set.origins.insert(set.origins.erase(origins, origins + (last - first)), origin);
  corners.insert(corners.erase(first, last), corner);
}

/// Whatever is wasted inside a rectangle is wasted in the cloth. So is what the rows beside it
/// leave bare for certain, since only sums of sides can fill them, and likewise the columns behind
/// it.
bool Joined::worth(const Corner& corner, Whole area) const {
  Whole waste = corner.width * corner.length - area;
  if (!bare_across_.empty()) {
    waste += bare_across_[static_cast<std::size_t>(corner.width)] * corner.length;
  }
  if (!bare_along_.empty()) {
    waste += bare_along_[static_cast<std::size_t>(corner.length)] * corner.width;
  }
  return waste <= may_waste_;
}

void Joined::finish(Work& work) {
  if (longest_ < target_) return lay_behind(work);
  const int all = set_of_number_[static_cast<std::size_t>(all_number_)];
  if (all < 0) return;
  const auto& corners = sets_[static_cast<std::size_t>(all)].corners;
  outcome_ = Outcome::found;
  length_ = corners.back().length;
  chosen_.emplace_back(all, static_cast<int>(corners.size()) - 1);
}

/// Cut-offs no longer than the table, behind each other: the least sum for every set.
void Joined::lay_behind(Work& work) {
  std::vector<Whole> least(set_of_number_.size(), kNever);
  std::vector<int> last(set_of_number_.size(), -1);
  std::vector<std::uint64_t> packed(set_of_number_.size(), 0);
  least[0] = 0;
  for (std::size_t number = 0; number < least.size(); ++number) {
    if (least[number] >= kNever) continue;
    if (!work.spend(static_cast<std::int64_t>(done_.size()))) {
      outcome_ = Outcome::ended;
      return;
    }
    for (const int next : done_) {
      const Set& set = sets_[static_cast<std::size_t>(next)];
      if (((all_packed_ + packed[number] + set.packed) & spare_bits_) != 0) continue;
      const std::size_t to = number + static_cast<std::size_t>(set.number);
      const Whole length = least[number] + set.corners.back().length;
      if (length > target_ || length >= least[to]) continue;
      least[to] = length, last[to] = next, packed[to] = packed[number] + set.packed;
    }
  }
  if (least.back() >= kNever) return;
  outcome_ = Outcome::found;
  length_ = least.back();
  for (std::size_t number = least.size() - 1; number > 0;) {
    const Set& set = sets_[static_cast<std::size_t>(last[number])];
    chosen_.emplace_back(last[number], static_cast<int>(set.corners.size()) - 1);
    number -= static_cast<std::size_t>(set.number);
  }
}

std::vector<Part> Joined::cut_offs() const {
  std::vector<Part> parts;
  for (const auto& [set, corner] : chosen_) {
    Part part = build(set, corner);
    std::vector<Part> whole;
    if (part.way == Part::Way::behind) {
      whole = std::move(part.parts);
    } else {
      whole.push_back(std::move(part));
    }
    for (Part& inner : whole) {
      const Whole length = inner.length;
      parts.push_back(within(std::move(inner), whole_width_, length));
    }
  }
  return parts;
}

Part Joined::build(int at, int corner) const {
  const Set& set = sets_[static_cast<std::size_t>(at)];
  const Whole width = set.corners[static_cast<std::size_t>(corner)].width * step_across_;
  const Whole length = set.corners[static_cast<std::size_t>(corner)].length * step_along_;
  const Origin& origin = set.origins[static_cast<std::size_t>(corner)];
  if (origin.first_set < 0) {
    const Pose& pose = poses_[static_cast<std::size_t>(origin.first)];
    return piece_part(pose.kind, pose.turned, width, length);
  }
  std::vector<Part> parts;
  parts.push_back(build(origin.first_set, origin.first));
  parts.push_back(build(origin.second_set, origin.second));
  return origin.side_by_side ? beside(std::move(parts), width, length)
                             : behind(std::move(parts), width, length);
}

}  // namespace pouchwright::lay
