/// Remnants, plies and by-products round the solvers: from a request to a plan.
#include <algorithm>
#include <numeric>
#include <utility>

#include "lay/lay.h"
#include "lay/orders.h"
#include "lay/solve/solvers.h"

namespace pouchwright::lay {

namespace {

/// One kind alone is solved by steps that cost a tenth of the others'.
constexpr std::int64_t kCheapSteps = 12;
/// Steps for one remnant and for one waste.
constexpr std::int64_t kRemnantWork = 40'000'000;
constexpr std::int64_t kWasteWork = 1'000'000;

Shape shape_of(const Kind& kind, int demand) {
  Shape shape;
  shape.width = kind.width.in_nm();
  shape.length = kind.length.in_nm();
  shape.demand = demand;
  shape.upright = kind.turn != Turn::across;
  shape.turned = kind.turn != Turn::along;
  return shape;
}

/// Values as stated; where none is stated, areas in the finest unit that keeps sums in range. If
/// only some are stated, the others' areas count in square millimetres.
std::vector<Shape> valued_shapes(const std::vector<Kind>& kinds, const std::vector<int>& demands) {
  std::vector<Shape> shapes;
  Wide total = 1;
  bool stated = false;
  for (std::size_t k = 0; k < kinds.size(); ++k) {
    shapes.push_back(shape_of(kinds[k], demands[k]));
    total += shapes.back().area() * (demands[k] + 1);
    stated = stated || kinds[k].value;
  }
  Wide unit = stated ? Wide{1'000'000} * 1'000'000 : 1;
  while (total / unit > (Wide{1} << 58)) unit *= 2;
  for (std::size_t k = 0; k < kinds.size(); ++k) {
    shapes[k].value = kinds[k].value
                          ? std::max<Whole>(*kinds[k].value, 0)
                          : std::max<Whole>(1, static_cast<Whole>(shapes[k].area() / unit));
  }
  return shapes;
}

void renumber(Part& part, const std::vector<int>& kinds) {
  if (part.way == Part::Way::piece) part.kind = kinds[static_cast<std::size_t>(part.kind)];
  for (Part& inner : part.parts) renumber(inner, kinds);
}

/// The solver for the question at hand; kinds without demand are left out.
RollAnswer solved(const RollQuestion& question, Cuts cuts, std::int64_t steps) {
  RollQuestion asked = question;
  asked.shapes.clear();
  std::vector<int> kinds;
  for (std::size_t k = 0; k < question.shapes.size(); ++k) {
    if (question.shapes[k].demand == 0) continue;
    asked.shapes.push_back(question.shapes[k]);
    kinds.push_back(static_cast<int>(k));
  }
  RollAnswer answer;
  answer.optimal = kinds.empty();
  if (kinds.empty()) return answer;
  Work work(kinds.size() == 1 ? steps * kCheapSteps : steps);
  if (kinds.size() == 1) {
    answer = cuts == Cuts::straight ? one_kind_straight(asked, work) : one_kind_free(asked, work);
  } else {
    answer = several_kinds(asked, work);
    // What straight cuts cannot do, free cuts may: only the areas bound those.
    if (cuts == Cuts::free) answer.bound = length_bound(asked);
  }
  answer.optimal = answer.bound == answer.length;
  for (Part& part : answer.cut_offs) renumber(part, kinds);
  return answer;
}

/// What is planned on the roll: the part through the plies and the part cut single.
struct Roll {
  RollAnswer through, single;
  Whole length = 0, bound = 0, cloth = 0;
  bool optimal = false;
};

class RollPlanner {
 public:
  RollPlanner(const Request& request, const std::vector<int>& demands, Aim aim = Aim::few_cuts)
      : request_(request), demands_(demands), aim_(aim) {
    for (std::size_t k = 0; k < demands.size(); ++k) {
      shapes_.push_back(shape_of(request.kinds[k], demands[k]));
    }
  }

  [[nodiscard]] int plies() const {
    return request_.plies.way == Plies::Way::single ? 1 : request_.plies.count;
  }
  [[nodiscard]] Whole ply_width() const {
    const Whole width = request_.cloth.width.in_nm();
    return request_.plies.way == Plies::Way::folded ? width / request_.plies.count : width;
  }

