/// One kind, cut round a template: the recursive five-block scheme (E. G. Birgin, R. D. Lobato,
/// R. Morabito, J. Oper. Res. Soc. 61, 2010). A rectangle is parted into five round a middle one,
/// like a pinwheel, each filled the same way; parting into two is the case without a middle.
///
///         +---------+-----+
///         |    4    |     |
///         +----+----+  5  |
///         |    | 3  |     |
///         | 1  +----+-----+
///         |    |    2     |
///         +----+----------+
#include <algorithm>
#include <array>
#include <optional>
#include <utility>

#include "lay/solve/solvers.h"

namespace pouchwright::lay {

namespace {

constexpr std::size_t kMostPositions = 1200;
/// Steps for all layouts of one question, a fraction of a second.
constexpr std::int64_t kFreeWork = 60'000'000;

struct Box {
  std::size_t i = 0, j = 0;
};

class FiveBlock {
 public:
  /// Requires: both directions allowed.
  FiveBlock(Whole width, Whole length, const Shape& shape, Work& work)
      : a_(shape.width), b_(shape.length), work_(work) {
    auto sums = sums_of({a_, b_}, std::max(width, length), kMostPositions);
    if (!sums) return;
    sums_ = std::move(*sums);
    known_.assign(sums_.size() * sums_.size(), -1);
    const std::size_t count = sums_.size();
    rest_.assign(count * count, 0);
    for (std::size_t from = 0; from < count; ++from) {
      for (std::size_t to = from; to < count; ++to) {
        rest_[from * count + to] =
            static_cast<unsigned short>(last_not_above(sums_, sums_[to] - sums_[from]));
      }
    }
  }
  [[nodiscard]] bool usable() const { return !sums_.empty(); }

  int most(Whole width, Whole length) { return solve(box(width, length)); }
  [[nodiscard]] Part part(Whole width, Whole length) {
    return within(build(box(width, length)), width, length);
  }

 private:
  enum class How { rows_upright, rows_turned, along, across, five };
  struct Node {
    int most = 0;
    int bound = 0;
    bool solved = false;
    How how = How::rows_upright;
    std::array<std::size_t, 4> at{};  ///< x1, x2, y1, y2
  };

  [[nodiscard]] Box box(Whole width, Whole length) const {
    return {last_not_above(sums_, width), last_not_above(sums_, length)};
  }
  [[nodiscard]] Box between(std::size_t x0, std::size_t x1, std::size_t y0, std::size_t y1) const {
    return {rest_[x0 * sums_.size() + x1], rest_[y0 * sums_.size() + y1]};
  }

  Node& node(Box box) {
    int& known = known_[box.j * sums_.size() + box.i];
    if (known < 0) {
      known = static_cast<int>(nodes_.size());
      nodes_.push_back(fresh(sums_[box.i], sums_[box.j]));
    }
    return nodes_[static_cast<std::size_t>(known)];
  }

  [[nodiscard]] Node fresh(Whole width, Whole length) const {
    Node made;
    if (width == 0 || length == 0) {
      made.solved = true;
      return made;
    }
    const Whole upright = (width / a_) * (length / b_);
    const Whole turned = (width / b_) * (length / a_);
    made.how = upright >= turned ? How::rows_upright : How::rows_turned;
    made.most = static_cast<int>(std::max(upright, turned));
    made.bound = static_cast<int>(most_pieces(width, length, a_, b_, true));
    made.solved = made.most >= made.bound;
    return made;
  }

  int solve(Box box) {
    if (node(box).solved) return node(box).most;
    node(box).solved = true;  // set first: a box never needs itself, and the limit may end us early
    halves(box, How::along);
    halves(box, How::across);
    if (node(box).most < node(box).bound) pinwheels(box);
    return node(box).most;
  }

  void improve(Box box, int most, How how, std::array<std::size_t, 4> at) {
    Node& here = node(box);
    if (most <= here.most) return;
    here.most = most;
    here.how = how;
    here.at = at;
  }

