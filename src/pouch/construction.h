/// A construction: one style of pouch as data. It states the panels, their spans, and the
/// operations in the order in which a person does them. Nothing about one style is written in C++.
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

#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <string_view>
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
/// for people; the words table may translate it under `construction-NAME-size-SIZE`.
struct SizeRule {
  std::string name;
  std::optional<Length> standard;  ///< absent: the job, [panel] or [liners] must give it
  std::string meaning;
  Zero zero = Zero::refused;
  Place place;
};

/// A sum of sizes with fractional weights: front = depth - lip_drop, gusset-front = gusset / 2. In
/// a file: `{ depth = 1, lip_drop = -1 }`, `{ gusset = "1/2" }`.
struct LinearForm {
  struct Term {
    std::string size;
    std::int64_t numerator = 1;
    std::int64_t denominator = 1;
    Place place;
  };
  std::vector<Term> terms;
};

struct SpanRule {
  std::string name;
  LinearForm length;
  Place place;
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
  Place place;
};

/// A piece besides the panels: a strap, a loop, a label. In a file: `[[piece]]`.
struct PieceRule {
  std::string name;
  LinearForm width, length;
  int count = 1;  ///< for each pouch
  ClothKind cloth = ClothKind::laminate;
  std::string how;  ///< what is done with it before it is fixed, for people; may be empty
  Place place;
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
  std::string piece;  ///< the piece that it is made of; empty: bought
  std::string on;     ///< the piece that it is fixed to, instead of a span: a snap on a strap
  Place on_place;
  std::string closure;  ///< takes part only where the job's `closure` is this; empty: always
  int count = 1;        ///< spread evenly, where it lies across the middle
  std::string span;     ///< where it lies; empty: on a piece
  Place span_place;
  Edge from = Edge::start;  ///< start or end of the span
  LinearForm distance;
  LinearForm extent;  ///< how far it reaches along the span; empty: a point
  LinearForm reach;   ///< holes reach so far beyond the extent on each side
  LinearForm width;   ///< how far it reaches across, about its centre; empty: not stated
  /// The attachment that this is the other half of, as the flap's snap is of the front's: both are
  /// bought as one. Empty: bought on its own, with whatever half of it no attachment names.
  std::string half_of;
  Across across = Across::middle;
  LinearForm from_side;  ///< of the panel, not of the outer
  Place across_place;    ///< of `across`, or of `from_side` where that stands alone
  /// Caught between two spans (a loop in a seam): their names. Nothing else lies between them.
  std::optional<std::pair<std::string, std::string>> between;
  Place place;
};

/// On which faces a laminate has film.
enum class FilmFaces { one, both };
inline constexpr base::Named<FilmFaces> kFilmFacesWords[] = {{FilmFaces::one, "one"},
                                                             {FilmFaces::both, "both"}};
/// What a person does. In a file, under `do`.
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
  hem,  ///< turn in and stitch both sides of one span
  sew,  ///< sew edges through all layers
  secure_tails,
  test,
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
                                                       {Action::hem, "hem"},
                                                       {Action::sew, "sew"},
                                                       {Action::secure_tails, "secure tails"},
                                                       {Action::test, "test"}};

/// Where a fold lands: on top of what stays, or underneath it.
enum class Landing { on_top, underneath };
inline constexpr base::Named<Landing> kLandingWords[] = {{Landing::on_top, "on top"},
                                                         {Landing::underneath, "underneath"}};
/// From where the iron comes.
enum class PressFrom { front, back, both };
inline constexpr base::Named<PressFrom> kPressFromWords[] = {
    {PressFrom::front, "front"}, {PressFrom::back, "back"}, {PressFrom::both, "both"}};

/// One operation. Fields beyond `id`, `action` and `needs` matter to the actions named.
struct Operation {
  std::string id;
  Action action{};
  std::vector<Placed<std::string>> needs;  ///< ids of operations that must come before

  std::string panel;                  ///< lay panel, finish: which panel; default the first
  Place panel_place;                  ///< lay panel, finish
  Edge end = Edge::start;             ///< finish: which end
  std::string between_a, between_b;   ///< fold: the two spans that meet at the line
  Place between_place;                ///< fold
  std::string turn;                   ///< fold: the one of the two that is turned
  Place turn_place;                   ///< fold
  Landing landing = Landing::on_top;  ///< fold: `lands = "on top" | "underneath"`
  PressFrom from = PressFrom::front;  ///< press
  std::vector<Placed<Edge>> edges;    ///< press, sew; "sides" in a file means left and right
  std::string stitch;    ///< sew, hem, finish: a name of shared/stitches.toml; may be empty
  bool film_up = false;  ///< lay panel: `film = "up" | "down"`
  /// lay panel: two spans, one of the new panel; either both are ends that lie on each other, or
  /// (a lining) the new panel's span lies within the other's heights, its start at that start.
  std::string meets_a, meets_b;
  Place meets_place;               ///< lay panel
  LinearForm offset;               ///< lay panel, on a span: from its start
  std::string attachment;          ///< attach
  Place attachment_place;          ///< attach
  std::optional<Through> through;  ///< attach: only where the job fixes it so; absent: always
  std::string span;                ///< hem
  Place span_place;                ///< hem
  std::string compartment;         ///< lay card, take card: whose; default the first
  Place place;
};

