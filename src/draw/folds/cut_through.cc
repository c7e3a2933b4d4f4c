#include "draw/folds/cut_through.h"

#include <algorithm>
#include <utility>

#include "ink/canvas.h"

namespace pouchwright::draw {
namespace {

using base::Length;
using pouch::Face;
using pouch::Folded;
using pouch::Layer;
using pouch::SpanId;

/// A card is drawn this thick.
constexpr double kCardThickness = 0.9;
constexpr double kLeaderGap = 0.7;
constexpr double kDot = 0.45;
constexpr Stroke kLeaderStroke{LinePattern::continuous, 0.13};

/// Spans of one panel that lie flat one after the other share a number; a card has one of its own.
std::vector<std::size_t> flat_groups(const Folded& folded,
                                     const std::vector<StackedLayer>& layers) {
  std::vector<std::size_t> groups(layers.size());
  for (std::size_t i = 0; i < layers.size(); ++i) groups[i] = i;
  for (std::size_t panel = 0; panel < folded.panels().size(); ++panel) {
    for (std::size_t span = 0; span + 1 < folded.panels()[panel].spans.size(); ++span) {
      std::size_t before = layers.size();
      std::size_t after = layers.size();
      for (std::size_t i = 0; i < layers.size(); ++i) {
        if (layers[i].id == SpanId{panel, span}) before = i;
        if (layers[i].id == SpanId{panel, span + 1}) after = i;
      }
      if (before == layers.size() || after == layers.size()) continue;
      if (is_folded(folded, {panel, span})) continue;
      const std::size_t joins = groups[after];
      std::replace(groups.begin(), groups.end(), joins, groups[before]);
    }
  }
  return groups;
}

/// Raises groups until each layer lies over all that is under it. Groups that were woven into each
/// other would rise for ever: after as many rounds as layers nothing can still be in order.
void find_levels(std::vector<StackedLayer>& layers, const std::vector<std::size_t>& groups) {
  std::vector<std::size_t> level(layers.size(), 0);
  for (std::size_t round = 0; round < layers.size(); ++round) {
    bool changed = false;
    for (std::size_t upper = 0; upper < layers.size(); ++upper) {
      for (std::size_t lower = 0; lower < upper; ++lower) {
        if (groups[lower] == groups[upper]) continue;
        if (!shared(layers[lower].heights, layers[upper].heights)) continue;
        std::size_t& up = level[groups[upper]];
        if (up > level[groups[lower]]) continue;
        up = level[groups[lower]] + 1;
        changed = true;
      }
    }
    if (!changed) break;
  }
  for (std::size_t i = 0; i < layers.size(); ++i) layers[i].level = level[groups[i]];
}

/// One line of a layer: how far left (negative) or right of the layer's middle it lies.
struct Track {
  std::string_view kind;
  double beside;
  Stroke stroke;
};

double up_side(const Layer& layer) { return layer.film_up ? -1 : 1; }

/// Film first, left before right; the lines of one panel are in one order over all its spans.
std::vector<Track> tracks_of(const Folded& folded, const Layer& layer, const SectionLook& look) {
  const bool film_left = folded.face_up(layer) == Face::film;
  const bool film_right = folded.face_down(layer) == Face::film;
  std::vector<Track> tracks;
  const double film_side = up_side(layer);
  if (look.outer_alone) return {{"outer", 0, kOuterStroke}};
  if (film_left) tracks.push_back({"film", -look.track(), kFilmStroke});
  if (film_right) tracks.push_back({"film", look.track(), kFilmStroke});
  if (!film_left && !film_right) {
    tracks.push_back({"outer", 0, kOuterStroke});
    return tracks;
  }
  tracks.push_back({"knit", 0, kKnitStroke});
  const double reach = film_left && film_right ? 1.6 * look.track() : look.track();
  if (look.outer) tracks.push_back({"outer", -film_side * reach, kOuterStroke});
  return tracks;
}

/// From (`a`, y) to (`b`, y); `down` is 1 where it bulges downwards on the paper, else -1.
Path half_circle(double a, double b, double y, double down) {
  const double middle = (a + b) / 2;
  const double radius = (b - a) / 2;
  const double deep = down * std::abs(radius);
  return {{Verb::move, {a, y}, {}, {}},
          {Verb::curve,
           {middle, y + deep},
           {a, y + kQuarterArm * deep},
           {middle - kQuarterArm * radius, y + deep}},
          {Verb::curve,
           {b, y},
           {middle + kQuarterArm * radius, y + deep},
           {b, y + kQuarterArm * deep}}};
}

class SectionDrawer {
 public:
  SectionDrawer(Drawing& drawing, const Folded& folded, const Stack& stack, const SectionLook& look)
      : drawing_(drawing), folded_(folded), stack_(stack), look_(look) {}

