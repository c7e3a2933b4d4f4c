/// What a job asks of a pouch, read and resolved: every default of the construction and the program
/// is filled in except the sizes that `[panel]` or `[liners]` derive.
///
///     Request request = ...;                       // `input` makes it from a job file
///     std::optional<Pouch> pouch = derive(request, diagnostics);
///
/// Not for paper, lay or batch settings, which have structs of their own in their layers.
#pragma once

#include <cmath>
#include <cstddef>
#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "base/length.h"
#include "base/turn.h"
#include "pouch/construction.h"

namespace pouchwright::pouch {

using base::PerUnit;
using base::Turn;

/// What keeps an end from fraying. `takes` is the length it uses up: what the knife trims, or what
/// is turned. `needle_reach` counts from the cut panel's raw edge to the innermost needle hole.
/// Defaults: overedge takes nothing and reaches `takes` + kOveredgeReach; a zigzag never takes
/// anything and reaches as far; turned takes kHem and reaches 2 * takes - kHemStitch (through hem
/// and span, kHemStitch inside the turned raw edge).
struct EndFinish {
  FinishKind kind = FinishKind::none;
  Length takes;
  Length needle_reach;
  std::optional<Place> stated;  ///< absent: the construction's own
};
inline constexpr PerUnit kOveredgeReach{Length::whole_mm(5), Length::inches(3, 16)};
inline constexpr PerUnit kHem{Length::whole_mm(10), Length::inches(3, 8)};
inline constexpr PerUnit kHemStitch{Length::whole_mm(2), Length::inches(1, 16)};

enum class CardUse { inside, on_top, both };
inline constexpr base::Named<CardUse> kCardUseWords[] = {
    {CardUse::inside, "inside"}, {CardUse::on_top, "on_top"}, {CardUse::both, "both"}};

/// The two cards that keep the iron to the edges: inside between the films, on top of the pouch.
enum class CardKind { slip, shield };
inline constexpr base::Named<CardKind> kCardKindWords[] = {{CardKind::slip, "slip"},
                                                           {CardKind::shield, "shield"}};

/// A rectangle of card that somebody cut once. It covers no film above the opening edge: that takes
/// a strip of card across the panel, the top bar.
struct OwnCard {
  CardKind kind = CardKind::shield;
  Placed<Length> width, length;
  bool top_bar = true;  ///< is one laid besides?
  Place place;
};

/// One pass of a needle along the sides. An overedge trims and then reaches its width further in; a
/// straight line or a zigzag runs `at` a distance from the raw edge, a zigzag half its swing to
/// either side.
struct SewingPass {
  Placed<std::string> stitch;  ///< a name of shared/stitches.toml
  Length at;               ///< raw edge to the middle of the pass; overedge: to the trimmed edge
  Length width;            ///< overedge: its width; zigzag: its whole swing; else 0
  bool from_edge = false;  ///< an overedge: `width` counts inwards from `at`

  /// Raw edge to the innermost hole.
  [[nodiscard]] Length reach() const { return from_edge ? at + width : at + base::half(width); }
};

/// The flap's free end: straight, or with its corners rounded or cut at an angle.
enum class FlapShape { straight, rounded, angled };
inline constexpr base::Named<FlapShape> kFlapShapeWords[] = {{FlapShape::straight, "straight"},
                                                             {FlapShape::rounded, "rounded"},
                                                             {FlapShape::angled, "angled"}};
inline constexpr PerUnit kFlapCorner{Length::whole_mm(20), Length::inches(3, 4)};

struct Tolerances {
  Placed<Length> cut{Length::whole_mm(1), {}};
  Placed<Length> place{Length::whole_mm(2), {}};
  Placed<Length> sew{Length::whole_mm(2), {}};

  [[nodiscard]] Length sum() const { return cut.value + place.value + sew.value; }
};

/// The tolerances of a job that states none.
[[nodiscard]] inline Tolerances usual_tolerances(base::Unit unit) {
  if (unit == base::Unit::mm) return {};
  return {{Length::inches(1, 32), {}}, {Length::inches(1, 16), {}}, {Length::inches(1, 16), {}}};
}

/// May a liner lie with its width along the depth?
enum class LinerTurn { either, as_given };
inline constexpr base::Named<LinerTurn> kLinerTurnWords[] = {{LinerTurn::either, "either"},
                                                             {LinerTurn::as_given, "as given"}};

inline constexpr PerUnit kEase{Length::whole_mm(10), Length::inches(3, 8)};
inline constexpr PerUnit kOverlap{Length::whole_mm(30), Length::inches(5, 4)};

/// The liners that the pouch is to carry, each as it is folded. Defaults: ease and overlap.
struct Liners {
  enum class Count { may_be_over, must_fit };

