#include "draw/full_size/sole.h"

#include <algorithm>

#include "ink/canvas.h"

namespace pouchwright::draw {
namespace {

/// Of the length; a common sole's (assumed, it is only drawn).
constexpr double kTaper = 0.6;
constexpr double kStep = 1;
/// Steam reaches as far as any card does.
constexpr double kSteamReach = 100'000;

/// Half of the sole's width, `from_point` mm behind its point: a parabola, so that it ends in a
/// point and meets the straight sides without a corner.
double half_width(const batch::IronSole& sole, double from_point) {
  const double rest = 1 - std::min(1.0, from_point / taper_of(sole));
  return on_paper(sole.width) / 2 * (1 - rest * rest);
}

bool lies_in(Point point, const Box& box) {
  return point.x >= box.x0 && point.x <= box.x1 && point.y >= box.y0 && point.y <= box.y1;
}

/// What of the line through `points` lies inside the box, cut off between two of them.
Path inside(const std::vector<Point>& points, const Box& box) {
  Path path;
  std::vector<Point> run;
  const auto end_run = [&] {
    if (run.size() > 1) append(path, polyline(run, Ends::open));
    run.clear();
  };
  for (const Point& point : points) {
    if (lies_in(point, box)) {
      run.push_back(point);
    } else {
      end_run();
    }
  }
  end_run();
  return path;
}

}  // namespace

double taper_of(const batch::IronSole& sole) { return kTaper * on_paper(sole.length); }

SolePlaces sole_places(const batch::IronSole& sole, const std::vector<Box>& bands,
                       const Box& pouch) {
  const double width = on_paper(sole.width);
  const double length = on_paper(sole.length);
  SolePlaces places;
  for (const Box& band : bands) {
    // A band along the bottom: the sole lies across it, and may stand out at both sides.
    if (band.width() > band.height() && band.x0 > pouch.x0 && band.x1 < pouch.x1) {
      places.covered.push_back(
          {pouch.x0 - length, pouch.y1 - width, pouch.x1 + length, band.y0 + width});
      continue;
    }
    const bool is_left = band.x0 + band.x1 < pouch.x0 + pouch.x1;
    const double x0 = std::min(band.x0, is_left ? band.x1 - width : pouch.x1 - width);
    const double x1 = std::max(band.x1, is_left ? pouch.x0 + width : band.x0 + width);
    places.covered.push_back({x0, pouch.y0, x1, std::max(pouch.y1, pouch.y0 + length)});
    places.steamed.push_back({x0, pouch.y0 - kSteamReach, x1, pouch.y0});
  }
  return places;
}

Path sole_at_left(const batch::IronSole& sole, const Box& pouch, const Box& within) {
  const double length = on_paper(sole.length);
  const double centre = pouch.x0 + on_paper(sole.width) / 2;
  std::vector<Point> left;
  std::vector<Point> right;
  for (double way = 0; way <= length; way += kStep) {
    const double half = half_width(sole, way);
    left.push_back({centre - half, pouch.y0 + way});
    right.push_back({centre + half, pouch.y0 + way});
  }
  Path path = inside(left, within);
  append(path, inside(right, within));
  return path;
}

}  // namespace pouchwright::draw