  void draw() {
    if (look_.table) table();
    for (const StackedLayer& layer : stack_.layers) {
      if (layer.id) {
        span(layer);
      } else {
        card(layer);
      }
    }
    for (std::size_t panel = 0; panel < folded_.panels().size(); ++panel) {
      for (std::size_t i = 0; i + 1 < folded_.panels()[panel].spans.size(); ++i) {
        if (lies({panel, i}) && lies({panel, i + 1})) joint({panel, i}, {panel, i + 1});
      }
    }
  }

 private:
  [[nodiscard]] bool lies(SpanId id) const {
    return std::any_of(stack_.layers.begin(), stack_.layers.end(),
                       [&](const StackedLayer& layer) { return layer.id == id; });
  }

  void span(const StackedLayer& layer) {
    for (const Track& track : tracks_of(folded_, folded_.layer(*layer.id), look_)) {
      const double x = look_.x(static_cast<double>(layer.level)) + track.beside;
      drawing_.add_line(Group::fold, std::string(track.kind) + ": " + layer.name,
                        line({x, look_.y(layer.heights.from)}, {x, look_.y(layer.heights.to)}),
                        track.stroke);
    }
  }

  void card(const StackedLayer& layer) {
    const double x = look_.x(static_cast<double>(layer.level));
    const Box box{x - kCardThickness / 2, look_.y(layer.heights.to), x + kCardThickness / 2,
                  look_.y(layer.heights.from)};
    drawing_.add_line(Group::fold, "card: " + layer.name, rectangle(box), kSectionCardStroke);
    drawing_.add_line(Group::fold, "card hatch: " + layer.name, hatch(box, 1.0),
                      {LinePattern::continuous, 0.13});
  }

  /// The fold between two spans, or, where they lie flat on different levels, a straight step.
  void joint(SpanId before, SpanId after) {
    const Layer& a = folded_.layer(before);
    const Layer& b = folded_.layer(after);
    const double x_a = look_.x(static_cast<double>(stack_.of(before).level));
    const double x_b = look_.x(static_cast<double>(stack_.of(after).level));
    const Length at = a.rising ? a.heights.to : a.heights.from;
    const bool folded = is_folded(folded_, before);
    if (!folded && x_a == x_b) return;
    const double down = a.rising ? -1 : 1;
    const auto of_a = tracks_of(folded_, a, look_);
    const auto of_b = tracks_of(folded_, b, look_);
    const std::string name = folded_.name(before) + " / " + folded_.name(after);
    for (std::size_t i = 0; i < std::min(of_a.size(), of_b.size()); ++i) {
      // Of two films the left one comes first: a fold swaps them.
      const bool swaps = folded && i < 2 && of_a.size() > 1 && of_a[0].kind == of_a[1].kind;
      const Track& to = of_b[swaps ? 1 - i : i];
      const double from_x = x_a + of_a[i].beside;
      const double to_x = x_b + to.beside;
      drawing_.add_line(Group::fold, std::string(to.kind) + ": " + name,
                        folded ? half_circle(from_x, to_x, look_.y(at), down)
                               : line({from_x, look_.y(at)}, {to_x, look_.y(at)}),
                        to.stroke);
    }
  }

  void table() {
    const Box box = section_box(folded_, stack_, look_);
    const Box top{look_.origin.x, box.y0, look_.origin.x + kTableWidth, box.y1};
    drawing_.add_line(Group::fold, "table", line({top.x0, top.y0}, {top.x0, top.y1}),
                      {LinePattern::continuous, 0.18});
    drawing_.add_line(Group::fold, "table", hatch(top, 1.4), {LinePattern::continuous, 0.13});
  }

