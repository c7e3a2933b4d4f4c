#include "pouch/judge/content.h"

#include <algorithm>
#include <numeric>
#include <tuple>

#include "base/length.h"

namespace pouchwright::pouch {

namespace {

Length stated(const Values& values, std::string_view name) {
  const auto found = values.find(name);
  return found == values.end() ? Length() : found->second;
}

using Refs = std::vector<SpanRef>;

/// The terms of all these spans.
LinearForm form_of(const Construction& construction, const Refs& refs) {
  LinearForm sum;
  for (const SpanRef ref : refs) {
    const auto& terms = construction.span(ref).length.terms;
    sum.terms.insert(sum.terms.end(), terms.begin(), terms.end());
  }
  return sum;
}

/// How often `size` is in `form`, as a fraction.
struct Share {
  std::int64_t numerator = 0;
  std::int64_t denominator = 1;
};

Share share_of(const LinearForm& form, std::string_view size) {
  Share share;
  for (const LinearForm::Term& term : form.terms) {
    if (term.size != size) continue;
    share.numerator = share.numerator * term.denominator + term.numerator * share.denominator;
    share.denominator *= term.denominator;
    const std::int64_t common = std::gcd(share.numerator, share.denominator);
    if (common > 1) share = {share.numerator / common, share.denominator / common};
  }
  return share;
}

/// The least `size` with which `form` comes to `wanted`; 0 where it has no say in it.
Length least_size(const LinearForm& form, const char* size, Values values, Length wanted) {
  const Share share = share_of(form, size);
  if (share.numerator <= 0) return {};
  values[size] = Length();
  const Length missing = wanted - value_of(form, values);
  if (missing <= Length()) return {};
  const std::int64_t product = missing.in_nm() * share.denominator;
  return Length::nm((product + share.numerator - 1) / share.numerator);
}

/// The step to which a floor size is rounded: each of its spans then ends on the ruler.
Length floor_step(const LinearForm& floor, Length ruler) {
  std::int64_t steps = 1;
  for (const LinearForm::Term& term : floor.terms) steps = std::lcm(steps, term.denominator);
  return steps * ruler;
}

int layers_of(int count, int columns) { return (count + columns - 1) / columns; }

/// The ways that the job lets its liners lie.
std::vector<Lies> lies_of(const Liners& liners) {
  if (liners.turn == LinerTurn::as_given) return {Lies::as_given};
  return {Lies::as_given, Lies::turned};
}

Length across_of(const Liners& liners, Lies lies) {
  return lies == Lies::turned ? liners.length.value : liners.width.value;
}

/// Rounded up.
Length a_third(Length depth) { return Length::nm((depth.in_nm() + 2) / 3); }

/// Completes width, depth, flap and floor size of one way to lay the liners.
class Sizing {
 public:
  Sizing(const Request& request, Values values, const ContentBox& box)
      : request_(request),
        construction_(request.construction),
        spans_(wrapped_spans(construction_)),
        box_(box),
        values_(std::move(values)) {}

  Values completed() {
    open_the_floor();
    WrapLengths lengths;
    lengths.floor = value_of(form_of(construction_, spans_.floor), values_);
    lengths.lip_below = lip_below();
    lengths.has_rolled = !spans_.rolled.empty();
    needs_ = wrap_needs(box_, *request_.liners, construction_.flap_law, lengths);
    if (!values_.contains(size::kWidth)) values_[size::kWidth] = up(width());
    const bool flap_is_open = has_flap() && !values_.contains(size::kFlap);
    if (!values_.contains(size::kDepth)) values_[size::kDepth] = up(depth(flap_is_open));
    if (flap_is_open) values_[size::kFlap] = up(flap());
    return std::move(values_);
  }

 private:
  [[nodiscard]] Length up(Length length) const {
    return base::rounded_up(length, request_.cut_step);
  }
  /// Both grow with the depth alike, so that it does not matter here.
  [[nodiscard]] Length lip_below() const {
    return std::max(Length(), value_of(form({construction_.depth_span}), values_) -
                                  value_of(form(spans_.front), values_));
  }
  [[nodiscard]] Length sealed(bool is_sealed) const {
    if (!is_sealed) return {};
    return sealed_end(stated(values_, size::kSealWidth), stated(values_, size::kNeedleReach));
  }
  [[nodiscard]] bool has_flap() const {
    return construction_.flap_span && construction_.size_rule(size::kFlap) != nullptr;
  }
  [[nodiscard]] LinearForm form(const Refs& refs) const { return form_of(construction_, refs); }
  [[nodiscard]] Refs front_and_back() const {
    Refs refs = spans_.front;
    refs.insert(refs.end(), spans_.back.begin(), spans_.back.end());
    return refs;
  }

