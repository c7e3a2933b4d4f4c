/// Several kinds, straight cuts. Greedy plans first: of all lengths that could be cut off, the one
/// that a table fills best, again and again, where each plan values higher what the one before laid
/// badly; then the emptiest lengths are planned anew, and at last some of them exactly. Where
/// the sets of pieces are few, longer and longer targets are then tried exactly, from the bound up:
/// each failure raises the bound, the first success is the least length.
#include <algorithm>
#include <utility>

#include "lay/solve/joined.h"
#include "lay/solve/solvers.h"
#include "lay/solve/table.h"

namespace pouchwright::lay {

namespace {

constexpr std::size_t kAcross = 160;
constexpr std::size_t kAlong = 90;
constexpr std::int64_t kMostSets = 4'000'000;
constexpr std::int64_t kFewSets = 20'000;
constexpr std::int64_t kRelayWork = 2'000'000;
constexpr int kPlans = 200;
constexpr int kPlansAgain = 5;
constexpr int kWithout = 5;  // tries that may bring nothing before the planner rests
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
    total += shape.area() * (shape.demand + 1) * kParity;
    longest = std::max({longest, shape.width, shape.length});
  }
  Wide unit = 1;
  while (total / unit > (Wide{1} << 52)) unit *= 2;
  for (std::size_t k = 0; k < shapes.size(); ++k) {
    Shape& shape = shapes[k];
    const Wide more = Wide{lean} * 16 * std::max(shape.width, shape.length) / longest;
    const Wide weighed = shape.area() * worths[k] * (16 + more) / 16 / unit;
    shape.value = std::max<Whole>(1, static_cast<Whole>(weighed));
  }
}

/// One length to cut off and what it holds.
struct Pattern {
  Part part;
  std::vector<int> counts;
};

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

/// The pattern of the greatest value a length; of equal ones the shortest.
Pattern densest(const RollQuestion& question, Taste taste, Work& work) {
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
  const Whole length = table.along()[best];
  return {within(table.part(i, best), question.width, length), table.counts(i, best)};
}

