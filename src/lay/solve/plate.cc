/// The most valuable set from one plate. First a table that ignores the demands: it bounds the
/// value, and where its filling keeps the demands, that is the answer. Else a best-first search
/// after K. V. Viswanathan and A. Bagchi (Operations Research 41, 1993, from memory): rectangles
/// already built are put beside or behind each other, the most promising first; what a rectangle
/// promises is its value plus a bound on what can lie around it in the plate. Building joins whole
/// rectangles and so loses nothing when demands are limited, as shrinking cut positions to sums
/// would.
#include <algorithm>
#include <map>
#include <numeric>
#include <optional>
#include <queue>
#include <utility>

#include "lay/solve/solvers.h"
#include "lay/solve/table.h"

namespace pouchwright::lay {

namespace {

constexpr std::size_t kMostPositions = 600;
constexpr std::int64_t kMostTableSteps = 60'000'000;
constexpr std::size_t kSomePositions = 120;
constexpr std::size_t kMostBuilt = 60'000;

std::vector<Whole> sides(const std::vector<Shape>& shapes, Whole width, Whole length, bool along) {
  std::vector<Whole> found;
  for (const Pose& pose : poses(shapes, width, length)) {
    if (shapes[static_cast<std::size_t>(pose.kind)].demand == 0) continue;
    found.push_back(along ? pose.length : pose.width);
  }
  return found;
}

/// What can lie around a rectangle in the plate at most, by the table that ignores the demands.
class Around {
 public:
  explicit Around(const Table& table) : table_(table) {
    const std::size_t nx = table.across().size();
    const std::size_t ny = table.along().size();
    most_.assign(nx * ny, 0);
    // A built rectangle has sums of sides as its own, and grows to the right or to the back; what
    // stands out beyond it was first put behind or beside bare cloth.
    for (std::size_t j = ny; j-- > 0;) {
      for (std::size_t i = nx; i-- > 0;) most_[j * nx + i] = grown(i, j);
    }
  }

  /// For a rectangle of any size that fits: rounding it down bounds from above.
  [[nodiscard]] Whole most(Whole width, Whole length) const {
    const std::size_t i = last_not_above(table_.across(), width);
    const std::size_t j = last_not_above(table_.along(), length);
    return most_[j * table_.across().size() + i];
  }

 private:
  [[nodiscard]] Whole grown(std::size_t i, std::size_t j) const {
    const auto& xs = table_.across();
    const auto& ys = table_.along();
    Whole best = 0;
    for (std::size_t u = i + 1; u < xs.size(); ++u) {
      best = std::max(best, fill(xs[u] - xs[i], ys[j]) + most_[j * xs.size() + u]);
    }
    for (std::size_t v = j + 1; v < ys.size(); ++v) {
      best = std::max(best, fill(xs[i], ys[v] - ys[j]) + most_[v * xs.size() + i]);
    }
    return best;
  }
  [[nodiscard]] Whole fill(Whole width, Whole length) const {
    return table_.value(last_not_above(table_.across(), width),
                        last_not_above(table_.along(), length));
  }

  const Table& table_;
  std::vector<Whole> most_;
};

/// A rectangle built from two others, or a piece.
struct Built {
  Whole width = 0, length = 0;
  Whole value = 0;
  Whole promise = 0;
  std::vector<unsigned short> counts;
  int pose = -1;
  int first = -1, second = -1;
  bool side_by_side = false;
};

class Search {
 public:
  Search(Whole width, Whole length, const std::vector<Shape>& shapes, const Table* bound_table,
         Work& work)
      : width_(width), length_(length), shapes_(shapes), work_(work) {
    if (bound_table != nullptr) around_.emplace(*bound_table);
    poses_ = poses(shapes, width, length);
    order_by_density();
  }

  /// Looks for more than `value`; true if the search was complete.
  bool run(Whole value) {
    best_value_ = value;
    for (std::size_t p = 0; p < poses_.size(); ++p) add_piece(static_cast<int>(p));
    while (!waiting_.empty()) {
      const auto [promise, index] = waiting_.top();
      if (promise <= best_value_) return true;
      if (!work_.spend(1) || built_.size() > kMostBuilt) return false;
      waiting_.pop();
      done_.push_back(-index);
      for (const int other : done_) {
        if (!work_.spend(static_cast<std::int64_t>(shapes_.size()))) return false;
        join(-index, other);
      }
    }
    return true;
  }

