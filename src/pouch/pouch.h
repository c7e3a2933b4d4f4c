/// The pouch: everything that follows from a request, by really folding the panel.
///
///     std::optional<Pouch> pouch = derive(request, diagnostics);
///     if (pouch) print(pouch->sizes.cut_width, pouch->water_line());
///
/// y runs along the flat panel from its start, x across from the left raw edge; folded heights
/// count from the bottom. Not for cloth, paper or people: see `lay`, `paper` and `batch`.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/diagnostic.h"
#include "pouch/fold/folded.h"
#include "pouch/judge/capacity.h"
#include "pouch/request.h"

namespace pouchwright::pouch {

/// What the spans are called that a turned end adds to a panel.
inline constexpr const char* kStartHem = "start-hem";
inline constexpr const char* kEndHem = "end-hem";

/// A line on a flat panel along which it is folded.
struct FoldLine {
  Length at;
  std::size_t before = 0;  ///< the span that ends at the line; the next one begins there

  bool operator==(const FoldLine&) const = default;
};
/// Where a panel is folded: between any two of its spans, in order.
[[nodiscard]] std::vector<FoldLine> folds_of(const FlatPanel& flat);

/// The outer of a panel, smaller than it where the construction lets it stay behind.
struct CutPartOuter {
  Length width, length;
};

/// A rectangle to cut: a panel or a piece.
struct CutPart {
  std::string name;
  Length width, length;  ///< rounded up to the ruler step
  int count = 1;         ///< for each pouch
  ClothKind cloth = ClothKind::laminate;
  std::optional<CutPartOuter> outer;  ///< cut besides, where the job pairs one with it
  std::optional<std::size_t> panel;   ///< index into Sizes::panels
  std::optional<std::size_t> piece;   ///< of what is no panel: index into Construction::pieces
};

/// The sizes of the pouch and of its panels, after rounding.
struct Sizes {
  Length cut_width, cut_length;                  ///< rounded up to the ruler step
  Length finished_width, depth, flap, lip_drop;  ///< worked out again from the cut sizes
  Length overall_width, overall_height;          ///< finished, flap closed; sides trimmed
  Length seam_allowance, needle_reach, seal_width, min_clear_seal;
  Length inside_width;            ///< cut width - 2 * max(seal width, needle reach)
  Length start_takes, end_takes;  ///< what the end finishes use up
  std::vector<FlatPanel> panels;  ///< of the construction, in its order; the main panel first
  std::vector<CutPart> parts;     ///< all that is cut for one pouch, the main panel first

  [[nodiscard]] const FlatPanel& main_panel() const { return panels.front(); }
  [[nodiscard]] const Span& span(SpanId id) const { return panels[id.panel].spans[id.span]; }
};

/// Film on film between two folded heights at a pressing operation. `lower` lies below.
struct Contact {
  std::size_t operation = 0;
  SpanId lower, upper;
  Interval heights;

  bool operator==(const Contact&) const = default;
};

/// A rectangle of a flat panel that is fused; x from the raw left edge of the widest panel.
struct SealZone {
  Interval x;
  Interval y;
  SpanId lower, upper;
  std::size_t panel = 0;  ///< index into Sizes::panels

  bool operator==(const SealZone&) const = default;
};

/// Something fixed to the pouch, on the flat panel or the piece that it belongs to.
struct Fixed {
  std::size_t attachment = 0;  ///< index into Construction::attachments
  std::size_t operation = 0;
  std::optional<SpanId> span;        ///< absent: it lies on a piece
  std::optional<std::size_t> piece;  ///< that piece
  Interval y;    ///< what it covers along the panel or the piece; a point where `from` == `to`
  Length width;  ///< what it covers across, about each centre; 0: not stated
  /// Centres across, from the left raw edge of the widest panel, or of the piece. Empty: caught.
  std::vector<Length> x;
  std::vector<Edge> caught;  ///< in which side seams
  Through through = Through::outer;
};

/// Where three layers of film meet at the sides: no geometry proves a corner.
struct TestPoint {
  Length height;
  std::vector<SpanId> spans;  ///< from the bottom up

  bool operator==(const TestPoint&) const = default;
};

/// How many layers of cloth a needle meets along a seam, between two folded heights. Laminate and
/// outer count as one each.
struct SeamLayers {
  std::size_t operation = 0;
  Edge edge = Edge::left;  ///< left stands for both sides; or the bottom, all across
  Interval heights;
  int layers = 0;
  Length thickness;
};
/// More layers than this are hard on a home machine (common practice, no source).
inline constexpr int kManyLayers = 6;

/// A card as an outline: x from the left raw edge (negative beyond it), y the folded height;
/// closed, the first corner not repeated, counter-clockwise with y up, from the stem's bottom left.
struct Corner {
  Length x, y;
  bool operator==(const Corner&) const = default;
};
struct Card {
  std::vector<Corner> outline;
  Length stem_width;
  Length stem_length;
  Length shoulder;   ///< folded height at which the bar begins
  Length bar_width;  ///< the crossbar of the slip card, the arms of the shield
  Length top;        ///< folded height of the bar's upper edge; the shoulder where there is no bar
  bool is_own = false;  ///< the stem is a rectangle that somebody has, its bar a strip of its own

