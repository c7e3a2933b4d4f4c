/// Small pictures of what a hand holds or does, for steps that are read without words.
///
///     for (Shape& shape : icon(Icon::iron, {10, 10, 18, 18})) drawing.add(std::move(shape));
///
/// Inside `drawing` only.
#pragma once

#include <vector>

#include "ink/scene.h"

namespace pouchwright::ink {

enum class Icon {
  iron,
  hot_film,    ///< an iron on dotted film: what must not be
  scrap_test,  ///< an iron on a small strip, with a tick
  steam,       ///< an iron with steam
  clip,
  pin,
  needle,    ///< of a sewing machine, with its foot
  overedge,  ///< stitches around an edge
  chain,     ///< a chain of thread between two pieces
  tail,      ///< a thread end drawn back under the stitches
  eye,
  drop,
  clock,
  snip,       ///< a small cut at a raw edge
  deep_snip,  ///< one that is too deep
  film_up,    ///< a panel, its dotted side up
  same_way,   ///< panels that lie in one direction
  card,       ///< the slip card
  flap_down,  ///< a hand's arrow on the closed flap
  turn,       ///< half a turn over
};

/// The picture within `box`, which is as wide as high.
[[nodiscard]] std::vector<Shape> icon(Icon which, const Box& box);
/// The picture within a ring with one stroke across: never do this.
[[nodiscard]] std::vector<Shape> forbidden(Icon which, const Box& box);

/// A line that ends in an arrowhead: through `from`, bent over `c1` and `c2`, to `to`.
[[nodiscard]] std::vector<Shape> arrow(Point from, Point c1, Point c2, Point to);
/// A straight one.
[[nodiscard]] std::vector<Shape> arrow(Point from, Point to);

}  // namespace pouchwright::ink