  [[nodiscard]] bool found() const { return best_ >= 0; }
  [[nodiscard]] Whole value() const { return best_value_; }
  /// No set is worth more.
  [[nodiscard]] Whole bound() const {
    return waiting_.empty() ? best_value_ : std::max(best_value_, waiting_.top().first);
  }
  [[nodiscard]] Part part() const { return within(build(best_), width_, length_); }

 private:
  void order_by_density() {
    for (std::size_t k = 0; k < shapes_.size(); ++k) by_density_.push_back(k);
    std::stable_sort(by_density_.begin(), by_density_.end(), [&](std::size_t a, std::size_t b) {
      return shapes_[a].value * shapes_[b].area() > shapes_[b].value * shapes_[a].area();
    });
  }

  void add_piece(int pose) {
    const Pose& here = poses_[static_cast<std::size_t>(pose)];
    const auto kind = static_cast<std::size_t>(here.kind);
    if (shapes_[kind].demand == 0) return;
    Built piece;
    piece.width = here.width;
    piece.length = here.length;
    piece.value = shapes_[kind].value;
    piece.counts.assign(shapes_.size(), 0);
    piece.counts[kind] = 1;
    piece.pose = pose;
    add(std::move(piece));
  }

  void join(int a, int b) {
    const Built& first = built_[static_cast<std::size_t>(a)];
    const Built& second = built_[static_cast<std::size_t>(b)];
    const bool beside_fits = first.width + second.width <= width_;
    const bool behind_fits = first.length + second.length <= length_;
    if (!beside_fits && !behind_fits) return;
    Built both;
    both.counts.resize(shapes_.size());
    for (std::size_t k = 0; k < shapes_.size(); ++k) {
      both.counts[k] = static_cast<unsigned short>(first.counts[k] + second.counts[k]);
      if (both.counts[k] > shapes_[k].demand) return;
    }
    both.value = first.value + second.value;
    both.first = a;
    both.second = b;
    const Whole widths = first.width + second.width;
    const Whole lengths = first.length + second.length;
    const Whole wider = std::max(first.width, second.width);
    const Whole longer = std::max(first.length, second.length);
    if (beside_fits) {
      Built row = both;
      row.side_by_side = true;
      row.width = widths;
      row.length = longer;
      add(std::move(row));
    }
    if (behind_fits) {
      both.width = wider;
      both.length = lengths;
      add(std::move(both));
    }
  }

  void add(Built built) {
    built.promise = built.value + rest_bound(built);
    if (built.promise <= best_value_ && built.value <= best_value_) return;
    auto& alike = known_[built.counts];
    for (const auto& [width, length] : alike) {
      if (width <= built.width && length <= built.length) return;
    }
    alike.emplace_back(built.width, built.length);
    const int index = static_cast<int>(built_.size());
    if (built.value > best_value_) {
      best_value_ = built.value;
      best_ = index;
    }
    waiting_.emplace(built.promise, -index);
    built_.push_back(std::move(built));
  }

  /// The rest of the plate filled with the pieces left: by the table, and by the densest of them in
  /// the bare area.
  [[nodiscard]] Whole rest_bound(const Built& built) const {
    Wide bare = Wide{width_} * length_ - Wide{built.width} * built.length;
    Whole by_area = 0;
    for (const std::size_t k : by_density_) {
      const int left = shapes_[k].demand - built.counts[k];
      if (left <= 0) continue;
      const Wide area = shapes_[k].area();
      if (area * left <= bare) {
        by_area += shapes_[k].value * left;
        bare -= area * left;
        continue;
      }
      by_area += static_cast<Whole>(Wide{shapes_[k].value} * bare / area);
      break;
    }
    if (!around_) return by_area;
    return std::min(by_area, around_->most(built.width, built.length));
  }

  [[nodiscard]] Part build(int index) const {
    const Built& built = built_[static_cast<std::size_t>(index)];
    if (built.pose >= 0) {
      const Pose& pose = poses_[static_cast<std::size_t>(built.pose)];
      return piece_part(pose.kind, pose.turned, pose.width, pose.length);
    }
    std::vector<Part> parts;
    parts.push_back(build(built.first));
    parts.push_back(build(built.second));
    return built.side_by_side ? beside(std::move(parts), built.width, built.length)
                              : behind(std::move(parts), built.width, built.length);
  }