  Drawing& drawing_;
  const Folded& folded_;
  const Stack& stack_;
  const SectionLook& look_;
};

/// A name that waits for its place: where its line ends, and where it would best stand.
struct Pointer {
  std::string name;
  Point at;
};

/// Moves names apart, keeping their order, at least `apart` from one to the next.
std::vector<double> spread(const std::vector<Pointer>& pointers, double apart) {
  std::vector<double> y;
  y.reserve(pointers.size());
  for (const Pointer& one : pointers) y.push_back(one.at.y);
  for (int round = 0; round < 200; ++round) {
    bool moved = false;
    for (std::size_t i = 0; i + 1 < y.size(); ++i) {
      const double lacks = apart - (y[i + 1] - y[i]);
      if (lacks <= 1e-6) continue;
      y[i] -= lacks / 2;
      y[i + 1] += lacks / 2;
      moved = true;
    }
    if (!moved) break;
  }
  for (std::size_t i = 0; i + 1 < y.size(); ++i) y[i + 1] = std::max(y[i + 1], y[i] + apart);
  return y;
}

}  // namespace

const StackedLayer& Stack::of(SpanId id) const {
  return *std::find_if(layers.begin(), layers.end(),
                       [&](const StackedLayer& layer) { return layer.id == id; });
}

bool is_folded(const Folded& folded, SpanId before) {
  return folded.layer(before).rising != folded.layer({before.panel, before.span + 1}).rising;
}

Stack stacked(const Folded& folded, const std::vector<CutCard>& cards) {
  Stack stack;
  const auto add_cards = [&](std::size_t layers_below) {
    for (const CutCard& card : cards) {
      if (card.layers_below != layers_below) continue;
      stack.layers.push_back({std::nullopt, card.name, card.heights, 0});
    }
  };
  for (std::size_t i = 0; i < folded.layers().size(); ++i) {
    add_cards(i);
    const Layer& layer = folded.layers()[i];
    stack.layers.push_back({layer.id, folded.name(layer.id), layer.heights, 0});
  }
  add_cards(folded.layers().size());
  find_levels(stack.layers, flat_groups(folded, stack.layers));
  for (const StackedLayer& layer : stack.layers) {
    stack.levels = std::max(stack.levels, layer.level + 1);
  }
  return stack;
}

double SectionLook::x(double level) const { return origin.x - (level + 0.6) * pitch(); }
double SectionLook::y(Length height) const { return origin.y - height.in_mm() * scale; }

Box section_box(const Folded& folded, const Stack& stack, const SectionLook& look) {
  const double left = look.x(static_cast<double>(stack.levels) - 1) - 2 * look.track();
  const StackedLayer& first = stack.layers.front();
  Box box{left, look.y(first.heights.to), look.origin.x, look.y(first.heights.from)};
  for (const StackedLayer& layer : stack.layers) {
    box = united(box, {left, look.y(layer.heights.to), look.origin.x, look.y(layer.heights.from)});
    if (!layer.id) continue;
    const SpanId id = *layer.id;
    if (id.span + 1 >= folded.panels()[id.panel].spans.size() || !is_folded(folded, id)) continue;
    const StackedLayer& next = stack.of({id.panel, id.span + 1});
    const double levels =
        std::abs(static_cast<double>(layer.level) - static_cast<double>(next.level));
    const double reach = levels * look.pitch() / 2 + 2 * look.track();
    const Layer& lies = folded.layer(id);
    const double y = look.y(lies.rising ? lies.heights.to : lies.heights.from);
    box = united(
        box, {left, y - (lies.rising ? reach : 0), look.origin.x, y + (lies.rising ? 0 : reach)});
  }
  return box;
}

void draw_section(Drawing& drawing, const Folded& folded, const Stack& stack,
                  const SectionLook& look) {
  SectionDrawer(drawing, folded, stack, look).draw();
}

void name_layers(Drawing& drawing, const Stack& stack, const SectionLook& look,
                 const std::vector<std::string>& names, double x, const TextMeasure& measure) {
  std::vector<Pointer> pointers;
  std::size_t index = 0;
  for (const StackedLayer& layer : stack.layers) {
    const Length middle = layer.heights.from + base::half(layer.heights.size());
    pointers.push_back(
        {names[index++], {look.x(static_cast<double>(layer.level)), look.y(middle)}});
  }
  std::stable_sort(pointers.begin(), pointers.end(),
                   [](const Pointer& a, const Pointer& b) { return a.at.y < b.at.y; });
  const TextSize size = measure.measure("x", kSmallestSize, Weight::regular);
  const std::vector<double> y = spread(pointers, size.ascent + size.descent + kClearance / 2);
  for (std::size_t i = 0; i < pointers.size(); ++i) {
    const Pointer& one = pointers[i];
    if (one.name.empty()) continue;
    drawing.add_line(Group::fold, "leader: " + one.name, line(one.at, {x - kLeaderGap, y[i]}),
                     kLeaderStroke);
    drawing.add(Shape{.group = Group::fold,
                      .path = circle(one.at, kDot),
                      .fill = Fill::solid,
                      .name = "leader: " + one.name});
    drawing.add(with_top_left(label(one.name, kSmallestSize),
                              {x, y[i] - (size.ascent + size.descent) / 2}, measure));
  }
}

}  // namespace pouchwright::draw
