#include "draw/full_size/cards.h"

#include <algorithm>
#include <cmath>
#include <string>
#include <utility>

#include "base/length.h"
#include "draw/full_size/template_words.h"
#include "ink/canvas.h"
#include "tell/names.h"
#include "tell/operations.h"

namespace pouchwright::draw {
namespace {

using base::Length;
using pouch::Interval;

constexpr double kInset = 2.5;
constexpr double kTick = 5;
/// From the drawing's right edge to what stands beside it, mm.
constexpr double kBeside = 6;
constexpr double kNoLowerEnd = 1e6;
/// The words of the lip's ticks take this much of the stem's upper end.
constexpr double kBelowLip = 6;
/// A flat hand's fingers; a field larger than kWidestField x kHighestField helps nobody.
constexpr Point kLeastField{32, 14};
constexpr double kWidestField = 90;
constexpr double kHighestField = 45;
constexpr double kFieldStep = 1;

/// What differs between the two cards.
struct Kind {
  std::string name;                ///< of the drawing
  const char* title;               ///< key, and the beginning of the keys of its words
  std::vector<const char*> steps;  ///< keys of how to use it
};

/// All that one outline is for; the first says how the panels lie.
using Served = std::vector<const pouch::NamedCard*>;

double gap_between(double a0, double a1, double b0, double b1) {
  return std::max({0.0, b0 - a1, a0 - b1});
}

class CardSheet {
 public:
  CardSheet(const Kind& kind, const pouch::Pouch& pouch, const pouch::Card& card, Served serves,
            const base::Voice& words, const TextMeasure& measure)
      : kind_(kind),
        pouch_(pouch),
        card_(card),
        serves_(std::move(serves)),
        lip_(is_slip() ? card.shoulder : pouch.lip_height),
        words_(words),
        sheet_(words, measure),
        centre_(on_paper(pouch.sizes.cut_width) / 2) {
    const auto [left, right] = std::minmax_element(
        card.outline.begin(), card.outline.end(),
        [](const pouch::Corner& a, const pouch::Corner& b) { return a.x < b.x; });
    const double shoulder = y_of(card.shoulder);
    bar_ = {on_paper(left->x), 0, on_paper(right->x), shoulder};
    const double stem_left = on_paper(card.outline.front().x);
    stem_ = {stem_left, shoulder, stem_left + on_paper(card.stem_width),
             y_of(card.outline.front().y)};
  }

  Drawing drawn() {
    panel_behind();
    outline();
    ticks();
    hold_here();
    tick_names();
    blocks();
    return sheet_.finished(kind_.name,
                           sheet_.say({"drawing-card-title",
                                       {{"card", sheet_.say(kind_.title)}, {"title", title()}}}));
  }

 private:
  /// Folded heights grow upwards, paper downwards.
  [[nodiscard]] double y_of(Length height) const { return on_paper(card_.top - height); }
  [[nodiscard]] bool is_slip() const { return serves_.front()->use == pouch::NamedCard::Use::slip; }
  [[nodiscard]] std::string title() const { return tell::title_of(pouch_, words_); }
  [[nodiscard]] std::string both(Length length) const { return in_both(length, words_); }

  // ---- The panel under the card ----------------------------------------------------------------

  /// The panels as they lie at the card's pressing; empty where nothing is pressed.
  [[nodiscard]] const pouch::Folded* pressed() const {
    for (const pouch::Stage& stage : pouch_.stages) {
      const auto& operation = pouch_.construction().operations[stage.operation];
      if (operation.action != pouch::Action::press) continue;
      if (operation.id == serves_.front()->operation) return &stage.folded;
    }
    return nullptr;
  }

  void panel_behind() {
    const pouch::Folded* folded = pressed();
    if (folded == nullptr) return;
    const double top = y_of(folded->breaks().back());
    const double bottom = y_of(folded->breaks().front());
    const double right = on_paper(pouch_.sizes.cut_width);
    ghost({0, top}, {0, bottom}, "raw edge");
    ghost({right, top}, {right, bottom}, "raw edge");
    ghost({0, top}, {right, top}, "panel's end");
    ghost({0, bottom}, {right, bottom}, "bottom");
    for (const Fold& fold : folds_above_the_lip()) ghost({0, fold.y}, {right, fold.y}, "fold");
    for (const Box& band : bands()) {
      sheet_.draw(Group::seal, rectangle(band), kGhostStroke, "fused band");
      name_band(band);
      sheet_.placer().take(band);
    }
  }

