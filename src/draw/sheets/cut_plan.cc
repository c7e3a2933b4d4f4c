#include "draw/sheets/cut_plan.h"

#include <algorithm>
#include <array>
#include <optional>
#include <tuple>
#include <utility>

#include "draw/sheets/cut_plan_figures.h"
#include "draw/sheets/cut_plan_lines.h"
#include "draw/sheets/cut_plan_rows.h"
#include "ink/canvas.h"
#include "ink/labels.h"

namespace pouchwright::draw {
namespace {

using base::Length;
using namespace cut_plan;

constexpr Stroke kComesOffStroke{LinePattern::continuous, 0.7};
/// All rows of a plan together, at most; smaller where two plans then share a page.
constexpr double kRowsHeight = 140;
constexpr std::array kRowsHeights = {kRowsHeight, 125.0, 110.0, 95.0, 80.0, 65.0, 52.0, 44.0};
/// The small pictures of cuts.
constexpr double kSmallWidth = 42;
constexpr double kSmallHeight = 16;
constexpr double kSmallGap = 4;
constexpr double kColumnGap = 6;
constexpr double kYieldLine = 6.2;
/// Left of a fact or of a cut's words, for its mark or number.
constexpr double kIndent = 4;
constexpr double kNumber = 7;

/// Short sentences in two columns, each as a list; returns the lower baseline.
double write_facts(Frame& strip, const std::vector<std::string>& facts, double top, double width,
                   const TextMeasure& measure) {
  const double column = (width - kColumnGap) / 2;
  const auto lines_of = [&](const std::string& fact) {
    return broken_into_lines(fact, column - kIndent, kSmallestSize, Weight::regular, measure)
        .size();
  };
  std::size_t all = 0;
  for (const std::string& fact : facts) all += lines_of(fact);
  double y = top;
  double deepest = top;
  double left = 0;
  std::size_t written = 0;
  for (const std::string& fact : facts) {
    // The first column takes what is more of an odd number.
    if (left == 0 && 2 * written >= all) {
      left = column + kColumnGap;
      y = top;
    }
    strip.write("–", {left, y});
    y = strip.write_lines(fact, {left + kIndent, y}, column - kIndent, {.step = kLine}, measure);
    written += lines_of(fact);
    deepest = std::max(deepest, y);
  }
  return deepest;
}

Frame heading_of(const LayToDraw& drawn, double width, const TextMeasure& measure) {
  Frame strip;
  double y = strip.write_lines(drawn.title, {0, 6}, width, kTitleLines, measure);
  for (const std::string& one : drawn.yields) {
    y = strip.write_lines(one, {0, y}, width,
                          {.step = kYieldLine, .weight = Weight::bold, .size = ink::kHeadingSize},
                          measure);
  }
  if (!drawn.facts.empty()) y = write_facts(strip, drawn.facts, y, width, measure);
  // The numbers of the lengths cut off stand above the row that follows.
  strip.box.y1 = y - kLine + kAboveRow + 1;
  strip.is_heading = true;
  return strip;
}

/// What lies in `part`, as it lies while it is cut: of folded cloth the lowest ply.
std::vector<const lay::Placed*> pieces_in(const lay::Lay& lay, const lay::Step& step) {
  const lay::Area& part = step.from;
  std::vector<const lay::Placed*> inside;
  for (const lay::Placed& piece : lay.pieces) {
    const lay::Area& area = piece.area;
    const bool lies_in = piece.layer == 0 && area.x >= part.x && area.y >= part.y &&
                         area.x + area.width <= part.x + part.width &&
                         area.y + area.length <= part.y + part.length;
    if (lies_in) inside.push_back(&piece);
  }
  return inside;
}

/// What a cut divides, and where: the part that comes off has a heavy outline, pieces are tinted.
class CutPicture {
 public:
  CutPicture(const lay::Lay& lay, const lay::Step& step, Point at, double width)
      : lay_(lay),
        step_(step),
        at_(at),
        scale_(std::min(width / std::max(1.0, step.from.length.in_mm()),
                        (kSmallHeight - 2) / std::max(1.0, step.from.width.in_mm()))) {}