  [[nodiscard]] Roll planned() const {
    const int count = plies();
    if (count == 1) return joined(answer(demands_, ply_width()), {});
    std::vector<int> up;
    std::vector<int> down;
    std::vector<int> rest;
    for (const int demand : demands_) {
      up.push_back((demand + count - 1) / count);
      down.push_back(demand / count);
      rest.push_back(demand % count);
    }
    Roll all = joined(answer(up, ply_width()), {});
    if (up == down) return all;
    const Whole width = request_.cloth.width.in_nm();
    Roll parted = joined(answer(down, ply_width()), answer(rest, width));
    const bool part_it = parted.cloth < all.cloth;
    Roll& better = part_it ? parted : all;
    respect_bound_of(part_it ? all : parted, better);
    return std::move(better);
  }

  [[nodiscard]] RollAnswer single() const { return answer(demands_, request_.cloth.width.in_nm()); }

 private:
  [[nodiscard]] RollAnswer answer(const std::vector<int>& demands, Whole width) const {
    RollQuestion question;
    question.width = width;
    question.longest = request_.longest ? request_.longest->in_nm() : kNever;
    question.shapes = shapes_;
    question.aim = aim_;
    for (std::size_t k = 0; k < demands.size(); ++k) question.shapes[k].demand = demands[k];
    return solved(question, request_.cuts, request_.work);
  }

  [[nodiscard]] Whole layers() const {
    return request_.plies.way == Plies::Way::stacked ? request_.plies.count : 1;
  }

  [[nodiscard]] Roll joined(RollAnswer through, RollAnswer single) const {
    Roll roll;
    const bool alone = single.length == 0;
    roll.length = through.length + single.length;
    roll.bound = through.bound + single.bound;
    roll.cloth = layers() * through.length + single.length;
    roll.optimal = through.optimal && (alone || single.optimal);
    roll.through = std::move(through);
    roll.single = std::move(single);
    return roll;
  }

  /// The plan taken may be the best of its way and yet the other way could be shorter.
  void respect_bound_of(const Roll& other, Roll& roll) const {
    const Whole other_least = layers() * other.through.bound + other.single.bound;
    if (other_least >= roll.cloth) return;
    roll.bound = std::min(roll.bound, other.bound);
    roll.optimal = false;
  }

  const Request& request_;
  const std::vector<int>& demands_;
  Aim aim_;
  std::vector<Shape> shapes_;
};

void each_waste(Part& part, std::vector<Part*>& wastes) {
  if (part.way == Part::Way::waste) wastes.push_back(&part);
  for (Part& inner : part.parts) each_waste(inner, wastes);
}

void mark_by_product(Part& part) {
  if (part.way == Part::Way::piece) part.by_product = true;
  for (Part& inner : part.parts) mark_by_product(inner);
}

/// Fills the wastes of a stretch, the largest first, with the by-products that are left.
void fill_wastes(const Request& request, Stretch& stretch, std::vector<int>& left) {
  const int plies = stretch.plies.way == Plies::Way::single ? 1 : stretch.plies.count;
  std::vector<Part*> wastes;
  for (Part& part : stretch.parts) each_waste(part, wastes);
  std::stable_sort(wastes.begin(), wastes.end(), [](const Part* a, const Part* b) {
    return Wide{a->width} * a->length > Wide{b->width} * b->length;
  });
  for (Part* waste : wastes) {
    std::vector<int> times;
    times.reserve(left.size());
    for (const int count : left) times.push_back(count / plies);
    const auto shapes = valued_shapes(request.by_products, times);
    Work work(kWasteWork);
    PlateAnswer answer = most_valuable(waste->width, waste->length, shapes, work);
    const auto counts = count_pieces(answer.part, shapes.size());
    for (std::size_t i = 0; i < left.size(); ++i) left[i] -= counts[i] * plies;
    mark_by_product(answer.part);
    if (answer.value > 0) *waste = std::move(answer.part);
  }
  group_alike(stretch.parts);
}

/// By layer, y, then x; beyond the demand they are spare.
std::vector<Placed> sorted_pieces(std::vector<Placed> pieces, std::vector<int> demands) {
  std::stable_sort(pieces.begin(), pieces.end(), [](const Placed& a, const Placed& b) {
    if (a.layer != b.layer) return a.layer < b.layer;
    if (a.area.y != b.area.y) return a.area.y < b.area.y;
    return a.area.x < b.area.x;
  });
  for (Placed& piece : pieces) {
    if (piece.by_product) continue;
    int& left = demands[static_cast<std::size_t>(piece.kind)];
    piece.spare = left <= 0;
    --left;
  }
  return pieces;
}

/// What every lay has in common, from its stretches.
class LayMaker {
 public:
  LayMaker(const Request& request, const std::vector<int>& demands)
      : request_(request), demands_(demands) {}