  void halves(Box whole, How how) {
    const std::size_t end = how == How::along ? whole.i : whole.j;
    for (std::size_t u = 1; 2 * sums_[u] <= sums_[end]; ++u) {
      if (node(whole).most >= node(whole).bound || !work_.spend(2)) return;
      const Box first = how == How::along ? Box{u, whole.j} : Box{whole.i, u};
      const std::size_t v = last_not_above(sums_, sums_[end] - sums_[u]);
      const Box second = how == How::along ? Box{v, whole.j} : Box{whole.i, v};
      if (node(first).bound + node(second).bound <= node(whole).most) continue;
      const int most = solve(first) + solve(second);
      improve(whole, most, how, {u, v, 0, 0});
    }
  }

  void pinwheels(Box whole) {
    for (std::size_t x1 = 1; x1 < whole.i; ++x1) {
      // Turned half round, the pinwheel is one with x1 and x2 exchanged.
      for (std::size_t x2 = x1 + 1; x2 < whole.i && sums_[x1] + sums_[x2] <= sums_[whole.i]; ++x2) {
        for (std::size_t y1 = 1; y1 < whole.j; ++y1) {
          if (!pinwheels_at(whole, x1, x2, y1)) return;
        }
      }
    }
  }

  bool pinwheels_at(Box whole, std::size_t x1, std::size_t x2, std::size_t y1) {
    for (std::size_t y2 = y1 + 1; y2 < whole.j; ++y2) {
      if (!work_.spend(6)) return false;
      const std::array<Box, 5> boxes = blocks(whole, {x1, x2, y1, y2});
      int most = 0;
      for (const Box& block : boxes)
        most += node(block).solved ? node(block).most : node(block).bound;
      for (const Box& block : boxes) {
        if (most <= node(whole).most) break;
        if (node(block).solved) continue;
        most -= node(block).bound;
        most += solve(block);
      }
      improve(whole, most, How::five, {x1, x2, y1, y2});
      if (node(whole).most >= node(whole).bound) return false;
    }
    return true;
  }

  [[nodiscard]] std::array<Box, 5> blocks(Box whole, std::array<std::size_t, 4> at) const {
    const auto [x1, x2, y1, y2] = at;
    return {between(0, x1, 0, y2), between(x1, whole.i, 0, y1), between(x1, x2, y1, y2),
            between(0, x2, y2, whole.j), between(x2, whole.i, y1, whole.j)};
  }

  Part rows(Whole width, Whole length, bool turned) const {
    const Whole w = turned ? b_ : a_;
    const Whole l = turned ? a_ : b_;
    std::vector<Part> lines;
    for (Whole y = l; y <= length; y += l) {
      std::vector<Part> line;
      for (Whole x = w; x <= width; x += w) line.push_back(piece_part(0, turned, w, l));
      lines.push_back(beside(std::move(line), width, l));
    }
    return behind(std::move(lines), width, length);
  }

  Part build(Box whole) {
    const Node here = node(whole);
    const Whole width = sums_[whole.i];
    const Whole length = sums_[whole.j];
    if (here.most == 0) return waste_part(width, length);
    if (here.how == How::rows_upright || here.how == How::rows_turned) {
      return rows(width, length, here.how == How::rows_turned);
    }
    if (here.how == How::five) return pinwheel(whole, here.at);
    const bool along = here.how == How::along;
    std::vector<Part> parts;
    for (const std::size_t u : {here.at[0], here.at[1]}) {
      parts.push_back(build(along ? Box{u, whole.j} : Box{whole.i, u}));
    }
    return along ? beside(std::move(parts), width, length)
                 : behind(std::move(parts), width, length);
  }

  Part pinwheel(Box whole, std::array<std::size_t, 4> at) {
    const auto [x1, x2, y1, y2] = at;
    Part five = waste_part(sums_[whole.i], sums_[whole.j]);
    five.way = Part::Way::free;
    for (const Box& block : blocks(whole, at)) five.parts.push_back(build(block));
    five.at = {
        {0, 0}, {sums_[x1], 0}, {sums_[x1], sums_[y1]}, {0, sums_[y2]}, {sums_[x2], sums_[y1]}};
    return five;
  }