  /// As deep as the box is thick, so that the floor takes all of it.
  void open_the_floor() {
    const auto name = floor_size(construction_);
    if (!name || values_.contains(*name)) return;
    const LinearForm floor = form(spans_.floor);
    const Length least = least_size(floor, name->c_str(), values_, box_.height);
    values_[*name] = base::rounded_up(least, floor_step(floor, request_.cut_step));
  }

  [[nodiscard]] Length width() const {
    const Length sides =
        std::max(stated(values_, size::kSealWidth), stated(values_, size::kNeedleReach));
    return needs_.inside + 2 * sides - 2 * stated(values_, size::kSeamAllowance);
  }

  [[nodiscard]] Length depth(bool flap_is_open) const {
    const auto least = [&](const Refs& refs, Length wanted) {
      return least_size(form(refs), size::kDepth, values_, wanted);
    };
    const bool is_rolled = construction_.flap_law == FlapLaw::rolled;
    const Length up_front = is_rolled ? std::max(needs_.front, needs_.back) : needs_.front;
    Length depth = std::max(least(spans_.front, up_front + sealed(spans_.front_is_sealed)),
                            least(spans_.back, needs_.back + sealed(spans_.back_is_sealed)));
    if (!flap_is_open) {
      depth = std::max(depth, least(front_and_back(), sheet() - stated(values_, size::kFlap)));
    }
    return depth;
  }

  /// Of front, back and flap, what is sealed at the bottom included.
  [[nodiscard]] Length sheet() const {
    return needs_.sheet + sealed(spans_.front_is_sealed) + sealed(spans_.back_is_sealed);
  }

  /// Requires: the depth is known.
  [[nodiscard]] Length flap() const {
    const LinearForm flap = form({*construction_.flap_span});
    const Length beyond = sheet() - value_of(form(front_and_back()), values_);
    // A pouch turns over in a bag: a short flap that is caught at its sides bulges open.
    const bool is_caught = construction_.flap_law == FlapLaw::caught;
    const Length share = is_caught ? a_third(stated(values_, size::kDepth)) : Length();
    return least_size(flap, size::kFlap, values_, std::max({needs_.flap, beyond, share}));
  }

  const Request& request_;
  const Construction& construction_;
  WrappedSpans spans_;
  ContentBox box_;
  Values values_;
  WrapNeeds needs_;
};

/// A pouch as its content meets it: found once, asked for many counts.
class Room {
 public:
  Room(const Construction& construction, const Sizes& sizes)
      : law_(construction.flap_law), lengths_(wrap_lengths(construction, sizes)) {}

  [[nodiscard]] const WrapLengths& lengths() const { return lengths_; }

  [[nodiscard]] std::vector<WrapLimit> limits(const Liners& liners, const ContentBox& box) const {
    return wrap_limits(lengths_, wrap_needs(box, liners, law_, lengths_), law_);
  }

  [[nodiscard]] bool holds(const Liners& liners, const ContentBox& box) const {
    const auto all = limits(liners, box);
    return std::all_of(all.begin(), all.end(),
                       [](const WrapLimit& one) { return one.has >= one.needs; });
  }

  /// The greatest thickness with which a box of this width and length goes in; empty where none
  /// does. Whatever a thicker box needs is never less, so halving finds it.
  [[nodiscard]] std::optional<Length> highest(const Liners& liners, ContentBox box) const {
    box.height = Length();
    if (!holds(liners, box)) return std::nullopt;
    std::int64_t fits = 0;
    std::int64_t too_high = lengths_.inside.in_nm() + 1;
    while (too_high - fits > 1) {
      const std::int64_t between = fits + (too_high - fits) / 2;
      box.height = Length::nm(between);
      (holds(liners, box) ? fits : too_high) = between;
    }
    return Length::nm(fits);
  }

 private:
  FlapLaw law_;
  WrapLengths lengths_;
};

bool fits(const Material& material, const Sizes& sizes) {
  const Length usable = material.usable_width();
  const bool along = material.turn != Turn::across && sizes.cut_width <= usable;
  const bool across = material.turn != Turn::along && sizes.cut_length <= usable;
  return along || across;
}

/// One way to lay the job's liners, and what comes of it.
struct Way {
  Values values;
  Alternative shown;
  bool fits_cloth = false;
  int takes = 0;  ///< where it does not hold them: how many it does

