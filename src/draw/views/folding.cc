#include "draw/views/folding.h"

#include <algorithm>
#include <optional>

#include "draw/folds/cut_through.h"
#include "draw/folds/marks.h"
#include "draw/folds/side_icons.h"
#include "draw/views/fitted.h"
#include "draw/views/on_view.h"
#include "pouch/questions.h"
#include "tell/fill.h"
#include "tell/names.h"

namespace pouchwright::draw {
namespace {

using pouch::Action;

/// Where a movement is looked at for the room that it takes.
constexpr double kLookedAt[] = {0, 0.25, 0.5, 0.75, 1};
/// Marks stand out of the cloth so far, mm of the picture.
constexpr double kMarks = 4;
/// Layers of a moving part stay nearer together than on paper.
constexpr double kPitch = 1.4;

bool does(const pouch::Pouch& pouch, const pouch::FoldMoment& moment, Action action) {
  return std::any_of(moment.operations.begin(), moment.operations.end(),
                     [&](std::size_t index) { return pouch.operation(index).action() == action; });
}

bool has_water(const pouch::Pouch& pouch, const pouch::FoldMoment& moment) {
  return does(pouch, moment, Action::fill_first) || does(pouch, moment, Action::test);
}

}  // namespace

Folding::Folding(const pouch::Pouch& pouch, Point room)
    : pouch_(&pouch), steps_(tell::assembly_steps(pouch)) {
  const Point clear{room.x - kSideIconLane - 2 * kMarks + 2, room.y - 2 * kMarks + 2};
  const Drawing all = fitted(clear, [this](double scale, Draft) {
    scale_ = scale;
    Drawing drawing;
    drawing.extent = reach(scale);
    return drawing;
  });
  extent_ = grown(reach(scale_), kMarks);
  extent_.x1 += kSideIconLane;
}

bool Folding::moves(std::size_t step) const {
  const pouch::FoldMoment& moment = steps_[step].moment;
  return turning_of(*pouch_, moment) || does(*pouch_, moment, Action::lay_card) ||
         does(*pouch_, moment, Action::take_card);
}

View Folding::at(std::size_t step, double done, double scale) const {
  const pouch::FoldMoment& moment = steps_[step].moment;
  return view_of(*pouch_, moment,
                 {.angles = has_water(*pouch_, moment) ? kUprightAngles : kViewAngles,
                  .scale = scale,
                  .pitch = kPitch,
                  .done = done});
}

Box Folding::reach(double scale) const {
  std::optional<Box> all;
  for (std::size_t step = 0; step < steps_.size(); ++step) {
    for (const double done : kLookedAt) {
      if (done > 0 && !moves(step)) continue;
      const Box box = box_of(at(step, done, scale));
      all = all ? united(*all, box) : box;
    }
  }
  return all.value_or(Box{});
}

Drawing Folding::view(std::size_t step, double done, const Icons& icons, const base::Voice& words,
                      const TextMeasure& measure) const {
  const pouch::FoldMoment& moment = steps_[step].moment;
  const View view = at(step, done, scale_);
  Drawing drawing{.name = "folding", .title = tell::title_of(*pouch_, words)};
  drawing.add(painted(view.faces, view.projection));
  if (done >= 1 || !moves(step)) {
    const Stack stack = stacked(moment.folded, {});
    const FoldViews views{.pouch = pouch_,
                          .moment = &moment,
                          .view = &view,
                          .water = tell::fill_read(*pouch_, words).test_level,
                          .stack = &stack,
                          .section = std::nullopt};
    const Box seen = bounds(drawing.items, measure);
    draw_marks(drawing, views);
    if (moment.finished) draw_seals_and_seams(drawing, views);
    const double lane = seen.x1 + (kSideIconLane - kSideIconSize) / 2;
    draw_side_icons(drawing, views, side_icons(views), lane, seen, icons);
  }
  drawing.extent = extent_;
  return from_top_left(std::move(drawing));
}

}  // namespace pouchwright::draw