  std::optional<Placed<int>> count;  ///< absent: only the capacity is asked for
  Placed<Length> width, length, thickness;
  std::optional<Placed<int>> columns;  ///< absent: whichever needs the least cloth
  Placed<Length> ease{kEase.mm, {}};
  Placed<Length> overlap{kOverlap.mm, {}};
  LinerTurn turn = LinerTurn::either;
  /// An option that asks for a count wants that pouch and no other.
  Count strictness = Count::may_be_over;
  Place place;
};

/// The most liners that a job may name.
inline constexpr int kMostLiners = 1000;

/// A small piece of cloth that the side seam catches, with the bundle's number on it.
struct Tag {
  std::string name;  ///< as the by-product is called that it is cut as
  Length width, length;
  int count = 0;  ///< that are wanted, for the whole batch
  Place place;
};

/// The panel as it is already cut.
struct CutPanel {
  /// Where it is folded, from the start, as cut: before a finish takes anything.
  struct Folds {
    std::vector<Placed<Length>> at;
    Place place;
  };
  Placed<Length> width, length;
  std::optional<Folds> folds;  ///< absent: depth, flap and lip drop say where
  Place place;
};

/// A lining is an outer that lies loose inside.
enum class MaterialKind { laminate, outer };
inline constexpr base::Named<MaterialKind> kMaterialWords[] = {{MaterialKind::laminate, "laminate"},
                                                               {MaterialKind::outer, "outer"}};

/// Draw the whole panel, or half of it to lay on a fold of the cloth.
enum class Pattern { whole, half };

/// What the first wash leaves of `length`, to the nanometre; `lost` is a fraction of the length
/// before it (ISO 5077).
[[nodiscard]] inline Length washed(Length length, double lost) {
  return Length::nm(std::llround(static_cast<double>(length.in_nm()) * (1 - lost)));
}
/// What is needed before the wash so that `length` is left, rounded up to the nanometre.
[[nodiscard]] inline Length unwashed(Length length, double lost) {
  if (lost <= 0) return length;
  // A hair less, so that 3120 / 0.96 stays 3250.
  const double before = static_cast<double>(length.in_nm()) / (1 - lost);
  return Length::nm(static_cast<std::int64_t>(std::ceil(before - 1e-3)));
}

struct Material {
  std::string name;  ///< as in shared/materials.toml, or "laminate" / "outer" for a table
  MaterialKind kind = MaterialKind::laminate;
  Length width;
  Length selvedge;  ///< on each side
  Length thickness;
  FilmFaces film = FilmFaces::one;
  Turn turn = Turn::either;
  bool frays = false;
  std::string print{};       ///< which of the cloth's prints; empty: it has one alone
  bool upright = false;      ///< its print stands upright along `turn`: pieces lie one way up only
  double shrink_length = 0;  ///< fraction of the length before washing (ISO 5077)
  double shrink_width = 0;
  std::optional<double> price;
  std::string price_per;               ///< "m" or "yd"; empty without a price
  Placed<std::string> price_currency;  ///< empty where the price names none
  Place place;

  /// Cloth that shrinks is washed, dried and pressed before it is cut.
  [[nodiscard]] bool is_washed_first() const { return shrink_length > 0 || shrink_width > 0; }
  /// As it lies on the table.
  [[nodiscard]] Length washed_width() const { return washed(width, shrink_width); }
  /// Between the selvedges, likewise.
  [[nodiscard]] Length usable_width() const { return washed_width() - 2 * selvedge; }
};

/// A size of the pouch. What nobody states is the construction's default, or the program's.
struct StatedSize {
  Length value;
  std::optional<Place> stated;
};

struct Request {
  Construction construction;
  ConstructionPlaces places;
  std::string title;
  base::Unit units = base::Unit::mm;  ///< the job's, whatever it is printed in
  Length cut_step = base::kRulerMm;   ///< cut sizes are rounded up to this: the job's ruler
  /// Sizes by name: from the job or the construction's defaults. With a cut panel, width, depth
  /// and (where the job has none) flap are absent; with a liner count, those the job leaves out.
  std::map<std::string, StatedSize, std::less<>> sizes;
  std::optional<CutPanel> panel;
  std::optional<OwnCard> card;
  EndFinish start_finish;
  EndFinish end_finish;
  CardUse cards = CardUse::inside;
  bool turn_of_cloth = false;  ///< the job's, else the construction's: is it added to the spans?
  bool fills_first = true;     ///< first pouches are filled once they are pressed
  bool chains = true;          ///< sewn edges end in thread chains, whose tails are secured
  bool end_chains = true;      ///< overedged ends end in them
  std::optional<Tag> tag;      ///< absent: pouches carry none
  bool dryer = false;          ///< at last pouches are warmed in one, which closes needle holes
  Placed<Length> knife;        ///< what an overedge's knife trims off each side as it sews
  std::vector<SewingPass> passes;      ///< along the sides; empty: the needle reach stands for them
  std::optional<std::size_t> closure;  ///< index of one of the construction's, which may have none
  Through closure_through = Through::outer;
  FlapShape flap_shape = FlapShape::straight;
  Placed<Length> flap_corner;  ///< radius, or both sides of what is cut off; 0 where straight
  Tolerances tolerance;
  std::optional<Liners> liners;
  Material laminate;
  std::optional<Material> outer;
  std::optional<Material> lining;
  Place place;  ///< the job file as a whole
};

}  // namespace pouchwright::pouch
