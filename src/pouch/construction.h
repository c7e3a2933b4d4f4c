/// A construction: one style of pouch as data. It states the panels, their spans, and the
/// operations in the order in which a person does them. Nothing about one style is written in C++.
/// It is resolved: its parts refer to each other by index, and every default is filled in.
///
///     # patterns/foldover.toml, read by `input`
///     [[operation]]
///     id = "fold-front"
///     do = "fold"
///     between = ["front", "back"]
///     turn = "front"
///     needs = ["card-in"]
///
/// Not for sizes of one job (see request.h) and not for what comes out (see pouch.h).
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

#include "base/diagnostic.h"
#include "base/length.h"
#include "base/named.h"

namespace pouchwright::pouch {

using base::Length;
using base::Place;
using base::Placed;

/// The sizes that every construction knows under these names. `depth` is bottom to flap fold.
namespace size {
inline constexpr const char* kWidth = "width";
inline constexpr const char* kDepth = "depth";
inline constexpr const char* kFlap = "flap";
inline constexpr const char* kLipDrop = "lip_drop";
inline constexpr const char* kSeamAllowance = "seam_allowance";
inline constexpr const char* kNeedleReach = "needle_reach";
inline constexpr const char* kSealWidth = "seal_width";
inline constexpr const char* kMinClearSeal = "min_clear_seal";
}  // namespace size

/// May a size be zero? (It may never be negative.)
enum class Zero { allowed, refused };

/// A size that `[pouch]` accepts for this construction, with its default. `meaning` is plain text
/// for people.
struct SizeRule {
  std::string name;
  std::optional<Length> standard;     ///< absent: the job, [panel] or [liners] must give it
  std::optional<Length> standard_in;  ///< of jobs in inches; absent: the same
  std::optional<Length> former;       ///< what `standard` was before, if it was another length
  std::string meaning;
  Zero zero = Zero::refused;

  /// The default of a job in these units.
  [[nodiscard]] std::optional<Length> usual(base::Unit unit) const {
    return unit == base::Unit::inch && standard_in ? standard_in : standard;
  }
  /// What a job in these units had where it said nothing, before that changed; absent: the same.
  [[nodiscard]] std::optional<Length> usual_before(base::Unit unit) const {
    const std::optional<Length> before = former ? former : standard;
    return before == usual(unit) ? std::nullopt : before;
  }
};

/// A sum of sizes with fractional weights: front = depth - lip_drop, gusset-front = gusset / 2. In
/// a file: `{ depth = 1, lip_drop = -1 }`, `{ gusset = "1/2" }`.
struct LinearForm {
  struct Term {
    std::string size;
    std::int64_t numerator = 1;
    std::int64_t denominator = 1;
  };
  std::vector<Term> terms;
};

struct SpanRule {
  std::string name;
  LinearForm length;
};

/// Names one span of a construction; not one of a cut panel, which may have hems besides.
struct SpanRef {
  std::size_t panel = 0;  ///< index into Construction::panels
  std::size_t span = 0;   ///< index into PanelRule::spans

