#include "draw/full_size/nested.h"

#include <algorithm>
#include <array>
#include <map>
#include <string>
#include <utility>

#include "base/length.h"
#include "draw/full_size/part_marks.h"
#include "draw/full_size/template_words.h"
#include "ink/canvas.h"
#include "tell/names.h"

namespace pouchwright::draw {
namespace {

using base::Length;

constexpr double kInset = 3;
constexpr double kBeside = 6;
constexpr double kNoLowerEnd = 1e6;
/// Words slide along their line by this to find room, mm.
constexpr double kSlide = 4;
constexpr Stroke kLeaderStroke{LinePattern::continuous, 0.13};
constexpr double kLeaderDot = 0.7;
/// Leaders of sides begin here and one below the other, so that they run level.
constexpr double kFirstSideLeader = 12;
constexpr double kSideLeaderStep = 6;
/// 2 mm apart, so many places are tried for a name beside all panels.
constexpr int kLeaderPlaces = 400;

constexpr std::array kPatterns = {LinePattern::continuous, LinePattern::dashed,
                                  LinePattern::long_dash_dot, LinePattern::long_dash_double_dot,
                                  LinePattern::dotted};

/// Sizes with one and the same panel.
struct Ring {
  const pouch::Sizes* sizes = nullptr;
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
             ring.sizes->panel.spans == sizes.panel.spans;
    });
    if (same != rings.end()) {
      same->liners.push_back(one.liners);
    } else {
      rings.push_back({&sizes, {one.liners}, "", {}, {}});
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

class Nested {
 public:
  Nested(const std::vector<NestedSize>& sizes, const base::Voice& words, const TextMeasure& measure)
      : pouch_(*sizes.front().pouch),
        words_(words),
        sheet_(words, measure),
        rings_(rings_of(sizes, words)) {
    for (const Ring& ring : rings_) {
      widest_ = std::max(widest_, ring.half_width());
      longest_ = std::max(longest_, ring.length());
      narrowest_ = std::min(narrowest_, ring.half_width());
    }
  }

  Drawing drawn() {
    collect();
    lines();
    name_lines();
    blocks();
    centre_line();
    return sheet_.finished("nested", sheet_.say({"drawing-nested-title",
                                                 {{"title", tell::title_of(pouch_, words_)}}}));
  }

 private:
  void collect() {
    for (const Ring& ring : rings_) {
      sides_[ring.sizes->cut_width].add(ring, ring.length());
      ends_[ring.sizes->cut_length].add(ring, ring.half_width());
      for (const pouch::FoldLine& fold : ring.sizes->folds) {
        folds_[fold.at].add(ring, ring.half_width());
        named_folds_[fold.at][{fold.before, fold.after}].add(ring, ring.half_width());
      }
    }
  }

  // ---- Lines -----------------------------------------------------------------------------------

  void lines() {
    const Ring& outer = *sides_.rbegin()->second.drawn;
    sheet_.draw(Group::cut, line({-widest_, 0}, {widest_, 0}), outer.cut, "start of all");
    for (const auto& [width, side] : sides_) {
      for (const double x : {-on_paper(width) / 2, on_paper(width) / 2}) {
        sheet_.draw(Group::cut, line({x, 0}, {x, side.reach}), side.drawn->cut,
                    "side: " + side.drawn->name);
      }
    }
    for (const auto& [length, end] : ends_) {
      const double y = on_paper(length);
      sheet_.draw(Group::cut, line({-end.reach, y}, {end.reach, y}), end.drawn->cut,
                  "end: " + end.drawn->name);
    }
    for (const auto& [at, fold] : folds_) {
      const double y = on_paper(at);
      sheet_.draw(Group::fold, line({-fold.reach, y}, {fold.reach, y}), fold.drawn->fold,
                  "fold: " + fold.drawn->name);
    }
  }

  /// Drawn last, broken where words stand.
  void centre_line() {
    std::vector<pouch::Interval> holes;
    for (const Box& words : sheet_.word_boxes()) {
      const Box box = grown(words, kInset / 2);
      if (box.x0 < 0 && box.x1 > 0) holes.push_back({Length::mm(box.y0), Length::mm(box.y1)});
    }
    Path path;
    for (const auto& part : without({Length(), Length::mm(longest_)}, holes)) {
      const Path piece = line({0, on_paper(part.from)}, {0, on_paper(part.to)});
      path.insert(path.end(), piece.begin(), piece.end());
    }
    sheet_.draw_freely(Shape{.group = Group::grain,
                             .path = std::move(path),
                             .stroke = kCentreStroke,
                             .fill = Fill::none,
                             .name = "centre line"});
  }

  // ---- Words at lines --------------------------------------------------------------------------

  [[nodiscard]] std::string owners_of(const SharedLine& shared) const {
    std::vector<int> counts;
    for (const Ring* ring : shared.owners) {
      counts.insert(counts.end(), ring->liners.begin(), ring->liners.end());
    }
    std::sort(counts.begin(), counts.end());
    return liners_named(counts, words_);
  }

  /// One size's fold may lie where another size has another one: then both are named.
  [[nodiscard]] std::string fold_name(Length at) const {
    std::string name;
    for (const auto& [between, owners] : named_folds_.at(at)) {
      const std::string one = sheet_.say({"drawing-nested-fold",
                                          {{"liners", owners_of(owners)},
                                           {"before", tell::span_name(between.first, words_)},
                                           {"after", tell::span_name(between.second, words_)}}});
      name += (name.empty() ? "" : "; ") + one;
    }
    return name;
  }

  void name_lines() {
    put_lip();
    for (const auto& [length, end] : ends_) {
      along_level(sheet_.say({"drawing-nested-end", {{"liners", owners_of(end)}}}), Weight::bold,
                  on_paper(length), end);
    }
    for (const auto& [at, fold] : folds_) {
      along_level(fold_name(at), Weight::regular, on_paper(at), fold);
    }
    for (const auto& [width, side] : sides_) {
      along_side(owners_of(side), on_paper(width) / 2, side);
    }
  }

  [[nodiscard]] bool starts_with_lip() const {
    const std::vector<Lip> lips = lips_of(pouch_, pouch_.sizes.parts.front());
    return std::any_of(lips.begin(), lips.end(), [](const Lip& lip) { return lip.y == Length(); });
  }

  void put_lip() {
    const char* key = starts_with_lip() ? "drawing-nested-lip" : "drawing-nested-start";
    const Text words = label(sheet_.say(key), kSmallestSize, Weight::bold);
    std::vector<Point> corners;
    for (double x = -narrowest_ + kInset; x < narrowest_; x += kSlide) {
      corners.push_back({x, kClearance + 0.5});
    }
    sheet_.put(words, corners);
  }

  /// Words just above a line across, where there is no room just below it; from the left.
  void along_level(std::string words, Weight weight, double y, const SharedLine& shared) {
    const Text text = label(std::move(words), kSmallestSize, weight);
    const Box size = bounds(text, sheet_.measure());
    const double away = shared.drawn->cut.width / 2 + kClearance;
    std::vector<Point> corners;
    for (const double top : {y - away - size.height(), y + away}) {
      for (double x = -shared.reach + kInset; x + size.width() < shared.reach - kInset;
           x += kSlide) {
        corners.push_back({x, top});
      }
    }
    if (!sheet_.put(text, corners)) with_leader(text, {shared.reach, y});
  }

  /// Words along a side, read from the right: inside its panel, where there is no room outside.
  void along_side(std::string words, double x, const SharedLine& shared) {
    Text text = label(std::move(words), kSmallestSize, Weight::bold);
    text.turn_deg = 270;
    const Box size = bounds(text, sheet_.measure());
    const double away = shared.drawn->cut.width / 2 + kClearance;
    std::vector<Point> corners;
    for (const double left : {x - away - size.width(), x + away}) {
      if (left + size.width() > widest_) continue;
      for (double y = shared.reach - kInset - size.height(); y > kInset; y -= kSlide) {
        corners.push_back({left, y});
      }
    }
    if (sheet_.put(text, corners)) return;
    text.turn_deg = 0;
    with_leader(text, {x, std::min(next_side_leader_, shared.reach)});
    next_side_leader_ += kSideLeaderStep;
  }

  /// To the right of all panels, with a thin line from a dot at `at`.
  void with_leader(const Text& text, Point at) {
    const Box size = bounds(text, sheet_.measure());
    std::vector<Point> corners;
    corners.reserve(kLeaderPlaces);
    for (int k = 0; k < kLeaderPlaces; ++k) {
      corners.push_back({widest_ + 2 * kBeside, at.y - size.height() / 2 + k * 2.0});
    }
    const std::size_t before = sheet_.word_boxes().size();
    if (!sheet_.put(text, corners)) return;
    const Box placed = sheet_.word_boxes()[before];
    const Point bend{widest_ + kBeside / 2, at.y};
    const Point to{placed.x0 - kClearance, (placed.y0 + placed.y1) / 2};
    // Words that come later keep off the level part; none ever stand where the rest runs.
    sheet_.draw(Group::label, line(at, bend), kLeaderStroke, "leader");
    sheet_.draw_freely(Shape{.group = Group::label,
                             .path = line(bend, to),
                             .stroke = kLeaderStroke,
                             .fill = Fill::none,
                             .name = "leader"});
    sheet_.draw_freely(Shape{.group = Group::label,
                             .path = circle(at, kLeaderDot),
                             .stroke = std::nullopt,
                             .fill = Fill::solid,
                             .name = "leader's dot"});
  }

  // ---- Blocks ----------------------------------------------------------------------------------

  void blocks() {
    const Box inside{-narrowest_ + 2 * kInset, kInset, narrowest_ - 2 * kInset, longest_ - kInset};
    std::vector<Box> regions = columns(inside, 0);
    regions.push_back(inside);
    const Box beside{widest_ + kBeside, 0, widest_ + kBeside + kWidestBlock, kNoLowerEnd};
    for (const Block& block : {title(), legend(), others()}) {
      if (!block.empty()) sheet_.put(block, regions, beside);
    }
  }

  [[nodiscard]] Block title() const {
    Block block{
        {.words = tell::title_of(pouch_, words_), .size = kTitleSize, .weight = Weight::bold}};
    if (pouch_.sizes.panels.size() > 1) {
      block.push_back({.words = tell::part_name(pouch_.sizes.panels.front().name, words_),
                       .size = kHeadingSize,
                       .weight = Weight::bold,
                       .space_before = 1});
    }
    const char* how = starts_with_lip() ? "drawing-nested" : "drawing-nested-by-start";
    block.push_back({.words = sheet_.say(how), .space_before = 1});
    block.push_back({.words = sheet_.say("drawing-nested-use"), .space_before = 2});
    if (corners_of(pouch_, pouch_.sizes.parts.front()).shape != pouch::FlapShape::straight) {
      block.push_back({.words = sheet_.say("drawing-nested-corners"), .space_before = 1});
    }
    block.push_back(
        {.words = sheet_.say("drawing-never-laser"), .weight = Weight::bold, .space_before = 2});
    return block;
  }

  /// What is cut besides the main panel, by each size's own template; sizes that are alike in one
  /// row.
  [[nodiscard]] Block others() const {
    Block block;
    for (std::size_t i = 1; i < pouch_.sizes.parts.size(); ++i) {
      if (pouch_.sizes.parts[i].cloth == pouch::ClothKind::bought) continue;
      std::map<std::pair<Length, Length>, SharedLine> alike;
      for (const Ring& ring : rings_) {
        const pouch::CutPart& part = ring.sizes->parts[i];
        alike[{part.width, part.length}].add(ring, 0);
      }
      for (const auto& [size, owners] : alike) block.push_back(other_row(i, size, owners));
    }
    if (block.empty()) return block;
    block.insert(block.begin(), {.words = sheet_.say("drawing-nested-others"),
                                 .size = kHeadingSize,
                                 .weight = Weight::bold});
    return block;
  }

  [[nodiscard]] Row other_row(std::size_t part, const std::pair<Length, Length>& size,
                              const SharedLine& owners) const {
    const auto shown = [&](Length length) { return kept_together(words_.text(length)); };
    return {.words = sheet_.say({"drawing-nested-other",
                                 {{"part", tell::part_name(pouch_.sizes.parts[part].name, words_)},
                                  {"liners", owners_of(owners)},
                                  {"width", shown(size.first)},
                                  {"length", shown(size.second)}}}),
            .space_before = 1};
  }

  [[nodiscard]] Block legend() const {
    constexpr double kSample = 18;
    constexpr double kIndent = 21;
    Block block;
    block.reserve(rings_.size() + 1);
    block.push_back({.words = sheet_.say("drawing-nested-sizes"),
                     .size = kHeadingSize,
                     .weight = Weight::bold});
    const auto shown = [&](Length length) { return kept_together(words_.text(length)); };
    for (const Ring& ring : rings_) {
      const std::string words = sheet_.say({"drawing-nested-size",
                                            {{"liners", ring.name},
                                             {"width", shown(ring.sizes->cut_width)},
                                             {"length", shown(ring.sizes->cut_length)}}});
      block.push_back({.words = words,
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

  const pouch::Pouch& pouch_;
  base::Voice words_;
  Sheet sheet_;
  std::vector<Ring> rings_;
  double widest_ = 0;  ///< half of it
  double longest_ = 0;
  double narrowest_ = 1e9;  ///< half of it
  std::map<Length, SharedLine> sides_;
  std::map<Length, SharedLine> ends_;
  std::map<Length, SharedLine> folds_;
  std::map<Length, std::map<std::pair<std::string, std::string>, SharedLine>> named_folds_;
  double next_side_leader_ = kFirstSideLeader;
};

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
                        const TextMeasure& measure) {
  return Nested(sizes, words, measure).drawn();
}

}  // namespace pouchwright::draw
