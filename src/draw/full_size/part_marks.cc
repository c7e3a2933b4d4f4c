#include "draw/full_size/part_marks.h"

#include <algorithm>
#include <cmath>

#include "base/text.h"
#include "ink/canvas.h"

namespace pouchwright::draw {

using base::Length;
using pouch::CutPart;
using pouch::Edge;
using pouch::FlapShape;
using pouch::Interval;
using pouch::Span;

namespace {

constexpr double kMark = 4;   ///< half the width of a cross
constexpr double kNote = 62;  ///< the words of a mark are no wider
constexpr double kNoteHigh = 26;

std::string plain_name(const CutPart& part) {
  return part.panel && *part.panel == 0 ? "template" : "template-" + base::slug(part.name);
}

/// The end of a panel that lies at the bottom when it is laid on.
Edge low_end(const pouch::Pouch& pouch, std::size_t panel) {
  for (const pouch::Operation& operation : pouch.construction().operations) {
    const auto* lays = operation.as<pouch::does::LayPanel>();
    if (lays != nullptr && lays->panel == panel) return lays->end;
  }
  return Edge::start;
}

/// Runs along one corner: to `before`, round or straight to `after`.
void add_corner(Path& path, FlapShape shape, Point before, Point corner, Point after) {
  path.push_back({.verb = path.empty() ? Verb::move : Verb::line, .to = before});
  if (shape == FlapShape::straight) return;
  if (shape == FlapShape::angled) {
    path.push_back({.verb = Verb::line, .to = after});
    return;
  }
  const auto towards = [&](Point from) {
    return Point{from.x + kQuarterArm * (corner.x - from.x),
                 from.y + kQuarterArm * (corner.y - from.y)};
  };
  path.push_back({.verb = Verb::curve, .to = after, .c1 = towards(before), .c2 = towards(after)});
}

/// How the corners at one end are cut.
EndCorners end_of(const EndCorners& corners, bool start) {
  return corners.at_start == start ? corners : EndCorners{};
}

}  // namespace

std::string template_name(const pouch::Pouch& pouch, const CutPart& part) {
  const std::string name = plain_name(part);
  int before = 0;
  for (const CutPart& other : pouch.sizes.parts) {
    if (other.name == part.name) break;
    if (plain_name(other) == name) ++before;
  }
  return before == 0 ? name : name + "-" + std::to_string(before + 1);
}

pouch::FlatPanel flat_of(const pouch::Sizes& sizes, const CutPart& part) {
  if (part.panel) return sizes.panels[*part.panel];
  pouch::FlatPanel piece;
  piece.name = part.name;
  piece.spans = {{"", Length(), part.length}};
  return piece;
}

bool is_across(const Interval& x, const CutPart& part) { return 2 * x.size() > part.width; }

std::vector<pouch::SealZone> own_zones(const pouch::Pouch& pouch, const CutPart& part) {
  std::vector<pouch::SealZone> own;
  if (!part.panel) return own;
  const Length inset = pouch.sizes.panels[*part.panel].inset;
  Length left;
  Length right = part.width;
  for (pouch::SealZone zone : pouch.seal_zones) {
    if (zone.panel != *part.panel) continue;
    zone.x = {std::max(Length(), zone.x.from - inset), std::min(part.width, zone.x.to - inset)};
    if (zone.x.from >= zone.x.to) continue;
    if (!is_across(zone.x, part)) {
      if (zone.x.from == Length()) left = std::max(left, zone.x.to);
      if (zone.x.to == part.width) right = std::min(right, zone.x.from);
    }
    own.push_back(zone);
  }
  for (pouch::SealZone& zone : own) {
    if (is_across(zone.x, part)) zone.x = {left, right};
  }
  return own;
}

std::optional<Edge> bottom_end(const pouch::Pouch& pouch, const CutPart& part) {
  const pouch::Construction& construction = pouch.construction();
  if (!part.panel || !construction.has_bottom_seam()) return std::nullopt;
  for (const pouch::SpanRef ref : {construction.bottom_a, construction.bottom_b}) {
    if (ref.panel != *part.panel) continue;
    if (ref.panel > 0) return low_end(pouch, ref.panel);
    return cut_span(pouch.sizes.panels, ref).span == 0 ? Edge::start : Edge::end;
  }
  return std::nullopt;
}

Interval heights_of(const pouch::Folded& folded, pouch::SpanId span, const Interval& flat) {
  const Length a = folded.height_of(span, flat.from);
  const Length b = folded.height_of(span, flat.to);
  return {std::min(a, b), std::max(a, b)};
}

std::vector<Lip> lips_of(const pouch::Pouch& pouch, const CutPart& part) {
  std::vector<Lip> lips;
  if (!part.panel) return lips;
  for (const pouch::Compartment& compartment : pouch.construction().compartments) {
    const pouch::SpanRef first = compartment.film.front();
    if (first.panel != *part.panel) continue;
    const bool has_second = compartment.film.size() > 1 && compartment.film[1].panel == first.panel;
    const bool follows = has_second         ? first < compartment.film[1]
                         : *part.panel == 0 ? true
                                            : low_end(pouch, *part.panel) == Edge::end;
    const Span& span = pouch.sizes.span(cut_span(pouch.sizes.panels, first));
    lips.push_back({follows ? span.from : span.to, follows});
  }
  return lips;
}

EndCorners corners_of(const pouch::Pouch& pouch, const CutPart& part) {
  const pouch::Request& request = pouch.request;
  if (!part.panel || request.flap_shape == FlapShape::straight) return {};
  const auto flap = request.construction.flap_span;
  if (!flap || flap->panel != *part.panel) return {};
  const bool at_start = flap->span == 0;
  const std::size_t spans = request.construction.panels[flap->panel].spans.size();
  if (!at_start && flap->span + 1 != spans) return {};
  const Length most = base::half(std::min(part.width, part.length));
  return {request.flap_shape, on_paper(std::min(request.flap_corner.value, most)), at_start};
}

double cut_off(const EndCorners& corners, double from_edge) {
  const double left = corners.size - from_edge;
  if (corners.shape == FlapShape::straight || left <= 0) return 0;
  if (corners.shape == FlapShape::angled) return left;
  return corners.size - std::sqrt(corners.size * corners.size - left * left);
}

Path end_with(const EndCorners& corners, const Box& box) {
  const double y = corners.at_start ? box.y0 : box.y1;
  const double inside = y + (corners.at_start ? corners.size : -corners.size);
  Path path;
  add_corner(path, corners.shape, {box.x0, inside}, {box.x0, y}, {box.x0 + corners.size, y});
  add_corner(path, corners.shape, {box.x1 - corners.size, y}, {box.x1, y}, {box.x1, inside});
  return path;
}

Path outline_with(const EndCorners& corners, const Box& box) {
  const EndCorners top = end_of(corners, true);
  const EndCorners bottom = end_of(corners, false);
  Path path;
  add_corner(path, top.shape, {box.x0, box.y0 + top.size}, {box.x0, box.y0},
             {box.x0 + top.size, box.y0});
  add_corner(path, top.shape, {box.x1 - top.size, box.y0}, {box.x1, box.y0},
             {box.x1, box.y0 + top.size});
  add_corner(path, bottom.shape, {box.x1, box.y1 - bottom.size}, {box.x1, box.y1},
             {box.x1 - bottom.size, box.y1});
  add_corner(path, bottom.shape, {box.x0 + bottom.size, box.y1}, {box.x0, box.y1},
             {box.x0, box.y1 - bottom.size});
  path.push_back({.verb = Verb::close});
  return path;
}

Path half_outline_with(const EndCorners& corners, const Box& box) {
  const EndCorners top = end_of(corners, true);
  const EndCorners bottom = end_of(corners, false);
  Path path{{.verb = Verb::move, .to = {box.x0, box.y0}}};
  add_corner(path, top.shape, {box.x1 - top.size, box.y0}, {box.x1, box.y0},
             {box.x1, box.y0 + top.size});
  add_corner(path, bottom.shape, {box.x1, box.y1 - bottom.size}, {box.x1, box.y1},
             {box.x1 - bottom.size, box.y1});
  path.push_back({.verb = Verb::line, .to = {box.x0, box.y1}});
  return path;
}

Path attachment_mark(Point from, double y1, double width, Point across) {
  Path path;
  const double half = width > 0 ? width / 2 : kMark;
  const double x0 = std::max(across.x, from.x - half);
  const double x1 = std::min(across.y, from.x + half);
  append(path, line({x0, from.y}, {x1, from.y}));
  if (y1 > from.y) {
    append(path, line({x0, y1}, {x1, y1}));
    append(path, line(from, {from.x, y1}));
    if (width > 0 && x0 > across.x) append(path, line({x0, from.y}, {x0, y1}));
    if (width > 0 && x1 < across.y) append(path, line({x1, from.y}, {x1, y1}));
  } else if (from.x > across.x && from.x < across.y) {
    append(path, line({from.x, from.y - kMark}, {from.x, from.y + kMark}));
  }
  return path;
}

std::vector<Box> regions_near(Point mark) {
  const double gap = kMark + 2;
  return {{mark.x + gap, mark.y - kNoteHigh / 2, mark.x + gap + kNote, mark.y + kNoteHigh},
          {mark.x - gap - kNote, mark.y - kNoteHigh / 2, mark.x - gap, mark.y + kNoteHigh},
          {mark.x - kNote / 2, mark.y + gap, mark.x + kNote / 2, mark.y + gap + kNoteHigh},
          {mark.x - kNote / 2, mark.y - gap - kNoteHigh, mark.x + kNote / 2, mark.y - gap}};
}

void draw_centre_line(Sheet& sheet, double x, const Interval& y, double white) {
  std::vector<Interval> holes;
  for (const Box& words : sheet.word_boxes()) {
    const Box box = grown(words, white);
    if (box.x0 < x && x < box.x1) holes.push_back({Length::mm(box.y0), Length::mm(box.y1)});
  }
  Path path;
  for (const Interval& part : without(y, holes)) {
    append(path, line({x, on_paper(part.from)}, {x, on_paper(part.to)}));
  }
  sheet.draw_freely(Group::grain, std::move(path), kCentreStroke, "centre line");
}

}  // namespace pouchwright::draw