  auto operator<=>(const SpanRef&) const = default;
};

/// What a panel or a piece is cut from. A lining is loose woven cloth; what is bought is not cut
/// from the job's cloths.
enum class ClothKind { laminate, outer, lining, bought };
inline constexpr base::Named<ClothKind> kClothWords[] = {{ClothKind::laminate, "laminate"},
                                                         {ClothKind::outer, "outer"},
                                                         {ClothKind::lining, "lining"},
                                                         {ClothKind::bought, "bought"}};

/// How far an outer stays behind its laminate; empty forms: not at all.
struct OuterInset {
  LinearForm start, end, sides;
};

/// One panel: its spans from start (y = 0) to end.
struct PanelRule {
  std::string name;
  std::vector<SpanRule> spans;
  LinearForm width;                       ///< empty: the finished width and both seam allowances
  ClothKind cloth = ClothKind::laminate;  ///< laminate (with the outer, if any) or lining
  OuterInset outer_inset;
};

/// A piece besides the panels: a strap, a loop, a label. In a file: `[[piece]]`.
struct PieceRule {
  std::string name;
  LinearForm width, length;
  int count = 1;  ///< for each pouch
  ClothKind cloth = ClothKind::laminate;
  std::string how;  ///< what is done with it before it is fixed, for people; may be empty
  int rows = 0;     ///< of stitches that `how` sews along its length
};

/// Which raw edges: the sides run along the folding direction, a panel's ends across it. The bottom
/// is where the ends of two panels lie on each other at the bottom line.
enum class Edge { left, right, start, end, bottom };
inline constexpr base::Named<Edge> kEdgeWords[] = {{Edge::left, "left"},
                                                   {Edge::right, "right"},
                                                   {Edge::start, "start"},
                                                   {Edge::end, "end"},
                                                   {Edge::bottom, "bottom"}};

/// What may be fixed to a pouch.
enum class AttachmentKind { snap, hook_and_loop, strap, label, tag_loop };
inline constexpr base::Named<AttachmentKind> kAttachmentWords[] = {
    {AttachmentKind::snap, "snap"},
    {AttachmentKind::hook_and_loop, "hook-and-loop"},
    {AttachmentKind::strap, "strap"},
    {AttachmentKind::label, "label"},
    {AttachmentKind::tag_loop, "tag loop"}};
/// Where an attachment lies across the panel.
enum class Across { middle, left, right, sides };
inline constexpr base::Named<Across> kAcrossWords[] = {{Across::middle, "middle"},
                                                       {Across::left, "left"},
                                                       {Across::right, "right"},
                                                       {Across::sides, "sides"}};
/// What the needle or the punch goes through.
enum class Through { outer, film };
inline constexpr base::Named<Through> kThroughWords[] = {{Through::outer, "outer"},
                                                         {Through::film, "film"}};

/// Something sewn or punched on. In a file: `[[attachment]]`. A place is given as a distance along
/// one span from the span's `start` or `end` to the attachment's near edge or centre, and across by
/// `across`; where that is not the middle, `from_side` says how far from the raw side edge its
/// centre lies, or `between` in which seam it is caught.
struct Attachment {
  std::string name;
  AttachmentKind kind{};
  std::optional<std::size_t> made_of;  ///< index of its piece; absent: bought
  std::optional<std::size_t>
      on_piece;                        ///< what it is fixed to instead of a span: a snap on a strap
  std::optional<std::size_t> closure;  ///< takes part only where the job has this one of `closures`
  int count = 1;                       ///< spread evenly, where it lies across the middle
  SpanRef span;                        ///< where it lies, unless on a piece
  Edge from = Edge::start;             ///< start or end of the span, or of the piece
  LinearForm distance;
  LinearForm extent;  ///< how far it reaches along the span; empty: a point
  LinearForm reach;   ///< holes reach so far beyond the extent on each side
  LinearForm width;   ///< how far it reaches across, about its centre; empty: not stated
  /// The attachment that this is the other half of, as the flap's snap is of the front's: both are
  /// bought as one. Absent: bought on its own, with whatever half of it no attachment names.
  std::optional<std::size_t> half_of;
  Across across = Across::middle;
  LinearForm from_side;  ///< of the panel, not of the outer
  /// Caught between two spans (a loop in a seam). Nothing else lies between them.
  std::optional<std::pair<SpanRef, SpanRef>> between;
};

/// On which faces a laminate has film.
enum class FilmFaces { one, both };
inline constexpr base::Named<FilmFaces> kFilmFacesWords[] = {{FilmFaces::one, "one"},
                                                             {FilmFaces::both, "both"}};
/// What a person does. In a file, under `do`. In the order of `Work`.
enum class Action {
  attach,     ///< fix an attachment; skipped where the job has none or has it otherwise
  lay_panel,  ///< lay a further panel on; a lining is skipped without one
  pair,       ///< lay the outer on the knit face and clip; skipped without an outer
  finish,     ///< finish an end as the job says; skipped where it says none
  lay_card,   ///< lay the slip card in; skipped unless the job has it inside
  fold,
  press,      ///< fuse the edges with the iron
  take_card,  ///< pull the slip card out; skipped with "lay card"
  look_inside,
  fill_first,    ///< fill the first pouch of each person who presses; skipped unless the job asks
  hem,           ///< turn in and stitch both sides of one span
  sew,           ///< sew edges through all layers
  secure_tails,  ///< skipped where no seam ends in a thread chain
  test,
  tag,  ///< lay a numbered tag where the seam catches it; skipped unless the job has one
  dry,  ///< warm the finished pouch in a dryer; skipped unless the job asks
};
inline constexpr base::Named<Action> kActionWords[] = {{Action::attach, "attach"},
                                                       {Action::lay_panel, "lay panel"},
                                                       {Action::pair, "pair"},
                                                       {Action::finish, "finish"},
                                                       {Action::lay_card, "lay card"},
                                                       {Action::fold, "fold"},
                                                       {Action::press, "press"},
                                                       {Action::take_card, "take card"},
                                                       {Action::look_inside, "look inside"},
                                                       {Action::fill_first, "fill first"},
                                                       {Action::hem, "hem"},
                                                       {Action::sew, "sew"},
                                                       {Action::secure_tails, "secure tails"},
                                                       {Action::test, "test"},
                                                       {Action::tag, "tag"},
                                                       {Action::dry, "dry"}};

/// Where a fold lands: on top of what stays, or underneath it.
enum class Landing { on_top, underneath };
inline constexpr base::Named<Landing> kLandingWords[] = {{Landing::on_top, "on top"},
                                                         {Landing::underneath, "underneath"}};
/// From where the iron comes.
enum class PressFrom { front, back, both };
inline constexpr base::Named<PressFrom> kPressFromWords[] = {
    {PressFrom::front, "front"}, {PressFrom::back, "back"}, {PressFrom::both, "both"}};

/// What each action has to know.
namespace does {
struct Attach {
  std::size_t attachment = 0;      ///< index into Construction::attachments
  std::optional<Through> through;  ///< only where the job fixes it so; absent: always
};
struct LayPanel {
  std::size_t panel = 0;  ///< the new one
  /// One of them of the new panel; either both are ends that lie on each other, or (a lining) the
  /// new panel's span lies within the other's heights, its start at that start.
  SpanRef meets_a, meets_b;
  Edge end = Edge::start;  ///< of the new panel, that lies there
  bool film_up = false;
  Landing landing = Landing::on_top;
  LinearForm offset;  ///< of a lining on a span: from that span's start
};
struct Pair {};
struct Finish {
  std::size_t panel = 0;
  Edge end = Edge::start;
};
struct LayCard {
  std::size_t compartment = 0;
};
struct Fold {
  SpanRef between_a, between_b;  ///< that meet at the line, as the file has them
  SpanRef turn;                  ///< the one of the two that is turned
  Landing landing = Landing::on_top;
};
struct Press {
  std::vector<Edge> edges;
  PressFrom from = PressFrom::front;
};
struct TakeCard {
  std::size_t compartment = 0;
};
struct LookInside {};
struct FillFirst {};
struct Hem {
  SpanRef span;
};
struct Sew {
  std::vector<Edge> edges;
};
struct SecureTails {};
struct Test {};
struct Tag {};
struct Dry {};
}  // namespace does

using Work =
    std::variant<does::Attach, does::LayPanel, does::Pair, does::Finish, does::LayCard, does::Fold,
                 does::Press, does::TakeCard, does::LookInside, does::FillFirst, does::Hem,
                 does::Sew, does::SecureTails, does::Test, does::Tag, does::Dry>;
static_assert(std::variant_size_v<Work> == static_cast<std::size_t>(Action::dry) + 1);

struct Operation {
  std::string id;
  std::vector<std::size_t> needs;  ///< indices of operations that must come before
  Work work;