  void ghost(Point from, Point to, const char* name) {
    sheet_.draw(Group::seam, line(from, to), kGhostStroke, name);
  }

  /// Folds that lie under the bar while the sides are pressed; hems do not count, they are sewn.
  struct Fold {
    double y;
    const char* key;  ///< of its name
  };
  [[nodiscard]] std::vector<Fold> folds_above_the_lip() const {
    std::vector<Fold> result;
    const pouch::Folded* folded = pressed();
    if (folded == nullptr) return result;
    const auto& spans = pouch_.sizes.panel.spans;
    for (std::size_t i = 0; i + 1 < spans.size(); ++i) {
      const Length height = folded->height_of({0, i}, spans[i].to);
      const double y = y_of(height);
      if (height <= lip_ || y <= bar_.y0) continue;
      if (spans[i].name == pouch::kStartHem || spans[i + 1].name == pouch::kEndHem) continue;
      const std::string& flap = pouch_.construction().flap_span;
      const bool is_flap = spans[i].name == flap || spans[i + 1].name == flap;
      result.push_back({y, is_flap ? "drawing-tick-flap-fold" : "drawing-tick-fold"});
    }
    return result;
  }

  /// The fused bands as they lie folded, on this card's paper.
  [[nodiscard]] std::vector<Box> bands() const {
    std::vector<Box> result;
    const pouch::Folded* folded = pressed();
    if (folded == nullptr) return result;
    for (const Interval& x : stretches_across()) {
      for (const Interval& heights : heights_fused(*folded, x)) {
        result.push_back({on_paper(x.from), y_of(heights.to), on_paper(x.to), y_of(heights.from)});
      }
    }
    return between_the_sides(std::move(result));
  }

  /// A band all across, as at a bottom seam, ends where those of the sides begin.
  [[nodiscard]] std::vector<Box> between_the_sides(std::vector<Box> found) const {
    double left = 0;
    double right = on_paper(pouch_.sizes.cut_width);
    const auto is_across = [&](const Box& band) { return band.x0 < centre_ && band.x1 > centre_; };
    for (const Box& band : found) {
      if (is_across(band)) continue;
      if (band.x1 < centre_) left = std::max(left, band.x1);
      if (band.x0 > centre_) right = std::min(right, band.x0);
    }
    for (Box& band : found) {
      if (is_across(band)) band = {left, band.y0, right, band.y1};
    }
    return found;
  }

  /// Where bands lie across the pouch, each once.
  [[nodiscard]] std::vector<Interval> stretches_across() const {
    std::vector<Interval> result;
    for (const pouch::SealZone& zone : pouch_.seal_zones) {
      if (std::find(result.begin(), result.end(), zone.x) == result.end()) {
        result.push_back(zone.x);
      }
    }
    return result;
  }

  [[nodiscard]] std::vector<Interval> heights_fused(const pouch::Folded& folded,
                                                    const Interval& x) const {
    std::vector<Interval> heights;
    for (const pouch::SealZone& zone : pouch_.seal_zones) {
      if (!(zone.x == x) || !folded.lies(zone.panel)) continue;
      const auto& spans = pouch_.sizes.panels[zone.panel].spans;
      for (std::size_t i = 0; i < spans.size(); ++i) {
        const auto part = shared(zone.y, {spans[i].from, spans[i].to});
        if (!part) continue;
        const Length a = folded.height_of({zone.panel, i}, part->from);
        const Length b = folded.height_of({zone.panel, i}, part->to);
        heights.push_back({std::min(a, b), std::max(a, b)});
      }
    }
    return joined(std::move(heights));
  }

  void name_band(const Box& band) {
    const double x = (band.x0 + band.x1) / 2;
    if (band.width() > band.height()) {
      const Text words =
          centred_on(label(sheet_.say("drawing-fuse-here"), kSmallestSize),
                     {band.x0 + band.width() / 4, (band.y0 + band.y1) / 2}, sheet_.measure());
      if (bounds(words, sheet_.measure()).height() < band.height()) sheet_.draw(words);
      return;
    }
    for (const Text& words :
         words_along(sheet_.say("drawing-fuse-here"), x, band.y0, band.y1, sheet_.measure())) {
      // The shield's arms reach over the band's upper end: no words across their edge.
      const Box size = grown(bounds(words, sheet_.measure()), kClearance);
      if (size.width() > band.width() || overlap(size, grown(bar_, kClearance))) continue;
      sheet_.draw(words);
    }
  }

