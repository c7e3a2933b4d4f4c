#include "draw/views/faces.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>
#include <set>
#include <utility>

namespace pouchwright::draw {
namespace {

/// An area reaches so far under its smooth neighbours, so that no paper shines through between
/// them, mm of paper; a narrow one only so much of its own width, lest it comes out beyond them.
constexpr double kUnder = 0.15;
constexpr double kUnderShare = 0.2;
/// The outer's dots: rows so far apart, mm of paper, a line of dashes each, since thousands of
/// single dots make a large file that is slow to print.
constexpr double kDotRows = 1.9;
constexpr Stroke kDotStroke{LinePattern::specks, 0.35};
/// The lining's lines.
constexpr double kLiningRows = 1.6;
/// The cosine of an angle of 50 degrees.
constexpr double kSharp = 0.64;
constexpr Stroke kThinStroke{LinePattern::continuous, 0.18};

using Corners = std::vector<Point>;

Corners on_paper(const Face3& face, const Projection& view) {
  Corners corners;
  corners.reserve(face.corners.size());
  for (const Point3& at : face.corners) corners.push_back(view.on_paper(at));
  return corners;
}

double twice_area(const Corners& corners) {
  double sum = 0;
  for (std::size_t i = 0; i < corners.size(); ++i) {
    const Point& a = corners[i];
    const Point& b = corners[(i + 1) % corners.size()];
    sum += a.x * b.y - b.x * a.y;
  }
  return sum;
}

/// How far the area reaches under its neighbours.
double under(const Corners& corners) {
  double longest = 0;
  for (std::size_t i = 0; i < corners.size(); ++i) {
    const Point& b = corners[(i + 1) % corners.size()];
    longest = std::max(longest, std::hypot(b.x - corners[i].x, b.y - corners[i].y));
  }
  if (longest == 0) return 0;
  return std::min(kUnder, kUnderShare * std::abs(twice_area(corners)) / (2 * longest));
}

/// Outwards across the edge from corner i, `by` long; 0, 0 for an edge with a line.
Point push(const Corners& corners, const std::vector<int>& edges, std::size_t i, double by) {
  if (edges[i] != kNoEdge && edges[i] != kCutEdge && edges[i] != kCreaseEdge) return {};
  const Point& a = corners[i];
  const Point& b = corners[(i + 1) % corners.size()];
  const double length = std::hypot(b.x - a.x, b.y - a.y);
  if (length == 0) return {};
  return {by * (b.y - a.y) / length, -by * (b.x - a.x) / length};
}

/// The corners, moved outwards where the face goes on smoothly.
Corners widened(const Corners& corners, const std::vector<int>& edges) {
  const double by = (twice_area(corners) > 0 ? 1 : -1) * under(corners);
  Corners result;
  result.reserve(corners.size());
  for (std::size_t i = 0; i < corners.size(); ++i) {
    const std::size_t before = (i + corners.size() - 1) % corners.size();
    const Point a = push(corners, edges, before, by);
    const Point b = push(corners, edges, i, by);
    result.push_back({corners[i].x + a.x + b.x, corners[i].y + a.y + b.y});
  }
  return result;
}

/// Where the level line at `y` runs inside a convex polygon.
struct Row {
  double from = 0;
  double to = 0;
};
std::optional<Row> row_in(const Corners& corners, double y) {
  std::optional<Row> row;
  for (std::size_t i = 0; i < corners.size(); ++i) {
    const Point& a = corners[i];
    const Point& b = corners[(i + 1) % corners.size()];
    if ((a.y <= y) == (b.y <= y)) continue;
    const double x = a.x + (y - a.y) / (b.y - a.y) * (b.x - a.x);
    row = row ? Row{std::min(row->from, x), std::max(row->to, x)} : Row{x, x};
  }
  return row;
}

/// Calls `put(row, number)` for every row of the paper, `step` apart, that meets the polygon, so
/// that the pattern runs on from face to face.
template <class Put>
void over_rows(const Corners& corners, double step, Put put) {
  double low = corners.front().y;
  double high = low;
  for (const Point& at : corners) {
    low = std::min(low, at.y);
    high = std::max(high, at.y);
  }
  for (double number = std::ceil(low / step); number * step <= high; ++number) {
    if (const auto row = row_in(corners, number * step)) put(*row, number);
  }
}

Path dots_in(const Corners& corners) {
  const std::vector<double> dashes = ink::dashes_of(kDotStroke.pattern, kDotStroke.width);
  const double apart = dashes[0] + dashes[1];
  Path path;
  over_rows(corners, kDotRows, [&](const Row& row, double number) {
    const double shift = std::fmod(std::abs(number), 2.0) * apart / 2;
    const double first = std::ceil((row.from - shift) / apart) * apart + shift;
    const double y = number * kDotRows;
    if (first < row.to) append(path, line({first, y}, {row.to, y}));
  });
  return path;
}

Path lines_in(const Corners& corners) {
  Path path;
  over_rows(corners, kLiningRows, [&](const Row& row, double number) {
    append(path, line({row.from, number * kLiningRows}, {row.to, number * kLiningRows}));
  });
  return path;
}

/// Is the corner so sharp that two joined lines would end in a spike?
bool is_sharp(const Corners& corners, std::size_t i) {
  const Point& at = corners[i];
  const Point& a = corners[(i + corners.size() - 1) % corners.size()];
  const Point& b = corners[(i + 1) % corners.size()];
  const double along = (a.x - at.x) * (b.x - at.x) + (a.y - at.y) * (b.y - at.y);
  const double lengths = std::hypot(a.x - at.x, a.y - at.y) * std::hypot(b.x - at.x, b.y - at.y);
  return along > kSharp * lengths;
}

/// The lines along a face's edges of one kind.
Path edges_of(const Face3& face, const Corners& corners, int kind) {
  Path path;
  bool joins = false;
  for (std::size_t i = 0; i < corners.size(); ++i) {
    const bool drawn = face.edges[i] == kind;
    const Point& to = corners[(i + 1) % corners.size()];
    if (drawn && joins && !is_sharp(corners, i)) path.push_back({Verb::line, to, {}, {}});
    if (drawn && (!joins || is_sharp(corners, i))) append(path, line(corners[i], to));
    joins = drawn;
  }
  return path;
}

/// Faces that show the same: one area, so that no seam shows between them, then their patterns and
/// edges.
struct Patch {
  std::string name;
  Skin skin = Skin::knit;
  bool clockwise = false;
  Path areas{}, pattern{}, raw{}, bends{}, creases{};
  std::vector<Box> taken{};  ///< with half a line around each face

