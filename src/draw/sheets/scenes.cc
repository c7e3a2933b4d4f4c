#include "draw/sheets/scenes.h"

#include <utility>

namespace pouchwright::draw {
namespace {

constexpr Stroke kLine{LinePattern::continuous, 0.35};
constexpr Stroke kThick{LinePattern::continuous, 0.7};
constexpr Stroke kThin{LinePattern::continuous, 0.18};
constexpr Stroke kHidden{LinePattern::dashed, 0.18};

void fill(Picture& picture, Path path) {
  picture.items.emplace_back(Shape{.group = Group::label,
                                   .path = std::move(path),
                                   .stroke = std::nullopt,
                                   .fill = Fill::solid,
                                   .name = ""});
}

Path curve(Point from, Point c1, Point c2, Point to) {
  return {{Verb::move, from, {}, {}}, {Verb::curve, to, c1, c2}};
}

void arrow(Picture& picture, Point from, Point to) {
  constexpr double kHead = 1.8;
  picture.draw(line(from, to), kLine);
  const bool is_upright = from.x == to.x;
  const double back = (is_upright ? to.y - from.y : to.x - from.x) > 0 ? -kHead : kHead;
  const Point a =
      is_upright ? Point{to.x - kHead / 2, to.y + back} : Point{to.x + back, to.y - kHead / 2};
  const Point b =
      is_upright ? Point{to.x + kHead / 2, to.y + back} : Point{to.x + back, to.y + kHead / 2};
  fill(picture, polyline({to, a, b}, Ends::closed));
}

/// Left and right ends of a wavy line at `y`.
void wave(Picture& picture, double x0, double x1, double y) {
  Path path{{Verb::move, {x0, y}, {}, {}}};
  constexpr double kHalf = 2;
  double up = -0.9;
  for (double x = x0; x + kHalf <= x1 + 1e-9; x += kHalf, up = -up) {
    path.push_back(
        {Verb::curve, {x + kHalf, y}, {x + kHalf / 3, y + up}, {x + kHalf * 2 / 3, y + up}});
  }
  picture.draw(std::move(path), kLine);
}

void drop(Picture& picture, Point tip) {
  Path path{{Verb::move, tip, {}, {}}};
  path.push_back(
      {Verb::curve, {tip.x, tip.y + 2.6}, {tip.x + 0.6, tip.y + 1}, {tip.x + 1.6, tip.y + 2.6}});
  path.push_back({Verb::curve, tip, {tip.x - 1.6, tip.y + 2.6}, {tip.x - 0.6, tip.y + 1}});
  path.push_back({Verb::close, tip, {}, {}});
  fill(picture, std::move(path));
}

/// Seams at the sides.
void pouch_body(Picture& picture, const Box& box) {
  picture.draw(rectangle(box), kThick);
  const double in = box.width() * 0.1;
  picture.draw(line({box.x0 + in, box.y0}, {box.x0 + in, box.y1}), kHidden);
  picture.draw(line({box.x1 - in, box.y0}, {box.x1 - in, box.y1}), kHidden);
}

/// The rolled mouth, bent into a handle above the pouch that a snap holds.
void roll(Picture& picture, const Box& box) {
  const double out = box.width() * 0.12;
  const double thick = box.height() * 0.16;
  const double top = box.y0 - thick;
  picture.draw(rectangle({box.x0 - out, top, box.x1 + out, box.y0}), kThick);
  picture.draw(line({box.x0 - out, top + thick / 2}, {box.x1 + out, top + thick / 2}), kThin);
  const double middle = (box.x0 + box.x1) / 2;
  const double peak = top - box.height() * 0.22;
  picture.draw(curve({box.x0, top}, {box.x0, peak}, {middle - 1, peak}, {middle, peak}), kLine);
  picture.draw(curve({box.x1, top}, {box.x1, peak}, {middle + 1, peak}, {middle, peak}), kLine);
  fill(picture, circle({middle, peak}, 0.6));
}

/// A pouch in use, within `box`: the flap lies over the front, the mouth is rolled, or it is open.
void pouch_in_use(Picture& picture, const Box& box, Shut shut) {
  switch (shut) {
    case Shut::flap: {
      pouch_body(picture, box);
      const double flap = box.y0 + box.height() * 0.38;
      picture.draw(line({box.x0, flap}, {box.x1, flap}), kLine);
      return;
    }
    case Shut::rolled: {
      // The handle and the roll take their part of the box's height.
      const Box body{box.x0, box.y0 + box.height() * 0.28, box.x1, box.y1};
      pouch_body(picture, body);
      roll(picture, body);
      return;
    }
    case Shut::open: {
      // Seen a little from above: the mouth is a narrow oval.
      const double high = box.height() * 0.07;
      const Box body{box.x0, box.y0 + high, box.x1, box.y1};
      pouch_body(picture, body);
      picture.draw(curve({body.x0, body.y0}, {body.x0 + 1, body.y0 - 2 * high},
                         {body.x1 - 1, body.y0 - 2 * high}, {body.x1, body.y0}),
                   kLine);
      return;
    }
  }
}

/// An open pouch seen from the front: the back stands up behind the mouth, higher where it ends in
/// a flap.
void pouch_open(Picture& picture, const Box& box, double back) {
  const double mouth = box.y0 + box.height() * back;
  picture.draw(
      polyline({{box.x0, mouth}, {box.x0 + 1, box.y0}, {box.x1 - 1, box.y0}, {box.x1, mouth}},
               Ends::open),
      kLine);
  picture.draw(rectangle({box.x0, mouth, box.x1, box.y1}), kThick);
}

void liner(Picture& picture, const Box& box) {
  const double r = box.height() / 2;
  Path path{{Verb::move, {box.x0 + r, box.y0}, {}, {}}};
  path.push_back({Verb::line, {box.x1 - r, box.y0}, {}, {}});
  path.push_back(
      {Verb::curve, {box.x1 - r, box.y1}, {box.x1 + r * 0.3, box.y0}, {box.x1 + r * 0.3, box.y1}});
  path.push_back({Verb::line, {box.x0 + r, box.y1}, {}, {}});
  path.push_back(
      {Verb::curve, {box.x0 + r, box.y0}, {box.x0 - r * 0.3, box.y1}, {box.x0 - r * 0.3, box.y0}});
  path.push_back({Verb::close, {box.x0 + r, box.y0}, {}, {}});
  picture.draw(std::move(path), kLine);
  const double middle = (box.y0 + box.y1) / 2;
  picture.draw(line({box.x0 + r, middle}, {box.x1 - r, middle}), kHidden);
}

void cross_out(Picture& picture, const Box& box) {
  picture.draw(line({box.x0, box.y0}, {box.x1, box.y1}), kThick);
  picture.draw(line({box.x0, box.y1}, {box.x1, box.y0}), kThick);
}

/// A person who stretches one arm out; the pouch hangs from the hand, far from the body.
Picture hold(Shut shut) {
  Picture made;
  made.draw(circle({6, 3}, 2.2), kLine);
  made.draw(line({6, 5.2}, {6, 13}), kThick);
  made.draw(line({6, 13}, {3.6, 19.5}), kThick);
  made.draw(line({6, 13}, {8.4, 19.5}), kThick);
  made.draw(line({6, 7}, {19.5, 6}), kThick);
  made.draw(line({6, 7}, {3.2, 12}), kThick);
  pouch_in_use(made, {17, 6, 25, 16.5}, shut);
  arrow(made, {12, 11}, {15.6, 11});
  arrow(made, {12, 11}, {8.2, 11});
  return made;
}

/// A liner goes in; behind an arrow the pouch with its mouth rolled, where that is how it is shut.
Picture filled(Shut shut) {
  Picture made;
  const double width = shut == Shut::rolled ? 11 : 16;
  const double middle = shut == Shut::rolled ? 6.5 : 14;
  const double in = width / 2 - 3;
  pouch_open(made, {middle - width / 2, 6.5, middle + width / 2, 19.5},
             shut == Shut::flap ? 0.3 : 0.08);
  liner(made, {middle - in - 0.5, 0.6, middle + in + 0.5, 3.6});
  arrow(made, {middle, 4.6}, {middle, 9});
  liner(made, {middle - in, 11.8, middle + in, 14.4});
  liner(made, {middle - in, 15.4, middle + in, 18});
  if (shut == Shut::rolled) {
    arrow(made, {13.2, 13}, {15.8, 13});
    pouch_in_use(made, {17.4, 5.5, 26.4, 19.5}, shut);
  }
  return made;
}

Picture no_shaking() {
  Picture made;
  liner(made, {8.5, 7.5, 19.5, 12.5});
  for (const double in : {0.0, 2.2}) {
    made.draw(curve({6.4 - in, 6.4}, {4.8 - in, 8.6}, {4.8 - in, 11.4}, {6.4 - in, 13.6}), kLine);
    made.draw(curve({21.6 + in, 6.4}, {23.2 + in, 8.6}, {23.2 + in, 11.4}, {21.6 + in, 13.6}),
              kLine);
  }
  cross_out(made, {4, 1.5, 24, 18.5});
  return made;
}

/// One liner, a basin with a little water.
Picture rinse() {
  Picture made;
  liner(made, {9, 5.5, 19, 9.5});
  for (const double x : {10.5, 14.0, 17.5}) drop(made, {x, 0.6});
  made.draw(polyline({{2.5, 11}, {5.5, 19.3}, {22.5, 19.3}, {25.5, 11}}, Ends::open), kThick);
  wave(made, 5, 23, 16.6);
  return made;
}

/// A washing machine's front with pouch and liner in it.
Picture wash(Shut shut) {
  Picture made;
  made.draw(rectangle({4.5, 0.5, 23.5, 19.5}), kThick);
  made.draw(line({4.5, 3.6}, {23.5, 3.6}), kLine);
  made.draw(circle({21, 2.05}, 0.8), kLine);
  made.draw(circle({14, 11.6}, 7), kLine);
  pouch_in_use(made, {9.3, 8.2, 13.4, 13.6}, shut);
  liner(made, {14.4, 9.4, 19.4, 11.6});
  wave(made, 9.5, 18.5, 15.8);
  return made;
}

/// On a line, mouth down and open.
Picture dry() {
  Picture made;
  made.draw(curve({1, 2.2}, {9, 4.2}, {19, 4.2}, {27, 2.2}), kLine);
  const Box pouch{3.5, 4, 12, 16};
  made.draw(rectangle({pouch.x0, pouch.y0, pouch.x1, pouch.y1 - 4}), kThick);
  made.draw(polyline({{pouch.x0, pouch.y1 - 4},
                      {pouch.x0 + 0.6, pouch.y1},
                      {pouch.x1 - 0.6, pouch.y1},
                      {pouch.x1, pouch.y1 - 4}},
                     Ends::open),
            kLine);
  made.draw(rectangle({16.5, 4, 23.5, 13}), kLine);
  for (const double x : {5.0, 10.5, 18.0, 22.0}) made.draw(line({x, 2.2}, {x, 5.6}), kThick);
  for (const double x : {17.0, 20.0, 23.0}) {
    made.draw(curve({x, 14.6}, {x + 1.2, 15.8}, {x - 1.2, 17.4}, {x, 18.8}), kThin);
  }
  return made;
}

}  // namespace

Picture iron_picture(int dots, Steam steam) {
  Picture made;
  made.width = kIronWidth;
  made.height = kIronHeight;
  // Sole, back, handle, and the cover that rises from the nose.
  made.draw(polyline({{5.2, 0.6}, {12.6, 0.6}, {14.6, 8}, {0.4, 8}}, Ends::open), kThick);
  made.draw({{Verb::move, {0.4, 8}, {}, {}},
             {Verb::curve, {6.4, 3.4}, {0.8, 5}, {3.2, 3.4}},
             {Verb::line, {13.3, 3.4}, {}, {}}},
            kThick);
  constexpr double kDotGap = 2.4;
  for (int i = 0; i < dots; ++i) {
    fill(made, circle({8.4 + kDotGap * (i - (dots - 1) / 2.0), 5.8}, 0.7));
  }
  if (steam == Steam::unsaid) return made;
  for (const double x : {4.5, 7.5, 10.5}) {
    made.draw(curve({x, 9}, {x - 0.9, 9.8}, {x + 0.9, 10.8}, {x, 11.6}), kLine);
  }
  if (steam == Steam::never) cross_out(made, {3.2, 8.9, 11.8, 11.7});
  return made;
}

int sole_temperature(int dots) {
  switch (dots) {
    case 1:
      return 110;
    case 2:
      return 150;
    default:
      return 200;
  }
}

Picture scene_picture(Scene scene, Shut shut) {
  const auto drawn = [&] {
    switch (scene) {
      case Scene::hold:
        return hold(shut);
      case Scene::fill:
        return filled(shut);
      case Scene::no_shaking:
        return no_shaking();
      case Scene::rinse:
        return rinse();
      case Scene::wash:
        return wash(shut);
      case Scene::dry:
        return dry();
    }
    return Picture();
  };
  Picture made = drawn();
  made.width = kSceneWidth;
  made.height = kSceneHeight;
  return made;
}

}  // namespace pouchwright::draw