  // ---- The card --------------------------------------------------------------------------------

  void outline() {
    std::vector<Point> corners;
    for (const pouch::Corner& corner : card_.outline) {
      corners.push_back({on_paper(corner.x), y_of(corner.y)});
    }
    sheet_.draw(Group::cut, polyline(corners, Ends::closed), kCutStroke, kind_.name);
  }

  void tick(Point from, Point to, std::string name) {
    sheet_.draw(Group::notch, line(from, to), kTickStroke, std::move(name));
  }

  /// A tick from the left and the right rim at `y`, inwards.
  void side_ticks(const Box& part, double y, const char* name) {
    tick({part.x0, y}, {part.x0 + kTick, y}, std::string(name) + ": left");
    tick({part.x1 - kTick, y}, {part.x1, y}, std::string(name) + ": right");
  }

  /// The lip lies under the shield's bar, and at the slip card's shoulders.
  [[nodiscard]] const Box& part_at_lip() const { return y_of(lip_) < bar_.y1 ? bar_ : stem_; }

  void ticks() {
    tick({centre_, 0}, {centre_, kTick}, "centre: top");
    tick({centre_, stem_.y1 - kTick}, {centre_, stem_.y1}, "centre: bottom");
    raw_edge_ticks();
    side_ticks(part_at_lip(), y_of(lip_), "lip");
    for (const Fold& fold : folds_above_the_lip()) side_ticks(bar_, fold.y, "fold");
  }

  /// At the bar's upper and lower edge; where the bar ends at the raw edges, its own rim shows
  /// them.
  void raw_edge_ticks() {
    const double right = on_paper(pouch_.sizes.cut_width);
    if (bar_.x0 >= 0) return;
    for (const double x : {0.0, right}) {
      const std::string name = x > 0 ? "raw edge: right" : "raw edge: left";
      tick({x, bar_.y1 - kTick}, {x, bar_.y1}, name);
      tick({x, 0}, {x, kTick}, name);
    }
  }

  void tick_names() {
    beside_tick("drawing-tick-lip", part_at_lip().x0 + kTick, y_of(lip_));
    for (const Fold& fold : folds_above_the_lip()) beside_tick(fold.key, bar_.x0 + kTick, fold.y);
    beside_tick("drawing-tick-bottom", centre_, stem_.y1 - kTick / 2);
    beside_tick("drawing-tick-centre", centre_, kTick / 2);
    raw_edge_names();
  }

  /// Right of a tick's inner end; a little above or below it where a line runs on from the tick.
  void beside_tick(const char* key, double x, double y) {
    const Text words = label(sheet_.say(key), kSmallestSize);
    const Box size = bounds(words, sheet_.measure());
    std::vector<Point> corners;
    for (double along = 1.5; along < 40; along += 2) {
      for (const double up :
           {-size.height() / 2, 0.5 - size.height() / 2, -size.height() - 1.5, 1.5}) {
        corners.push_back({x + along, y + up});
      }
    }
    sheet_.put(words, corners);
  }

  void raw_edge_names() {
    const double right = on_paper(pouch_.sizes.cut_width);
    Text words = label(sheet_.say("drawing-tick-raw-edge"), kSmallestSize);
    words.turn_deg = 270;
    const Box size = bounds(words, sheet_.measure());
    std::vector<Point> at_left;
    std::vector<Point> at_right;
    for (double y = bar_.y1 - kTick - 2 - size.height(); y > bar_.y0; y -= 2) {
      at_left.push_back({1.5, y});
      at_right.push_back({right - 1.5 - size.width(), y});
    }
    sheet_.put(words, at_left);
    sheet_.put(words, at_right);
  }

  // ---- Words -----------------------------------------------------------------------------------

  void hold_here() {
    const double distance = on_paper(pouch::kHandDistance);
    std::optional<Box> best;
    for (const Box& part : {bar_, stem_}) {
      Box room = grown(part, -kInset);
      if (part == bar_) room.y0 = kTick + 1;  // below the centre tick
      const auto field = hold_field(room, centre_, bands(), distance, kLeastField);
      if (!field) continue;
      if (!best || field->width() * field->height() > best->width() * best->height()) best = field;
    }
    if (!best) return;
    has_field_ = true;
    sheet_.draw(Group::label, rectangle(*best), kGrainStroke, "hold here");
    sheet_.draw(centred_on(label(sheet_.say("drawing-hold-here"), kLabelSize, Weight::bold),
                           {(best->x0 + best->x1) / 2, (best->y0 + best->y1) / 2},
                           sheet_.measure()));
    sheet_.placer().take(*best);
  }