/// Is a compartment to hold water, or to stay dry?
enum class Holds { water, dry };
inline constexpr base::Named<Holds> kHoldsWords[] = {{Holds::water, "water"}, {Holds::dry, "dry"}};

/// A space inside the pouch: the spans whose film bounds it, from its lip on, in order along the
/// panel, or from panel to panel where they are joined at the bottom. In a file: `film = ["front",
/// "back"]`.
struct Compartment {
  std::string name;
  std::vector<Placed<std::string>> film;
  Place place;
  Holds holds = Holds::water;
};

/// Is the flap caught in the side seams, free, is the mouth rolled shut, or is there none of these?
enum class FlapLaw { caught, free, rolled, none };
inline constexpr base::Named<FlapLaw> kFlapLawWords[] = {{FlapLaw::caught, "caught"},
                                                         {FlapLaw::free, "free"},
                                                         {FlapLaw::none, "none"},
                                                         {FlapLaw::rolled, "rolled"}};

/// What keeps an end from fraying.
enum class FinishKind { none, overedge, turned };
inline constexpr base::Named<FinishKind> kFinishWords[] = {
    {FinishKind::none, "none"}, {FinishKind::overedge, "overedge"}, {FinishKind::turned, "turned"}};

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
  Place place;
};

struct Construction {
  std::string name;   ///< as a job names it: the file's stem
  std::string title;  ///< plain text; the words table may translate it under `construction-NAME`
  std::string about;  ///< one or two sentences; likewise `construction-NAME-about`
  FlapLaw flap_law = FlapLaw::none;
  std::vector<SizeRule> sizes;  ///< every size that [pouch] accepts, the common ones included
  std::vector<CountRule> counts;
  std::vector<PanelRule> panels;  ///< at least one; the first is the main panel, which lies first
  std::vector<PieceRule> pieces;
  std::vector<Attachment> attachments;
  FinishKind start_standard = FinishKind::none;  ///< of the job's ends, where it says nothing
  FinishKind end_standard = FinishKind::none;
  std::vector<std::string> closures;  ///< what `[pouch] closure` may be; the first is the default
  std::string bottom_a, bottom_b;     ///< the spans that meet at the bottom, by a fold or a seam
  Place bottom_place;
  std::string spare;  ///< the span that takes what rounding adds to the length
  Place spare_place;
  std::string depth_span;      ///< the span whose length is the finished depth
  std::string flap_span;       ///< the span whose length is the finished flap; may be empty
  bool turn_of_cloth = false;  ///< asks for the turn of cloth to be added
  std::vector<Compartment> compartments;
  std::vector<Operation> operations;
  Place place;

  [[nodiscard]] const SizeRule* size_rule(std::string_view size_name) const;
  [[nodiscard]] const Attachment* attachment(std::string_view attachment_name) const;
  [[nodiscard]] const PanelRule* panel(std::string_view panel_name) const;
  [[nodiscard]] const PieceRule* piece(std::string_view piece_name) const;
  /// The panel that a span belongs to; null where there is no such span.
  [[nodiscard]] const PanelRule* panel_of_span(std::string_view span_name) const;
  /// Do the two bottom spans lie on different panels, joined by a seam?
  [[nodiscard]] bool has_bottom_seam() const;
};

/// Index of the panel that an operation works on: the one that it names, else the main one.
[[nodiscard]] std::size_t panel_of(const Construction& construction, const Operation& operation);
/// Index of the compartment whose card is laid in or taken out: the one named, else the first.
[[nodiscard]] std::size_t compartment_of(const Construction& construction,
                                         const Operation& operation);

/// Limits of design and data; just over is an error at its place.
inline constexpr std::size_t kMostSpans = 64;
inline constexpr std::size_t kMostPanels = 32;
inline constexpr std::size_t kMostAttachments = 32;
inline constexpr std::size_t kMostPieceRules = 32;
inline constexpr std::size_t kMostOperations = 256;
inline constexpr int kMostRepeats = 12;

/// Checks all that can be checked without a job: names that are defined once and exist, spans that
/// meet, operations in an order that their needs allow and no circle among them. Reports at the
/// place in the construction file. Returns true where nothing was wrong.
[[nodiscard]] bool check(const Construction& construction, base::Diagnostics& diagnostics);

}  // namespace pouchwright::pouch
