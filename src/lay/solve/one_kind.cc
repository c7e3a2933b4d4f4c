/// One kind, straight cuts. For every width y that sums of sides can make, F(y, n) is the least
/// length of a strip of width y that yields n pieces:
///
///     F(y, n) = least of  F(y, a) + F(y, n - a)                       cut across
///                         max(F(u, a), F(y - u, n - a)), u <= y / 2    ripped along
///
/// Every straight plan is such a tree, and pushing its parts towards the corner makes every width a
/// sum of sides, so F is exact. What grows is kept small in three ways: a strip can only hold as
/// many pieces as its area at the longest length in question; ripping merges only the lengths at
/// which the count jumps; and of parts side by side the first is one that is not ripped itself.
#include <algorithm>
#include <numeric>
#include <optional>
#include <utility>

#include "lay/lay.h"
#include "lay/solve/solvers.h"

namespace pouchwright::lay {

std::vector<Pose> poses(const std::vector<Shape>& shapes, Whole width, Whole length) {
  std::vector<Pose> found;
  for (std::size_t k = 0; k < shapes.size(); ++k) {
    const Shape& shape = shapes[k];
    const int kind = static_cast<int>(k);
    const bool square = shape.width == shape.length;
    if ((shape.upright || (shape.turned && square)) && shape.width <= width &&
        shape.length <= length) {
      found.push_back({kind, false, shape.width, shape.length});
    }
    if (shape.turned && !square && shape.length <= width && shape.width <= length) {
      found.push_back({kind, true, shape.length, shape.width});
    }
  }
  return found;
}

namespace {

constexpr std::size_t kMostWidths = 4000;
/// Up to so many widths every pair of strips is tried across the whole cloth.
constexpr std::size_t kFewWidths = 120;

enum class How { none, piece, along, across, as_next };

/// The least length for n pieces or more in a strip, and the first cut that does it.
struct Best {
  Whole length = kNever;
  int cuts = 0;
  How how = How::none;
  int first = 0;  ///< pieces in the first part (piece: index of the pose)
  int second = 0;
  int first_width = 0;  ///< along: indices of the widths of both parts
  int second_width = 0;
  int pieces = 0;  ///< that it really yields
  int turned = 0;  ///< of these

  /// Of equal lengths the one with fewer cuts, then the one with fewer pieces that lie the other
  /// way from the rest, since they must be sorted out.
  [[nodiscard]] bool better_than(const Best& other) const {
    if (length != other.length) return length < other.length;
    if (cuts != other.cuts) return cuts < other.cuts;
    return odd_ones() < other.odd_ones();
  }
  [[nodiscard]] int odd_ones() const { return std::min(turned, pieces - turned); }
  void add_pieces_of(const Best& a, const Best& b) {
    pieces = a.pieces + b.pieces;
    turned = a.turned + b.turned;
  }
};

/// A number of pieces and the length it takes.
struct Jump {
  int pieces = 0;
  Whole length = 0;
};

struct Strip {
  std::vector<Best> best;      ///< by n, from 0
  std::vector<Jump> jumps;     ///< every n with a length below that of n + 1, ascending
  std::vector<Jump> unripped;  ///< those whose first cut is not along

  [[nodiscard]] int most() const { return static_cast<int>(best.size()) - 1; }
  [[nodiscard]] const Best& of(int n) const { return best[static_cast<std::size_t>(n)]; }
  [[nodiscard]] Best& of(int n) { return best[static_cast<std::size_t>(n)]; }
};

class Strips {
 public:
  /// Lengths above `cap` are not looked at.
  Strips(Whole width, const Shape& shape, Whole cap, int demand, Aim aim, Work& work)
      : width_(width), cap_(cap), demand_(demand), aim_(aim), shape_(shape), work_(work) {
    shape_.demand = demand;
    poses_ = poses({shape_}, width, cap);
    std::vector<Whole> sides;
    for (const Pose& pose : poses_) sides.push_back(pose.width);
    auto widths = sums_of(sides, width, kMostWidths);
    if (!widths) return;
    widths_ = std::move(*widths);
    // The cloth itself, so that what is trimmed off at its edge counts alike for all its plans.
    if (widths_.size() > 1 && widths_.back() < width) widths_.push_back(width);
    strips_.resize(widths_.size());
    complete_ = true;
    for (std::size_t y = 1; y < widths_.size() && complete_; ++y) complete_ = fill(y);
  }