  [[nodiscard]] Interval bar_heights() const { return {shoulder, top}; }
};
/// The slip card is narrower than the inside by this on each side.
inline constexpr Length kSlipCardPlay = Length::whole_mm(2);
/// The crossbar stands out at least this far above the lip, so that a hand can pull it.
inline constexpr Length kSlipCardGrip = Length::whole_mm(40);
inline constexpr PerUnit kArmsOverLip{Length::whole_mm(5), Length::inches(1, 4)};
inline constexpr PerUnit kArmsBeyondEdge{Length::whole_mm(10), Length::inches(3, 8)};
/// The shield covers at least so much beyond the lip, where the iron may come.
inline constexpr PerUnit kShieldCover{Length::whole_mm(120), Length::inches(5)};
/// A hand keeps this far from the iron's way.
inline constexpr PerUnit kHandDistance{Length::whole_mm(120), Length::inches(5)};
/// Thicker card keeps the iron from the band beside it. Common practice, no source.
inline constexpr PerUnit kCardThickness{Length::nm(500'000), Length::inches(1, 64)};

/// A card and what it is for. Cards of one outline may serve several operations.
struct NamedCard {
  using Use = CardKind;
  Use use{};
  std::size_t operation = 0;    ///< the pressing
  std::size_t compartment = 0;  ///< slip card: whose
  Card card;
};

/// How one compartment holds.
struct CompartmentWater {
  Length lip_height;
  Length water_line;
  base::Message because;
};

/// The panels after an operation (operations that the job skips make no stage).
struct Stage {
  std::size_t operation = 0;  ///< index into Construction::operations
  Folded folded;
  std::vector<std::size_t> cards_inside;  ///< the compartments that hold a slip card
};

struct Pouch {
  Request request;
  Sizes sizes;
  std::vector<Stage> stages;
  std::vector<Contact> contacts;       ///< at the pressing operations
  std::vector<SealZone> seal_zones;    ///< sorted by panel, y, then x
  std::vector<Interval> exposed_film;  ///< folded heights, while pressing
  Length lip_height;                   ///< of the first compartment, while pressing
  Length clear_seal, clear_seal_worst;
  Length turn_of_cloth;  ///< over all folds; negative where folding takes less
  bool turn_of_cloth_added = false;
  std::vector<SeamLayers> layers_at_seams;
  std::vector<CompartmentWater> compartments;  ///< in the construction's order
  std::vector<TestPoint> test_points;          ///< sorted by height
  std::vector<Fixed> fixed;                    ///< attachments, in the order of the operations
  std::vector<NamedCard> cards;                ///< by pressing; a shield after the slip cards
  std::optional<Capacity> capacity;            ///< absent without liners
  double water_volume_ml = 0;
  double bottom_pressure_pa = 0;

  [[nodiscard]] const Construction& construction() const { return request.construction; }
  [[nodiscard]] const Operation& operation(std::size_t index) const {
    return construction().operations[index];
  }
  [[nodiscard]] const Attachment& rule(const Fixed& one) const {
    return construction().attachments[one.attachment];
  }
  [[nodiscard]] const std::string& name(SpanId span) const { return sizes.span(span).name; }
  /// The one that comes first in the construction, by which a pouch is called watertight.
  [[nodiscard]] const CompartmentWater& first_pocket() const { return compartments.front(); }
  [[nodiscard]] Length water_line() const { return first_pocket().water_line; }
};

/// Works out the sizes, folds the panel, and checks all that can be wrong. Every fault is reported
/// at the place of the value it concerns.
/// Fails: empty where an error makes the rest meaningless (errors are in `diagnostics`).
[[nodiscard]] std::optional<Pouch> derive(const Request& request, base::Diagnostics& diagnostics);

/// Is left of the seal in the worst case, by a job in these units, that many hands make well.
/// Common practice, no source: volunteers cut and place to about 3 mm.
inline constexpr PerUnit kGoodClearSeal{Length::whole_mm(3), Length::inches(1, 8)};

/// What is left of a seal, which may be nothing: "2 mm", "none (1.5 mm short)".
[[nodiscard]] base::Message seal_left(Length worst);

/// The first card of that use; one without an outline where nothing is pressed.
[[nodiscard]] const Card& first_card(const std::vector<NamedCard>& cards, NamedCard::Use use);

/// How the job wants its panels' starts, or ends, kept from fraying.
[[nodiscard]] const EndFinish& finish_of(const Request& request, Edge end);
/// The finish of one panel's end; none for a panel that the job's finishes do not concern. `panel`
/// is an index into Sizes::panels, `end` start or end.
[[nodiscard]] const EndFinish& finish_of(const Request& request, std::size_t panel, Edge end);
/// The span whose end a panel's start or end is; a hem is part of its neighbour.
[[nodiscard]] const Span& end_span(const FlatPanel& panel, Edge end);

/// The open-topped volume of two flat sheets of `width` x `height` joined on three sides, in ml; 0
/// where the approximation is negative. Source: the paper-bag problem's open form, which its
/// encyclopedia article marks "very rough".
[[nodiscard]] double open_bag_ml(Length width, Length height);

/// Pressure of a water column of `height` at 20 °C, in Pa: 998.2 kg/m³ (handbook tables) times
/// 9.80665 m/s² (3rd CGPM, 1901).
[[nodiscard]] double water_pressure_pa(Length height);

}  // namespace pouchwright::pouch
