#include "draw/sheets/test_scenes.h"

#include <algorithm>
#include <string>
#include <utility>

#include "ink/canvas.h"
#include "ink/labels.h"

namespace pouchwright::draw {
namespace {

/// The data have them 50 mm wide.
constexpr double kOfDrawn = kTestSceneWidth / 50;
constexpr double kStripHeight = 14;
/// What the strip has beyond the line at the least, for a hand.
constexpr double kGrip = 14;
/// Half the edge's line stays inside the picture; the level counts from its left end.
constexpr double kInside = 0.2;
/// A peg takes so much cloth above the water at the least (common practice, no source).
constexpr base::Length kForPegs = base::Length::whole_mm(20);
constexpr Stroke kEdge{LinePattern::dashed, 0.25};
constexpr Stroke kLevel{LinePattern::continuous, 1.0};

void add(Frame& picture, const Icons& icons, std::string_view name) {
  const auto found = icons.find(name);
  if (found == icons.end()) return;
  for (Shape shape : found->second) {
    for (Step& step : shape.path) {
      for (Point* point : {&step.to, &step.c1, &step.c2}) {
        *point = {kOfDrawn * point->x, kOfDrawn * point->y};
      }
    }
    picture.items.emplace_back(std::move(shape));
  }
}

}  // namespace

Mouth mouth_of(const pouch::Pouch& pouch) {
  switch (pouch.construction().flap_law) {
    case pouch::FlapLaw::caught:
      return Mouth::turned_back;
    case pouch::FlapLaw::free:
      return Mouth::held_back;
    case pouch::FlapLaw::rolled:
    case pouch::FlapLaw::none:
      break;
  }
  return Mouth::open;
}

bool hangs_while_waiting(const pouch::Pouch& pouch, const pouch::Fill& fill) {
  // Of a mouth that is rolled down later, the height unrolled.
  return pouch.lip_height - fill.test_level >= kForPegs;
}

Frame test_picture(const Icons& icons, TestScene scene, Mouth mouth) {
  Frame made;
  made.box = {0, 0, kTestSceneWidth, kTestSceneHeight};
  switch (scene) {
    case TestScene::fill:
      add(made, icons, "test_fill");
      if (mouth == Mouth::turned_back) add(made, icons, "test_fill_turned_back");
      if (mouth == Mouth::held_back) add(made, icons, "test_fill_held_back");
      break;
    case TestScene::read:
      add(made, icons, "test_read");
      break;
    case TestScene::wait_hung:
      add(made, icons, "test_wait");
      break;
    case TestScene::wait_stood:
      add(made, icons, "test_wait_stood");
      break;
  }
  return made;
}

std::optional<Frame> dip_strip(base::Length level, double room, const base::Voice& words,
                               const TextMeasure& measure) {
  const double at = on_paper(level);
  const Text figure = label(kept_together(level, words), kTextSize, Weight::bold);
  const double grip = std::max(kGrip, bounds(figure, measure).width() + 4);
  const double length = at + grip;
  if (length > room) return std::nullopt;
  Frame made;
  made.box = {0, 0, room, kStripHeight};
  made.draw(Group::cut, rectangle({kInside, kInside, length, kStripHeight - kInside}), kEdge,
            "dip strip");
  made.draw(Group::label, line({kInside + at, kInside}, {kInside + at, kStripHeight - kInside}),
            kLevel, "fill to here");
  made.items.emplace_back(centred_on(figure, {at + grip / 2, kStripHeight / 2}, measure));
  const Text foot = label(words.say("leak-strip-foot"), kSmallestSize);
  const double width = bounds(foot, measure).width();
  if (width + 6 < at) {
    made.items.emplace_back(centred_on(foot, {3 + width / 2, kStripHeight / 2}, measure));
  }
  return made;
}

}  // namespace pouchwright::draw
