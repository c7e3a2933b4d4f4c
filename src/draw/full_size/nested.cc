#include "draw/full_size/nested.h"

#include <algorithm>
#include <array>
#include <map>
#include <string>
#include <utility>

#include "base/length.h"
#include "draw/full_size/part_marks.h"
#include "draw/full_size/template_lines.h"
#include "draw/full_size/template_words.h"
#include "ink/canvas.h"
#include "tell/capacity.h"
#include "tell/names.h"

namespace pouchwright::draw {
namespace {

using base::Length;

constexpr double kMargin = 3;
/// Words slide along their line by this to find room, mm.
constexpr double kSlide = 4;
constexpr Stroke kLeaderStroke{LinePattern::continuous, 0.13};
constexpr double kLeaderDot = 0.7;
/// From the panels to where leaders bend, and to their words.
constexpr double kLeaderBend = 3;
constexpr double kLeaderWords = 12;
/// Leaders of sides begin here and one above the other, so that they run level.
constexpr double kFirstSideLeader = 12;
constexpr double kSideLeaderStep = 6;

constexpr std::array kPatterns = {LinePattern::continuous, LinePattern::dashed,
                                  LinePattern::long_dash_dot, LinePattern::long_dash_double_dot,
                                  LinePattern::dotted};

/// Sizes with one and the same panel.
struct Ring {
  const pouch::Pouch* pouch = nullptr;
  const pouch::Sizes* sizes = nullptr;
  const pouch::Capacity* capacity = nullptr;  ///< null without liners
  std::vector<int> liners;
  std::string name;  ///< "2 and 3 liners"
  Stroke cut, fold;

  [[nodiscard]] double half_width() const { return on_paper(sizes->cut_width) / 2; }
  [[nodiscard]] double length() const { return on_paper(sizes->cut_length); }
};

std::vector<Ring> rings_of(const std::vector<NestedSize>& nested, const base::Voice& words) {
  std::vector<Ring> rings;
  for (const NestedSize& one : nested) {
    const pouch::Sizes& sizes = one.pouch->sizes;
    const auto same = std::find_if(rings.begin(), rings.end(), [&](const Ring& ring) {
      return ring.sizes->cut_width == sizes.cut_width &&
             ring.sizes->main_panel().spans == sizes.main_panel().spans;
    });
    if (same != rings.end()) {
      same->liners.push_back(one.liners);
    } else {
      rings.push_back({one.pouch,
                       &sizes,
                       one.pouch->capacity ? &*one.pouch->capacity : nullptr,
                       {one.liners},
                       "",
                       {},
                       {}});
    }
  }
  for (std::size_t i = 0; i < rings.size(); ++i) {
    const LinePattern pattern = kPatterns[i % kPatterns.size()];
    const bool second_time = i >= kPatterns.size();
    rings[i].name = liners_named(rings[i].liners, words);
    rings[i].cut = {pattern, second_time ? 1.0 : 0.5};
    rings[i].fold = {pattern, second_time ? 0.35 : 0.18};
  }
  return rings;
}

/// A line that some rings share: the one that reaches farthest draws it.
struct SharedLine {
  const Ring* drawn = nullptr;
  double reach = 0;
  std::vector<const Ring*> owners;