  [[nodiscard]] bool complete() const { return complete_ && widths_.size() > 1; }
  [[nodiscard]] const Strip& widest() const { return strips_.back(); }

  /// The part with at least `pieces` of the widest strip, exactly that many placed.
  [[nodiscard]] Part part(int pieces) const {
    return within(build(widths_.size() - 1, pieces), width_, widest().of(pieces).length);
  }

 private:
  [[nodiscard]] int most_in(Whole y) const {
    const Wide by_area = Wide{y} * cap_ / shape_.area();
    return by_area < demand_ ? static_cast<int>(by_area) : demand_;
  }

  bool fill(std::size_t y) {
    Strip& strip = strips_[y];
    strip.best.resize(static_cast<std::size_t>(most_in(widths_[y])) + 1);
    strip.best[0].length = 0;
    if (strip.most() == 0) return true;
    place_one(y, strip);
    if (!rip(y, strip)) return false;
    take_from_next(strip);
    if (!cross(strip)) return false;
    take_from_next(strip);
    note_jumps(strip);
    return true;
  }

  void place_one(std::size_t y, Strip& strip) const {
    for (std::size_t p = 0; p < poses_.size(); ++p) {
      if (poses_[p].width > widths_[y]) continue;
      Best one;
      one.length = poses_[p].length;
      one.cuts = poses_[p].width < widths_[y] ? 1 : 0;
      one.how = How::piece;
      one.first = static_cast<int>(p);
      one.pieces = 1;
      one.turned = poses_[p].turned ? 1 : 0;
      if (one.better_than(strip.of(1))) strip.of(1) = one;
    }
  }

  bool rip(std::size_t y, Strip& strip) {
    for (std::size_t u = 1; 2 * widths_[u] <= widths_[y]; ++u) {
      const std::size_t widest_rest = last_not_above(widths_, widths_[y] - widths_[u]);
      // The widest rest is as good as any; across the whole cloth the others are looked at as well,
      // for plans as short that are easier to cut.
      const bool whole = aim_ == Aim::few_cuts && y + 1 == widths_.size() && y < kFewWidths;
      for (std::size_t v = whole ? u : widest_rest; v <= widest_rest; ++v) {
        if (!rip_at(y, u, v, strip)) return false;
      }
    }
    return true;
  }

  bool rip_at(std::size_t y, std::size_t u, std::size_t v, Strip& strip) {
    const Strip& a = strips_[u];
    const Strip& b = strips_[v];
    if (!work_.spend(2)) return false;
    if (a.unripped.empty() || b.jumps.empty()) return true;
    work_.spend(static_cast<std::int64_t>(a.unripped.size() + b.jumps.size()));
    const int trim = widths_[u] + widths_[v] < widths_[y] ? 1 : 0;
    merge(a, b, static_cast<int>(u), static_cast<int>(v), trim, strip);
    return true;
  }

  /// Both strips at every length where one of the two counts jumps.
  void merge(const Strip& a, const Strip& b, int u, int v, int trim, Strip& strip) const {
    std::size_t i = 0;
    std::size_t j = 0;
    int in_a = 0;
    int in_b = 0;
    const std::vector<Jump>& ends = a.unripped;
    while (i < ends.size() || j < b.jumps.size()) {
      const Whole next_a = i < ends.size() ? ends[i].length : kNever;
      const Whole next_b = j < b.jumps.size() ? b.jumps[j].length : kNever;
      if (next_a <= next_b) in_a = ends[i++].pieces;
      if (next_b <= next_a) in_b = b.jumps[j++].pieces;
      if (in_a == 0 || in_b == 0) continue;
      Best& now = strip.of(std::min(in_a + in_b, strip.most()));
      if (std::min(next_a, next_b) > now.length) continue;
      Best both;
      both.length = std::min(next_a, next_b);
      both.cuts = 1 + trim + a.of(in_a).cuts + b.of(in_b).cuts +
                  (a.of(in_a).length < both.length ? 1 : 0) +
                  (b.of(in_b).length < both.length ? 1 : 0);
      both.how = How::along;
      both.first = in_a;
      both.second = in_b;
      both.add_pieces_of(a.of(in_a), b.of(in_b));
      both.first_width = u;
      both.second_width = v;
      if (both.better_than(now)) now = both;
    }
  }