  Whole width_, length_;
  const std::vector<Shape>& shapes_;
  Work& work_;
  std::optional<Around> around_;
  std::vector<Pose> poses_;
  std::vector<std::size_t> by_density_;
  std::vector<Built> built_;
  std::vector<int> done_;
  std::priority_queue<std::pair<Whole, int>> waiting_;  ///< older first among equals
  std::map<std::vector<unsigned short>, std::vector<std::pair<Whole, Whole>>> known_;
  Whole best_value_ = 0;
  int best_ = -1;
};

/// Positions at every sum of sides, if the table over them is small enough.
struct Positions {
  std::vector<Whole> across, along;
  bool all = false;
};

Positions positions_for(Whole width, Whole length, const std::vector<Shape>& shapes) {
  const auto wide = sides(shapes, width, length, false);
  const auto along = sides(shapes, width, length, true);
  const auto xs = sums_of(wide, width, kMostPositions);
  const auto ys = sums_of(along, length, kMostPositions);
  if (xs && ys) {
    const auto nx = static_cast<std::int64_t>(xs->size());
    const auto ny = static_cast<std::int64_t>(ys->size());
    if (nx * ny * (nx + ny) / 4 <= kMostTableSteps) return {*xs, *ys, true};
  }
  return {some_sums_of(wide, width, kSomePositions), some_sums_of(along, length, kSomePositions),
          false};
}

/// The table that keeps demands costs more a cell: it does with fewer positions.
Positions fewer_positions(const Positions& positions, Whole width, Whole length,
                          const std::vector<Shape>& shapes) {
  constexpr std::size_t kMostCells = 20'000;
  if (positions.across.size() * positions.along.size() <= kMostCells) return positions;
  return {some_sums_of(sides(shapes, width, length, false), width, kSomePositions),
          some_sums_of(sides(shapes, width, length, true), length, kSomePositions), false};
}

Whole all_demands(const std::vector<Shape>& shapes) {
  Whole value = 0;
  for (const Shape& shape : shapes) value += shape.value * shape.demand;
  return value;
}

bool keeps_demands(const std::vector<int>& counts, const std::vector<Shape>& shapes) {
  for (std::size_t k = 0; k < shapes.size(); ++k) {
    if (counts[k] > shapes[k].demand) return false;
  }
  return true;
}

PlateAnswer finished(PlateAnswer answer, Whole width, Whole length) {
  answer.part = within(std::move(answer.part), width, length);
  answer.optimal = answer.bound == answer.value;
  return answer;
}

}  // namespace

PlateAnswer most_valuable(Whole width, Whole length, const std::vector<Shape>& shapes, Work& work) {
  PlateAnswer answer;
  answer.part = waste_part(width, length);
  if (sides(shapes, width, length, false).empty()) return finished(answer, width, length);
  const Positions positions = positions_for(width, length, shapes);
  std::optional<Table> unlimited;
  answer.bound = all_demands(shapes);
  if (positions.all) {
    unlimited.emplace(positions.across, positions.along, shapes, Limits::ignored, work);
    const std::size_t i = positions.across.size() - 1;
    const std::size_t j = positions.along.size() - 1;
    if (!work.ended()) answer.bound = std::min(answer.bound, unlimited->value(i, j));
    if (keeps_demands(unlimited->counts(i, j), shapes)) {
      answer.part = unlimited->part(i, j);
      answer.value = unlimited->value(i, j);
      return finished(std::move(answer), width, length);
    }
  }
  const Positions fewer = fewer_positions(positions, width, length, shapes);
  const Table limited(fewer.across, fewer.along, shapes, Limits::kept, work);
  const std::size_t i = limited.across().size() - 1;
  const std::size_t j = limited.along().size() - 1;
  answer.value = limited.value(i, j);
  answer.part = limited.part(i, j);
  if (answer.value == answer.bound || work.ended()) {
    return finished(std::move(answer), width, length);
  }
  Search search(width, length, shapes, unlimited ? &*unlimited : nullptr, work);
  const bool complete = search.run(answer.value);
  if (search.found()) {
    answer.part = search.part();
    answer.value = search.value();
  }
  answer.bound = complete ? answer.value : std::min(answer.bound, search.bound());
  return finished(std::move(answer), width, length);
}

}  // namespace pouchwright::lay
