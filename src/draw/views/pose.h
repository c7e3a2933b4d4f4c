/// How the folded panels stand in space: every span a plate, every fold a bend, lifted so that the
/// layers fan out; a part that is being turned hangs in the air, an open mouth stands open.
///
///     const Pose pose(stage.folded, stacked(stage.folded, {}), {.pitch = 8});
///     const Point3 corner = pose.at({0, 1}, 0, mm(150));
///
/// Inside `draw` only. x from the widest panel's left raw edge, y the folded height, z above the
/// table, all in mm of cloth; thickness is exaggerated. Not for what is seen of it (see faces.h).
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "draw/folds/cut_through.h"
#include "draw/views/space.h"
#include "pouch/fold/folded.h"

namespace pouchwright::draw {

/// What is on its way: the spans swing about a line and have `left_deg` still to go.
struct Turning {
  std::vector<pouch::SpanId> spans;
  base::Length line;  ///< the height about which they turn
  pouch::Landing landing = pouch::Landing::on_top;
  double left_deg = 0;
};

/// A mouth that stands open: the spans rise from the bottom to their lip.
struct OpenMouth {
  std::vector<pouch::SpanId> spans;
  pouch::SpanId lower;  ///< what they rise from
  /// What opens to a floor between that and them, from it on; it lifts them by `floor_gap` mm.
  std::vector<pouch::SpanId> floor;
  double floor_gap = 0;
  double gap = 0;              ///< at the lip, mm
  bool full = false;           ///< by what is in it: it opens as wide almost to its sides
  bool sides_held = false;     ///< by a seal or a seam: it opens in the middle only
  double left = 0, right = 0;  ///< where they are held, mm
};

struct PoseLook {
  double pitch = 8;     ///< from one level to the next, mm
  int bend_strips = 5;  ///< a bend is so many flat strips
  std::optional<Turning> turning;
  std::optional<OpenMouth> mouth;
};

/// A point of the pouch's cut along the folding direction.
struct Aloft {
  double y = 0;
  double z = 0;
};

/// A span: its line from the panel's start on, and how far it is bowed up at either end.
struct Plate {
  pouch::SpanId id;
  Aloft start, end;
  double start_bow = 0, end_bow = 0;
};

/// A point of a panel's line through all its spans and bends.
struct Node {
  Aloft at;
  double bow = 0;
};
/// What of the line lies between a node and the next.
struct Stretch {
  pouch::SpanId id;  ///< of a bend: the span before it
  bool bend = false;
  bool crease_after = false;  ///< it ends at a line where nothing is folded yet
};
struct PanelLine {
  std::size_t panel = 0;
  std::vector<Node> nodes;
  std::vector<Stretch> stretches;  ///< one less than nodes
};

class Pose {
 public:
  Pose(const pouch::Folded& folded, const Stack& stack, const PoseLook& look);

  [[nodiscard]] const pouch::Folded& folded() const { return folded_; }
  [[nodiscard]] const Stack& stack() const { return stack_; }
  [[nodiscard]] const PoseLook& look() const { return look_; }
  /// The spans that lie, in the order of Folded::layers().
  [[nodiscard]] const std::vector<Plate>& plates() const { return plates_; }
  [[nodiscard]] std::vector<PanelLine> lines() const;

  /// Height above the table of a level at rest.
  [[nodiscard]] double z(double level) const { return level * look_.pitch; }
  /// How much of a bow there is at x: all in the middle, nothing where the sides are held.
  [[nodiscard]] double bow_at(double x) const;
  [[nodiscard]] Point3 lifted(double x, const Aloft& at, double bow) const {
    return {x, at.y, at.z + bow * bow_at(x)};
  }
  [[nodiscard]] bool turns(pouch::SpanId id) const;
  /// A point of a span: x, and its folded height as if it lay where it lands.
  [[nodiscard]] Point3 at(pouch::SpanId id, double x, base::Length height) const;
  /// A point beside it: so many mm off, to where its front was before any folding.
  [[nodiscard]] Point3 beside(pouch::SpanId id, double x, base::Length height, double off) const;
  /// So many levels off its cloth side, for `beside`.
  [[nodiscard]] double over_cloth(pouch::SpanId id, double levels) const;
  /// The span that lies uppermost at x and a height; what is being turned lies nowhere.
  [[nodiscard]] std::optional<pouch::SpanId> top_span(double x, base::Length height) const;
  /// The uppermost point at x and a height; on the table where nothing lies.
  [[nodiscard]] Point3 on_top(double x, base::Length height) const;
  /// The height of the line about which something turns.
  [[nodiscard]] double swing_height() const { return hinge_.z; }
  /// A point at rest, turned back by so much about the line of what is turning.
  [[nodiscard]] Aloft swung(const Aloft& at, double left_deg) const;

 private:
  void find_hinge();
  [[nodiscard]] Plate plate_of(const pouch::Layer& layer) const;
  [[nodiscard]] double bow_of(pouch::SpanId id, base::Length height) const;
  [[nodiscard]] double floor_bow(pouch::SpanId id, base::Length height) const;
  [[nodiscard]] const Plate* plate(pouch::SpanId id) const;
  void add_bend(PanelLine& line, const Plate& before, const Plate& after) const;

  pouch::Folded folded_;
  Stack stack_;
  PoseLook look_;
  Aloft hinge_;
  double turn_sign_ = 0;
  std::vector<Plate> plates_;
};

}  // namespace pouchwright::draw