  void draw_on(Frame& strip) const {
    const Box part = box_of(step_.from);
    for (const lay::Placed* piece : pieces_in(lay_, step_)) {
      strip.items.emplace_back(Shape{.group = Group::cut,
                                     .path = rectangle(box_of(piece->area)),
                                     .stroke = std::nullopt,
                                     .fill = Fill::pale,
                                     .name = "piece of part"});
    }
    strip.draw(Group::cut, rectangle(part), kPieceStroke, "part");
    const Box off = box_of(step_.off);
    const Box shown{std::max(off.x0, part.x0), std::max(off.y0, part.y0), std::min(off.x1, part.x1),
                    std::min(off.y1, part.y1)};
    if (shown.x0 < shown.x1 && shown.y0 < shown.y1) {
      strip.draw(Group::cut, rectangle(shown), kComesOffStroke, "comes off");
    }
    for (const lay::Line& one : step_.lines) {
      const Point a = point(one.x0, one.y0);
      const Point b = point(one.x1, one.y1);
      const bool inside = a.x >= part.x0 - 0.01 && b.x <= part.x1 + 0.01 && a.y >= part.y0 - 0.01 &&
                          b.y <= part.y1 + 0.01;
      if (inside) strip.draw(Group::fold, line(a, b), kCutAcrossStroke, "cut line");
    }
  }

 private:
  [[nodiscard]] Point point(Length x, Length y) const {
    return {at_.x + (y - step_.from.y).in_mm() * scale_,
            at_.y + (x - step_.from.x).in_mm() * scale_};
  }
  [[nodiscard]] Box box_of(const lay::Area& area) const {
    const Point a = point(area.x, area.y);
    const Point b = point(area.x + area.width, area.y + area.length);
    return {a.x, a.y, b.x, b.y};
  }