  [[nodiscard]] double area() const { return shown.cut_width.in_mm() * shown.cut_length.in_mm(); }
  /// The way with the least rank is taken.
  [[nodiscard]] auto rank() const {
    return std::tuple(!shown.holds, -takes, !fits_cloth, area(), shown.columns);
  }
};

std::optional<Way> way_of(const Request& request, const Values& values, int columns, Lies lies) {
  const Liners& liners = *request.liners;
  const int count = liners.count->value;
  Way way;
  way.values = values_for(request, values, count, columns, lies);
  base::Diagnostics ignored;
  const auto sizes = sizes_of(request, way.values, {}, ignored);
  if (!sizes) return std::nullopt;
  way.shown = {.lies = lies,
               .columns = columns,
               .layers = layers_of(count, columns),
               .width = sizes->finished_width,
               .depth = sizes->depth,
               .flap = sizes->flap,
               .cut_width = sizes->cut_width,
               .cut_length = sizes->cut_length};
  way.shown.holds =
      Room(request.construction, *sizes).holds(liners, content_box(liners, count, columns, lies));
  way.fits_cloth =
      fits(request.laminate, *sizes) && (!request.outer || fits(*request.outer, *sizes));
  way.takes = way.shown.holds ? 0 : capacity_of(request, *sizes).liners;
  return way;
}

/// By columns.
void add_ways(const Request& request, const Values& values, Lies lies, std::vector<Way>& found) {
  const Liners& liners = *request.liners;
  const int count = liners.count->value;
  const int first = liners.columns ? liners.columns->value : 1;
  const int last = liners.columns ? liners.columns->value : count;
  for (int columns = first; columns <= last; ++columns) {
    const bool same_layers =
        columns > first && layers_of(count, columns) == layers_of(count, columns - 1);
    if (same_layers) continue;
    if (auto way = way_of(request, values, columns, lies)) found.push_back(std::move(*way));
  }
}

/// As given, by columns, then turned where a stated width asks for it; the best one is marked.
std::vector<Way> ways(const Request& request, const Values& values) {
  std::vector<Way> found;
  add_ways(request, values, Lies::as_given, found);
  const bool any_holds =
      std::any_of(found.begin(), found.end(), [](const Way& way) { return way.shown.holds; });
  const bool may_turn = request.liners->turn == LinerTurn::either;
  if (!any_holds && may_turn && values.contains(size::kWidth)) {
    add_ways(request, values, Lies::turned, found);
  }
  const auto best = std::min_element(
      found.begin(), found.end(), [](const Way& a, const Way& b) { return a.rank() < b.rank(); });
  if (best != found.end()) best->shown.chosen = true;
  return found;
}

/// Liners side by side, and how high they may be stacked.
struct Stack {
  Lies lies{};
  int columns = 0;
  Length height;