  void add(const Ring& ring, double far) {
    owners.push_back(&ring);
    if (drawn != nullptr && far <= reach) return;
    drawn = &ring;
    reach = far;
  }
};

/// All lines, each once, by its place; `widest` and `narrowest` are half widths.
struct Nest {
  std::map<Length, SharedLine> sides;  ///< by the width between them
  std::map<Length, SharedLine> ends;
  std::map<Length, SharedLine> folds;
  /// By what a fold is called: one size's may lie where another's other one lies.
  std::map<Length, std::map<std::string, SharedLine>> called;
  double widest = 0;
  double narrowest = 1e9;
  double longest = 0;
};

Nest nest_of(const std::vector<Ring>& rings, const base::Voice& words) {
  Nest nest;
  for (const Ring& ring : rings) {
    nest.widest = std::max(nest.widest, ring.half_width());
    nest.narrowest = std::min(nest.narrowest, ring.half_width());
    nest.longest = std::max(nest.longest, ring.length());
    nest.sides[ring.sizes->cut_width].add(ring, ring.length());
    nest.ends[ring.sizes->cut_length].add(ring, ring.half_width());
    for (const pouch::FoldLine& fold : folds_of(ring.sizes->main_panel())) {
      nest.folds[fold.at].add(ring, ring.half_width());
      nest.called[fold.at][fold_label(*ring.pouch, 0, fold, words)].add(ring, ring.half_width());
    }
  }
  return nest;
}

/// The start of all lies at 0 and the panels above it, as each lies in the pictures of the steps.
double up(Length y) { return -on_paper(y); }

void draw_lines(Sheet& sheet, const Nest& nest) {
  const Ring& outer = *nest.sides.rbegin()->second.drawn;
  sheet.draw(Group::cut, line({-nest.widest, 0}, {nest.widest, 0}), outer.cut, "start of all");
  for (const auto& [width, side] : nest.sides) {
    for (const double x : {-on_paper(width) / 2, on_paper(width) / 2}) {
      sheet.draw(Group::cut, line({x, 0}, {x, -side.reach}), side.drawn->cut,
                 "side: " + side.drawn->name);
    }
  }
  const auto across = [](Length at, const SharedLine& shared) {
    return line({-shared.reach, up(at)}, {shared.reach, up(at)});
  };
  for (const auto& [at, end] : nest.ends) {
    sheet.draw(Group::cut, across(at, end), end.drawn->cut, "end: " + end.drawn->name);
  }
  for (const auto& [at, fold] : nest.folds) {
    sheet.draw(Group::fold, across(at, fold), fold.drawn->fold, "fold: " + fold.drawn->name);
  }
}

// ---- Words at lines ----------------------------------------------------------------------------

std::string owners_of(const SharedLine& shared, const base::Voice& words) {
  std::vector<int> counts;
  for (const Ring* ring : shared.owners) {
    counts.insert(counts.end(), ring->liners.begin(), ring->liners.end());
  }
  std::sort(counts.begin(), counts.end());
  return liners_named(counts, words);
}

std::string fold_name(const Nest& nest, Length at, const base::Voice& words) {
  std::string name;
  for (const auto& [called, owners] : nest.called.at(at)) {
    const std::string one = words.say(
        {"drawing-nested-fold", {{"liners", owners_of(owners, words)}, {"fold", called}}});
    name += (name.empty() ? "" : "; ") + one;
  }
  return name;
}

bool starts_with_lip(const pouch::Pouch& pouch) {
  const std::vector<Lip> lips = lips_of(pouch, pouch.sizes.parts.front());
  return std::any_of(lips.begin(), lips.end(), [](const Lip& lip) { return lip.y == Length(); });
}

void name_start(Sheet& sheet, const Nest& nest, const pouch::Pouch& pouch) {
  const char* key = starts_with_lip(pouch) ? "drawing-nested-lip" : "drawing-nested-start";
  const Text words = label(sheet.say(key), kSmallestSize, Weight::bold);
  const double top = -kClearance - 0.5 - bounds(words, sheet.measure()).height();
  std::vector<Point> corners;
  for (double x = -nest.narrowest + kMargin; x < nest.narrowest; x += kSlide) {
    corners.push_back({x, top});
  }
  sheet.put(words, corners);
}

/// To the right of all panels, with a thin line from a dot at `at`.
void put_with_leader(Sheet& sheet, const Nest& nest, const Text& text, Point at) {
  std::vector<Point> corners;
  add_places_below(corners,
                   {nest.widest + kLeaderWords, at.y - bounds(text, sheet.measure()).height() / 2});
  if (!sheet.put(text, corners)) return;
  const Box placed = sheet.word_boxes().back();
  const Point bend{nest.widest + kLeaderBend, at.y};
  // Words that come later keep off the level part; none ever stand where the rest runs.
  sheet.draw(Group::label, line(at, bend), kLeaderStroke, "leader");
  sheet.draw_freely(Group::label, line(bend, {placed.x0 - kClearance, middle(placed).y}),
                    kLeaderStroke, "leader");
  sheet.fill(Group::label, circle(at, kLeaderDot), "leader's dot");
}

/// Just above a line across, where there is no room just below it; from the left.
void name_across(Sheet& sheet, const Nest& nest, const Text& text, double y,
                 const SharedLine& shared) {
  const Box size = bounds(text, sheet.measure());
  const double away = shared.drawn->cut.width / 2 + kClearance;
  std::vector<Point> corners;
  for (const double top : {y - away - size.height(), y + away}) {
    for (double x = -shared.reach + kMargin; x + size.width() < shared.reach - kMargin;
         x += kSlide) {
      corners.push_back({x, top});
    }
  }
  if (!sheet.put(text, corners)) put_with_leader(sheet, nest, text, {shared.reach, y});
}

/// Along a side, read from the right: inside its panel, where there is no room outside. False where
/// there is none at all.
bool name_along(Sheet& sheet, const Nest& nest, Text text, double x, const SharedLine& shared) {
  text.turn_deg = 270;
  const Box size = bounds(text, sheet.measure());
  const double away = shared.drawn->cut.width / 2 + kClearance;
  std::vector<Point> corners;
  for (const double left : {x - away - size.width(), x + away}) {
    if (left + size.width() > nest.widest) continue;
    for (double y = kMargin - shared.reach; y + size.height() < -kMargin; y += kSlide) {
      corners.push_back({left, y});
    }
  }
  return sheet.put(text, corners);
}

void name_lines(Sheet& sheet, const Nest& nest) {
  const base::Voice& words = sheet.words();
  for (const auto& [at, end] : nest.ends) {
    const std::string name = words.say({"drawing-nested-end", {{"liners", owners_of(end, words)}}});
    name_across(sheet, nest, label(name, kSmallestSize, Weight::bold), up(at), end);
  }
  for (const auto& [at, fold] : nest.folds) {
    name_across(sheet, nest, label(fold_name(nest, at, words), kSmallestSize), up(at), fold);
  }
  double next_leader = kFirstSideLeader;
  for (const auto& [width, side] : nest.sides) {
    const Text name = label(owners_of(side, words), kSmallestSize, Weight::bold);
    const double x = on_paper(width) / 2;
    if (name_along(sheet, nest, name, x, side)) continue;
    put_with_leader(sheet, nest, name, {x, -std::min(next_leader, side.reach)});
    next_leader += kSideLeaderStep;
  }
}

// ---- Blocks ------------------------------------------------------------------------------------

Block title(const pouch::Pouch& pouch, const base::Voice& words) {
  Block block{{.words = tell::title_of(pouch, words), .size = kTitleSize, .weight = Weight::bold}};
  if (pouch.sizes.panels.size() > 1) {
    block.push_back(heading_row(tell::part_name(pouch.sizes.panels.front().name, words), 1));
  }
  const char* how = starts_with_lip(pouch) ? "drawing-nested" : "drawing-nested-by-start";
  block.push_back({.words = words.say(how), .space_before = 1});
  block.push_back({.words = words.say("drawing-nested-use"), .space_before = 2});
  if (corners_of(pouch, pouch.sizes.parts.front()).shape != pouch::FlapShape::straight) {
    block.push_back({.words = words.say("drawing-nested-corners"), .space_before = 1});
  }
  block.push_back(
      {.words = words.say("drawing-never-laser"), .weight = Weight::bold, .space_before = 2});
  return block;
}

Row other_row(const pouch::CutPart& part, const SharedLine& owners, const base::Voice& words) {
  return {.words = words.say({"drawing-nested-other",
                              {{"part", tell::part_name(part.name, words)},
                               {"liners", owners_of(owners, words)},
                               {"width", kept_together(part.width, words)},
                               {"length", kept_together(part.length, words)}}}),
          .space_before = 1};
}

/// What is cut besides the main panel, by each size's own template; sizes that are alike in one
/// row.
Block others(const pouch::Pouch& pouch, const std::vector<Ring>& rings, const base::Voice& words) {
  Block block;
  for (std::size_t i = 1; i < pouch.sizes.parts.size(); ++i) {
    if (pouch.sizes.parts[i].cloth == pouch::ClothKind::bought) continue;
    std::map<std::pair<Length, Length>, SharedLine> alike;
    for (const Ring& ring : rings) {
      const pouch::CutPart& part = ring.sizes->parts[i];
      alike[{part.width, part.length}].add(ring, 0);
    }
    for (const auto& [size, owners] : alike) {
      block.push_back(other_row(owners.drawn->sizes->parts[i], owners, words));
    }
  }
  if (!block.empty()) block.insert(block.begin(), heading_row(words.say("drawing-nested-others")));
  return block;
}

Block legend(const std::vector<Ring>& rings, const base::Voice& words) {
  constexpr double kSample = 18;
  constexpr double kIndent = 21;
  Block block{heading_row(words.say("drawing-nested-sizes"))};
  for (const Ring& ring : rings) {
    base::Message size{"drawing-nested-size",
                       {{"liners", ring.name},
                        {"width", kept_together(ring.sizes->cut_width, words)},
                        {"length", kept_together(ring.sizes->cut_length, words)}}};
    if (ring.capacity != nullptr) {
      size = {"drawing-nested-carries",
              {{"size", std::move(size)}, {"capacity", tell::capacity_said(*ring.capacity)}}};
    }
    block.push_back({.words = words.say(size),
                     .space_before = 1,
                     .indent = kIndent,
                     .sample = {{.group = Group::label,
                                 .path = line({0.5, 0}, {kSample, 0}),
                                 .stroke = ring.cut,
                                 .fill = Fill::none,
                                 .name = "sample"}}});
  }
  return block;
}

}  // namespace

std::string liners_named(const std::vector<int>& counts, const base::Voice& words) {
  std::string list;
  for (std::size_t i = 0; i < counts.size(); ++i) {
    const std::string number = std::to_string(counts[i]);
    if (i == 0) {
      list = number;
    } else if (i + 1 == counts.size()) {
      list = words.say({"drawing-nested-and", {{"list", list}, {"last", number}}});
    } else {
      list = words.say({"drawing-nested-comma", {{"list", list}, {"next", number}}});
    }
  }
  const bool is_one = counts.size() == 1 && counts.front() == 1;
  return words.say({is_one ? "drawing-nested-liner" : "drawing-nested-liners", {{"list", list}}});
}

Drawing nested_template(const std::vector<NestedSize>& sizes, const base::Voice& words,
                        const TextMeasure& measure, const Joins& joins) {
  const pouch::Pouch& pouch = *sizes.front().pouch;
  const std::vector<Ring> rings = rings_of(sizes, words);
  const Nest nest = nest_of(rings, words);
  Sheet sheet(words, measure, joins_of(joins, "nested"));
  draw_lines(sheet, nest);
  name_start(sheet, nest, pouch);
  name_lines(sheet, nest);
  const Box inside{-nest.narrowest + 2 * kMargin, kMargin - nest.longest,
                   nest.narrowest - 2 * kMargin, -kMargin};
  std::vector<Box> regions = columns(inside, 0);
  regions.push_back(inside);
  for (const Block& block :
       {title(pouch, words), legend(rings, words), others(pouch, rings, words)}) {
    if (!block.empty()) sheet.put(block, regions, room_beside(nest.widest));
  }
  draw_centre_line(sheet, 0, {Length::mm(-nest.longest), Length()}, kMargin / 2);
  return sheet.finished(
      "nested", words.say({"drawing-nested-title", {{"title", tell::title_of(pouch, words)}}}));
}

}  // namespace pouchwright::draw
