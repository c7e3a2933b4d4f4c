#include "draw/full_size/cards.h"

#include <algorithm>
#include <cmath>
#include <string>
#include <utility>

#include "base/length.h"
#include "draw/full_size/cards_words.h"
#include "draw/full_size/part_marks.h"
#include "draw/full_size/sole.h"
#include "draw/full_size/top_bar.h"
#include "ink/canvas.h"
#include "pouch/questions.h"
#include "tell/names.h"

namespace pouchwright::draw {
namespace {

using base::Length;
using pouch::Interval;
using Use = pouch::NamedCard::Use;

constexpr double kTick = 5;
/// Half of a notch's width at the card's rim.
constexpr double kHalfNotch = 3;
constexpr Stroke kSoleStroke{LinePattern::dashed, 0.35};
constexpr Stroke kSoleBesideStroke{LinePattern::dashed, 0.18};
/// A flat hand's fingers take so much; no field is larger than kWidestField x kHighestField, which
/// a whole hand covers.
constexpr Point kLeastField{32, 14};
constexpr double kWidestField = 90;
constexpr double kHighestField = 45;
constexpr double kFieldStep = 1;

double gap_between(double a0, double a1, double b0, double b1) {
  return std::max({0.0, b0 - a1, a0 - b1});
}

// ---- The panel under the card ------------------------------------------------------------------

/// The panels as they lie at the card's pressing.
const pouch::Folded* pressed(const pouch::Pouch& pouch, const pouch::NamedCard& card) {
  for (const pouch::Stage& stage : pouch.stages) {
    if (stage.operation == card.operation) return &stage.folded;
  }
  return nullptr;
}

/// Folds that lie under the bar while the sides are pressed; hems do not count, they are sewn.
std::vector<CardFold> folds_above_the_lip(const CardOnPaper& shown) {
  std::vector<CardFold> result;
  const pouch::Sizes& sizes = shown.pouch.sizes;
  for (const pouch::FoldLine& fold : folds_of(sizes.main_panel())) {
    const Length height = shown.pressed->height_of({0, fold.before}, fold.at);
    const double y = shown.y_of(height);
    if (height <= shown.lip || y <= shown.bar.y0) continue;
    const pouch::FlatPanel& panel = sizes.main_panel();
    if (panel.is_hem(fold.before) || panel.is_hem(fold.before + 1)) continue;
    const bool is_flap = pouch::role_of(shown.pouch, 0, fold) == pouch::FoldRole::flap;
    result.push_back({y, is_flap ? "drawing-tick-flap-fold" : "drawing-tick-fold"});
  }
  return result;
}

/// The heights at which bands with this x lie once folded.
std::vector<Interval> heights_fused(const CardOnPaper& shown, const Interval& x) {
  std::vector<Interval> heights;
  for (const pouch::SealZone& zone : shown.pouch.seal_zones) {
    if (!(zone.x == x) || !shown.pressed->lies(zone.panel)) continue;
    const auto& spans = shown.pouch.sizes.panels[zone.panel].spans;
    for (std::size_t i = 0; i < spans.size(); ++i) {
      const auto part = shared(zone.y, {spans[i].from, spans[i].to});
      if (part) heights.push_back(heights_of(*shown.pressed, {zone.panel, i}, *part));
    }
  }
  return joined(std::move(heights));
}

/// The fused bands as they lie folded; one all across, as at a bottom seam, ends where those of the
/// sides begin.
std::vector<Box> bands(const CardOnPaper& shown) {
  std::vector<Interval> across;
  for (const pouch::SealZone& zone : shown.pouch.seal_zones) {
    if (std::find(across.begin(), across.end(), zone.x) == across.end()) across.push_back(zone.x);
  }
  std::vector<Box> found;
  double left = 0;
  double right = shown.right;
  for (const Interval& x : across) {
    for (const Interval& heights : heights_fused(shown, x)) {
      found.push_back(
          {on_paper(x.from), shown.y_of(heights.to), on_paper(x.to), shown.y_of(heights.from)});
      if (found.back().x1 < shown.centre) left = std::max(left, found.back().x1);
      if (found.back().x0 > shown.centre) right = std::min(right, found.back().x0);
    }
  }
  for (Box& band : found) {
    if (band.x0 < shown.centre && band.x1 > shown.centre) band = {left, band.y0, right, band.y1};
  }
  return found;
}

std::vector<Text> words_of_band(const Sheet& sheet, const Box& band) {
  const Point centre = middle(band);
  if (band.width() <= band.height()) {
    return words_along(sheet, sheet.say("drawing-fuse-here"), centre.x, band.y0, band.y1);
  }
  return {centred_on(label(sheet.say("drawing-fuse-here"), kSmallestSize),
                     {band.x0 + band.width() / 4, centre.y}, sheet.measure())};
}

void name_band(Sheet& sheet, const Box& band, const Box& bar) {
  const bool is_wide = band.width() > band.height();
  for (const Text& words : words_of_band(sheet, band)) {
    // The shield's arms reach over the band's upper end: no words across their edge.
    const Box size = grown(bounds(words, sheet.measure()), kClearance);
    const bool has_room =
        is_wide ? size.height() < band.height() + 2 * kClearance
                : size.width() <= band.width() && !overlap(size, grown(bar, kClearance));
    if (has_room) sheet.draw(words);
  }
}

void draw_panel_behind(Sheet& sheet, const CardOnPaper& shown) {
  if (shown.pressed == nullptr) return;
  const auto ghost = [&](Point from, Point to, const char* name) {
    sheet.draw(Group::seam, line(from, to), kGhostStroke, name);
  };
  const double top = shown.y_of(shown.pressed->breaks().back());
  const double bottom = shown.y_of(shown.pressed->breaks().front());
  const double right = shown.right;
  ghost({0, top}, {0, bottom}, "raw edge");
  ghost({right, top}, {right, bottom}, "raw edge");
  ghost({0, top}, {right, top}, "panel's end");
  ghost({0, bottom}, {right, bottom}, "bottom");
  for (const CardFold& fold : shown.folds) ghost({0, fold.y}, {right, fold.y}, "fold");
  for (const Box& band : shown.bands) {
    sheet.draw(Group::seal, rectangle(band), kGhostStroke, "fused band");
    name_band(sheet, band, shown.bar);
    sheet.keep_free(band);
  }
}

// ---- The card ----------------------------------------------------------------------------------

CardOnPaper card_on_paper(const pouch::Pouch& pouch, std::vector<const pouch::NamedCard*> serves,
                          const batch::IronSole& sole) {
  CardOnPaper shown{.pouch = pouch, .serves = std::move(serves), .sole = sole};
  const pouch::Card& card = shown.card();
  shown.pressed = pressed(pouch, *shown.serves.front());
  shown.lip = shown.is_slip() ? card.shoulder : pouch.lip_height;
  shown.centre = on_paper(pouch.sizes.cut_width) / 2;
  shown.right = on_paper(pouch.sizes.cut_width);
  const auto [left, right] =
      std::minmax_element(card.outline.begin(), card.outline.end(),
                          [](const pouch::Corner& a, const pouch::Corner& b) { return a.x < b.x; });
  const pouch::Corner& foot = card.outline.front();
  const double shoulder = shown.y_of(card.shoulder);
  shown.bar = {on_paper(left->x), 0, on_paper(right->x), shoulder};
  shown.stem = {on_paper(foot.x), shoulder, on_paper(foot.x) + on_paper(card.stem_width),
                shown.y_of(foot.y)};
  if (shown.pressed == nullptr) return shown;
  shown.folds = folds_above_the_lip(shown);
  shown.bands = bands(shown);
  return shown;
}

void draw_outline(Sheet& sheet, const CardOnPaper& shown, std::string name) {
  std::vector<Point> corners;
  for (const pouch::Corner& corner : shown.card().outline) {
    corners.push_back({on_paper(corner.x), shown.y_of(corner.y)});
  }
  sheet.draw(Group::cut, polyline(corners, Ends::closed), kCutStroke, std::move(name));
}

/// A shield hides the lip and all above it. So its marks are where the pouch is seen beside it: the
/// raw edges come out below the bar, and through notches in its ends one sees the lip's corners.
void draw_notches(Sheet& sheet, const CardOnPaper& shown) {
  const double lip = shown.y_of(shown.lip);
  for (const double x : {0.0, shown.right}) {
    const bool is_right = x > 0;
    const double rim = is_right ? shown.bar.x1 : shown.bar.x0;
    sheet.draw(Group::notch, line({x, shown.bar.y1 - kTick}, {x, shown.bar.y1}), kTickStroke,
               is_right ? "raw edge: right" : "raw edge: left");
    sheet.draw(Group::notch,
               polyline({{rim, lip - kHalfNotch}, {x, lip}, {rim, lip + kHalfNotch}}, Ends::open),
               kMarkStroke, is_right ? "lip: right" : "lip: left");
  }
}

void draw_ticks(Sheet& sheet, const CardOnPaper& shown) {
  const auto tick = [&](Point from, Point to, std::string name) {
    sheet.draw(Group::notch, line(from, to), kTickStroke, std::move(name));
  };
  // From the left and the right rim inwards.
  const auto side_ticks = [&](const Box& part, double y, const std::string& name) {
    tick({part.x0, y}, {part.x0 + kTick, y}, name + ": left");
    tick({part.x1 - kTick, y}, {part.x1, y}, name + ": right");
  };
  tick({shown.centre, 0}, {shown.centre, kTick}, "centre: top");
  tick({shown.centre, shown.stem.y1 - kTick}, {shown.centre, shown.stem.y1}, "centre: bottom");
  if (!shown.is_slip()) return draw_notches(sheet, shown);
  // Its rim shows the raw edges, and the folds are seen at both sides of it.
  side_ticks(shown.part_at_lip(), shown.y_of(shown.lip), "lip");
  for (const CardFold& fold : shown.folds) side_ticks(shown.bar, fold.y, "fold");
}

/// Right of a tick's inner end; a little above or below it where a line runs on from the tick.
void name_tick(Sheet& sheet, const char* key, double x, double y) {
  const Text words = label(sheet.say(key), kSmallestSize);
  const Box size = bounds(words, sheet.measure());
  std::vector<Point> corners;
  for (double along = 1.5; along < 40; along += 2) {
    for (const double up :
         {-size.height() / 2, 0.5 - size.height() / 2, -size.height() - 1.5, 1.5}) {
      corners.push_back({x + along, y + up});
    }
  }
  sheet.put(words, corners);
}

void name_raw_edges(Sheet& sheet, const CardOnPaper& shown) {
  Text words = label(sheet.say("drawing-tick-raw-edge"), kSmallestSize);
  words.turn_deg = 270;
  const Box size = bounds(words, sheet.measure());
  for (const double x : {1.5, shown.right - 1.5 - size.width()}) {
    std::vector<Point> corners;
    for (double y = shown.bar.y1 - kTick - 2 - size.height(); y > shown.bar.y0; y -= 2) {
      corners.push_back({x, y});
    }
    sheet.put(words, corners);
  }
}

void name_ticks(Sheet& sheet, const CardOnPaper& shown) {
  const double end = shown.is_slip() ? shown.part_at_lip().x0 + kTick : 0;
  name_tick(sheet, "drawing-tick-lip", end, shown.y_of(shown.lip));
  for (const CardFold& fold : shown.folds) name_tick(sheet, fold.key, shown.bar.x0 + kTick, fold.y);
  name_tick(sheet, "drawing-tick-bottom", shown.centre, shown.stem.y1 - kTick / 2);
  name_tick(sheet, "drawing-tick-centre", shown.centre, kTick / 2);
  name_raw_edges(sheet, shown);
}

// ---- Words -------------------------------------------------------------------------------------

/// Where a hand may hold the card: the larger of the fields in bar and stem. Empty on a slip card,
/// and where a hand has room in neither.
std::optional<Box> field_to_hold(const CardOnPaper& shown) {
  if (shown.is_slip()) return std::nullopt;
  const SolePlaces places = sole_places(shown.sole, shown.bands, shown.pressed_box());
  std::vector<KeptClear> clear;
  for (const Box& box : places.covered)
    clear.push_back({box, on_paper(pouch::kHandDistance.of(shown.pouch.request.units))});
  for (const Box& box : places.steamed) clear.push_back({box, 0});
  std::optional<Box> best;
  for (const Box& part : {shown.bar, shown.stem}) {
    Box room = grown(part, -kCardInset);
    if (part == shown.bar) room.y0 = kTick + 1;  // below the centre tick
    const auto field = hold_field(room, shown.centre, clear, kLeastField);
    if (!field) continue;
    if (!best || field->width() * field->height() > best->width() * best->height()) best = field;
  }
  return best;
}

void draw_field(Sheet& sheet, const Box& field) {
  sheet.draw(Group::label, rectangle(field), kGrainStroke, "hold here");
  sheet.draw(centred_on(label(sheet.say("drawing-hold-here"), kLabelSize, Weight::bold),
                        middle(field), sheet.measure()));
  sheet.keep_free(field);
}

/// What of `path` crosses none of the boxes.
Path beside(const Path& path, const std::vector<Box>& boxes) {
  Path kept;
  std::vector<Point> run;
  const auto end_run = [&] {
    if (run.size() > 1) append(kept, polyline(run, Ends::open));
    run.clear();
  };
  for (const auto& step : path) {
    const Point& to = step.to;
    const bool goes_on = step.verb == Verb::line && !run.empty();
    if (!goes_on) end_run();
    const Box way = goes_on ? bounds(line(run.back(), to)) : Box{to.x, to.y, to.x, to.y};
    const bool is_free =
        std::none_of(boxes.begin(), boxes.end(), [&](const Box& box) { return overlap(way, box); });
    if (!is_free) end_run();
    run.push_back(to);
  }
  end_run();
  return kept;
}

/// The rest of the sole, from the raw edge to the card: only the paper shows it, it is not traced.
void draw_sole_beside(Sheet& sheet, const CardOnPaper& shown) {
  const Box pressed = shown.pressed_box();
  const Box strip{pressed.x0, shown.stem.y0, shown.stem.x0, shown.stem.y1};
  std::vector<Box> words;
  for (const Box& band : shown.bands) {
    for (const Text& one : words_of_band(sheet, band)) {
      words.push_back(grown(bounds(one, sheet.measure()), kClearance));
    }
  }
  const Path outline = beside(sole_at_left(shown.sole, pressed, strip), words);
  if (!outline.empty()) {
    sheet.draw_freely(Group::label, outline, kSoleBesideStroke, "beside the card: the sole");
  }
}

/// The sole at the left side, as far as it lies on the centre strip; its name where it is wide.
void draw_sole(Sheet& sheet, const CardOnPaper& shown) {
  const Path outline = sole_at_left(shown.sole, shown.pressed_box(), shown.stem);
  if (outline.empty()) return;
  sheet.draw_freely(Group::label, outline, kSoleStroke, "iron's sole");
  draw_sole_beside(sheet, shown);
  for (std::size_t i = 1; i < outline.size(); ++i) {
    if (outline[i].verb != Verb::line) continue;
    sheet.keep_free(grown(bounds(line(outline[i - 1].to, outline[i].to)), kCardInset));
  }
  const base::Voice& words = sheet.words();
  Box region = grown(shown.stem, -kCardInset);
  region.y0 = std::min(region.y1, region.y0 + taper_of(shown.sole) / 2);
  region.x1 = std::min(region.x1, on_paper(shown.sole.width) - kCardInset);
  sheet.put({{.words = words.say({"drawing-sole",
                                  {{"width", kept_together(shown.sole.width, words)},
                                   {"length", kept_together(shown.sole.length, words)}}}),
              .weight = Weight::bold}},
            {region}, std::nullopt);
}

// ---- All cards of a use ------------------------------------------------------------------------

/// The cards of one use, those of one outline together, in the order of their first pressing.
std::vector<std::vector<const pouch::NamedCard*>> by_outline(const pouch::Pouch& pouch, Use use) {
  std::vector<std::vector<const pouch::NamedCard*>> found;
  for (const pouch::NamedCard& one : pouch.cards) {
    if (one.use != use) continue;
    const auto same = std::find_if(found.begin(), found.end(), [&](const auto& other) {
      return other.front()->card.outline == one.card.outline;
    });
    (same == found.end() ? found.emplace_back() : *same).push_back(&one);
  }
  return found;
}

}  // namespace

// For each height of a field, its half width follows: along x it must keep what Pythagoras leaves
// of the distance once the gap along y is known.
std::optional<Box> hold_field(const Box& room, double centre, const std::vector<KeptClear>& clear,
                              Point least) {
  std::optional<Box> best;
  double best_area = 0;
  for (double y0 = room.y0; y0 + least.y <= room.y1; y0 += kFieldStep) {
    for (double y1 = y0 + least.y; y1 <= std::min(room.y1, y0 + kHighestField); y1 += kFieldStep) {
      double reach = std::min({centre - room.x0, room.x1 - centre, kWidestField / 2});
      for (const auto& [box, distance] : clear) {
        const double up = gap_between(y0, y1, box.y0, box.y1);
        if (up > 0 && up >= distance) continue;
        const double across = std::sqrt(distance * distance - up * up);
        reach = std::min(reach, gap_between(centre, centre, box.x0, box.x1) - across);
      }
      if (2 * reach < least.x || 2 * reach * (y1 - y0) <= best_area) continue;
      best = Box{centre - reach, y0, centre + reach, y1};
      best_area = best->width() * best->height();
    }
  }
  return best;
}

bool has_place_to_hold(const pouch::Pouch& pouch, const batch::IronSole& sole) {
  // A top bar that is added to somebody's own card has none.
  if (pouch.request.card && pouch.request.card->kind == Use::shield) return false;
  const auto shields = by_outline(pouch, Use::shield);
  return std::any_of(shields.begin(), shields.end(), [&](const auto& serves) {
    return field_to_hold(card_on_paper(pouch, serves, sole)).has_value();
  });
}

std::vector<Drawing> cards(const pouch::Pouch& pouch, Use use, const batch::IronSole& sole,
                           const base::Voice& words, const TextMeasure& measure,
                           const Joins& joins) {
  if (pouch.request.card && pouch.request.card->kind == use) {
    return top_bars(pouch, words, measure, joins);
  }
  std::vector<Drawing> drawings;
  for (auto& serves : by_outline(pouch, use)) {
    const CardOnPaper shown = card_on_paper(pouch, std::move(serves), sole);
    const std::optional<Box> field = field_to_hold(shown);
    const CardKind kind = kind_of(shown, field.has_value(), words);
    std::string name = kind.name;
    if (!drawings.empty()) name += "-" + std::to_string(drawings.size() + 1);
    Sheet sheet(words, measure, joins_of(joins, name));
    draw_panel_behind(sheet, shown);
    draw_outline(sheet, shown, name);
    draw_ticks(sheet, shown);
    if (field) draw_field(sheet, *field);
    if (!shown.is_slip()) draw_sole(sheet, shown);
    name_ticks(sheet, shown);
    put_blocks(sheet, shown, kind, field.has_value());
    drawings.push_back(sheet.finished(
        name,
        words.say({"drawing-card-title",
                   {{"card", words.say(kind.title)}, {"title", tell::title_of(pouch, words)}}})));
  }
  return drawings;
}

}  // namespace pouchwright::draw