  [[nodiscard]] Action action() const { return static_cast<Action>(work.index()); }
  /// Null where it does something else.
  template <class Does>
  [[nodiscard]] const Does* as() const {
    return std::get_if<Does>(&work);
  }
};

/// The raw edges that an operation presses or sews; none for others.
[[nodiscard]] const std::vector<Edge>& edges_of(const Operation& operation);
/// Does it press or sew this one?
[[nodiscard]] bool works_on(const std::vector<Edge>& edges, Edge edge);
/// The compartment whose card is laid in or taken out; none for others.
[[nodiscard]] std::optional<std::size_t> compartment_of(const Operation& operation);

/// Is a compartment to hold water, or to stay dry?
enum class Holds { water, dry };
inline constexpr base::Named<Holds> kHoldsWords[] = {{Holds::water, "water"}, {Holds::dry, "dry"}};

/// A space inside the pouch: the spans whose film bounds it, from its lip on, in order along the
/// panel, or from panel to panel where they are joined at the bottom. In a file: `film = ["front",
/// "back"]`.
struct Compartment {
  std::string name;
  std::vector<SpanRef> film;
  Holds holds = Holds::water;
};

/// Is the flap caught in the side seams, free, is the mouth rolled shut, or is there none of these?
enum class FlapLaw { caught, free, rolled, none };
inline constexpr base::Named<FlapLaw> kFlapLawWords[] = {{FlapLaw::caught, "caught"},
                                                         {FlapLaw::free, "free"},
                                                         {FlapLaw::none, "none"},
                                                         {FlapLaw::rolled, "rolled"}};

/// What keeps an end from fraying.
enum class FinishKind { none, overedge, zigzag, turned };
inline constexpr base::Named<FinishKind> kFinishWords[] = {{FinishKind::none, "none"},
                                                           {FinishKind::overedge, "overedge"},
                                                           {FinishKind::zigzag, "zigzag"},
                                                           {FinishKind::turned, "turned"}};

/// A whole number that a construction leaves to the job: how often a mouth is rolled. In a file:
/// `[count] rolls = { default = 3, least = 2, most = 6, meaning = "…" }`. The reader has already
/// repeated the spans and operations that ask for it.
struct CountRule {
  std::string name;
  int standard = 1;
  int least = 1;
  int most = 1;
  std::string meaning;
  int value = 1;  ///< the job's, or the default
};

struct Construction {
  std::string name;   ///< as a job names it: the file's stem
  std::string title;  ///< plain text
  std::string about;  ///< one or two sentences
  FlapLaw flap_law = FlapLaw::none;
  std::vector<SizeRule> sizes;  ///< every size that [pouch] accepts, the common ones included
  std::vector<CountRule> counts;
  std::vector<PanelRule> panels;  ///< at least one; the first is the main panel, which lies first
  std::vector<PieceRule> pieces;
  std::vector<Attachment> attachments;
  FinishKind start_standard = FinishKind::none;  ///< of the job's ends, where it says nothing
  FinishKind end_standard = FinishKind::none;
  std::vector<std::string> closures;  ///< what `[pouch] closure` may be; the first is the default
  SpanRef bottom_a, bottom_b;         ///< that meet at the bottom, by a fold or a seam
  SpanRef spare;                      ///< takes what rounding adds to the length
  SpanRef depth_span;                 ///< whose length is the finished depth
  std::optional<SpanRef> flap_span;   ///< whose length is the finished flap
  bool turn_of_cloth = false;         ///< asks for the turn of cloth to be added
  std::vector<Compartment> compartments;
  std::vector<Operation> operations;

