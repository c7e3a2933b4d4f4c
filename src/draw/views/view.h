/// A moment of the folding as a view: what lies where in space, and where that is on the paper.
///
///     const View view = view_of(pouch, moment, {.scale = 0.25});
///     drawing.add(painted(view.faces, view.projection));
///     const Point lip = view.on_top(half(width), pouch.lip_height);
///
/// One look for all views (kViewAngles); a part that is turned hangs in the air, a mouth that is
/// worked in stands open. Inside `draw` only; callers outside use finished.h and folds/picture.h.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "draw/views/curl.h"
#include "draw/views/faces.h"
#include "draw/views/motion.h"
#include "draw/views/pose.h"
#include "pouch/fold/moment.h"
#include "pouch/pouch.h"

namespace pouchwright::draw {

struct ViewLook {
  ViewAngles angles = kViewAngles;
  double scale = 0.25;  ///< mm of paper for a mm of cloth, across the eye's direction
  /// From one layer to the next, mm of paper; less where there are many.
  double pitch = 1.7;
  MouthLook mouth;
  bool held = false;  ///< the ends of a rolled mouth are bent together and snapped
  /// How much of what is turned, laid in or pulled out is done, from 0 to 1; absent: as far as a
  /// still picture shows it best.
  std::optional<double> done;
};

/// A card as the view has it: drawn out by `out` mm of cloth.
struct PlacedCard {
  std::size_t card = 0;  ///< index into Pouch::cards
  double z = 0;
  double out = 0;
};

struct View {
  Projection projection;
  Pose pose;
  std::vector<ViewFace> faces;
  std::vector<PlacedCard> cards;  ///< from the lowest to the one on top
  std::optional<Curl> curl;       ///< the ends of a rolled mouth are bent together

  /// A point of a span, at x from the widest panel's left raw edge and a folded height.
  [[nodiscard]] Point on_paper(pouch::SpanId id, base::Length x, base::Length height) const {
    return on_paper(pose.at(id, x.in_mm(), height));
  }
  [[nodiscard]] Point on_paper(const Point3& flat) const {
    return projection.on_paper(curl ? curl->at(flat) : flat);
  }
  /// The uppermost point there.
  [[nodiscard]] Point on_top(base::Length x, base::Length height) const {
    return on_paper(pose.on_top(x.in_mm(), height));
  }
};

/// What a card's faces are called.
[[nodiscard]] std::string face_of_card(const pouch::Pouch& pouch, std::size_t card);

/// All panels, cards and straps that lie at the moment. References in it to nothing outlive it.
[[nodiscard]] View view_of(const pouch::Pouch& pouch, const pouch::FoldMoment& moment,
                           const ViewLook& look);

}  // namespace pouchwright::draw
