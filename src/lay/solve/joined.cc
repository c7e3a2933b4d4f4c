#include "lay/solve/joined.h"

#include <algorithm>
#include <numeric>
#include <utility>

namespace pouchwright::lay {

namespace {

constexpr std::size_t kMostSums = 3000;
constexpr Whole kMostSteps = 100'000;
constexpr std::size_t kMostSets = 150'000;

int bits_for(int demand) {
  int bits = 1;  // one to spare, which shows a count above the demand
  for (; demand > 0; demand /= 2) ++bits;
  return bits;
}

}  // namespace

Joined::Sums::Sums(const std::vector<Whole>& sides, Whole room) : room_(room) {
  auto sums = sums_of(sides, room, kMostSums);
  if (!sums) return;
  sums_ = std::move(*sums);
  step_ = 0;
  for (const Whole side : sides) step_ = std::gcd(step_, side);
  if (step_ == 0 || room / step_ > kMostSteps) return;
  // Rooms are the whole one less a multiple of the step.
  bare_.resize(static_cast<std::size_t>(room / step_) + 1);
  for (Whole used = 0; used <= room; used += step_) {
    bare_[static_cast<std::size_t>(used / step_)] =
        room - used - sums_[last_not_above(sums_, room - used)];
  }
}

Whole Joined::Sums::never_filled(Whole room) const {
  if (!bare_.empty()) return bare_[static_cast<std::size_t>((room_ - room) / step_)];
  return sums_.empty() ? 0 : room - sums_[last_not_above(sums_, room)];
}

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
    : question_(question), target_(target), longest_(std::min(question.longest, target)) {
  poses_ = poses(question_.shapes, question_.width, longest_);
  std::vector<Whole> across;
  std::vector<Whole> along;
  for (const Pose& pose : poses_) {
    if (question_.shapes[static_cast<std::size_t>(pose.kind)].demand == 0) continue;
    across.push_back(pose.width);
    along.push_back(pose.length);
  }
  widths_ = Sums(across, question_.width);
  lengths_ = Sums(along, target_);
  for (const Shape& shape : question_.shapes) total_area_ += shape.area() * shape.demand;
  may_waste_ = Wide{question_.width} * target_ - total_area_;
  if (may_waste_ < 0) return;
  pack();
  add_pieces();
  if (!join_all(work)) {
    outcome_ = Outcome::ended;
    return;
  }
  finish(work);
}

void Joined::pack() {
  int at = 0;
  std::int64_t number = 1;
  for (const Shape& shape : question_.shapes) {
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
    const Wide area = question_.shapes[kind].area();
    if (question_.shapes[kind].demand == 0) continue;
    if (!worth(poses_[p].width, poses_[p].length, area)) continue;
    Corner corner;
    corner.width = poses_[p].width;
    corner.length = poses_[p].length;
    corner.pose = static_cast<int>(p);
    offer(set_for(one_packed_[kind], one_number_[kind], area), corner);
  }
}

/// Sets in the order of their numbers: the number of a joined set is the sum of both numbers, so
/// all that can make a set have been joined before its turn.
bool Joined::join_all(Work& work) {
  for (const int& set : set_of_number_) {
    if (set < 0) continue;
    done_.push_back(set);
    done_packed_.push_back(sets_[static_cast<std::size_t>(set)].packed);
    if (!join_with_earlier(set, work)) return false;
  }
  return true;
}

bool Joined::join_with_earlier(int v, Work& work) {
  if (!work.spend(static_cast<std::int64_t>(done_.size())) || sets_.size() > kMostSets)
    return false;
  const std::uint64_t base = all_packed_ + sets_[static_cast<std::size_t>(v)].packed;
  const std::size_t count = done_.size();
  for (std::size_t i = 0; i < count; ++i) {
    if (((base + done_packed_[i]) & spare_bits_) != 0) continue;
    const int u = done_[i];
    const Set& other = sets_[static_cast<std::size_t>(u)];
    const Set& set = sets_[static_cast<std::size_t>(v)];
    const auto corners = static_cast<std::int64_t>(set.corners.size() + other.corners.size());
    const std::int64_t made = join(u, v);
    if (!work.spend(8 * corners + 50 * made)) return false;
  }
  return true;
}

std::int64_t Joined::join(int u, int v) {
  const std::vector<Corner>& a = sets_[static_cast<std::size_t>(u)].corners;
  const std::vector<Corner>& b = sets_[static_cast<std::size_t>(v)].corners;
  const Wide area =
      sets_[static_cast<std::size_t>(u)].area + sets_[static_cast<std::size_t>(v)].area;
  std::vector<Corner> made;
  const auto make = [&](std::size_t i, std::size_t j, bool side_by_side) {
    Corner corner;
    corner.width = side_by_side ? a[i].width + b[j].width : std::max(a[i].width, b[j].width);
    corner.length = side_by_side ? std::max(a[i].length, b[j].length) : a[i].length + b[j].length;
    if (corner.width > question_.width || corner.length > longest_) return;
    if (!worth(corner.width, corner.length, area)) return;
    corner.first_set = u, corner.first = static_cast<int>(i);
    corner.second_set = v, corner.second = static_cast<int>(j);
    corner.side_by_side = side_by_side;
    made.push_back(corner);
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
  if (made.empty()) return 0;
  const std::uint64_t packed =
      sets_[static_cast<std::size_t>(u)].packed + sets_[static_cast<std::size_t>(v)].packed;
  const std::int64_t number =
      sets_[static_cast<std::size_t>(u)].number + sets_[static_cast<std::size_t>(v)].number;
  const int to = set_for(packed, number, area);
  for (const Corner& corner : made) offer(to, corner);
  return static_cast<std::int64_t>(made.size());
}

int Joined::set_for(std::uint64_t packed, std::int64_t number, Wide area) {
  int& found = set_of_number_[static_cast<std::size_t>(number)];
  if (found < 0) {
    found = static_cast<int>(sets_.size());
    Set set;
    set.packed = packed;
    set.number = number;
    set.area = area;
    sets_.push_back(std::move(set));
  }
  return found;
}

void Joined::offer(int to, const Corner& corner) {
  std::vector<Corner>& corners = sets_[static_cast<std::size_t>(to)].corners;
  const auto after = std::find_if(corners.begin(), corners.end(),
                                  [&](const Corner& other) { return other.width > corner.width; });
  if (after != corners.begin() && std::prev(after)->length <= corner.length) return;
  // Those as wide or wider that are no shorter go.
  auto first = after;
  if (first != corners.begin() && std::prev(first)->width == corner.width) --first;
  auto last = first;
  while (last != corners.end() && last->length >= corner.length) ++last;
  const auto at = corners.erase(first, last);
  corners.insert(at, corner);
}

/// Whatever is wasted inside a rectangle is wasted in the cloth. So is what the rows beside it
/// leave bare for certain, since only sums of sides can fill them, and likewise the columns behind
/// it.
bool Joined::worth(Whole width, Whole length, Wide area) const {
  const Wide inside = Wide{width} * length - area;
  const Wide rows = Wide{widths_.never_filled(question_.width - width)} * length;
  const Wide columns = Wide{lengths_.never_filled(target_ - length)} * width;
  return inside + rows + columns <= may_waste_;
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
    if (part.way != Part::Way::behind) {
      const Whole length = part.length;
      parts.push_back(within(std::move(part), question_.width, length));
      continue;
    }
    for (Part& inner : part.parts) {
      const Whole length = inner.length;
      parts.push_back(within(std::move(inner), question_.width, length));
    }
  }
  return parts;
}

Part Joined::build(int set, int at) const {
  const Corner& corner = sets_[static_cast<std::size_t>(set)].corners[static_cast<std::size_t>(at)];
  if (corner.pose >= 0) {
    const Pose& pose = poses_[static_cast<std::size_t>(corner.pose)];
    return piece_part(pose.kind, pose.turned, pose.width, pose.length);
  }
  std::vector<Part> parts;
  parts.push_back(build(corner.first_set, corner.first));
  parts.push_back(build(corner.second_set, corner.second));
  return corner.side_by_side ? beside(std::move(parts), corner.width, corner.length)
                             : behind(std::move(parts), corner.width, corner.length);
}

}  // namespace pouchwright::lay
