#include "lay/solve/generation.h"

#include <algorithm>
#include <utility>

#include "lay/solve/columns.h"
#include "lay/solve/table.h"

namespace pouchwright::lay {

namespace {

constexpr std::size_t kAcross = 160, kAlong = 90;
/// Columns look at longer lengths, in so many positions.
constexpr std::size_t kAlongColumns = 300;
constexpr int kColumnsReach = 8;
/// A price of 1 a unit, as a value. Sums of 2000 pieces stay far below 2^62.
constexpr int kValueBits = 38;
constexpr int kTakenAtOnce = 10;

std::vector<Whole> sides(const RollQuestion& question, Whole longest, bool along) {
  std::vector<Whole> found;
  for (const Pose& pose : poses(question.shapes, question.width, longest)) {
    found.push_back(along ? pose.length : pose.width);
  }
  return found;
}

std::vector<Fixed> demands_of(const RollQuestion& question) {
  std::vector<Fixed> demands;
  for (const Shape& shape : question.shapes) demands.push_back(Fixed::whole(shape.demand));
  return demands;
}

}  // namespace

Generation::Generation(const RollQuestion& question)
    : question_(question), cover_(demands_of(question)) {
  for (const Shape& shape : question.shapes) demands_.push_back(shape.demand);
  for (const Pose& pose : poses(question.shapes, question.width, question.longest)) {
    unit_ = std::max(unit_, pose.length);
  }
  add_rows_of_one_kind();
}

/// One row of each kind, in the direction that takes the least cloth: a mix to begin with.
void Generation::add_rows_of_one_kind() {
  const auto all = poses(question_.shapes, question_.width, question_.longest);
  for (std::size_t k = 0; k < demands_.size(); ++k) {
    const Pose* best = nullptr;
    Whole shortest = kNever;
    const auto across = [&](const Pose& pose) {
      return std::min<Whole>(question_.width / pose.width, demands_[k]);
    };
    for (const Pose& pose : all) {
      if (static_cast<std::size_t>(pose.kind) != k) continue;
      shortest = std::min(shortest, pose.length);
      if (best == nullptr ||
          Wide{pose.length} * across(*best) < Wide{best->length} * across(pose)) {
        best = &pose;
      }
    }
    longest_ = std::max(longest_, shortest);
    const std::vector<Part> row(static_cast<std::size_t>(across(*best)),
                                piece_part(best->kind, best->turned, best->width, best->length));
    add(beside(row, question_.width, best->length));
  }
}

bool Generation::add(Part part) {
  std::vector<int> counts = count_pieces(part, demands_.size());
  if (known_.size() >= demands_.size() && !known_.insert(counts).second) return false;
  known_.insert(counts);
  Cover::Column column;
  column.cost = Fixed::fraction(part.length, unit_);
  for (const int count : counts) column.covers.push_back(Fixed::whole(count));
  cover_.add(std::move(column));
  parts_.push_back(std::move(part));
  return true;
}

void Generation::set_values() {
  const std::vector<Fixed> prices = cover_.prices();
  for (std::size_t k = 0; k < demands_.size(); ++k) {
    const Wide value = prices[k].raw() >> (Fixed::kBits - kValueBits);
    question_.shapes[k].value = std::max<Whole>(1, static_cast<Whole>(value));
  }
}

void Generation::fill_at_prices(const Use& use, Work& work) {
  set_values();
  for (const int reach : {2, 4}) {
    const Whole horizon = std::min(question_.longest, reach * longest_);
    const Table table(some_sums_of(sides(question_, horizon, false), question_.width, kAcross),
                      some_sums_of(sides(question_, horizon, true), horizon, kAlong),
                      question_.shapes, Limits::kept, work);
    const std::size_t i = table.across().size() - 1;
    use({table.along(), [&](std::size_t j) { return table.value(i, j); },
         [&](std::size_t j) { return table.part(i, j); }});
  }
  const Whole horizon = std::min(question_.longest, kColumnsReach * longest_);
  const Columns columns(some_sums_of(sides(question_, horizon, false), question_.width, kAcross),
                        some_sums_of(sides(question_, horizon, true), horizon, kAlongColumns),
                        question_.shapes, work);
  use({columns.along(), [&](std::size_t j) { return columns.value(j); },
       [&](std::size_t j) { return trimmed(columns.part(j), demands_); }});
}

/// The fillings that save most a length.
int Generation::take_best(const Filled& filled) {
  struct Saving {
    Fixed each;
    std::size_t j = 0;
  };
  std::vector<Saving> savings;
  for (std::size_t j = 1; j < filled.along.size(); ++j) {
    const Fixed worth = Fixed::units(Wide{filled.worth(j)} << (Fixed::kBits - kValueBits));
    const Fixed cost = Fixed::fraction(filled.along[j], unit_);
    if (worth - cost > Fixed::fraction(1, 1'000'000)) savings.push_back({(worth - cost) / cost, j});
  }
  std::stable_sort(savings.begin(), savings.end(),
                   [](const Saving& a, const Saving& b) { return a.each > b.each; });
  int taken = 0;
  for (const Saving& saving : savings) {
    if (taken == kTakenAtOnce) break;
    Part part = filled.part(saving.j);
    if (add(within(std::move(part), question_.width, filled.along[saving.j]))) ++taken;
  }
  return taken;
}

void Generation::run(int rounds, Work& work) {
  for (int round = 0; round < rounds && !work.ended(); ++round) {
    cover_.solve(work);
    int taken = 0;
    fill_at_prices([&](const Filled& filled) { taken += take_best(filled); }, work);
    if (taken == 0) break;
  }
  cover_.solve(work);
}

void Generation::collect(const std::vector<Shape>& shapes, Patterns& patterns, Work& work) {
  const auto offer = [&](const Part& part) {
    Pattern pattern{part, count_pieces(part, demands_.size()), 0, 0};
    for (std::size_t k = 0; k < demands_.size(); ++k) {
      pattern.area += shapes[k].takes() * pattern.counts[k];
    }
    const Wide whole = Wide{question_.width} * part.length;
    pattern.waste = whole - pattern.area;
    if (patterns.wants(pattern.counts, pattern.area, whole)) patterns.add(std::move(pattern));
  };
  for (const Part& part : parts_) offer(part);
  fill_at_prices(
      [&](const Filled& filled) {
        for (std::size_t j = 1; j < filled.along.size(); ++j) {
          const Fixed worth = Fixed::units(Wide{filled.worth(j)} << (Fixed::kBits - kValueBits));
          const Fixed cost = Fixed::fraction(filled.along[j], unit_);
          if (filled.worth(j) == filled.worth(j - 1) || worth < cost * Fixed::fraction(96, 100)) {
            continue;
          }
          offer(within(filled.part(j), question_.width, filled.along[j]));
        }
      },
      work);
}

std::vector<Wide> Generation::shares() const {
  std::vector<Wide> shares;
  for (const Fixed price : cover_.prices()) {
    // In two steps: a price, a width and a length together could overflow.
    shares.push_back(((price.raw() * unit_) >> Fixed::kBits) * question_.width);
  }
  return shares;
}

Generation::Begun Generation::whole_ones() const {
  Begun begun{{}, demands_};
  const std::vector<Fixed> amounts = cover_.amounts();
  for (std::size_t c = 0; c < amounts.size(); ++c) {
    const std::vector<int> counts = count_pieces(parts_[c], demands_.size());
    for (Whole i = 0; i < amounts[c].floor(); ++i) {
      Part part = trimmed(parts_[c], begun.left);
      if (count_pieces(part, demands_.size()) != counts) break;
      for (std::size_t k = 0; k < counts.size(); ++k) begun.left[k] -= counts[k];
      begun.cut_offs.push_back(std::move(part));
    }
  }
  return begun;
}

}  // namespace pouchwright::lay
