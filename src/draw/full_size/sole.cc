#include "draw/full_size/sole.h"

#include <algorithm>
#include <optional>
#include <utility>

#include "ink/canvas.h"

namespace pouchwright::draw {
namespace {

/// Of the length; a common sole's (assumed, it is only drawn).
constexpr double kTaper = 0.6;
/// Of the drawn point, mm: shorter steps make no rounder line.
constexpr double kStep = 4;
/// Steam reaches as far as any card does.
constexpr double kSteamReach = 100'000;

/// Half of the sole's width, `from_point` mm behind its point: a parabola, so that it ends in a
/// point and meets the straight sides without a corner.
double half_width(const batch::IronSole& sole, double from_point) {
  const double rest = 1 - std::min(1.0, from_point / taper_of(sole));
  return on_paper(sole.width) / 2 * (1 - rest * rest);
}

/// The part of the segment that lies in the box, from 0 at `a` to 1 at `b`; empty where none does.
std::optional<std::pair<double, double>> part_inside(Point a, Point b, const Box& box) {
  double from = 0;
  double to = 1;
  const auto cut = [&](double start, double step, double low, double high) {
    if (step == 0) return start >= low && start <= high;
    const double one = (low - start) / step;
    const double other = (high - start) / step;
    from = std::max(from, std::min(one, other));
    to = std::min(to, std::max(one, other));
    return true;
  };
  const bool may = cut(a.x, b.x - a.x, box.x0, box.x1) && cut(a.y, b.y - a.y, box.y0, box.y1);
  if (!may || from >= to) return std::nullopt;
  return std::pair(from, to);
}

/// What of the line through `points` lies inside the box.
Path inside(const std::vector<Point>& points, const Box& box) {
  Path path;
  std::vector<Point> run;
  const auto end_run = [&] {
    if (run.size() > 1) append(path, polyline(run, Ends::open));
    run.clear();
  };
  for (std::size_t i = 1; i < points.size(); ++i) {
    const Point& a = points[i - 1];
    const Point& b = points[i];
    const auto part = part_inside(a, b, box);
    if (!part) {
      end_run();
      continue;
    }
    const auto at = [&](double way) {
      return Point{a.x + (b.x - a.x) * way, a.y + (b.y - a.y) * way};
    };
    if (run.empty()) run.push_back(at(part->first));
    run.push_back(at(part->second));
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
  std::vector<double> ways;
  for (double way = 0; way < taper_of(sole); way += kStep) ways.push_back(way);
  ways.insert(ways.end(), {taper_of(sole), length});
  for (const double way : ways) {
    const double half = half_width(sole, way);
    left.push_back({centre - half, pouch.y0 + way});
    right.push_back({centre + half, pouch.y0 + way});
  }
  Path path = inside(left, within);
  append(path, inside(right, within));
  return path;
}

}  // namespace pouchwright::draw
