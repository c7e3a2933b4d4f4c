/// Several kinds, straight cuts. Lengths worth cutting off are generated column by column of a linear
/// program; what its mix has whole begins a plan, and greedy plans lay the rest: of all lengths that
/// could be cut off, the one that a table fills best, again and again, where each plan values higher
/// what the one before laid badly. From the fullest lengths of all these a plan is put together.
/// Where the sets of pieces are few, longer and longer targets are tried exactly, from the bound up:
/// each failure raises the bound, the first success is the least length.
#include <algorithm>
#include <utility>

#include "lay/solve/combined.h"
#include "lay/solve/generation.h"
#include "lay/solve/joined.h"
#include "lay/solve/slices.h"
#include "lay/solve/solvers.h"
#include "lay/solve/table.h"
#include "lay/solve/tidy.h"

namespace pouchwright::lay {

namespace {

constexpr std::size_t kAcross = 160;
constexpr std::size_t kAlong = 90;
constexpr std::int64_t kMostSets = 4'000'000;
constexpr int kRounds = 30;
constexpr int kPlans = 60, kPlansOfMany = 200, kPlansOfRest = 15;
constexpr int kLongPlan = 250;  ///< pieces
constexpr int kMostPiecesEver = std::numeric_limits<int>::max();

Whole length_of(const std::vector<Part>& cut_offs) {
  Whole length = 0;
  for (const Part& part : cut_offs) length += part.length;
  return length;
}

int all_of(const std::vector<Shape>& shapes) {
  int pieces = 0;
  for (const Shape& shape : shapes) pieces += shape.demand;
  return pieces;
}

std::vector<Whole> sides(const RollQuestion& question, Whole longest, bool along) {
  std::vector<Whole> found;
  for (const Pose& pose : poses(question.shapes, question.width, longest)) {
    if (question.shapes[static_cast<std::size_t>(pose.kind)].demand == 0) continue;
    found.push_back(along ? pose.length : pose.width);
  }
  return found;
}

/// How a greedy plan chooses: `lean` favours long pieces, which fit worst at the end; `spread` lets
/// a length have only its share of the small kinds, times `spread` / 4, so that fillers last to the
/// end (0: all of them at once); lengths up to `reach` times the longest piece are looked at.
struct Taste {
  int lean = 0;
  int spread = 0;
  int reach = 2;
};

/// What a piece is worth beside its area, by kind: kParity if no more than that.
using Worths = std::vector<Whole>;
constexpr Whole kParity = 1024;

/// Areas, weighed, as values.
void set_values(std::vector<Shape>& shapes, int lean, const Worths& worths) {
  Wide total = 0;
  Whole longest = 1;
  for (const Shape& shape : shapes) {
    total += shape.takes() * (shape.demand + 1) * kParity;
    longest = std::max({longest, shape.width, shape.length});
  }
  Wide unit = 1;
  while (total / unit > (Wide{1} << 52)) unit *= 2;
  for (std::size_t k = 0; k < shapes.size(); ++k) {
    Shape& shape = shapes[k];
    const Wide more = Wide{lean} * 16 * std::max(shape.width, shape.length) / longest;
    const Wide weighed = shape.takes() * worths[k] * (16 + more) / 16 / unit;
    shape.value = std::max<Whole>(1, static_cast<Whole>(weighed));
  }
}

Wide area_of(const std::vector<int>& counts, const std::vector<Shape>& shapes) {
  Wide area = 0;
  for (std::size_t k = 0; k < shapes.size(); ++k) area += shapes[k].takes() * counts[k];
  return area;
}

/// Only a share of the kinds that are smaller than the largest by far.
RollQuestion with_shares(RollQuestion question, Whole length, int spread) {
  if (spread == 0) return question;
  Wide left = 0;
  Wide largest = 0;
  for (const Shape& shape : question.shapes) {
    left += shape.area() * shape.demand;
    if (shape.demand > 0) largest = std::max(largest, shape.area());
  }
  for (Shape& shape : question.shapes) {
    if (shape.demand == 0 || shape.area() * 4 > largest) continue;
    const Wide share = Wide{shape.demand} * question.width / 4 * length * spread / left;
    shape.demand = static_cast<int>(std::min<Wide>(shape.demand, share + 1));
  }
  return question;
}

Pattern pattern_at(const Table& table, std::size_t j, const RollQuestion& question) {
  const std::size_t i = table.across().size() - 1;
  const Whole length = table.along()[j];
  Pattern pattern{within(table.part(i, j), question.width, length), table.counts(i, j), 0, 0};
  pattern.area = area_of(pattern.counts, question.shapes);
  pattern.waste = Wide{question.width} * length - pattern.area;
  return pattern;
}

void keep_full(const Table& table, const RollQuestion& question, Patterns& patterns) {
  const std::size_t i = table.across().size() - 1;
  for (std::size_t j = 1; j < table.along().size(); ++j) {
    if (table.value(i, j) == table.value(i, j - 1)) continue;
    const std::vector<int> counts = table.counts(i, j);
    const Wide whole = Wide{question.width} * table.along()[j];
    if (patterns.wants(counts, area_of(counts, question.shapes), whole)) {
      patterns.add(pattern_at(table, j, question));
    }
  }
}

/// The pattern of the greatest value a length; of equal ones the shortest. All full ones are kept.
Pattern densest(const RollQuestion& question, Taste taste, Patterns& patterns, Work& work) {
  Whole shortest = 0;
  for (const Pose& pose : poses(question.shapes, question.width, question.longest)) {
    if (question.shapes[static_cast<std::size_t>(pose.kind)].demand == 0) continue;
    shortest = std::max(shortest, std::min(pose.length, question.longest));
  }
  const Whole horizon = std::min(question.longest, taste.reach * shortest);
  const RollQuestion shared = with_shares(question, shortest, taste.spread);
  const Table table(some_sums_of(sides(question, horizon, false), question.width, kAcross),
                    some_sums_of(sides(question, horizon, true), horizon, kAlong), shared.shapes,
                    Limits::kept, work);
  const std::size_t i = table.across().size() - 1;
  std::size_t best = 0;
  for (std::size_t j = 1; j < table.along().size(); ++j) {
    if (table.value(i, j) == 0) continue;
    const Wide here = Wide{table.value(i, j)} * (best == 0 ? 1 : table.along()[best]);
    const Wide there = best == 0 ? 0 : Wide{table.value(i, best)} * table.along()[j];
    if (here > there) best = j;
  }
  keep_full(table, question, patterns);
  return pattern_at(table, best, question);
}

std::vector<Part> greedy(RollQuestion question, Taste taste, const Worths& worths,
                         Patterns& patterns, Work& work) {
  std::vector<Part> cut_offs;
  while (all_of(question.shapes) > 0) {
    set_values(question.shapes, taste.lean, worths);
    const Pattern pattern = densest(question, taste, patterns, work);
    int times = kMostPiecesEver;
    for (std::size_t k = 0; k < question.shapes.size(); ++k) {
      if (pattern.counts[k] > 0) {
        times = std::min(times, question.shapes[k].demand / pattern.counts[k]);
      }
    }
    for (std::size_t k = 0; k < question.shapes.size(); ++k) {
      question.shapes[k].demand -= times * pattern.counts[k];
    }
    for (int i = 0; i < times; ++i) cut_offs.push_back(pattern.part);
  }
  return cut_offs;
}

/// Kinds that lay in badly filled lengths become worth more, so that the next plan takes them
/// earlier (after the sequential value correction of G. Belov and G. Scheithauer 2007).
void correct(Worths& worths, const RollQuestion& question, const std::vector<Part>& cut_offs) {
  std::vector<Whole> sums(worths.size(), 0);
  for (const Part& part : cut_offs) {
    const std::vector<int> counts = count_pieces(part, worths.size());
    const Wide used = std::max<Wide>(area_of(counts, question.shapes), 1);
    const Wide whole = Wide{question.width} * part.length;
    const auto share = static_cast<Whole>(std::min(whole * kParity / used, Wide{4} * kParity));
    for (std::size_t k = 0; k < worths.size(); ++k) sums[k] += counts[k] * share;
  }
  for (std::size_t k = 0; k < worths.size(); ++k) {
    if (question.shapes[k].demand == 0) continue;
    const Whole mean = sums[k] / question.shapes[k].demand;
    worths[k] = (worths[k] + mean) / 2;
  }
}

/// Shorter, or as short with fewer settings of the ruler.
bool better(const std::vector<Part>& a, const std::vector<Part>& b) {
  const Whole length_a = length_of(a);
  const Whole length_b = length_of(b);
  return length_a < length_b ||
         (length_a == length_b && settings_for(tidied(a)) < settings_for(tidied(b)));
}

/// The best of several greedy plans, each after the lessons of the one before; stops when less
/// than `keep` of the work is left.
std::vector<Part> best_greedy(const RollQuestion& question, int rounds, std::int64_t keep,
                              Patterns& patterns, Work& work) {
  constexpr Taste kTastes[] = {{0, 0, 2}, {1, 4, 4}, {0, 5, 3}, {2, 0, 4}, {1, 6, 2}};
  std::vector<Part> best;
  Worths worths(question.shapes.size(), kParity);
  for (int round = 0; round < rounds && (best.empty() || work.left() > keep); ++round) {
    const Taste taste = kTastes[static_cast<std::size_t>(round) % std::size(kTastes)];
    std::vector<Part> plan = greedy(question, taste, worths, patterns, work);
    correct(worths, question, plan);
    if (best.empty() || better(plan, best)) best = std::move(plan);
  }
  return best;
}

/// What pieces take at the prices of the mix; a little by their areas, so that none is for nothing.
void reckon_with(const std::vector<Wide>& shares, std::vector<Shape>& shapes) {
  for (std::size_t k = 0; k < shapes.size(); ++k) {
    shapes[k].share = (15 * shares[k] + shapes[k].area()) / 16;
  }
}

/// Full patterns of two kinds, then of three, and so on: few sides have few sums, and a table of
/// few positions wastes less.
void fill_with_few_kinds(const RollQuestion& question, Patterns& patterns, Work& work) {
  const std::size_t kinds = question.shapes.size();
  RollQuestion some = question;
  set_values(some.shapes, 0, Worths(kinds, kParity));
  for (std::size_t few = 2; few <= kinds; ++few) {
    std::vector<bool> in(kinds, false);
    std::fill_n(in.begin(), few, true);
    do {
      for (std::size_t k = 0; k < kinds; ++k) {
        some.shapes[k].demand = in[k] ? question.shapes[k].demand : 0;
      }
      for (const int reach : {2, 4}) {
        if (work.ended()) return;
        (void)densest(some, {0, 0, reach}, patterns, work);
      }
    } while (std::prev_permutation(in.begin(), in.end()));
  }
}

/// Greedy plans, and tables of a few kinds at a time, from whose fullest lengths the worst part is put
/// together anew.
std::vector<Part> plan_from_tables(RollQuestion question, Work& work) {
  for (Shape& shape : question.shapes) shape.share = shape.area();
  // Of a long plan only the worst is put together anew: greedy plans have to do the most.
  const int tenths = all_of(question.shapes) > kLongPlan ? 5 : 1;
  Patterns patterns;
  std::vector<Part> best =
      best_greedy(question, kPlansOfMany, work.left() / 10 * (10 - tenths), patterns, work);
  Work for_tables(work.left() / 10 * 6);
  Work for_combining(work.left() / 10 * 4);
  fill_with_few_kinds(question, patterns, for_tables);
  combine(question, patterns, best, for_combining);
  return best;
}

/// Lengths are generated; the mix of them is begun with what it has whole, the rest laid greedily,
/// and all put together anew from the fullest lengths; then once more from greedy plans of all.
std::vector<Part> plan_from_mix(const RollQuestion& asked, Work& work) {
  const std::int64_t tenth = work.left() / 10;
  Generation generation(asked);
  Work for_generating(3 * tenth);
  generation.run(kRounds, for_generating);
  RollQuestion question = asked;
  reckon_with(generation.shares(), question.shapes);
  Patterns patterns;
  Work for_collecting(tenth);
  generation.collect(question.shapes, patterns, for_collecting);
  Generation::Begun begun = generation.whole_ones();
  RollQuestion rest = question;
  for (std::size_t k = 0; k < begun.left.size(); ++k) rest.shapes[k].demand = begun.left[k];
  std::vector<Part> best = std::move(begun.cut_offs);
  Work for_rest(tenth);
  for (Part& part : best_greedy(rest, kPlansOfRest, tenth / 2, patterns, for_rest)) {
    best.push_back(std::move(part));
  }
  Work for_combining(2 * tenth);
  combine(question, patterns, best, for_combining);
  Work for_greedy(2 * tenth);
  std::vector<Part> other = best_greedy(question, kPlans, tenth / 4, patterns, for_greedy);
  if (better(other, best)) best = std::move(other);
  Work for_combining_again(tenth);
  combine(question, patterns, best, for_combining_again);
  return best;
}

/// Of many kinds a mix has few lengths whole, and what is left of them at the end is seldom laid well:
/// then tables have the most of the work.
std::vector<Part> good_plan(const RollQuestion& question, Work& work) {
  if (question.shapes.size() <= kFewKinds) return plan_from_mix(question, work);
  const std::int64_t tenth = work.left() / 10;
  Work for_tables(7 * tenth);
  std::vector<Part> best = plan_from_tables(question, for_tables);
  Work for_mix(3 * tenth);
  std::vector<Part> other = plan_from_mix(question, for_mix);
  return better(other, best) ? other : best;
}

void prove(const RollQuestion& question, RollAnswer& answer, Work& work) {
  Whole step = 0;
  while (answer.bound < answer.length && !work.ended()) {
    const Whole target = std::min(answer.bound + step, answer.length - 1);
    const Joined joined(question, target, work);
    if (joined.outcome() == Joined::Outcome::ended) return;
    if (joined.outcome() == Joined::Outcome::found) {
      answer.cut_offs = joined.cut_offs();
      answer.length = answer.bound = joined.length();
      return;
    }
    answer.bound = std::min(reachable_length(question, target + 1), answer.length);
    const Whole next_step = (answer.length - answer.bound) / 16;
    step = std::max(2 * step, next_step);
  }
}

}  // namespace

RollAnswer several_kinds(const RollQuestion& asked, Work& work) {
  RollAnswer answer;
  answer.bound = length_bound(asked);
  const SlicesBound by_slices = slices_bound(asked, work);
  RollQuestion question = asked;
  for (std::size_t k = 0; k < question.shapes.size(); ++k) {
    Shape& shape = question.shapes[k];
    shape.share = (by_slices.shares[k] * 7 + shape.area()) / 8;
  }
  if (by_slices.length > answer.bound) answer.bound = reachable_length(question, by_slices.length);
  const bool provable = Joined::possible(question.shapes, kMostSets);
  // A proof of the first plan ends a small question, so it is tried before any work goes into
  // better ones.
  Work for_first(provable ? work.left() / 10 : 0);
  if (provable) {
    Patterns patterns;
    answer.cut_offs = best_greedy(question, 1, 0, patterns, for_first);
    answer.length = length_of(answer.cut_offs);
    prove(question, answer, for_first);
  }
  Work for_plan(work.left() / 10 * (provable ? 3 : 8));
  Work for_proof(work.left() / 10 * (provable ? 6 : 2));
  if (!provable || answer.bound < answer.length) {
    auto plan = good_plan(question, for_plan);
    if (!provable || length_of(plan) < answer.length) answer.cut_offs = std::move(plan);
    answer.length = length_of(answer.cut_offs);
    if (provable) prove(question, answer, for_proof);
  }
  work.spend(work.left() - for_first.left() - for_plan.left() - for_proof.left());
  answer.cut_offs = tidied(std::move(answer.cut_offs));
  answer.optimal = answer.bound == answer.length;
  answer.work_ended = !answer.optimal;
  return answer;
}

}  // namespace pouchwright::lay