std::vector<Part> greedy(RollQuestion question, Taste taste, const Worths& worths, Work& work) {
  std::vector<Part> cut_offs;
  while (all_of(question.shapes) > 0) {
    set_values(question.shapes, taste.lean, worths);
    const Pattern pattern = densest(question, taste, work);
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

Wide filled_area(const Part& part, const std::vector<Shape>& shapes) {
  Wide area = 0;
  const std::vector<int> counts = count_pieces(part, shapes.size());
  for (std::size_t k = 0; k < shapes.size(); ++k) area += shapes[k].area() * counts[k];
  return area;
}

/// The same question for the pieces of some cut-offs only.
RollQuestion with_pieces_of(RollQuestion question, const std::vector<Part>& cut_offs) {
  for (Shape& shape : question.shapes) shape.demand = 0;
  for (const Part& part : cut_offs) {
    const std::vector<int> counts = count_pieces(part, question.shapes.size());
    for (std::size_t k = 0; k < counts.size(); ++k) question.shapes[k].demand += counts[k];
  }
  return question;
}

/// The pieces of some cut-offs (ascending indices) laid anew, exactly, if they are few. True if
/// that was shorter.
bool relaid(const RollQuestion& question, std::vector<Part>& cut_offs,
            const std::vector<std::size_t>& some, Work& work) {
  RollQuestion few = question;
  for (Shape& shape : few.shapes) shape.demand = 0;
  Whole length = 0;
  for (const std::size_t i : some) {
    length += cut_offs[i].length;
    const std::vector<int> counts = count_pieces(cut_offs[i], few.shapes.size());
    for (std::size_t k = 0; k < few.shapes.size(); ++k) few.shapes[k].demand += counts[k];
  }
  if (!Joined::possible(few.shapes, kFewSets)) return false;
  const std::int64_t before = std::min(work.left(), kRelayWork);
  Work part_of_it(before);
  const Joined joined(few, length - 1, part_of_it);
  work.spend(before - part_of_it.left() + 1000);
  if (joined.outcome() != Joined::Outcome::found) return false;
  for (std::size_t i = some.size(); i-- > 0;) {
    cut_offs.erase(cut_offs.begin() + static_cast<std::ptrdiff_t>(some[i]));
  }
  for (Part& part : joined.cut_offs()) cut_offs.push_back(std::move(part));
  return true;
}

void emptiest_first(const RollQuestion& question, std::vector<Part>& cut_offs) {
  std::stable_sort(cut_offs.begin(), cut_offs.end(), [&](const Part& a, const Part& b) {
    return filled_area(a, question.shapes) * b.length < filled_area(b, question.shapes) * a.length;
  });
}

/// Groups of cut-offs to lay anew: runs of the emptiest, then pairs and threes of them; those of
/// like patterns only once.
std::vector<std::vector<std::size_t>> groups_of(const std::vector<Part>& cut_offs) {
  constexpr std::size_t kMost = 10;
  std::vector<std::size_t> different;
  for (std::size_t i = 0; i < cut_offs.size() && different.size() < kMost; ++i) {
    const auto times = std::count(cut_offs.begin(),
                                  cut_offs.begin() + static_cast<std::ptrdiff_t>(i), cut_offs[i]);
    if (times < 2) different.push_back(i);
  }
  std::vector<std::vector<std::size_t>> groups;
  for (std::size_t size = std::min<std::size_t>(different.size(), 6); size > 3; --size) {
    for (std::size_t from = 0; from + size <= different.size(); ++from) {
      groups.emplace_back(different.begin() + static_cast<std::ptrdiff_t>(from),
                          different.begin() + static_cast<std::ptrdiff_t>(from + size));
    }
  }
  for (std::size_t c = 0; c < different.size(); ++c) {
    for (std::size_t b = 0; b < c; ++b) {
      for (std::size_t a = 0; a < b; ++a) {
        groups.push_back({different[a], different[b], different[c]});
      }
      groups.push_back({different[b], different[c]});
    }
    groups.push_back({different[c]});
  }
  return groups;
}

/// Lays groups of the emptiest cut-offs anew for as long as it helps.
void improve(const RollQuestion& question, std::vector<Part>& cut_offs, Work& work) {
  constexpr int kRounds = 30;
  for (int round = 0; round < kRounds && !work.ended(); ++round) {
    emptiest_first(question, cut_offs);
    bool better = false;
    for (const auto& group : groups_of(cut_offs)) {
      better = relaid(question, cut_offs, group, work);
      if (better || work.ended()) break;
    }
    if (!better) return;
  }
}

/// Kinds that lay in badly filled lengths become worth more, so that the next plan takes them
/// earlier (after the sequential value correction of G. Belov and G. Scheithauer 2007).
void correct(Worths& worths, const RollQuestion& question, const std::vector<Part>& cut_offs) {
  std::vector<Whole> sums(worths.size(), 0);
  for (const Part& part : cut_offs) {
    const Wide used = std::max<Wide>(filled_area(part, question.shapes), 1);
    const Wide whole = Wide{question.width} * part.length;
    const auto share = static_cast<Whole>(std::min(whole * kParity / used, Wide{4} * kParity));
    const std::vector<int> counts = count_pieces(part, worths.size());
    for (std::size_t k = 0; k < worths.size(); ++k) sums[k] += counts[k] * share;
  }
  for (std::size_t k = 0; k < worths.size(); ++k) {
    if (question.shapes[k].demand == 0) continue;
    const Whole mean = sums[k] / question.shapes[k].demand;
    worths[k] = (worths[k] + mean) / 2;
  }
}

/// The shortest of several greedy plans, each after the lessons of the one before; stops when half
/// of the rounds have brought nothing, or when less than `keep` of the work is left.
std::vector<Part> best_greedy(const RollQuestion& question, int rounds, std::int64_t keep,
                              Work& work) {
  constexpr Taste kTastes[] = {{0, 0, 2}, {1, 4, 4}, {0, 5, 3}, {2, 0, 4}, {1, 6, 2}};
  std::vector<Part> best;
  Worths worths(question.shapes.size(), kParity);
  for (int round = 0; round < rounds && (best.empty() || work.left() > keep); ++round) {
    const Taste taste = kTastes[static_cast<std::size_t>(round) % std::size(kTastes)];
    std::vector<Part> plan = greedy(question, taste, worths, work);
    correct(worths, question, plan);
    if (best.empty() || length_of(plan) < length_of(best)) best = std::move(plan);
  }
  return best;
}

/// Plans the pieces of the emptiest cut-offs anew, half of all lengths first, then fewer and more.
void replan(const RollQuestion& question, std::vector<Part>& cut_offs, Work& work) {
  const std::int64_t keep = work.left() / 4;
  int without = 0;
  for (std::size_t eighths = 4; without < kWithout && work.left() > keep; ++without) {
    emptiest_first(question, cut_offs);
    const std::size_t count = std::max<std::size_t>(cut_offs.size() * eighths / 8, 2);
    if (count > cut_offs.size()) return;
    const auto end = cut_offs.begin() + static_cast<std::ptrdiff_t>(count);
    const std::vector<Part> some(cut_offs.begin(), end);
    const auto again = best_greedy(with_pieces_of(question, some), kPlansAgain, keep, work);
    eighths = eighths == 1 ? 6 : eighths - 1;
    if (length_of(again) >= length_of(some)) continue;
    cut_offs.erase(cut_offs.begin(), end);
    cut_offs.insert(cut_offs.end(), again.begin(), again.end());
    without = -1;
  }
}

std::vector<Part> good_plan(const RollQuestion& question, Work& work) {
  std::vector<Part> best = best_greedy(question, kPlans, work.left() / 2, work);
  replan(question, best, work);
  improve(question, best, work);
  return best;
}

/// Tries targets from the bound up. Each failure raises the bound; the steps grow, so that the last
/// target is just below the plan at hand.
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

RollAnswer several_kinds(const RollQuestion& question, Work& work) {
  RollAnswer answer;
  answer.bound = length_bound(question);
  const bool provable = Joined::possible(question.shapes, kMostSets);
  // A small question is settled before good plans are worth their time.
  Work for_first(provable ? work.left() / 10 : 0);
  if (provable) {
    answer.cut_offs = best_greedy(question, 1, 0, for_first);
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
  answer.optimal = answer.bound == answer.length;
  answer.work_ended = !answer.optimal;
  return answer;
}

}  // namespace pouchwright::lay
