#include "draw/views/motion.h"

#include <algorithm>
#include <utility>

#include "pouch/judge/wrap.h"

namespace pouchwright::draw {
namespace {

using base::Length;
using pouch::FoldMoment;
using pouch::Layer;
using pouch::Pouch;
using pouch::SpanId;
namespace does = pouch::does;

/// A part that goes away from the reader is nearly down, so that its film is seen below it; one
/// that comes towards the reader has only been raised: in both the side that it will hide is seen.
constexpr double kLeftAway = 42;
constexpr double kLeftTowards = 112;
/// An open mouth gapes by so much of the width.
constexpr double kGape = 0.2;
/// Round what goes in it is so much wider.
constexpr double kRoomy = 1.1;
/// A floor opens to so much of its cloth.
constexpr double kOpenFloor = 0.8;

template <class Does>
const Does* last_as(const Pouch& pouch, const FoldMoment& moment) {
  if (moment.operations.empty()) return nullptr;
  return pouch.operation(moment.operations.back()).as<Does>();
}

template <class Does>
bool does_any(const Pouch& pouch, const FoldMoment& moment) {
  return std::any_of(moment.operations.begin(), moment.operations.end(), [&](std::size_t index) {
    return pouch.operation(index).as<Does>() != nullptr;
  });
}

/// How all lay before the last of the moment's operations.
pouch::Folded before_last(const Pouch& pouch, const FoldMoment& moment) {
  if (moment.operations.size() == 1) return *moment.before;
  const auto stage = stage_of(pouch, moment.operations.back());
  if (!stage || *stage == 0) return *moment.before;
  return pouch.stages[*stage - 1].folded;
}

/// Was anything pressed before, or with it, so that the sides hold?
bool sides_hold(const Pouch& pouch, const FoldMoment& moment) {
  if (moment.operations.empty()) return true;
  for (const pouch::Stage& stage : pouch.stages) {
    if (pouch.operation(stage.operation).as<does::Press>()) return true;
    if (stage.operation == moment.operations.back()) break;
  }
  return false;
}

/// The compartment whose mouth is worked in.
std::optional<std::size_t> worked_in(const Pouch& pouch, const FoldMoment& moment) {
  for (const std::size_t index : moment.operations) {
    if (const auto* takes = pouch.operation(index).as<does::TakeCard>()) return takes->compartment;
  }
  if (does_any<does::LookInside>(pouch, moment) || does_any<does::FillFirst>(pouch, moment) ||
      does_any<does::Test>(pouch, moment)) {
    return 0;
  }
  return std::nullopt;
}

/// The upper wall of a compartment's mouth: of its meetings the one that reaches highest.
std::optional<pouch::Meeting> mouth_of(const pouch::Folded& folded,
                                       const pouch::Compartment& compartment) {
  const auto bounds_it = [&](SpanId id) {
    const auto ref = span_ref(folded.panels(), id);
    return ref && std::find(compartment.film.begin(), compartment.film.end(), *ref) !=
                      compartment.film.end();
  };
  std::optional<pouch::Meeting> highest;
  for (const pouch::Meeting& meeting : folded.film_contacts()) {
    if (!bounds_it(meeting.lower) || !bounds_it(meeting.upper)) continue;
    if (!highest || meeting.heights.to > highest->heights.to) highest = meeting;
  }
  return highest;
}

/// Does another layer lie over the span's upper end?
bool is_covered(const pouch::Folded& folded, const pouch::Meeting& mouth) {
  bool above = false;
  for (const Layer& layer : folded.layers()) {
    if (above && layer.heights.from < mouth.heights.to && layer.heights.to >= mouth.heights.to) {
      return true;
    }
    above = above || layer.id == mouth.upper;
  }
  return false;
}

/// A pleat between the walls opens as wide as its cloth lets it, and no wider than the mouth.
void open_floor(OpenMouth& open, const Pouch& pouch, const pouch::Folded& folded) {
  Length cloth;
  for (const pouch::SpanRef ref : pouch::wrapped_spans(pouch.construction()).floor) {
    const SpanId id = folded.id(ref);
    if (!folded.lies(id.panel) || id == open.lower || id.panel != open.lower.panel) return;
    open.floor.push_back(id);
    cloth += folded.layer(id).heights.size();
  }
  std::sort(open.floor.begin(), open.floor.end());
  if (!open.floor.empty() && open.floor.front() < open.lower) {
    std::reverse(open.floor.begin(), open.floor.end());
  }
  open.floor_gap = std::min(kOpenFloor * cloth.in_mm(), open.gap);
}

}  // namespace

std::optional<std::size_t> stage_of(const Pouch& pouch, std::size_t operation) {
  for (std::size_t i = 0; i < pouch.stages.size(); ++i) {
    if (pouch.stages[i].operation == operation) return i;
  }
  return std::nullopt;
}

std::optional<Turning> turning_of(const Pouch& pouch, const FoldMoment& moment) {
  if (!moment.before || moment.operations.empty()) return std::nullopt;
  const pouch::Folded before = before_last(pouch, moment);
  const auto runs = pouch::turned(before, moment.folded);
  if (runs.empty()) return std::nullopt;
  const Layer& was = runs.front().front();
  const Layer& is = moment.folded.layer(was.id);
  const auto* fold = last_as<does::Fold>(pouch, moment);
  Turning turning{.spans = {},
                  .line = base::half(was.heights.from + is.heights.to),
                  .landing = fold != nullptr ? fold->landing : pouch::Landing::underneath};
  turning.left_deg = is.heights.from >= turning.line ? kLeftAway : kLeftTowards;
  for (const pouch::Turned& run : runs) {
    for (const Layer& layer : run) turning.spans.push_back(layer.id);
  }
  return turning;
}

bool mouth_is_free(const Pouch& pouch, const pouch::Folded& folded) {
  const auto mouth = mouth_of(folded, pouch.construction().compartments.front());
  return mouth && !is_covered(folded, *mouth);
}

std::optional<OpenMouth> open_mouth_of(const Pouch& pouch, const FoldMoment& moment,
                                       const MouthLook& look) {
  const auto compartment = look.open ? std::optional<std::size_t>(0) : worked_in(pouch, moment);
  if (!compartment) return std::nullopt;
  const pouch::Folded& folded = moment.folded;
  const auto mouth = mouth_of(folded, pouch.construction().compartments[*compartment]);
  if (!mouth || is_covered(folded, *mouth)) return std::nullopt;
  const Stack stack = stacked(folded, {});
  OpenMouth open{.spans = {},
                 .lower = mouth->lower,
                 .gap = kGape * pouch.sizes.cut_width.in_mm(),
                 .full = look.content > 0,
                 .sides_held = sides_hold(pouch, moment),
                 .left = pouch.sizes.seal_width.in_mm(),
                 .right = (pouch.sizes.cut_width - pouch.sizes.seal_width).in_mm()};
  if (open.full) open.gap = kRoomy * look.content;
  if (look.open) open_floor(open, pouch, folded);
  for (const Layer& layer : folded.layers()) {
    const bool flat_on = layer.id.panel == mouth->upper.panel &&
                         stack.of(layer.id).level == stack.of(mouth->upper).level &&
                         layer.rising == folded.layer(mouth->upper).rising;
    if (flat_on) open.spans.push_back(layer.id);
  }
  return open;
}

}  // namespace pouchwright::draw
