#include "draw/views/panel_faces.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

namespace pouchwright::draw {
namespace {

using pouch::Face;
using pouch::Layer;

/// A bowed wall is so many strips across.
constexpr int kBowStrips = 12;
/// A rounded corner is so many short edges.
constexpr int kCornerEdges = 6;

/// One panel's line on its way to faces.
struct PanelWork {
  const Pose& pose;
  const PanelLook& look;
  const PanelLine& line;
  double left = 0;
  double right = 0;
};

/// What the stretch shows to its film side and to the other.
std::pair<Skin, Skin> skins_of(const PanelWork& work, const Stretch& stretch) {
  if (work.look.outer_alone) return {Skin::outer, Skin::outer};
  const pouch::Folded& folded = work.pose.folded();
  const Layer& layer = folded.layer(stretch.id);
  const bool has_film = folded.panels()[layer.id.panel].has_film;
  const auto skin = [&](Face face) {
    if (face == Face::film) return Skin::film;
    if (!has_film) return Skin::lining;
    const bool covered = work.look.outer && folded.has_outer(layer, layer.heights, base::kLongest);
    return covered ? Skin::outer : Skin::knit;
  };
  const Face up = folded.face_up(layer);
  const Face down = folded.face_down(layer);
  return {skin(layer.film_up ? up : down), skin(layer.film_up ? down : up)};
}

Point3 corner(const PanelWork& work, std::size_t node, double x) {
  const Node& at = work.line.nodes[node];
  return work.pose.lifted(x, at.at, at.bow);
}

/// Does the stretch show its front at x? (Front: where the film was before any folding.)
bool shows_front(const PanelWork& work, std::size_t stretch, double x) {
  const Point3 from = corner(work, stretch, x);
  const Point3 to = corner(work, stretch + 1, x);
  return dot(cross({1, 0, 0}, to - from), work.look.towards_eye) > 0;
}

/// What runs across the panel at a node.
int edge_at(const PanelWork& work, std::size_t node, double x) {
  if (node == 0 || node + 1 == work.line.nodes.size()) return kRawEdge;
  if (work.line.stretches[node - 1].crease_after) return kCreaseEdge;
  return shows_front(work, node - 1, x) == shows_front(work, node, x) ? kNoEdge : kBendEdge;
}

bool is_bowed(const PanelWork& work, std::size_t stretch) {
  return work.line.nodes[stretch].bow != 0 || work.line.nodes[stretch + 1].bow != 0;
}

/// One strip of a stretch; a bowed one is no plane, so two triangles.
void add_strip(std::vector<ViewFace>& faces, const PanelWork& work, std::size_t stretch,
               const ViewFace& like, double x0, double x1) {
  const int left = x0 == work.left ? kRawEdge : kNoEdge;
  const int right = x1 == work.right ? kRawEdge : kNoEdge;
  const double x = (x0 + x1) / 2;
  const int start = edge_at(work, stretch, x);
  // A crease is drawn once, by the span before it.
  const int first = start == kCreaseEdge ? kNoEdge : start;
  const int last = edge_at(work, stretch + 1, x);
  const Point3 a = corner(work, stretch, x0);
  const Point3 b = corner(work, stretch, x1);
  const Point3 c = corner(work, stretch + 1, x1);
  const Point3 d = corner(work, stretch + 1, x0);
  ViewFace made = like;
  if (!is_bowed(work, stretch)) {
    made.face = quad(a, b, c, d, {first, right, last, left});
    faces.push_back(std::move(made));
    return;
  }
  made.face = {{a, b, c}, {first, right, kNoEdge}};
  faces.push_back(made);
  made.face = {{a, c, d}, {kNoEdge, last, left}};
  faces.push_back(std::move(made));
}

/// A free end whose corners are cut or rounded.
void add_shaped(std::vector<ViewFace>& faces, const PanelWork& work, std::size_t stretch,
                ViewFace made) {
  const EndCorners& corners = work.look.shaped->corners;
  const Node& from = work.line.nodes[stretch];
  const Node& to = work.line.nodes[stretch + 1];
  const Point3 along = corner(work, stretch + 1, 0) - corner(work, stretch, 0);
  const double length = std::sqrt(dot(along, along));
  const auto at = [&](double x, double from_end) {
    const double share = (corners.at_start ? from_end : length - from_end) / length;
    return work.pose.lifted(
        x, {from.at.y + share * (to.at.y - from.at.y), from.at.z + share * (to.at.z - from.at.z)},
        0);
  };
  const int steps = corners.shape == pouch::FlapShape::rounded ? kCornerEdges : 1;
  std::vector<Point3> right_corner;  // from its side edge to the end
  std::vector<Point3> left_corner;   // from the end to its side edge
  for (int i = 0; i <= steps; ++i) {
    const double share = static_cast<double>(i) / steps;
    // Even steps of the angle.
    const double from_end = steps == 1
                                ? corners.size * (1 - share)
                                : corners.size * (1 - std::sin(share * std::numbers::pi / 2));
    const double off = cut_off(corners, from_end);
    right_corner.push_back(at(work.right - off, from_end));
    left_corner.insert(left_corner.begin(), at(work.left + off, from_end));
  }
  std::vector<Point3> end = right_corner;
  end.insert(end.end(), left_corner.begin(), left_corner.end());
  const std::size_t inner = corners.at_start ? stretch + 1 : stretch;
  const int edge = edge_at(work, inner, (work.left + work.right) / 2);
  if (corners.at_start) std::reverse(end.begin(), end.end());
  for (const Point3& point : end) add_corner(made.face, point, kRawEdge);
  const double first = corners.at_start ? work.right : work.left;
  const double second = corners.at_start ? work.left : work.right;
  add_corner(made.face, corner(work, inner, first),
             edge == kCreaseEdge && inner == stretch ? kNoEdge : edge);
  add_corner(made.face, corner(work, inner, second), kRawEdge);
  faces.push_back(std::move(made));
}

void add_stretch(std::vector<ViewFace>& faces, const PanelWork& work, std::size_t index) {
  const Stretch& stretch = work.line.stretches[index];
  const auto [film_side, other] = skins_of(work, stretch);
  const ViewFace like{.face = {},
                      .front = film_side,
                      .back = other,
                      .name = work.pose.folded().name(stretch.id) + (stretch.bend ? " bend" : "")};
  if (!stretch.bend && work.look.shaped && work.look.shaped->span == stretch.id &&
      !is_bowed(work, index)) {
    add_shaped(faces, work, index, like);
    return;
  }
  const int strips = is_bowed(work, index) ? kBowStrips : 1;
  double x0 = work.left;
  for (int i = 1; i <= strips; ++i) {
    const double x1 = i == strips ? work.right : work.left + (work.right - work.left) * i / strips;
    add_strip(faces, work, index, like, x0, x1);
    x0 = x1;
  }
}

}  // namespace

void add_panel_faces(std::vector<ViewFace>& faces, const Pose& pose, const PanelLook& look) {
  for (const PanelLine& line : pose.lines()) {
    const double inset = pose.folded().panels()[line.panel].inset.in_mm();
    const PanelWork work{pose, look, line, inset, look.width - inset};
    for (std::size_t i = 0; i < line.stretches.size(); ++i) add_stretch(faces, work, i);
  }
}

ViewFace level_face(const Box& at, double z, Skin skin, std::string name,
                    const std::array<int, 4>& edges) {
  return {.face = quad({at.x0, at.y0, z}, {at.x1, at.y0, z}, {at.x1, at.y1, z}, {at.x0, at.y1, z},
                       edges),
          .front = skin,
          .back = skin,
          .name = std::move(name)};
}

void add_card_faces(std::vector<ViewFace>& faces, const pouch::Card& card, double z, double out,
                    const std::string& name) {
  const std::vector<CardPart> parts = parts_of(card);
  for (std::size_t i = 0; i < parts.size(); ++i) {
    const auto& x = parts[i].x;
    const auto& heights = parts[i].heights;
    ViewFace made{.face = {}, .front = Skin::card, .back = Skin::card, .name = name};
    const auto add = [&](base::Length at, base::Length height, int edge) {
      add_corner(made.face, {at.in_mm(), height.in_mm() + out, z}, edge);
    };
    // From one end of the part to the other, without a line where the next part goes on.
    const auto across = [&](base::Length from, base::Length to, base::Length height,
                            const CardPart* next) {
      const auto meets = next != nullptr ? shared(x, next->x) : std::nullopt;
      if (!meets) return add(from, height, kRawEdge);
      const bool rightwards = from < to;
      const base::Length first = rightwards ? meets->from : meets->to;
      const base::Length last = rightwards ? meets->to : meets->from;
      if (first != from) add(from, height, kRawEdge);
      add(first, height, kNoEdge);
      if (last != to) add(last, height, kRawEdge);
    };
    across(x.from, x.to, heights.from, i > 0 ? &parts[i - 1] : nullptr);
    add(x.to, heights.from, kRawEdge);
    across(x.to, x.from, heights.to, i + 1 < parts.size() ? &parts[i + 1] : nullptr);
    add(x.from, heights.to, kRawEdge);
    faces.push_back(std::move(made));
  }
}

}  // namespace pouchwright::draw