  static void take_from_next(Strip& strip) {
    for (int n = strip.most() - 1; n > 0; --n) {
      if (strip.of(n + 1).length > strip.of(n).length) continue;
      if (strip.of(n + 1).length == strip.of(n).length && strip.of(n).how != How::none &&
          strip.of(n).cuts <= strip.of(n + 1).cuts) {
        continue;
      }
      Best next = strip.of(n + 1);
      next.how = How::as_next;
      strip.of(n) = next;
    }
  }

  /// Blocks that no cut across improves are all that need to be put behind each other.
  bool cross(Strip& strip) {
    std::vector<Jump> blocks;
    std::vector<Whole> lengths{0};
    for (int n = 1; n <= strip.most(); ++n) {
      if (!work_.spend(static_cast<std::int64_t>(blocks.size()) + 1)) return false;
      Best& now = strip.of(n);
      bool as_short_across = false;
      for (const Jump& block : blocks) {
        const int rest = n - block.pieces;
        const Whole length = block.length + lengths[static_cast<std::size_t>(rest)];
        if (length > cap_ || length > now.length) continue;
        as_short_across = true;
        put_behind(strip, block.pieces, rest, now);
      }
      lengths.push_back(now.length);
      if (now.how == How::across || now.how == How::as_next || now.how == How::none) continue;
      // Where blocks behind each other are as short, this one saves cuts at the most.
      if (aim_ == Aim::few_cuts || !as_short_across) blocks.push_back({n, now.length});
    }
    return true;
  }

  static void put_behind(const Strip& strip, int block, int rest, Best& now) {
    Best both;
    both.length = strip.of(block).length + strip.of(rest).length;
    both.cuts = 1 + strip.of(block).cuts + strip.of(rest).cuts;
    both.add_pieces_of(strip.of(block), strip.of(rest));
    both.how = How::across;
    both.first = block;
    both.second = rest;
    if (both.better_than(now)) now = both;
  }

  static void note_jumps(Strip& strip) {
    for (int n = 1; n <= strip.most(); ++n) {
      if (strip.of(n).length >= kNever) break;
      if (n < strip.most() && strip.of(n).length >= strip.of(n + 1).length) continue;
      const Jump jump{n, strip.of(n).length};
      strip.jumps.push_back(jump);
      if (strip.of(n).how != How::along) strip.unripped.push_back(jump);
    }
  }

  [[nodiscard]] Part build(std::size_t y, int pieces) const {
    const Strip& strip = strips_[y];
    int n = pieces;
    while (strip.of(n).how == How::as_next) ++n;
    const Best& best = strip.of(n);
    if (best.how == How::piece) {
      const Pose& pose = poses_[static_cast<std::size_t>(best.first)];
      return within(piece_part(pose.kind, pose.turned, pose.width, pose.length), widths_[y],
                    best.length);
    }
    const bool along = best.how == How::along;
    const std::size_t u = along ? static_cast<std::size_t>(best.first_width) : y;
    const std::size_t v = along ? static_cast<std::size_t>(best.second_width) : y;
    const int first = std::min(best.first, pieces);
    std::vector<Part> parts;
    parts.push_back(build(u, first));
    if (pieces > first) parts.push_back(build(v, std::min(best.second, pieces - first)));
    return along ? beside(std::move(parts), widths_[y], best.length)
                 : behind(std::move(parts), widths_[y], best.length);
  }

