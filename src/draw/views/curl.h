/// A rolled mouth whose ends are bent towards each other until their straps meet: a ring at the top,
/// flat cloth at the bottom, a smooth passage between.
///
///     const Curl curl{.from = 60, .to = 180, .centre = 102, .radius = 50};
///     Point3 bent = curl.at({20, 150, 0});
///
/// Inside `draw/views` only; others use finished.h.
#pragma once

#include <vector>

#include "draw/views/faces.h"

namespace pouchwright::draw {

struct Curl {
  double from = 0;    ///< up to this y all stays flat, mm
  double to = 0;      ///< from this y on the ring is closed
  double centre = 0;  ///< x that stays in its place
  double radius = 1;  ///< of the ring, towards the reader, of what lies at `height`
  double height = 0;

  [[nodiscard]] Point3 at(const Point3& flat) const;
};

/// Cuts the faces into such small ones that they can follow the curl, and bends them; where they
/// turn away from the eye they have a line.
void curl_up(std::vector<ViewFace>& faces, const Curl& curl, const Projection& view);

}  // namespace pouchwright::draw
