/// The faces of panels, cards and straps as a pose has them.
///
/// Inside `draw/views` only; others use view.h.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "draw/folds/from_above.h"
#include "draw/views/faces.h"
#include "draw/views/pose.h"

namespace pouchwright::draw {

/// What the panels are made of, and how wide they are.
struct PanelLook {
  double width = 0;          ///< of the widest panel, mm
  bool outer = false;        ///< an outer lies on the knit faces
  bool outer_alone = false;  ///< only the outer lies there
  std::optional<ShapedEnd> shaped;
  Point3 towards_eye;  ///< where it turns away from the eye a bend has a line
};

void add_panel_faces(std::vector<ViewFace>& faces, const Pose& pose, const PanelLook& look);

/// A flat rectangle between x0 and x1 and two heights at `z`; `edges` run from the lower one round
/// counter-clockwise.
[[nodiscard]] ViewFace level_face(const Box& at, double z, Skin skin, std::string name,
                                  const std::array<int, 4>& edges);

/// A card's rectangles, moved up by `out` mm of cloth.
void add_card_faces(std::vector<ViewFace>& faces, const pouch::Card& card, double z, double out,
                    const std::string& name);

}  // namespace pouchwright::draw