  Whole a_, b_;
  Work& work_;
  std::vector<Whole> sums_;
  std::vector<unsigned short> rest_;  ///< the greatest sum between two sums, by their indices
  std::vector<int> known_;
  std::vector<Node> nodes_;
};

/// Blocks of some length behind each other: the least sum that yields the demand.
struct Block {
  Whole length = 0;
  int pieces = 0;
};

std::vector<int> chosen_blocks(const std::vector<Block>& blocks, int demand, Whole& length) {
  std::vector<Whole> least(static_cast<std::size_t>(demand) + 1, kNever);
  std::vector<int> last(least.size(), -1);
  least[0] = 0;
  for (int n = 1; n <= demand; ++n) {
    for (std::size_t b = 0; b < blocks.size(); ++b) {
      const int rest = std::max(n - blocks[b].pieces, 0);
      const Whole here = least[static_cast<std::size_t>(rest)] + blocks[b].length;
      if (here >= least[static_cast<std::size_t>(n)]) continue;
      least[static_cast<std::size_t>(n)] = here;
      last[static_cast<std::size_t>(n)] = static_cast<int>(b);
    }
  }
  length = least.back();
  std::vector<int> chosen;
  if (length >= kNever) return chosen;
  for (int n = demand; n > 0;) {
    chosen.push_back(last[static_cast<std::size_t>(n)]);
    n -= blocks[static_cast<std::size_t>(chosen.back())].pieces;
  }
  std::sort(chosen.begin(), chosen.end(), std::greater<>());
  return chosen;
}

}  // namespace

Part five_block(Whole width, Whole length, const Shape& shape, Work& work) {
  if (!shape.upright || !shape.turned) return waste_part(width, length);
  FiveBlock blocks(width, length, shape, work);
  if (!blocks.usable()) return waste_part(width, length);
  blocks.most(width, length);
  return blocks.part(width, length);
}

namespace {

/// Layouts of growing length until the straight plan's or the table's length, or half of the work;
/// only those that hold more than any shorter one.
std::vector<Block> growing_blocks(FiveBlock& layouts, const RollQuestion& question,
                                  Whole most_length, Work& work) {
  const Shape& shape = question.shapes.front();
  std::vector<Block> blocks;
  const auto lengths = sums_of({shape.width, shape.length}, most_length, kMostPositions);
  if (!lengths) return blocks;
  const std::int64_t keep = work.left() / 4;
  for (const Whole length : *lengths) {
    if (length == 0 || work.left() < keep) continue;
    const int pieces = layouts.most(question.width, length);
    if (pieces > (blocks.empty() ? 0 : blocks.back().pieces)) blocks.push_back({length, pieces});
    if (pieces >= shape.demand) break;
  }
  return blocks;
}

}  // namespace

RollAnswer one_kind_free(const RollQuestion& question, Work& work) {
  RollAnswer answer = one_kind_straight(question, work);
  answer.bound = length_bound(question);
  const Shape& shape = question.shapes.front();
  // Sums of sides up to some lengths of the piece; longer layouts are these behind each other.
  const Whole horizon =
      std::min({question.longest, answer.length, 12 * std::max(shape.width, shape.length)});
  Work for_layouts(kFreeWork);
  FiveBlock layouts(question.width, horizon, shape, for_layouts);
  if (shape.upright && shape.turned && answer.bound < answer.length && layouts.usable()) {
    const auto blocks = growing_blocks(layouts, question, horizon, for_layouts);
    Whole length = kNever;
    const auto chosen = chosen_blocks(blocks, shape.demand, length);
    if (length < answer.length) {
      answer.cut_offs.clear();
      answer.length = length;
      int left = shape.demand;
      for (const int b : chosen) {
        const Block& block = blocks[static_cast<std::size_t>(b)];
        Part part = layouts.part(question.width, block.length);
        answer.cut_offs.push_back(trimmed(std::move(part), {left}));
        left -= std::min(left, block.pieces);
      }
    }
  }
  answer.optimal = answer.bound == answer.length;
  answer.work_ended = !answer.optimal;
  return answer;
}

}  // namespace pouchwright::lay
