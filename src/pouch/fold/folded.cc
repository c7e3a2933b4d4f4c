#include "pouch/fold/folded.h"

#include <algorithm>
#include <cassert>
#include <map>

namespace pouchwright::pouch {

std::optional<Interval> shared(const Interval& a, const Interval& b) {
  const Interval both{std::max(a.from, b.from), std::min(a.to, b.to)};
  if (both.from >= both.to) return std::nullopt;
  return both;
}

std::vector<Interval> without(const Interval& whole, std::vector<Interval> holes) {
  std::sort(holes.begin(), holes.end(),
            [](const Interval& a, const Interval& b) { return a.from < b.from; });
  std::vector<Interval> parts;
  Length reached = whole.from;
  for (const Interval& hole : holes) {
    if (hole.from >= hole.to || hole.to <= reached) continue;
    if (hole.from >= whole.to) break;
    if (hole.from > reached) parts.push_back({reached, hole.from});
    reached = hole.to;
  }
  if (reached < whole.to) parts.push_back({reached, whole.to});
  return parts;
}

std::vector<Interval> joined(std::vector<Interval> parts) {
  std::sort(parts.begin(), parts.end(), [](const Interval& a, const Interval& b) {
    return a.from != b.from ? a.from < b.from : a.to < b.to;
  });
  std::vector<Interval> result;
  for (const Interval& part : parts) {
    if (!result.empty() && part.from <= result.back().to) {
      result.back().to = std::max(result.back().to, part.to);
    } else {
      result.push_back(part);
    }
  }
  return result;
}

namespace {

Interval mirrored(const Interval& heights, Length line) {
  return {line + line - heights.to, line + line - heights.from};
}

/// The part of `heights` on the far side of the line, where what is turned lies, or on the near
/// side.
std::optional<Interval> clipped(const Interval& heights, Length line, bool above) {
  Interval part = heights;
  if (above) {
    part.from = std::max(part.from, line);
  } else {
    part.to = std::min(part.to, line);
  }
  if (part.from >= part.to) return std::nullopt;
  return part;
}

}  // namespace

SpanId cut_span(const std::vector<FlatPanel>& panels, SpanRef ref) {
  return {ref.panel, ref.span + panels[ref.panel].hems_before};
}

std::optional<SpanRef> span_ref(const std::vector<FlatPanel>& panels, SpanId id) {
  const FlatPanel& panel = panels[id.panel];
  if (panel.is_hem(id.span)) return std::nullopt;
  return SpanRef{id.panel, id.span - panel.hems_before};
}

Folded::Folded(const std::vector<FlatPanel>& panels, FilmFaces film, Length bottom)
    : panels_(panels), film_(film) {
  for (std::size_t span = 0; span < panels_.front().spans.size(); ++span) {
    const Span& flat = panels_.front().spans[span];
    layers_.push_back({.id = {0, span}, .heights = {flat.from - bottom, flat.to - bottom}});
  }
}

Folded Folded::apart(const std::vector<FlatPanel>& panels, FilmFaces film, std::size_t panel,
                     bool rising) {
  Folded folded(panels, film, Length());
  folded.layers_.clear();
  folded.lay(panel, Length(), rising, true, Landing::on_top);
  return folded;
}

void Folded::lay(std::size_t panel, Length low, bool rising, bool film_up, Landing landing) {
  const std::vector<Span>& spans = panels_[panel].spans;
  const Length size = spans.back().to;
  std::vector<Layer> laid;
  for (std::size_t span = 0; span < spans.size(); ++span) {
    const Interval y{spans[span].from, spans[span].to};
    const Interval heights = rising ? Interval{low + y.from, low + y.to}
                                    : Interval{low + size - y.to, low + size - y.from};
    laid.push_back({{panel, span}, heights, rising, film_up});
  }
  layers_.insert(landing == Landing::on_top ? layers_.end() : layers_.begin(), laid.begin(),
                 laid.end());
}

bool Folded::lies(std::size_t panel) const {
  return std::any_of(layers_.begin(), layers_.end(),
                     [&](const Layer& layer) { return layer.id.panel == panel; });
}

/// Adds to `moving` all that is joined to it. What is added must end at the line where the rest of
/// its panel stays: a roll turns front and back together, but a flap sewn to the back stays.
std::optional<FoldTrouble> Folded::gather(std::set<SpanId>& moving, SpanId stays,
                                          Length line) const {
  std::map<SpanId, SpanId> added_by;
  for (bool grown = true; grown;) {
    grown = false;
    for (const auto& [a, b] : joins_) {
      if (moving.contains(a) == moving.contains(b)) continue;
      const SpanId moved = moving.contains(a) ? a : b;
      const SpanId added = moving.contains(a) ? b : a;
      if (added == stays) return FoldTrouble{FoldTrouble::Kind::joined, moved, added};
      moving.insert(added);
      added_by.emplace(added, moved);
      grown = true;
    }
  }
  for (const auto& [added, by] : added_by) {
    for (const bool after : {false, true}) {
      const std::vector<Span>& spans = panels_[added.panel].spans;
      if (after ? added.span + 1 == spans.size() : added.span == 0) continue;
      const SpanId next{added.panel, after ? added.span + 1 : added.span - 1};
      const Length edge = after ? spans[added.span].to : spans[added.span].from;
      if (!moving.contains(next) && height_of(added, edge) != line) {
        return FoldTrouble{FoldTrouble::Kind::joined, by, added};
      }
    }
  }
  return std::nullopt;
}

/// What is turned lies on the far side of the line and swings over (or under) what stays. A layer
/// that stays must not lie over it there; a part of it that reaches back across the line swings
/// the other way round, so that nothing that stays may lie under that part.
std::optional<FoldTrouble> Folded::way_is_free(const std::set<SpanId>& moving, Length line,
                                               bool far_is_above, Landing landing) const {
  for (std::size_t lower = 0; lower < layers_.size(); ++lower) {
    for (std::size_t upper = lower + 1; upper < layers_.size(); ++upper) {
      const bool lower_moves = moving.contains(layers_[lower].id);
      const bool upper_moves = moving.contains(layers_[upper].id);
      if (lower_moves == upper_moves) continue;
      const bool stays_over = lower_moves;
      const bool blocked_far = (landing == Landing::on_top) == stays_over;
      const bool side_above = blocked_far ? far_is_above : !far_is_above;
      const auto a = clipped(layers_[lower].heights, line, side_above);
      const auto b = clipped(layers_[upper].heights, line, side_above);
      if (!a || !b || !shared(*a, *b)) continue;
      return FoldTrouble{FoldTrouble::Kind::in_the_way,
                         lower_moves ? layers_[lower].id : layers_[upper].id,
                         lower_moves ? layers_[upper].id : layers_[lower].id};
    }
  }
  return std::nullopt;
}

std::optional<FoldTrouble> Folded::fold(SpanId span_before, SpanId turned_span, Landing landing) {
  const bool turns_before = turned_span == span_before;
  const Length line = height_of(span_before, panels_[span_before.panel].spans[span_before.span].to);
  const SpanId stays = turns_before ? SpanId{span_before.panel, span_before.span + 1} : span_before;

  std::set<SpanId> moving;
  for (const Layer& layer : layers_) {
    if (layer.id.panel != span_before.panel) continue;
    if ((layer.id.span <= span_before.span) == turns_before) moving.insert(layer.id);
  }
  if (auto trouble = gather(moving, stays, line)) return trouble;
  const bool far_is_above = layer(turned_span).heights.to > line;
  if (auto trouble = way_is_free(moving, line, far_is_above, landing)) return trouble;

  std::vector<Layer> staying;
  std::vector<Layer> turned;
  for (const Layer& layer : layers_) {
    if (!moving.contains(layer.id)) {
      staying.push_back(layer);
      continue;
    }
    Layer moved = layer;
    moved.heights = mirrored(layer.heights, line);
    moved.rising = !layer.rising;
    moved.film_up = !layer.film_up;
    turned.push_back(moved);
  }
  std::reverse(turned.begin(), turned.end());
  std::vector<Layer>& below = landing == Landing::on_top ? staying : turned;
  std::vector<Layer>& above = landing == Landing::on_top ? turned : staying;
  below.insert(below.end(), above.begin(), above.end());
  layers_ = below;
  return std::nullopt;
}

void Folded::join(SpanId a, SpanId b) {
  if (!are_joined(a, b)) joins_.emplace_back(a, b);
}

bool Folded::are_joined(SpanId a, SpanId b) const {
  return std::any_of(joins_.begin(), joins_.end(), [&](const auto& pair) {
    return pair == std::pair(a, b) || pair == std::pair(b, a);
  });
}

const Layer& Folded::layer(SpanId id) const {
  const auto found = std::find_if(layers_.begin(), layers_.end(),
                                  [&](const Layer& layer) { return layer.id == id; });
  assert(found != layers_.end());
  return *found;
}

std::vector<Layer> Folded::layers_over(const Interval& probe) const {
  std::vector<Layer> over;
  for (const Layer& layer : layers_) {
    if (shared(layer.heights, probe)) over.push_back(layer);
  }
  return over;
}

std::vector<Layer> Folded::layers_over(const Interval& probe, Length inset) const {
  std::vector<Layer> over = layers_over(probe);
  std::erase_if(over, [&](const Layer& layer) { return panels_[layer.id.panel].inset > inset; });
  return over;
}

std::vector<Length> Folded::breaks() const {
  std::set<Length> heights;
  for (const Layer& layer : layers_) {
    heights.insert(layer.heights.from);
    heights.insert(layer.heights.to);
    const Span& span = panels_[layer.id.panel].spans[layer.id.span];
    const std::optional<Interval>& outer = panels_[layer.id.panel].outer;
    for (const Length y : outer ? std::vector{outer->from, outer->to} : std::vector<Length>()) {
      if (y > span.from && y < span.to) heights.insert(height_of(layer.id, y));
    }
  }
  return {heights.begin(), heights.end()};
}

bool Folded::has_outer(const Layer& layer, const Interval& heights, Length inset) const {
  const FlatPanel& panel = panels_[layer.id.panel];
  if (!panel.outer || inset < panel.outer_inset) return false;
  return shared(*panel.outer, on_panel(layer.id, heights)).has_value();
}

/// The face that is not the film side: film as well where the laminate has it on both faces and no
/// outer hides it.
Face Folded::other_face(const Layer& layer, const Interval& heights, Length inset) const {
  const bool has_film = panels_[layer.id.panel].has_film && film_ == FilmFaces::both;
  return has_film && !has_outer(layer, heights, inset) ? Face::film : Face::cloth;
}

Face Folded::face_up(const Layer& layer, const Interval& heights, Length inset) const {
  if (!panels_[layer.id.panel].has_film) return Face::cloth;
  return layer.film_up ? Face::film : other_face(layer, heights, inset);
}

Face Folded::face_down(const Layer& layer, const Interval& heights, Length inset) const {
  if (!panels_[layer.id.panel].has_film) return Face::cloth;
  return layer.film_up ? other_face(layer, heights, inset) : Face::film;
}

Face Folded::face_up(const Layer& layer) const {
  return face_up(layer, layer.heights, base::kLongest);
}

Face Folded::face_down(const Layer& layer) const {
  return face_down(layer, layer.heights, base::kLongest);
}

std::vector<Meeting> Folded::film_contacts(Length inset) const {
  std::vector<Meeting> meetings;
  const std::vector<Length> heights = breaks();
  for (std::size_t i = 0; i + 1 < heights.size(); ++i) {
    const Interval stretch{heights[i], heights[i + 1]};
    const std::vector<Layer> stack = layers_over(stretch, inset);
    for (std::size_t k = 0; k + 1 < stack.size(); ++k) {
      if (face_up(stack[k], stretch, inset) != Face::film) continue;
      if (face_down(stack[k + 1], stretch, inset) != Face::film) continue;
      const auto before = std::find_if(meetings.begin(), meetings.end(), [&](const Meeting& m) {
        return m.lower == stack[k].id && m.upper == stack[k + 1].id && m.heights.to == stretch.from;
      });
      if (before != meetings.end()) {
        before->heights.to = stretch.to;
      } else {
        meetings.push_back({stack[k].id, stack[k + 1].id, stretch});
      }
    }
  }
  return meetings;
}

namespace {

/// The stretches between `heights` where the layers that lie there, from the bottom up, show it.
template <class Shows>
std::vector<Interval> stretches_where(const Folded& folded, const std::vector<Length>& heights,
                                      Shows shows) {
  std::vector<Interval> found;
  for (std::size_t i = 0; i + 1 < heights.size(); ++i) {
    const Interval stretch{heights[i], heights[i + 1]};
    const std::vector<Layer> stack = folded.layers_over(stretch);
    if (!stack.empty() && shows(stack, stretch)) found.push_back(stretch);
  }
  return joined(found);
}

}  // namespace

std::vector<Interval> Folded::film_on_top() const {
  return stretches_where(*this, breaks(), [this](const auto& stack, const Interval& stretch) {
    return face_up(stack.back(), stretch, Length()) == Face::film;
  });
}

std::vector<Interval> Folded::film_below() const {
  return stretches_where(*this, breaks(), [this](const auto& stack, const Interval& stretch) {
    return face_down(stack.front(), stretch, Length()) == Face::film;
  });
}

Length Folded::height_of(SpanId id, Length y) const {
  const Layer& lies = layer(id);
  const Span& flat = panels_[id.panel].spans[id.span];
  return lies.rising ? lies.heights.from + (y - flat.from) : lies.heights.to - (y - flat.from);
}

Interval Folded::on_panel(SpanId id, const Interval& heights) const {
  const Layer& lies = layer(id);
  const Span& flat = panels_[id.panel].spans[id.span];
  if (lies.rising) {
    return {flat.from + (heights.from - lies.heights.from),
            flat.from + (heights.to - lies.heights.from)};
  }
  return {flat.from + (lies.heights.to - heights.to), flat.from + (lies.heights.to - heights.from)};
}

}  // namespace pouchwright::pouch