  void add(Lay& lay, const Stretch& stretch) const {
    const int section = static_cast<int>(lay.sections.size());
    const int first = static_cast<int>(lay.cut_offs.size());
    const int pattern = lay.cut_offs.empty() ? 0 : lay.cut_offs.back().pattern + 1;
    for (Step& step : steps_of(stretch, section, first)) lay.steps.push_back(std::move(step));
    for (const CutOff& cut_off : cut_offs_of(stretch, section, pattern)) {
      lay.cut_offs.push_back(cut_off);
    }
    for (const Placed& piece : pieces_of(stretch)) lay.pieces.push_back(piece);
    for (const Area& waste : wastes_of(stretch)) {
      lay.wastes.push_back(waste);
      if (waste.width >= request_.keep && waste.length >= request_.keep) lay.kept.push_back(waste);
    }
    lay.sections.push_back({Length::nm(stretch.from), Length::nm(stretch.length()), stretch.plies,
                            Length::nm(stretch.ply_width)});
  }

  void finish(Lay& lay) const {
    lay.pieces = sorted_pieces(std::move(lay.pieces), demands_);
    std::stable_sort(lay.kept.begin(), lay.kept.end(), [](const Area& a, const Area& b) {
      return Wide{a.width.in_nm()} * a.length.in_nm() > Wide{b.width.in_nm()} * b.length.in_nm();
    });
    Wide used = 0;
    int needed = 0;
    for (const Placed& piece : lay.pieces) {
      if (piece.spare) continue;
      used += Wide{piece.area.width.in_nm()} * piece.area.length.in_nm();
      if (!piece.by_product) ++needed;
    }
    const Wide whole = Wide{lay.width.in_nm()} * lay.cloth_length.in_nm();
    if (whole == 0) return;
    lay.waste_fraction = static_cast<double>(whole - used) / static_cast<double>(whole);
    lay.pieces_per_metre = needed * 1000.0 / lay.cloth_length.in_mm();
    for (const Step& step : lay.steps) lay.cuts_made += static_cast<int>(step.lines.size());
  }

  /// How many more of each kind the wastes of the last length cut off would yield. With one kind
  /// and nothing else in it, laying that length anew may yield more.
  [[nodiscard]] std::vector<int> spare_in(const Stretch& stretch) const {
    std::vector<int> spare(request_.kinds.size(), 0);
    if (stretch.parts.empty()) return spare;
    Part last = stretch.parts.back();
    std::vector<Part*> wastes;
    each_waste(last, wastes);
    const int plies = stretch.plies.way == Plies::Way::single ? 1 : stretch.plies.count;
    for (std::size_t k = 0; k < spare.size(); ++k) {
      const Shape shape = shape_of(request_.kinds[k], 1);
      Work work(kWasteWork * 4);
      for (const Part* waste : wastes) {
        spare[k] += most_straight(waste->width, waste->length, shape, work) * plies;
      }
      if (spare.size() == 1 && request_.by_products.empty()) {
        const int all = most_straight(last.width, last.length, shape, work);
        spare[k] = std::max(spare[k], (all - count_pieces(last, 1).front()) * plies);
      }
    }
    return spare;
  }