  const lay::Lay& lay_;
  const lay::Step& step_;
  Point at_;
  double scale_;
};

struct Column {
  double from, to;
};

/// How many small pictures stand side by side: one more where that saves a line of them.
std::size_t pictures_per_line(std::size_t count, double width) {
  const auto plain =
      std::max<std::size_t>(1, static_cast<std::size_t>(width / (kSmallWidth + kSmallGap)));
  const auto lines = [&](std::size_t per_line) { return (count + per_line - 1) / per_line; };
  return lines(plain + 1) < lines(plain) ? plain + 1 : plain;
}

/// The number of a cut, what it is, and what there is then. Returns the foot of the words.
double write_cut(Frame& strip, const lay::Step& step, int number, const std::string& gives,
                 const Column& column, const base::Voice& words, const TextMeasure& measure) {
  const double left = column.from;
  const double width = column.to - column.from - kNumber;
  const std::string key = key_of("lay-picture-", lay::kCutWords, step.cut);
  const Point centre{left + kCircle, kLine - kCircle / 2};
  strip.draw(Group::label, circle(centre, kCircle), kPieceStroke, "number of cut");
  strip.items.emplace_back(centred_on({.group = Group::label,
                                       .words = std::to_string(number),
                                       .at = {},
                                       .size = kSmallestSize,
                                       .weight = Weight::bold},
                                      centre, measure));
  double y = strip.write_lines(words.say({key, {{"at", step.at}}}), {left + kNumber, kLine}, width,
                               {.step = kLine}, measure);
  y = strip.write_lines(gives, {left + kNumber, y}, width, {.step = kLine}, measure);
  return y - kLine + 1.5;
}

/// A small picture of each cut, side by side.
std::vector<Frame> cuts_of(const LayToDraw& drawn, double width, const base::Voice& words,
                           const TextMeasure& measure) {
  const lay::Lay& lay = *drawn.lay;
  std::vector<Frame> result;
  const std::size_t per_line = pictures_per_line(lay.steps.size(), width);
  const double step = std::min(kSmallWidth + kSmallGap, width / static_cast<double>(per_line));
  for (std::size_t first = 0; first < lay.steps.size(); first += per_line) {
    Frame strip;
    const std::size_t end = std::min(lay.steps.size(), first + per_line);
    double foot = 0;
    const auto column = [&](std::size_t i) {
      const double left = static_cast<double>(i - first) * step + 0.5;
      return Column{left, left + step - kSmallGap};
    };
    for (std::size_t i = first; i < end; ++i) {
      const std::string gives = i < drawn.gives.size() ? drawn.gives[i] : std::string();
      foot = std::max(foot, write_cut(strip, lay.steps[i], static_cast<int>(i) + 1, gives,
                                      column(i), words, measure));
    }
    for (std::size_t i = first; i < end; ++i) {
      const auto [from, to] = column(i);
      CutPicture(lay, lay.steps[i], {from, foot}, to - from).draw_on(strip);
    }
    strip.box.y1 = foot + kSmallHeight + kGap;
    result.push_back(std::move(strip));
  }
  return result;
}

/// A sample of each look with the pieces that it stands for, side by side; returns the baseline
/// below.
double write_looks(Frame& strip, const LayToDraw& drawn, double width, const base::Voice& words,
                   const TextMeasure& measure) {
  constexpr Point kSample{9, 3.6};
  constexpr double kApart = 7;
  double x = 0;
  double y = kLine;
  for (const auto& [alike, look] : looks_of(*drawn.lay)) {
    const auto& names = alike.by_product ? drawn.by_products : drawn.kinds;
    std::string name = names[static_cast<std::size_t>(alike.kind)];
    if (alike.turned) name = words.say({"lay-picture-across", {{"piece", name}}});
    const double wide =
        kSample.x + 1.5 + measure.measure(name, kSmallestSize, Weight::regular).width;
    if (x > 0 && x + wide > width) {
      x = 0;
      y += kLine + 1;
    }
    draw_piece(strip, {x, y - kSample.y + 0.6, x + kSample.x, y + 0.6}, look, "sample");
    strip.write(name, {x + kSample.x + 1.5, y});
    x += wide + kApart;
  }
  return y + kLine + 1.5;
}

/// What the lines of the pictures mean.
Frame legend(const LayToDraw& drawn, double width, const base::Voice& words,
             const TextMeasure& measure) {
  Frame strip;
  std::string said = words.say("lay-picture-legend");
  if (!drawn.trial.empty()) said += " " + words.say("lay-picture-trial");
  if (drawn.end == LayToDraw::End::crooked) said += " " + words.say("lay-picture-end");
  if (drawn.selvedge > Length()) said += " " + words.say("lay-picture-selvedge");
  const bool folded =
      std::any_of(drawn.lay->sections.begin(), drawn.lay->sections.end(),
                  [](const lay::Section& one) { return one.plies.way == lay::Plies::Way::folded; });
  if (folded) said += " " + words.say("lay-picture-fold");
  double y = kLine;
  if (looks_of(*drawn.lay).size() > 1) y = write_looks(strip, drawn, width, words, measure);
  strip.box.y1 = strip.write_lines(said, {0, y}, width, {.step = kLine}, measure);
  return strip;
}

/// A plan, from its heading to the pictures of its cuts.
struct Strips {
  std::vector<Frame> frames;
  int unnumbered = 0;     ///< pieces and cuts
  bool is_small = false;  ///< it leaves more than half of the room beside it empty
};

Strips strips_of(const LayToDraw& drawn, const base::Voice& words, const TextMeasure& measure,
                 Point room, double rows_height = kRowsHeight) {
  const lay::Lay& lay = *drawn.lay;
  Strips strips{{heading_of(drawn, room.x, measure)}};
  if (lay.length == Length()) return strips;
  const double left_high = room.y - strips.frames.front().box.y1 - kGap;
  const double scale = scale_for(drawn, room.x, std::min(rows_height, left_high));
  for (const Row& row : rows_of(lay, (room.x - kLeft) / scale)) {
    RowPicture made = row_picture(drawn, row, scale, room.x, words, measure);
    strips.frames.push_back(std::move(made.frame));
    strips.unnumbered += made.unnumbered;
  }
  strips.is_small = lay.length.in_mm() * scale < (room.x - kLeft) / 2 && rows_height < kRowsHeight;
  strips.frames.push_back(legend(drawn, room.x, words, measure));
  for (Frame& cuts : cuts_of(drawn, room.x, words, measure)) {
    strips.frames.push_back(std::move(cuts));
  }
  return strips;
}

/// Some plans on pages of their own.
struct Paged {
  std::vector<Drawing> pages;
  int unnumbered = 0;
  std::size_t cost = 0;  ///< pages; one more where a plan alone could be drawn larger
};

/// With rows no higher than `height`.
Paged paged_at(double height, const std::vector<LayToDraw>& lays, const base::Voice& words,
               const TextMeasure& measure, Point room) {
  ink::Flow flow({"lay", words.say("lay-picture-title"), room});
  Paged made;
  for (const LayToDraw& one : lays) {
    Strips strips = strips_of(one, words, measure, room, height);
    made.unnumbered += strips.unnumbered;
    made.cost += lays.size() == 1 && strips.is_small ? 1U : 0U;
    flow.add_under(ink::title_head(one.title, ink::kTextSize, room, measure), strips.frames);
  }
  made.pages = flow.pages();
  made.cost += made.pages.size();
  return made;
}

/// The largest rows with which the most is numbered, and of these the ones that take the fewest
/// pages.
Paged on_pages(const std::vector<LayToDraw>& lays, const base::Voice& words,
               const TextMeasure& measure, Point room) {
  std::optional<Paged> best;
  for (const double height : kRowsHeights) {
    Paged made = paged_at(height, lays, words, measure, room);
    if (!best || std::tie(made.unnumbered, made.cost) < std::tie(best->unnumbered, best->cost)) {
      best = std::move(made);
    }
    // No smaller rows do better than all of it numbered on one page.
    if (best->unnumbered == 0 && best->cost <= 1) break;
  }
  return std::move(*best);
}

}  // namespace

std::vector<Drawing> lay_pictures(const std::vector<LayToDraw>& lays, const base::Voice& words,
                                  const TextMeasure& measure, Point room, Breaks breaks) {
  ink::Flow flow({"lay", words.say({"lay-picture-title"}), room}, {.breaks = breaks});
  for (const LayToDraw& one : lays) {
    flow.add_under(ink::title_head(one.title, ink::kTextSize, room, measure),
                   strips_of(one, words, measure, room).frames);
  }
  return flow.pages();
}

std::vector<Drawing> lay_pages(const std::vector<LayToDraw>& lays, const base::Voice& words,
                               const TextMeasure& measure, Point room) {
  std::vector<Drawing> apart;
  int unnumbered = 0;
  for (const LayToDraw& one : lays) {
    Paged own = on_pages({one}, words, measure, room);
    unnumbered += own.unnumbered;
    for (Drawing& page : own.pages) apart.push_back(std::move(page));
  }
  if (lays.size() < 2) return apart;
  // Larger rows take no fewer pages than the smallest.
  const double smallest = *std::min_element(kRowsHeights.begin(), kRowsHeights.end());
  if (paged_at(smallest, lays, words, measure, room).pages.size() >= apart.size()) return apart;
  Paged joined = on_pages(lays, words, measure, room);
  const bool is_shared = joined.unnumbered <= unnumbered && joined.pages.size() < apart.size();
  return is_shared ? std::move(joined.pages) : apart;
}

}  // namespace pouchwright::draw