  [[nodiscard]] bool shows_as(const Patch& other) const {
    return skin == other.skin && clockwise == other.clockwise && name == other.name;
  }
  [[nodiscard]] bool is_over(const Box& box) const {
    return std::any_of(taken.begin(), taken.end(),
                       [&](const Box& one) { return overlap(one, box); });
  }
};

Box taken_by(const Corners& corners) {
  Box box{corners[0].x, corners[0].y, corners[0].x, corners[0].y};
  for (const Point& at : corners) box = united(box, {at.x, at.y, at.x, at.y});
  return grown(box, kOutlineStroke.width / 2);
}

void add_to(Patch& patch, const Face3& part, const Corners& corners) {
  append(patch.areas, polyline(widened(corners, part.edges), Ends::closed));
  if (patch.skin == Skin::outer) append(patch.pattern, dots_in(corners));
  if (patch.skin == Skin::lining) append(patch.pattern, lines_in(corners));
  append(patch.raw, edges_of(part, corners, kRawEdge));
  append(patch.bends, edges_of(part, corners, kBendEdge));
  append(patch.creases, edges_of(part, corners, kCreaseEdge));
  patch.taken.push_back(taken_by(corners));
}

/// The patch that the face goes into: of the last `back` ones, where none after it is in the way;
/// else a new one.
Patch& patch_for(std::vector<Patch>& patches, Patch made, const Box& box, std::size_t back) {
  for (std::size_t i = patches.size(); i-- > 0 && patches.size() - i <= back;) {
    if (patches[i].shows_as(made)) return patches[i];
    if (patches[i].is_over(box)) break;
  }
  patches.push_back(std::move(made));
  return patches.back();
}

void add_lines(std::vector<Shape>& shapes, const Path& lines, Stroke stroke, std::string name) {
  if (lines.empty()) return;
  shapes.push_back({.group = Group::cut,
                    .path = lines,
                    .stroke = stroke,
                    .fill = Fill::none,
                    .name = std::move(name)});
}

void add_shapes(std::vector<Shape>& shapes, const Patch& patch) {
  shapes.push_back({.group = Group::cut,
                    .path = patch.areas,
                    .stroke = std::nullopt,
                    .fill = fill_of(patch.skin),
                    .name = "seen " + std::string(word_of(patch.skin)) + ": " + patch.name});
  add_lines(shapes, patch.pattern, patch.skin == Skin::outer ? kDotStroke : kThinStroke,
            "pattern: " + patch.name);
  const std::string edge = "edge: " + patch.name;
  add_lines(shapes, patch.creases, kCreaseStroke, edge);
  add_lines(shapes, patch.bends, kEdgeStroke, edge);
  // A card has a heavy edge, the leaves of a pile have thin ones.
  add_lines(shapes, patch.raw,
            patch.skin == Skin::card    ? kOutlineStroke
            : patch.skin == Skin::liner ? kThinStroke
                                        : kEdgeStroke,
            edge);
}

/// All edges, half of which come out beyond the areas where nothing else lies.
Path outline_of(const std::vector<Face3>& faces, const Projection& view) {
  Path path;
  for (const Face3& face : faces) {
    const Corners corners = on_paper(face, view);
    append(path, edges_of(face, corners, kRawEdge));
    append(path, edges_of(face, corners, kBendEdge));
  }
  return path;
}

/// The faces that anything is painted of.
std::vector<Face3> each_once(const std::vector<Painted>& painted, const std::vector<Face3>& faces) {
  std::set<std::size_t> indices;
  for (const Painted& one : painted) indices.insert(one.face);
  std::vector<Face3> some;
  for (const std::size_t index : indices) some.push_back(faces[index]);
  return some;
}

}  // namespace

std::string_view word_of(Skin skin) {
  switch (skin) {
    case Skin::film:
      return "film";
    case Skin::knit:
      return "knit";
    case Skin::outer:
      return "outer";
    case Skin::lining:
      return "lining";
    case Skin::card:
      return "card";
    case Skin::liner:
      return "liner";
    case Skin::water:
      return "water";
  }
  return "";
}

Fill fill_of(Skin skin) {
  switch (skin) {
    case Skin::film:
      return Fill::grey;
    case Skin::water:
      return Fill::pale;
    case Skin::outer:
    case Skin::knit:
    case Skin::lining:
    case Skin::card:
    case Skin::liner:
      break;
  }
  return Fill::paper;
}

Skin seen(const ViewFace& face, const Projection& view) {
  return dot(area_vector(face.face.corners), view.towards_eye()) > 0 ? face.front : face.back;
}

void add_corner(Face3& face, const Point3& at, int edge) {
  face.corners.push_back(at);
  face.edges.push_back(edge);
}

Face3 quad(const Point3& a, const Point3& b, const Point3& c, const Point3& d,
           const std::array<int, 4>& edges) {
  return {{a, b, c, d}, {edges.begin(), edges.end()}};
}

Path hatched(const std::vector<Point>& corners, double spacing) {
  // Rows of the paper turned by an eighth, and back.
  constexpr double kHalfRoot = std::numbers::sqrt2 / 2;
  Corners turned;
  for (const Point& at : corners) {
    turned.push_back({kHalfRoot * (at.x - at.y), kHalfRoot * (at.x + at.y)});
  }
  Path path;
  over_rows(turned, spacing, [&](const Row& row, double number) {
    const double y = number * spacing;
    append(path, line({kHalfRoot * (row.from + y), kHalfRoot * (y - row.from)},
                      {kHalfRoot * (row.to + y), kHalfRoot * (y - row.to)}));
  });
  return path;
}

std::vector<Shape> painted(const std::vector<ViewFace>& faces, const Projection& view,
                           Hidden hidden) {
  std::vector<Face3> bare;
  bare.reserve(faces.size());
  for (const ViewFace& one : faces) bare.push_back(one.face);
  std::vector<Painted> order = back_to_front(bare, view);
  if (hidden == Hidden::left_out) {
    order = only_seen(std::move(order), view);
    bare = each_once(order, bare);
  }
  std::vector<Shape> shapes;
  add_lines(shapes, outline_of(bare, view), kOutlineStroke, "outline");
  const std::size_t back = hidden == Hidden::left_out ? order.size() : 1;
  std::vector<Patch> patches;
  for (const Painted& one : order) {
    const ViewFace& face = faces[one.face];
    const Corners corners = on_paper(one.part, view);
    Patch made{.name = face.name, .skin = seen(face, view), .clockwise = twice_area(corners) > 0};
    Patch& patch = patch_for(patches, std::move(made), taken_by(corners), back);
    add_to(patch, one.part, corners);
  }
  for (const Patch& patch : patches) add_shapes(shapes, patch);
  return shapes;
}

}  // namespace pouchwright::draw