  Whole width_;
  Whole cap_;
  int demand_;
  Aim aim_;
  Shape shape_;
  Work& work_;
  std::vector<Pose> poses_;
  std::vector<Whole> widths_;
  std::vector<Strip> strips_;
  bool complete_ = false;
};

int across_in(Whole width, const Pose& pose, int demand) {
  return static_cast<int>(std::min<Whole>(width / pose.width, demand));
}

/// Rows of one pose only: the plain plan that stands where nothing better is found.
struct Rows {
  Pose pose;
  Whole length = kNever;
};

Rows best_rows(const RollQuestion& question) {
  const int demand = question.shapes.front().demand;
  Rows best;
  for (const Pose& pose : poses(question.shapes, question.width, question.longest)) {
    const int across = across_in(question.width, pose, demand);
    const Whole length = (demand + across - 1) / across * pose.length;
    if (length < best.length) best = {pose, length};
  }
  return best;
}

std::vector<Part> parts_of(const Rows& rows, Whole width, int demand) {
  const Pose& pose = rows.pose;
  const int across = across_in(width, pose, demand);
  std::vector<Part> parts;
  for (int left = demand; left > 0; left -= across) {
    const auto pieces = static_cast<std::size_t>(std::min(across, left));
    std::vector<Part> row(pieces, piece_part(pose.kind, pose.turned, pose.width, pose.length));
    parts.push_back(beside(std::move(row), width, pose.length));
  }
  return parts;
}

/// A choice of blocks that together yield the demand: how often which.
struct Choice {
  std::vector<int> blocks;  ///< counts of pieces, one a cut-off
  Whole length = kNever;
};

/// The least length for `demand` from blocks behind each other, each block any of the jumps that is
/// at most `longest` long; of equal lengths with few cuts, then few different blocks.
class Blocks {
 public:
  Blocks(const Strip& strip, Whole longest, int demand, Work& work) : strip_(strip) {
    for (const Jump& jump : strip.jumps) {
      if (jump.length <= longest) blocks_.push_back(jump.pieces);
    }
    keep_useful(work);
    solve(demand, work);
    if (length_ < kNever) prefer_alike(demand, work);
  }

  [[nodiscard]] Choice choice() const { return {chosen_, length_}; }

 private:
  /// With many blocks, those that two shorter ones replace at the same length are left out.
  void keep_useful(Work& work) {
    if (blocks_.size() <= kFew) return;
    std::vector<int> useful;
    for (const int n : blocks_) {
      if (strip_.of(n).how != How::across) useful.push_back(n);
      work.spend(1);
    }
    blocks_ = std::move(useful);
  }

  void solve(int demand, Work& work) {
    std::vector<Whole> least(static_cast<std::size_t>(demand) + 1, kNever);
    std::vector<int> cuts(least.size(), 0);
    std::vector<int> last(least.size(), 0);
    least[0] = 0;
    for (int n = 1; n <= demand; ++n) {
      const auto at = static_cast<std::size_t>(n);
      for (const int block : blocks_) {
        const auto rest = static_cast<std::size_t>(std::max(n - block, 0));
        const Whole length = strip_.of(block).length + least[rest];
        const int made = strip_.of(block).cuts + 1 + cuts[rest];
        if (length > least[at] || (length == least[at] && made >= cuts[at])) continue;
        least[at] = length, cuts[at] = made, last[at] = block;
      }
      work.spend(static_cast<std::int64_t>(blocks_.size()));
    }
    length_ = least.back();
    if (length_ >= kNever) return;
    for (int n = demand; n > 0; n -= last[static_cast<std::size_t>(n)]) {
      chosen_.push_back(last[static_cast<std::size_t>(n)]);
    }
  }

  /// One or two different blocks at the same length are easier to cut than many.
  void prefer_alike(int demand, Work& work) {
    if (different(chosen_) < 2) return;
    for (const int a : blocks_) {
      const int times = (demand + a - 1) / a;
      if (times * strip_.of(a).length == length_) {
        chosen_.assign(static_cast<std::size_t>(times), a);
        return;
      }
    }
    if (different(chosen_) < 3) return;
    for (const int a : blocks_) {
      for (const int b : blocks_) {
        for (int times = 1; times * a < demand && work.spend(1); ++times) {
          const int more = (demand - times * a + b - 1) / b;
          if (times * strip_.of(a).length + more * strip_.of(b).length != length_) continue;
          chosen_.assign(static_cast<std::size_t>(times), a);
          chosen_.insert(chosen_.end(), static_cast<std::size_t>(more), b);
          return;
        }
      }
    }
  }

  static int different(std::vector<int> blocks) {
    std::sort(blocks.begin(), blocks.end());
    return static_cast<int>(std::unique(blocks.begin(), blocks.end()) - blocks.begin());
  }

