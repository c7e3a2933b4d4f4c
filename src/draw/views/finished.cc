#include "draw/views/finished.h"

#include <algorithm>
#include <cmath>
#include <functional>
#include <string>
#include <utility>

#include "draw/full_size/template_words.h"
#include "draw/views/fitted.h"
#include "draw/views/on_view.h"
#include "draw/views/panel_faces.h"
#include "ink/arrows.h"
#include "ink/canvas.h"
#include "pouch/judge/content.h"
#include "tell/fill.h"
#include "tell/names.h"

namespace pouchwright::draw {
namespace {

using base::Length;
using pouch::FoldMoment;
using pouch::Interval;
using pouch::Pouch;
namespace does = pouch::does;

/// A finished pouch lies flatter than one that is being folded, mm of paper.
constexpr double kFlatPitch = 1.1;
/// A dimension line's distance from the pouch, mm of paper.
constexpr double kAway = 5;
constexpr double kBeyond = 1.2;
/// That of water stands so many times as far off: rings and their numbers stand beside the pouch.
constexpr double kOffWater = 1.6;
/// Thinner still where the roll is bent.
constexpr double kRollPitch = 0.75;
constexpr Stroke kSizeStroke{LinePattern::continuous, 0.18};
/// Nearer to the edge a seam would run into its line, mm of paper.
constexpr double kLeastSeam = 1;
constexpr Stroke kSeamLine{LinePattern::dashed, 0.35};
constexpr Stroke kWaterLine{LinePattern::continuous, 0.35};
/// Of a liner, so much is seen beyond the lip; its pile is a little narrower than the mouth.
constexpr double kHalfIn = 0.5;
constexpr double kPileWidth = 0.86;

// ---- Moments -----------------------------------------------------------------------------------

/// The last stage, with nothing left to be done.
FoldMoment finished_moment(const Pouch& pouch) {
  FoldMoment finished = moment(pouch, pouch.stages.size() - 1, pouch.stages.size() - 1);
  finished.operations.clear();
  finished.cards.clear();
  finished.before.reset();
  finished.clipped = false;
  finished.finished = true;
  return finished;
}

/// The finished pouch as it lay when its mouth was last free: a flap turned back, a roll undone.
FoldMoment open_moment(const Pouch& pouch) {
  FoldMoment open = finished_moment(pouch);
  for (std::size_t stage = pouch.stages.size(); stage-- > 0;) {
    if (!mouth_is_free(pouch, pouch.stages[stage].folded)) continue;
    open.folded = pouch.stages[stage].folded;
    open.straps_out = stage + 1 == pouch.stages.size();
    break;
  }
  return open;
}

// ---- Dimension lines ---------------------------------------------------------------------------

/// One size with its line, from end to end, and which way it stands off the pouch.
struct SizeLine {
  Point3 from, to;
  Point3 off;  ///< mm of cloth
  std::string words;
};

void add_size(Drawing& drawing, const Projection& projection, const SizeLine& size,
              const TextMeasure& measure) {
  const Point3 way = (kAway / projection.scale()) * size.off;
  const Point3 beyond = ((kAway + kBeyond) / projection.scale()) * size.off;
  for (const Point3& end : {size.from, size.to}) {
    drawing.add_line(Group::label, "size line",
                     line(projection.on_paper(end), projection.on_paper(end + beyond)),
                     kSizeStroke);
  }
  const Point a = projection.on_paper(size.from + way);
  const Point b = projection.on_paper(size.to + way);
  if (std::hypot(b.x - a.x, b.y - a.y) < 1) return;
  drawing.add_line(Group::label, "size line", line(a, b), kSizeStroke);
  for (const auto& [tip, from] : {std::pair(a, b), std::pair(b, a)}) {
    drawing.add(Shape{.group = Group::label,
                      .path = arrow_head(tip, from, {2, 1.2}, Ends::closed),
                      .stroke = std::nullopt,
                      .fill = Fill::solid,
                      .name = "size head"});
  }
  const Text words = label(size.words, kLabelSize);
  const TextSize room = measure.measure(words.words, words.size, words.weight);
  const Point out = projection.on_paper(size.from + beyond);
  const Point at = projection.on_paper(size.from);
  const Point middle_at{(a.x + b.x) / 2, (a.y + b.y) / 2};
  // Beside an upright line, below a level one.
  const bool beside = std::abs(b.y - a.y) > std::abs(b.x - a.x);
  // A slanting line comes nearer to the words' corners.
  const double high = room.ascent + room.descent;
  const double slant = beside ? std::abs((b.x - a.x) / (b.y - a.y)) * high / 2 : 0;
  const double x = !beside         ? middle_at.x - room.width / 2
                   : out.x >= at.x ? middle_at.x + 1.2 + slant
                                   : middle_at.x - 1.2 - slant - room.width;
  const double under = beside ? 0 : std::abs((b.y - a.y) / (b.x - a.x)) * room.width / 2;
  const double y = beside ? middle_at.y - high / 2 : middle_at.y + under + 0.8;
  drawing.add(with_top_left(words, {x, y}, measure));
}

/// Width below, depth at the right, flap at the left.
void add_sizes(Drawing& drawing, const Pouch& pouch, const View& view, const base::Voice& words,
               const TextMeasure& measure) {
  const pouch::Sizes& sizes = pouch.sizes;
  const double left = sizes.seam_allowance.in_mm();
  const double right = (sizes.cut_width - sizes.seam_allowance).in_mm();
  const Length top = sizes.depth;
  const auto put = [&](const Point3& from, const Point3& to, const Point3& off, Length length) {
    add_size(drawing, view.projection, {from, to, off, kept_together(length, words)}, measure);
  };
  put({left, 0, 0}, {right, 0, 0}, {0, -1, 0}, sizes.finished_width);
  const double edge = sizes.cut_width.in_mm();
  put({edge, 0, 0}, {edge, top.in_mm(), 0}, {1, 0, 0}, sizes.depth);
  const auto flap = pouch.construction().flap_span;
  if (!flap || sizes.flap <= Length()) return;
  const pouch::SpanId id = view.pose.folded().id(*flap);
  const Interval heights = view.pose.folded().layer(id).heights;
  put(view.pose.at(id, 0, heights.from), view.pose.at(id, 0, heights.to), {-1, 0, 0}, sizes.flap);
}

// ---- Seams -------------------------------------------------------------------------------------

/// The sides' seams, as far as they run.
void add_seams(Drawing& drawing, const Pouch& pouch, const View& view) {
  if (pouch.sizes.seam_allowance.in_mm() * view.projection.scale() < kLeastSeam) return;
  std::optional<Interval> sewn;
  for (const pouch::SeamLayers& seam : pouch.layers_at_seams) {
    if (seam.edge != pouch::Edge::left) continue;
    if (!sewn) sewn = seam.heights;
    sewn = Interval{std::min(sewn->from, seam.heights.from), std::max(sewn->to, seam.heights.to)};
  }
  if (!sewn) return;
  const Interval all = extent_of(view.pose.folded().layers());
  Interval flat = all;
  // Further up they go round behind a roll that is bent.
  if (view.curl) flat.to = Length::mm((view.curl->from + view.curl->to) / 2);
  const auto seen = shared(*sewn, flat);
  if (!seen) return;
  const pouch::Sizes& sizes = pouch.sizes;
  for (const Length x : {sizes.seam_allowance, sizes.cut_width - sizes.seam_allowance}) {
    drawing.add_line(Group::seam, "seam", along(view, x, *seen), kSeamLine);
  }
}

// ---- Liners ------------------------------------------------------------------------------------

/// A box by its lower near left and upper far right corner.
void add_box(std::vector<ViewFace>& faces, const Point3& low, const Point3& high,
             const std::string& name) {
  const std::array<int, 4> raw{kRawEdge, kRawEdge, kRawEdge, kRawEdge};
  const auto add = [&](const Point3& a, const Point3& b, const Point3& c, const Point3& d) {
    faces.push_back(
        {.face = quad(a, b, c, d, raw), .front = Skin::liner, .back = Skin::liner, .name = name});
  };
  add({low.x, low.y, high.z}, {high.x, low.y, high.z}, high, {low.x, high.y, high.z});
  add({high.x, low.y, low.z}, {high.x, high.y, low.z}, high, {high.x, low.y, high.z});
  add({low.x, low.y, low.z}, {high.x, low.y, low.z}, {high.x, low.y, high.z},
      {low.x, low.y, high.z});
  add({low.x, high.y, low.z}, {high.x, high.y, low.z}, high, {low.x, high.y, high.z});
  add({low.x, low.y, low.z}, {low.x, high.y, low.z}, {low.x, high.y, high.z},
      {low.x, low.y, high.z});
}

/// The pile beyond the lip; what of it is in the pouch is hidden.
void add_liners(View& view, const Pouch& pouch, const pouch::Packed& packed) {
  const OpenMouth& mouth = *view.pose.look().mouth;
  const double width = kPileWidth * std::min(packed.box.width.in_mm(), mouth.right - mouth.left);
  const double left = (pouch.sizes.cut_width.in_mm() - width) / 2;
  Length lip;
  for (const pouch::SpanId id : mouth.spans) {
    lip = std::max(lip, view.pose.folded().layer(id).heights.to);
  }
  const double bottom = view.pose.at(mouth.lower, left, lip).z + 0.2 * view.pose.look().pitch;
  const double thick = packed.box.height.in_mm() / packed.layers;
  const double wide = width / packed.columns;
  const double from = lip.in_mm() - 2;
  const double to = lip.in_mm() + kHalfIn * packed.box.length.in_mm();
  for (int layer = 0; layer < packed.layers; ++layer) {
    for (int column = 0; column < packed.columns; ++column) {
      if (layer * packed.columns + column >= packed.liners) continue;
      const double x = left + column * wide;
      const double z = bottom + layer * thick;
      add_box(view.faces, {x, from, z}, {x + wide, to, z + thick}, "liner");
    }
  }
}

// ---- Drawings ----------------------------------------------------------------------------------

/// In what one view of the finished pouch differs from another.
struct Standing {
  const char* name;
  FoldMoment moment;
  ViewLook look;
  std::function<void(View&)> things{};                 ///< adds what is in it
  std::function<void(Drawing&, const View&)> lines{};  ///< draws what lies over it
};

/// Nobody sees less than a hundredth of a millimetre: so many digits less in the files.
Drawing rounded(Drawing drawing) {
  const auto at = [](double mm) { return std::round(mm * 100) / 100; };
  for (Item& item : drawing.items) {
    auto* shape = std::get_if<Shape>(&item);
    if (shape == nullptr) continue;
    for (Step& step : shape->path) {
      for (Point* point : {&step.to, &step.c1, &step.c2}) *point = {at(point->x), at(point->y)};
    }
  }
  return drawing;
}

Drawing drawn(const Pouch& pouch, const FinishedLook& asked, const Standing& standing,
              const base::Voice& words, const TextMeasure& measure) {
  return rounded(fitted(asked.room, [&](double scale, Draft draft) {
    ViewLook look = standing.look;
    look.scale = scale;
    View view = view_of(pouch, standing.moment, look);
    if (standing.things) standing.things(view);
    Drawing drawing{.name = standing.name, .title = tell::title_of(pouch, words)};
    if (draft == Draft::rough) {
      drawing.add_line(Group::cut, "outline", rectangle(box_of(view)), kOutlineStroke);
    } else {
      drawing.add(painted(view.faces, view.projection, Hidden::left_out));
    }
    if (standing.lines) standing.lines(drawing, view);
    if (asked.marks) asked.marks(drawing, view);
    drawing.extent = bounds(drawing.items, measure);
    return drawing;
  }));
}

}  // namespace

Drawing closed_view(const Pouch& pouch, const FinishedLook& look, const base::Voice& words,
                    const TextMeasure& measure) {
  const bool rolled = pouch.construction().flap_law == pouch::FlapLaw::rolled;
  Standing closed{
      .name = "closed",
      .moment = finished_moment(pouch),
      .look = {
          .angles = look.angles, .pitch = rolled ? kRollPitch : kFlatPitch, .held = look.held}};
  closed.lines = [&](Drawing& drawing, const View& view) {
    add_seams(drawing, pouch, view);
    if (look.sizes) add_sizes(drawing, pouch, view, words, measure);
  };
  return drawn(pouch, look, closed, words, measure);
}

Drawing open_view(const Pouch& pouch, const FinishedLook& look, const base::Voice& words,
                  const TextMeasure& measure) {
  const auto packed = pouch::packed(pouch);
  Standing open{.name = "open",
                .moment = open_moment(pouch),
                .look = {.angles = look.angles, .pitch = kFlatPitch, .mouth = {.open = true}}};
  if (packed) {
    open.look.mouth.content = packed->box.height.in_mm();
    open.things = [&](View& view) {
      if (view.pose.look().mouth) add_liners(view, pouch, *packed);
    };
  }
  open.lines = [&](Drawing& drawing, const View& view) {
    add_seams(drawing, pouch, view);
    if (look.sizes) add_sizes(drawing, pouch, view, words, measure);
  };
  return drawn(pouch, look, open, words, measure);
}

Drawing filled_view(const Pouch& pouch, const FinishedLook& look, const base::Voice& words,
                    const TextMeasure& measure) {
  const pouch::Sizes& sizes = pouch.sizes;
  const Length level = tell::fill_read(pouch, words).test_level;
  const Standing filled{
      .name = "filled",
      .moment = open_moment(pouch),
      .look = {.angles = kUprightAngles, .pitch = kFlatPitch, .mouth = {.open = true}},
      .lines = [&](Drawing& drawing, const View& view) {
        if (level > Length()) {
          drawing.add_line(
              Group::label, "water",
              waves_on(view, {sizes.seal_width, sizes.cut_width - sizes.seal_width}, level),
              kWaterLine);
        }
        if (look.sizes && level > Length()) {
          const double edge = sizes.cut_width.in_mm();
          add_size(drawing, view.projection,
                   {{edge, 0, 0},
                    {edge, level.in_mm(), 0},
                    {kOffWater, 0, 0},
                    kept_together(level, words)},
                   measure);
        }
      }};
  return drawn(pouch, look, filled, words, measure);
}

}  // namespace pouchwright::draw
