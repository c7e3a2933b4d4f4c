#include "pouch/judge/wrap.h"

#include <algorithm>
#include <utility>

#include "base/length.h"

namespace pouchwright::pouch {

using base::half;

namespace {

/// Are the two folded against each other by the time that the sides are pressed for good?
bool are_folded_apart(const Construction& construction, SpanRef a, SpanRef b) {
  const auto& operations = construction.operations;
  const auto last_press =
      std::find_if(operations.rbegin(), operations.rend(), [](const Operation& one) {
        return one.action() == Action::press;
      }).base();
  const auto end = last_press == operations.begin() ? operations.end() : last_press;
  return std::any_of(operations.begin(), end, [&](const Operation& one) {
    const auto* fold = one.as<does::Fold>();
    return fold != nullptr && std::minmax(fold->between_a, fold->between_b) == std::minmax(a, b);
  });
}

/// A stretch of the film's path between two breaks.
struct Stretch {
  std::vector<SpanRef> spans;
  bool begins_a_panel = false;  ///< the path came from another panel
};

std::vector<Stretch> stretches(const Construction& construction) {
  std::vector<Stretch> found;
  if (construction.compartments.empty()) return found;
  const auto& film = construction.compartments.front().film;
  for (std::size_t i = 0; i < film.size(); ++i) {
    const bool new_panel = i > 0 && film[i - 1].panel != film[i].panel;
    const bool breaks = i == 0 || new_panel || are_folded_apart(construction, film[i - 1], film[i]);
    if (breaks) found.push_back({{}, new_panel});
    found.back().spans.push_back(film[i]);
  }
  return found;
}

Length sum_of(const Sizes& sizes, const std::vector<SpanRef>& refs) {
  Length sum;
  for (const SpanRef ref : refs) {
    const Span& span = sizes.span(cut_span(sizes.panels, ref));
    sum += span.to - span.from;
  }
  return sum;
}

}  // namespace

WrappedSpans wrapped_spans(const Construction& construction) {
  WrappedSpans wrapped;
  const std::vector<Stretch> parts = stretches(construction);
  if (parts.empty()) return wrapped;
  wrapped.front = parts.front().spans;
  if (parts.size() > 1) {
    wrapped.back = parts.back().spans;
    wrapped.front_is_sealed = parts[1].begins_a_panel;
    wrapped.back_is_sealed = parts.back().begins_a_panel;
  }
  for (std::size_t i = 1; i + 1 < parts.size(); ++i) {
    wrapped.floor.insert(wrapped.floor.end(), parts[i].spans.begin(), parts[i].spans.end());
  }
  if (construction.flap_law != FlapLaw::rolled) return wrapped;
  wrapped.rolled.assign(wrapped.front.begin(), wrapped.front.end() - 1);
  wrapped.front.erase(wrapped.front.begin(), wrapped.front.end() - 1);
  if (!wrapped.back.empty()) wrapped.back.resize(1);
  return wrapped;
}

Length sealed_end(Length seal_width, Length needle_reach) {
  return std::max(seal_width, needle_reach);
}

WrapLengths wrap_lengths(const Construction& construction, const Sizes& sizes) {
  const WrappedSpans spans = wrapped_spans(construction);
  WrapLengths lengths;
  lengths.inside = sizes.inside_width;
  lengths.front = sum_of(sizes, spans.front);
  lengths.floor = sum_of(sizes, spans.floor);
  lengths.back = sum_of(sizes, spans.back);
  lengths.lip_below = std::max(Length(), sum_of(sizes, {construction.depth_span}) - lengths.front);
  const Length sealed = sealed_end(sizes.seal_width, sizes.needle_reach);
  if (spans.front_is_sealed) lengths.front -= sealed;
  if (spans.back_is_sealed) lengths.back -= sealed;
  lengths.rolled = sum_of(sizes, spans.rolled);
  lengths.has_rolled = !spans.rolled.empty();
  lengths.flap = sizes.flap;
  return lengths;
}

// Across. A flat tube of inside width W has the girth 2 W, whatever its section becomes; a box
// b x h has 2 (b + h). So W >= b + h.
//
// Along the middle, where no seam pinches, the cloth lies against the box: a floor g under it, then
// up both faces. What the floor does not reach of the thickness, front and back cover from below,
// half each:
//
//        lip ___                 climb = (h - min(g, h)) / 2
//           |   |
//     front |   | back           front >= climb + l          (the lip stands above the content)
//           | h |
//           |___|
//     climb  =g=  climb
//
// A floor deeper than the box stays partly folded and helps no further: min(g, h).
//
// At the sides the seams hold front and back together. A caught flap holds the mouth's corners
// together at the flap fold too, so that up there the back has to cover half of the thickness:
//     back >= climb + l + h / 2,
// which without a floor is l + h. A roll pinches the mouth in the same way right below it, front
// and back alike; the roll itself is beyond.
//
// A free flap rides over the content. Front, floor, back and flap go all the way round it and
// overlap on the front: front + back + flap >= 2 (l + h) - min(g, h) + overlap.
//
// Ease comes on top of what must not be taut; a flap must cover the lip while the pouch is empty,
// and a roll must be as long as the overlap asked for.
WrapNeeds wrap_needs(const ContentBox& box, const Liners& liners, FlapLaw law,
                     const WrapLengths& lengths) {
  const Length ease = liners.ease.value;
  const Length overlap = liners.overlap.value;
  const Length on_floor = std::min(lengths.floor, box.height);
  const Length pinched = box.length + half(2 * box.height - on_floor) + ease;
  WrapNeeds needs;
  needs.inside = box.width + box.height + ease;
  needs.front = box.length + half(box.height - on_floor) + ease;
  switch (law) {
    case FlapLaw::caught:
      needs.back = pinched;
      needs.flap = lengths.lip_below + overlap;
      break;
    case FlapLaw::free:
      needs.sheet = 2 * (box.length + box.height) - on_floor + overlap;
      needs.flap = lengths.lip_below + overlap;
      break;
    case FlapLaw::rolled:
      needs.back = pinched;
      if (lengths.has_rolled) needs.flap = overlap;
      break;
    case FlapLaw::none:
      break;
  }
  return needs;
}

std::vector<WrapLimit> wrap_limits(const WrapLengths& lengths, const WrapNeeds& needs,
                                   FlapLaw law) {
  std::vector<WrapLimit> limits{{CapacityLimit::across, lengths.inside, needs.inside},
                                {CapacityLimit::front, lengths.front, needs.front}};
  const bool is_rolled = law == FlapLaw::rolled;
  if (law == FlapLaw::caught || is_rolled) {
    const Length pinched = is_rolled ? std::min(lengths.front, lengths.back) : lengths.back;
    limits.push_back({CapacityLimit::depth, pinched, needs.back});
  }
  if (law == FlapLaw::free) {
    limits.push_back(
        {CapacityLimit::round, lengths.front + lengths.back + lengths.flap, needs.sheet});
  }
  if (law == FlapLaw::caught || law == FlapLaw::free) {
    limits.push_back({CapacityLimit::flap, lengths.flap, needs.flap});
  }
  if (is_rolled && lengths.has_rolled) {
    limits.push_back({CapacityLimit::flap, lengths.rolled, needs.flap});
  }
  return limits;
}

}  // namespace pouchwright::pouch