  [[nodiscard]] int takes(Length thickness) const {
    const std::int64_t layers = height.in_nm() / thickness.in_nm();
    return static_cast<int>(std::min<std::int64_t>(layers * columns, kMostLiners));
  }
  /// The thickest liner of which `count` go in.
  [[nodiscard]] Length thickest(int count) const {
    return Length::nm(height.in_nm() / layers_of(count, columns));
  }
};

int most_columns(Length across, Length inside) {
  const std::int64_t fit = inside.in_nm() / across.in_nm();
  return static_cast<int>(std::clamp<std::int64_t>(fit, 1, kMostLiners));
}

/// Every way to lay one liner at least: as given before turned, then by columns.
std::vector<Stack> stacks_in(const Room& room, const Liners& liners, Length inside) {
  std::vector<Stack> found;
  for (const Lies lies : lies_of(liners)) {
    const int first = liners.columns ? liners.columns->value : 1;
    const int last =
        liners.columns ? liners.columns->value : most_columns(across_of(liners, lies), inside);
    for (int columns = first; columns <= last; ++columns) {
      const auto height = room.highest(liners, content_box(liners, 1, columns, lies));
      if (!height) break;  // wider still fits no better
      found.push_back({lies, columns, *height});
    }
  }
  return found;
}

std::optional<Length> thickest_of(const std::vector<Stack>& stacks, int count) {
  Length most;
  for (const Stack& stack : stacks) most = std::max(most, stack.thickest(count));
  return most > Length() ? std::optional(most) : std::nullopt;
}

Capacity capacity_in(const Request& request, const Liners& liners, const Sizes& sizes) {
  const Room room(request.construction, sizes);
  const std::vector<Stack> stacks = stacks_in(room, liners, sizes.inside_width);
  Capacity best;
  best.columns = liners.columns ? liners.columns->value : 1;
  for (const Stack& stack : stacks) {
    const int count = stack.takes(liners.thickness.value);
    if (count <= best.liners) continue;
    best.liners = count;
    best.columns = stack.columns;
    best.lies = stack.lies;
  }
  const auto limits = [&](int count) {
    return room.limits(liners, content_box(liners, count, best.columns, best.lies));
  };
  const auto now = limits(std::max(best.liners, 1));
  const auto next = limits(best.liners + 1);
  for (std::size_t i = 0; i < now.size(); ++i) {
    best.limits.push_back({now[i].limit, now[i].has, now[i].needs, next[i].needs});
    if (next[i].needs > next[i].has) best.limited_by.push_back(now[i].limit);
  }
  if (best.liners < kMostLiners) best.one_more_at = thickest_of(stacks, best.liners + 1);
  if (best.liners > 0) best.one_fewer_above = thickest_of(stacks, best.liners);
  return best;
}

// ---- The least sizes ----

/// The best way to give the liners the sizes that `values` leaves open; empty where none holds
/// them. A single open size is the least that will do, else the panel is.
std::optional<Way> least_way(const Request& request, const Values& values,
                             const std::vector<std::string>& open) {
  std::vector<Way> found;
  for (const Lies lies : lies_of(*request.liners)) add_ways(request, values, lies, found);
  std::erase_if(found, [](const Way& way) { return !way.shown.holds; });
  const auto worth = [&](const Way& way) {
    const Length alone = open.size() == 1 ? way.values.at(open.front()) : Length();
    return std::tuple(alone, way.area());
  };
  const auto best = std::min_element(
      found.begin(), found.end(), [&](const Way& a, const Way& b) { return worth(a) < worth(b); });
  return best == found.end() ? std::nullopt : std::optional(*best);
}

LeastSizes least_of(const Way& way, const std::vector<std::string>& open) {
  LeastSizes least{{}, way.shown.cut_width, way.shown.cut_length};
  for (const std::string& name : open) least.sizes.emplace_back(name, way.values.at(name));
  return least;
}

/// All choices of some of the names: few before many, in their order.
std::vector<std::vector<std::string>> choices_of(const std::vector<std::string>& names) {
  std::vector<std::vector<std::string>> all;
  for (unsigned bits = 1; bits < (1U << names.size()); ++bits) {
    auto& one = all.emplace_back();
    for (std::size_t i = 0; i < names.size(); ++i) {
      if (((bits >> i) & 1U) != 0) one.push_back(names[i]);
    }
  }
  std::stable_sort(all.begin(), all.end(),
                   [](const auto& a, const auto& b) { return a.size() < b.size(); });
  return all;
}

/// A wider panel of the same length, where that is enough.
std::optional<LeastSizes> least_width_of_panel(const Request& request) {
  std::optional<LeastSizes> least;
  const Liners& liners = *request.liners;
  for (const Lies lies : lies_of(liners)) {
    for (int columns = 1; columns <= liners.count->value; ++columns) {
      if (liners.columns && liners.columns->value != columns) continue;
      Request wider = request;
      Values values = stated_values(request);
      values.erase(size::kWidth);
      values = values_for(request, values, liners.count->value, columns, lies);
      wider.panel->width.value = base::rounded_up(
          values.at(size::kWidth) + 2 * stated(values, size::kSeamAllowance), request.cut_step);
      base::Diagnostics ignored;
      const auto of_panel = values_from_panel(wider, stated_values(wider), ignored);
      const auto sizes = of_panel ? sizes_of(wider, *of_panel, {}, ignored) : std::nullopt;
      const ContentBox box = content_box(liners, liners.count->value, columns, lies);
      if (!sizes || !Room(request.construction, *sizes).holds(liners, box)) continue;
      if (least && least->cut_width <= sizes->cut_width) continue;
      least = LeastSizes{{{size::kWidth, sizes->cut_width}}, sizes->cut_width, sizes->cut_length};
    }
  }
  return least;
}

}  // namespace

ContentBox content_box(const Liners& liners, int count, int columns, Lies lies) {
  const Length along = lies == Lies::turned ? liners.width.value : liners.length.value;
  return {columns * across_of(liners, lies), along,
          layers_of(count, columns) * liners.thickness.value};
}

std::optional<std::string> floor_size(const Construction& construction) {
  const Refs floor = wrapped_spans(construction).floor;
  std::vector<std::string> only_there;
  for (const SizeRule& rule : construction.sizes) {
    bool in_floor = false;
    bool elsewhere = false;
    for (std::size_t panel = 0; panel < construction.panels.size(); ++panel) {
      for (std::size_t span = 0; span < construction.panels[panel].spans.size(); ++span) {
        const SpanRef ref{panel, span};
        if (share_of(construction.span(ref).length, rule.name).numerator == 0) continue;
        const bool here = std::find(floor.begin(), floor.end(), ref) != floor.end();
        (here ? in_floor : elsewhere) = true;
      }
    }
    if (in_floor && !elsewhere) only_there.push_back(rule.name);
  }
  if (only_there.size() != 1) return std::nullopt;
  return only_there.front();
}

bool follows_liners(const Construction& construction, const std::string& size_name) {
  return size_name == size::kWidth || size_name == size::kDepth || size_name == size::kFlap ||
         floor_size(construction) == size_name;
}

Values values_for(const Request& request, Values values, int count, int columns, Lies lies) {
  return Sizing(request, std::move(values), content_box(*request.liners, count, columns, lies))
      .completed();
}

std::vector<Alternative> alternatives(const Request& request) {
  std::vector<Alternative> found;
  if (request.panel || !request.liners || !request.liners->count) return found;
  for (const Way& way : ways(request, stated_values(request))) found.push_back(way.shown);
  return found;
}

std::optional<Values> values_from_liners(const Request& request, const Values& values,
                                         base::Diagnostics& diagnostics) {
  for (const Way& way : ways(request, values)) {
    if (way.shown.chosen) return way.values;
  }
  // Where not even one liner has a pouch, the sizes are at fault, and are told of in their own
  // words.
  Values for_one = values_for(request, values, 1, 1);
  base::Diagnostics of_one;
  const auto sizes = sizes_of(request, for_one, {}, of_one);
  const auto faults = of_one.sorted(base::Severity::error);
  const bool is_large = std::any_of(faults.begin(), faults.end(), [](const auto& fault) {
    return fault.message.key == "panel-too-long";
  });
  if (!sizes && !is_large) return for_one;
  const auto& count = *request.liners->count;
  diagnostics.error(count.place, {"liners-too-many", {{"count", count.value}}},
                    {{"liners-too-many-hint"}});
  return std::nullopt;
}

std::optional<Packed> packed(const Pouch& pouch) {
  if (!pouch.capacity || pouch.capacity->liners == 0) return std::nullopt;
  const Liners& liners = *pouch.request.liners;
  const int most = pouch.capacity->liners;
  Packed content;
  content.liners = liners.count ? std::min(liners.count->value, most) : most;
  const Room room(pouch.construction(), pouch.sizes);
  for (const Stack& stack : stacks_in(room, liners, pouch.sizes.inside_width)) {
    if (stack.takes(liners.thickness.value) < content.liners) continue;
    content.lies = stack.lies;
    content.columns = stack.columns;
    break;
  }
  content.layers = layers_of(content.liners, content.columns);
  content.box = content_box(liners, content.liners, content.columns, content.lies);
  content.cloth = room.lengths();
  content.climb =
      base::half(content.box.height - std::min(content.cloth.floor, content.box.height));
  return content;
}

Capacity capacity_of(const Request& request, const Sizes& sizes) {
  return capacity_in(request, *request.liners, sizes);
}

Capacity capacity_for(const Pouch& pouch, const Liners& liners) {
  return capacity_in(pouch.request, liners, pouch.sizes);
}

std::optional<LeastSizes> least_sizes(const Request& request) {
  const std::vector<std::string> whole = {size::kWidth, "length"};
  if (request.panel) {
    if (auto wider = least_width_of_panel(request)) return wider;
    Request open = request;
    open.panel.reset();
    const auto way = least_way(open, stated_values(open), whole);
    if (!way) return std::nullopt;
    const auto& shown = way->shown;
    return LeastSizes{{{whole[0], shown.cut_width}, {whole[1], shown.cut_length}},
                      shown.cut_width,
                      shown.cut_length};
  }
  const Values values = stated_values(request);
  std::vector<std::string> names;
  for (const SizeRule& rule : request.construction.sizes) {
    const bool is_stated = values.contains(rule.name);
    if (is_stated && follows_liners(request.construction, rule.name)) names.push_back(rule.name);
  }
  for (const auto& open : choices_of(names)) {
    Values left = values;
    for (const std::string& name : open) left.erase(name);
    if (const auto way = least_way(request, left, open)) return least_of(*way, open);
  }
  return std::nullopt;
}

}  // namespace pouchwright::pouch