  void blocks() {
    std::vector<Box> regions;
    // The shield's arms beyond the raw edges are for the ticks.
    Box bar = grown(bar_, -kInset);
    bar.x0 = std::max(bar.x0, kInset);
    bar.x1 = std::min(bar.x1, on_paper(pouch_.sizes.cut_width) - kInset);
    Box stem = grown(stem_, -kInset);
    stem.y0 = stem_.y0 + kBelowLip;
    for (const Box& part : {bar, stem}) {
      for (const Box& column : columns(part, centre_)) regions.push_back(column);
    }
    const std::size_t in_stem = columns(bar, centre_).size();
    regions.push_back(bar);
    regions.push_back(stem);
    const double right = std::max(bar_.x1, on_paper(pouch_.sizes.cut_width)) + kBeside;
    const Box beside{right, 0, right + kWidestBlock, kNoLowerEnd};
    const auto put = [&](const Block& block, std::size_t first) {
      sheet_.put(block, beginning_at(regions, first), beside);
    };
    put(title_block(), 0);
    put(hold_block(), in_stem > 1 ? 1 : 0);
    put(steps_block(), in_stem);
    put(caution_block(), columns(stem, centre_).size() > 1 ? in_stem + 1 : in_stem);
  }

  [[nodiscard]] Block title_block() const {
    const auto& sizes = pouch_.sizes;
    Block block{{.words = sheet_.say(kind_.title), .size = kTitleSize, .weight = Weight::bold},
                {.words = sheet_.say("drawing-this-side-up"),
                 .size = kHeadingSize,
                 .weight = Weight::bold,
                 .space_before = 1},
                {.words = title(), .space_before = 2},
                {.words = sheet_.say(
                     {"drawing-finished-short",
                      {{"width", both(sizes.finished_width)}, {"depth", both(sizes.depth)}}}),
                 .space_before = 1},
                {.words = sheet_.say({"drawing-card-size",
                                      {{"bar", both(card_.bar_width)},
                                       {"stem", both(card_.stem_width)},
                                       {"length", both(card_.stem_length)}}}),
                 .space_before = 1}};
    for (std::string& use : uses()) {
      block.push_back({.words = std::move(use), .weight = Weight::bold, .space_before = 1});
    }
    return block;
  }

  /// For which compartments and pressings the card is; nothing where there is but one of each.
  [[nodiscard]] std::vector<std::string> uses() const {
    std::vector<std::string> result;
    const bool is_only =
        std::all_of(pouch_.cards.begin(), pouch_.cards.end(), [&](const pouch::NamedCard& other) {
          return other.use != serves_.front()->use || &other == serves_.front();
        });
    if (is_only) return result;
    const tell::OperationWords said(pouch_, sheet_.words());
    for (const pouch::NamedCard* one : serves_) {
      result.push_back(sheet_.say(
          {is_slip() ? "drawing-card-for-compartment" : "drawing-card-for-pressing",
           {{"compartment", one->compartment}, {"operation", said.listed({one->operation})}}}));
    }
    return result;
  }

  [[nodiscard]] Block hold_block() const {
    const std::string distance = kept_together(words_.text(pouch::kHandDistance));
    return {{.words = sheet_.say(
                 has_field_ ? base::Message("drawing-hold-only-there", {{"distance", distance}})
                            : base::Message("drawing-too-small-to-hold")),
             .weight = Weight::bold}};
  }

  [[nodiscard]] Block steps_block() const {
    Block block{
        {.words = sheet_.say("drawing-how-to-use"), .size = kHeadingSize, .weight = Weight::bold}};
    for (const char* step : kind_.steps) {
      block.push_back({.words = sheet_.say(step), .space_before = 1.2});
    }
    return block;
  }

  [[nodiscard]] Block caution_block() const {
    Block block{
        {.words = sheet_.say("drawing-caution"), .size = kHeadingSize, .weight = Weight::bold}};
    for (const char* caution :
         {"drawing-caution-hot", "drawing-caution-printed", "drawing-caution-bare-film",
          "drawing-caution-try", "drawing-caution-fumes"}) {
      block.push_back({.words = sheet_.say(caution), .space_before = 1.2});
    }
    return block;
  }

