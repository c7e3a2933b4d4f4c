#include "draw/sheets/cut_plan.h"

#include <algorithm>
#include <utility>

#include "draw/sheets/cut_plan_lines.h"
#include "draw/sheets/cut_plan_rows.h"

namespace pouchwright::draw {
namespace {

using base::Length;
using namespace cut_plan;

constexpr Stroke kComesOffStroke{LinePattern::continuous, 0.7};
constexpr double kRowsHeight = 140;
/// The small pictures of cuts.
constexpr double kSmallWidth = 42;
constexpr double kSmallHeight = 24;
/// Left of a fact or of a cut's words, for its mark or number.
constexpr double kIndent = 4;
constexpr double kNumber = 7;

Frame heading_of(const LayToDraw& drawn, double width, const TextMeasure& measure) {
  Frame strip;
  double y = strip.write_lines(drawn.title, {0, 6}, width, kTitleLines, measure);
  for (const std::string& fact : drawn.facts) {
    strip.write("–", {0, y});
    y = strip.write_lines(fact, {kIndent, y}, width - kIndent, {.step = kLine}, measure);
  }
  // The numbers of the lengths cut off stand above the row that follows.
  strip.box.y1 = y + (drawn.facts.empty() ? 1 : kLine);
  strip.is_heading = true;
  return strip;
}

/// What lies in `part`, as it lies while it is cut: of folded cloth the lowest ply.
std::vector<lay::Area> pieces_in(const lay::Lay& lay, const lay::Step& step) {
  const lay::Area& part = step.from;
  std::vector<lay::Area> inside;
  for (const lay::Placed& piece : lay.pieces) {
    const lay::Area& area = piece.area;
    const bool lies_in = piece.layer == 0 && area.x >= part.x && area.y >= part.y &&
                         area.x + area.width <= part.x + part.width &&
                         area.y + area.length <= part.y + part.length;
    if (lies_in) inside.push_back(area);
  }
  return inside;
}

/// What a cut divides, and where: the part that comes off has a heavy outline, waste is hatched.
class CutPicture {
 public:
  CutPicture(const lay::Lay& lay, const lay::Step& step, Point at)
      : lay_(lay),
        step_(step),
        at_(at),
        scale_(std::min(kSmallWidth / std::max(1.0, step.from.length.in_mm()),
                        (kSmallHeight - 2) / std::max(1.0, step.from.width.in_mm()))) {}

  void draw_on(Frame& strip) const {
    const Box part = box_of(step_.from);
    for (const lay::Area& waste : waste_of(step_.from, pieces_in(lay_, step_))) {
      Path lines = hatch(box_of(waste), kWasteSpacing);
      if (!lines.empty()) strip.draw(Group::seam, std::move(lines), kWasteStroke, "waste of part");
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

/// The number of a cut, what it is, and what there is then. Returns the foot of the words.
double write_cut(Frame& strip, const lay::Step& step, int number, const std::string& gives,
                 double left, const base::Voice& words, const TextMeasure& measure) {
  const double width = kSmallWidth - kNumber;
  const std::string key = key_of("lay-picture-", lay::kCutWords, step.cut);
  strip.write(std::to_string(number), {left, kLine}, Anchor::start, Weight::bold);
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
  const auto per_line =
      std::max<std::size_t>(1, static_cast<std::size_t>(width / (kSmallWidth + 4)));
  for (std::size_t first = 0; first < lay.steps.size(); first += per_line) {
    Frame strip;
    const std::size_t end = std::min(lay.steps.size(), first + per_line);
    double foot = 0;
    const auto left = [&](std::size_t i) {
      return static_cast<double>(i - first) * (kSmallWidth + 4) + 0.5;
    };
    for (std::size_t i = first; i < end; ++i) {
      const std::string gives = i < drawn.gives.size() ? drawn.gives[i] : std::string();
      foot = std::max(foot, write_cut(strip, lay.steps[i], static_cast<int>(i) + 1, gives, left(i),
                                      words, measure));
    }
    for (std::size_t i = first; i < end; ++i) {
      CutPicture(lay, lay.steps[i], {left(i), foot}).draw_on(strip);
    }
    strip.box.y1 = foot + kSmallHeight + kGap;
    result.push_back(std::move(strip));
  }
  return result;
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
  strip.box.y1 = strip.write_lines(said, {0, kLine}, width, {.step = kLine}, measure);
  return strip;
}

std::vector<Frame> strips_of(const LayToDraw& drawn, const base::Voice& words,
                             const TextMeasure& measure, Point room) {
  const lay::Lay& lay = *drawn.lay;
  std::vector<Frame> strips{heading_of(drawn, room.x, measure)};
  if (lay.length == Length()) return strips;
  const double left_high = room.y - strips.front().box.y1 - kGap;
  const double scale = scale_for(drawn, room.x, std::min(kRowsHeight, left_high));
  for (const Row& row : rows_of(lay, (room.x - kLeft) / scale)) {
    strips.push_back(row_picture(drawn, row, scale, room.x, words, measure));
  }
  strips.push_back(legend(drawn, room.x, words, measure));
  for (Frame& cuts : cuts_of(drawn, room.x, words, measure)) strips.push_back(std::move(cuts));
  return strips;
}

}  // namespace

std::vector<Drawing> lay_pictures(const std::vector<LayToDraw>& lays, const base::Voice& words,
                                  const TextMeasure& measure, Point room, Breaks breaks) {
  ink::Flow flow({"lay", words.say({"lay-picture-title"}), room}, {.breaks = breaks});
  for (const LayToDraw& one : lays) flow.add(strips_of(one, words, measure, room));
  return flow.pages();
}

std::vector<Drawing> lay_pages(const std::vector<LayToDraw>& lays, const base::Voice& words,
                               const TextMeasure& measure, Point room) {
  const ink::SheetRoom sheet{"lay", words.say({"lay-picture-title"}), room};
  ink::Flow joined(sheet);
  std::vector<Drawing> apart;
  for (const LayToDraw& one : lays) {
    const std::vector<Frame> strips = strips_of(one, words, measure, room);
    ink::Flow own(sheet);
    own.add(strips);
    apart.insert(apart.end(), own.pages().begin(), own.pages().end());
    joined.add(strips);
  }
  return apart.size() <= joined.pages().size() ? apart : joined.pages();
}

}  // namespace pouchwright::draw