 private:
  const Request& request_;
  const std::vector<int>& demands_;
};

/// The remnant with its most valuable set of what is left to cut; takes that off `left`.
struct UsedRemnant {
  Stretch stretch;
  bool optimal = false;
};

UsedRemnant use_remnant(const Request& request, const Stock& remnant, std::vector<int>& left) {
  const auto shapes = valued_shapes(request.kinds, left);
  Work work(kRemnantWork);
  PlateAnswer answer = most_valuable(remnant.width.in_nm(), remnant.length.in_nm(), shapes, work);
  if (request.cuts == Cuts::free && shapes.size() == 1 && left.front() > 0) {
    Work more(kRemnantWork);
    Part free = trimmed(
        five_block(remnant.width.in_nm(), remnant.length.in_nm(), shapes.front(), more), left);
    if (count_pieces(free, 1) > count_pieces(answer.part, 1)) answer.part = std::move(free);
  }
  const auto counts = count_pieces(answer.part, left.size());
  for (std::size_t k = 0; k < left.size(); ++k) left[k] -= counts[k];
  UsedRemnant used;
  used.optimal = answer.optimal && request.cuts == Cuts::straight;
  used.stretch.source = Stretch::Source::remnant;
  used.stretch.width = used.stretch.ply_width = remnant.width.in_nm();
  used.stretch.parts.push_back(std::move(answer.part));
  return used;
}

Lay remnant_lay(const Request& request, const Stock& remnant, const UsedRemnant& used,
                const std::vector<int>& demands) {
  Lay lay;
  lay.cloth = remnant.name;
  lay.width = remnant.width;
  lay.length = lay.bound = lay.cloth_length = lay.single_length = remnant.length;
  lay.optimal = used.optimal;
  lay.cuts = request.cuts;
  lay.spare.assign(request.kinds.size(), 0);
  const LayMaker maker(request, demands);
  maker.add(lay, used.stretch);
  maker.finish(lay);
  return lay;
}

std::vector<Stretch> stretches_of(const Request& request, const RollPlanner& planner, Roll roll) {
  std::vector<Stretch> stretches;
  const Whole width = request.cloth.width.in_nm();
  Whole from = 0;
  if (!roll.through.cut_offs.empty()) {
    Stretch stretch;
    stretch.width = width;
    stretch.ply_width = planner.ply_width();
    stretch.plies = request.plies;
    stretch.parts = std::move(roll.through.cut_offs);
    from = stretch.length();
    stretches.push_back(std::move(stretch));
  }
  if (!roll.single.cut_offs.empty()) {
    Stretch stretch;
    stretch.from = from;
    stretch.width = stretch.ply_width = width;
    stretch.parts = std::move(roll.single.cut_offs);
    stretches.push_back(std::move(stretch));
  }
  for (Stretch& stretch : stretches) group_alike(stretch.parts);
  return stretches;
}

Lay roll_lay(const Request& request, const Roll& roll, const std::vector<Stretch>& stretches,
             const std::vector<int>& demands) {
  Lay lay;
  lay.cloth = request.cloth.name;
  lay.width = request.cloth.width;
  lay.length = Length::nm(roll.length);
  lay.bound = Length::nm(std::min(roll.bound, roll.length));
  lay.optimal = roll.optimal;
  lay.cuts = request.cuts;
  lay.cloth_length = Length::nm(roll.cloth);
  lay.single_length = lay.length;
  lay.layers = request.plies.way == Plies::Way::stacked ? request.plies.count : 1;
  lay.work_ended = !roll.optimal && (roll.through.work_ended || roll.single.work_ended);
  lay.spare.assign(request.kinds.size(), 0);
  const LayMaker maker(request, demands);
  for (const Stretch& stretch : stretches) maker.add(lay, stretch);
  if (!stretches.empty()) lay.spare = maker.spare_in(stretches.back());
  maker.finish(lay);
  return lay;
}

std::vector<int> demands_of(const Request& request) {
  std::vector<int> demands;
  for (const Kind& kind : request.kinds) demands.push_back(kind.demand);
  return demands;
}

}  // namespace

Plan plan(const Request& request) {
  Plan made;
  std::vector<int> left = demands_of(request);
  const std::vector<int> all = left;
  std::vector<UsedRemnant> remnants;
  for (const Stock& remnant : request.remnants) {
    remnants.push_back(use_remnant(request, remnant, left));
  }
  const RollPlanner planner(request, left);
  Roll roll = planner.planned();
  std::vector<Stretch> stretches = stretches_of(request, planner, roll);
  std::vector<int> by_products;
  for (const Kind& kind : request.by_products) by_products.push_back(kind.demand);
  if (!by_products.empty()) {
    for (UsedRemnant& used : remnants) fill_wastes(request, used.stretch, by_products);
    for (Stretch& stretch : stretches) fill_wastes(request, stretch, by_products);
  }
  for (std::size_t i = 0; i < remnants.size(); ++i) {
    made.remnants.push_back(remnant_lay(request, request.remnants[i], remnants[i], all));
  }
  made.cloth = roll_lay(request, roll, stretches, left);
  if (planner.plies() > 1) made.cloth.single_length = Length::nm(planner.single().length);
  for (std::size_t i = 0; i < by_products.size(); ++i) {
    made.by_products.push_back(request.by_products[i].demand - by_products[i]);
  }
  return made;
}

LengthFound least_length(const Request& request) {
  const std::vector<int> demands = demands_of(request);
  const Roll roll = RollPlanner(request, demands, Aim::length).planned();
  return {Length::nm(roll.length), Length::nm(std::min(roll.bound, roll.length)),
          Length::nm(roll.cloth), roll.optimal};
}

}  // namespace pouchwright::lay