  const Kind& kind_;
  const pouch::Pouch& pouch_;
  const pouch::Card& card_;
  Served serves_;
  Length lip_;
  base::Voice words_;
  Sheet sheet_;
  double centre_;
  Box bar_;
  Box stem_;
  bool has_field_ = false;
};

}  // namespace

// For each height of a field, its half width follows: along x it must keep what Pythagoras leaves
// of the distance once the gap along y is known.
std::optional<Box> hold_field(const Box& room, double centre, const std::vector<Box>& bands,
                              double distance, Point least) {
  std::optional<Box> best;
  double best_area = 0;
  for (double y0 = room.y0; y0 + least.y <= room.y1; y0 += kFieldStep) {
    for (double y1 = y0 + least.y; y1 <= std::min(room.y1, y0 + kHighestField); y1 += kFieldStep) {
      double reach = std::min({centre - room.x0, room.x1 - centre, kWidestField / 2});
      for (const Box& band : bands) {
        const double up = gap_between(y0, y1, band.y0, band.y1);
        if (up >= distance) continue;
        const double across = std::sqrt(distance * distance - up * up);
        reach = std::min(reach, gap_between(centre, centre, band.x0, band.x1) - across);
      }
      if (2 * reach < least.x || 2 * reach * (y1 - y0) <= best_area) continue;
      best = Box{centre - reach, y0, centre + reach, y1};
      best_area = best->width() * best->height();
    }
  }
  return best;
}

namespace {

using Use = pouch::NamedCard::Use;

bool pressed_from_both(const pouch::Pouch& pouch) {
  const auto& operations = pouch.construction().operations;
  return std::any_of(operations.begin(), operations.end(),
                     [](const auto& one) { return one.from == pouch::PressFrom::both; });
}

/// A bottom that is a seam is fused like the sides, and its front is laid on, not folded. Where
/// both cards are used, the shield covers what the slip card does not.
Kind kind_of(Use use, const pouch::Pouch& pouch) {
  const bool has_bottom_seam = pouch.construction().has_bottom_seam();
  const bool has_shield = pouch.request.cards == pouch::CardUse::both;
  if (use == Use::slip) {
    const bool is_one_of_several = pouch.construction().compartments.size() > 1;
    const char* press = has_shield ? "drawing-slip-press-shield" : "drawing-slip-press";
    const char* press_seam =
        has_shield ? "drawing-slip-press-seam-shield" : "drawing-slip-press-seam";
    std::vector<const char*> steps{"drawing-trace", "drawing-slip-lay", "drawing-slip-fold", press};
    if (is_one_of_several) {
      steps = {"drawing-trace", "drawing-slip-lay-pocket", "drawing-slip-fold-pocket", press};
    } else if (has_bottom_seam) {
      steps = {"drawing-trace", "drawing-slip-lay-seam", "drawing-slip-front-seam", press_seam};
    }
    steps.push_back("drawing-slip-out");
    return {"slip-card", "drawing-slip-card", std::move(steps)};
  }
  return {"shield",
          "drawing-shield",
          {"drawing-trace", "drawing-shield-lay",
           has_bottom_seam ? "drawing-shield-press-seam" : "drawing-shield-press",
           pressed_from_both(pouch) ? "drawing-shield-off-both" : "drawing-shield-off"}};
}

/// Cards of one use, those of one outline together, in the order of their first pressing.
std::vector<Served> by_outline(const pouch::Pouch& pouch, Use use) {
  std::vector<Served> found;
  for (const pouch::NamedCard& one : pouch.cards) {
    if (one.use != use) continue;
    const auto same = std::find_if(found.begin(), found.end(), [&](const Served& other) {
      return other.front()->card.outline == one.card.outline;
    });
    if (same == found.end()) {
      found.push_back({&one});
    } else {
      same->push_back(&one);
    }
  }
  return found;
}

}  // namespace

std::vector<Drawing> cards(const pouch::Pouch& pouch, Use use, const base::Voice& words,
                           const TextMeasure& measure) {
  std::vector<Drawing> drawings;
  Kind kind = kind_of(use, pouch);
  const std::string name = kind.name;
  for (const Served& served : by_outline(pouch, use)) {
    if (!drawings.empty()) kind.name = name + "-" + std::to_string(drawings.size() + 1);
    drawings.push_back(
        CardSheet(kind, pouch, served.front()->card, served, words, measure).drawn());
  }
  return drawings;
}

}  // namespace pouchwright::draw