  static constexpr std::size_t kFew = 200;
  const Strip& strip_;
  std::vector<int> blocks_;
  std::vector<int> chosen_;
  Whole length_ = kNever;
};

/// Without a table, the shortest cut-offs, by doubling from a handy length, that cost no cloth.
Choice handiest(const Strip& strip, Whole longest, int demand, Work& work) {
  Choice best = Blocks(strip, longest, demand, work).choice();
  if (longest < kNever) return best;
  for (Whole handy = kHandyLength.in_nm(); handy < best.length; handy *= 2) {
    Choice shorter = Blocks(strip, handy, demand, work).choice();
    if (shorter.length == best.length) return shorter;
  }
  return best;
}

/// With no table to end it and nobody to cut it, all of the cloth is one block.
Choice shortest(const Strip& strip, const RollQuestion& question, Work& work) {
  const int demand = question.shapes.front().demand;
  if (question.aim == Aim::few_cuts) return handiest(strip, question.longest, demand, work);
  if (question.longest < kNever) return Blocks(strip, question.longest, demand, work).choice();
  return {{demand}, strip.of(demand).length};
}

std::vector<Part> parts_of(const Strips& strips, std::vector<int> blocks, int demand) {
  std::sort(blocks.begin(), blocks.end(), std::greater<>());
  std::vector<Part> parts;
  for (const int block : blocks) {
    const int pieces = std::min(block, demand);
    if (pieces > 0) parts.push_back(strips.part(pieces));
    demand -= pieces;
  }
  return parts;
}

int count_turned(const std::vector<Part>& parts) {
  return std::accumulate(parts.begin(), parts.end(), 0, [](int count, const Part& part) {
    const bool is_turned = part.way == Part::Way::piece && part.turned;
    return count + (is_turned ? 1 : 0) + count_turned(part.parts);
  });
}

}  // namespace

RollAnswer one_kind_straight(const RollQuestion& question, Work& work) {
  const Shape& shape = question.shapes.front();
  const Rows rows = best_rows(question);
  const Whole cap = std::min(rows.length, question.longest);
  RollAnswer answer;
  const auto exact = [&](const Strips& strips, const Choice& choice) {
    answer.length = answer.bound = choice.length;
    answer.optimal = true;
    if (question.aim == Aim::length) return;
    answer.cut_offs = parts_of(strips, choice.blocks, shape.demand);
    const int turned = count_turned(answer.cut_offs);
    const bool is_mixed = turned > 0 && turned < shape.demand;
    // Pieces that lie across have to be sorted out, and the ruler is set more often: not for nothing.
    if (is_mixed && rows.length == choice.length) {
      answer.cut_offs = parts_of(rows, question.width, shape.demand);
    }
  };
  const Work anew = work;
  if (question.aim == Aim::few_cuts) {
    const Strips strips(question.width, shape, cap, shape.demand, Aim::few_cuts, work);
    if (strips.complete()) {
      exact(strips, handiest(strips.widest(), question.longest, shape.demand, work));
      return answer;
    }
    work = anew;
  }
  const Strips strips(question.width, shape, cap, shape.demand, Aim::length, work);
  if (strips.complete()) {
    exact(strips, shortest(strips.widest(), question, work));
    return answer;
  }
  answer.length = rows.length;
  answer.bound = length_bound(question);
  answer.optimal = answer.bound == answer.length;
  answer.work_ended = !answer.optimal;
  if (question.aim == Aim::few_cuts) answer.cut_offs = parts_of(rows, question.width, shape.demand);
  return answer;
}

int most_straight(Whole width, Whole length, const Shape& shape, Work& work) {
  const Whole most =
      most_pieces(width, length, shape.width, shape.length, shape.turned && shape.upright);
  const Whole possible = shape.upright && shape.turned
                             ? most
                             : (shape.upright ? (width / shape.width) * (length / shape.length)
                                              : (width / shape.length) * (length / shape.width));
  if (possible == 0) return 0;
  const Strips strips(width, shape, length, static_cast<int>(possible), Aim::length, work);
  if (!strips.complete()) return 0;
  return strips.widest().jumps.empty() ? 0 : strips.widest().jumps.back().pieces;
}

}  // namespace pouchwright::lay