  [[nodiscard]] const SizeRule* size_rule(std::string_view size_name) const;
  [[nodiscard]] const SpanRule& span(SpanRef ref) const {
    return panels[ref.panel].spans[ref.span];
  }
  /// Do the two bottom spans lie on different panels, joined by a seam?
  [[nodiscard]] bool has_bottom_seam() const { return bottom_a.panel != bottom_b.panel; }
};

/// Where a construction's file states what, for whoever finds fault with it later; by the indices
/// of the construction. Empty beside one that no file states.
struct ConstructionPlaces {
  Place file;  ///< as a whole
  std::vector<Place> operations, attachments;

  [[nodiscard]] const Place& operation(std::size_t index) const {
    return index < operations.size() ? operations[index] : file;
  }
  [[nodiscard]] const Place& attachment(std::size_t index) const {
    return index < attachments.size() ? attachments[index] : file;
  }
};

/// Limits of design and data; just over is an error at its place.
inline constexpr std::size_t kMostSpans = 64;
inline constexpr std::size_t kMostPanels = 32;
inline constexpr std::size_t kMostAttachments = 32;
inline constexpr std::size_t kMostPieceRules = 32;
inline constexpr std::size_t kMostOperations = 256;
inline constexpr int kMostRepeats = 12;

}  // namespace pouchwright::pouch
