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

#include <array>
#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "diag/diagnostic.h"
#include "units/length.h"

namespace pouchwright::pouch {

using diag::Place;
using diag::Placed;
using units::Length;

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

/// One panel: its spans from start (y = 0) to end.
struct PanelRule {
  std::string name;
  std::vector<SpanRule> spans;
  Place place;
};

/// On which faces a laminate has film.
enum class FilmFaces { one, both };

/// Which of a panel's raw edges: the sides run along its length, the ends across it.
enum class Edge { left, right, start, end };

/// What a person does. In a file, under `do`: the names in the comments.
enum class Action {
  pair,          ///< "pair": lay the outer on the knit face and clip; skipped without an outer
  finish,        ///< "finish": finish an end as the job says; skipped where it says none
  lay_card,      ///< "lay card": lay the slip card in; skipped unless the job has it inside
  fold,          ///< "fold"
  press,         ///< "press": fuse the edges with the iron
  take_card,     ///< "take card": pull the slip card out; skipped with "lay card"
  look_inside,   ///< "look inside"
  sew,           ///< "sew": sew edges through all layers
  secure_tails,  ///< "secure tails"
  test,          ///< "test"
};
inline constexpr std::array kActions = {
    Action::pair,      Action::finish,      Action::lay_card, Action::fold,         Action::press,
    Action::take_card, Action::look_inside, Action::sew,      Action::secure_tails, Action::test};
/// As in a file: `lay card`.
[[nodiscard]] const char* name_of(Action action);

/// Where a fold lands: on top of what stays, or underneath it.
enum class Landing { on_top, underneath };
/// From where the iron comes.
enum class PressFrom { front, back, both };

/// One operation. Fields beyond `id`, `action` and `needs` matter to the actions named.
struct Operation {
  std::string id;
  Action action{};
  std::vector<Placed<std::string>> needs;  ///< ids of operations that must come before

  std::string panel;                  ///< fold, finish: which panel; default the first
  Edge end = Edge::start;             ///< finish: which end
  std::string between_a, between_b;   ///< fold: the two spans that meet at the line
  Place between_place;                ///< fold
  std::string turn;                   ///< fold: the one of the two that is turned
  Place turn_place;                   ///< fold
  Landing landing = Landing::on_top;  ///< fold: `lands = "on top" | "underneath"`
  PressFrom from = PressFrom::front;  ///< press
  std::vector<Placed<Edge>> edges;    ///< press, sew; "sides" in a file means left and right
  Place place;
};

/// A space that is to hold water: the spans whose film bounds it, from its lip on, in order along
/// the panel. In a file: `film = ["front", "back"]`.
struct Compartment {
  std::string name;
  std::vector<Placed<std::string>> film;
  Place place;
};

/// Is the flap caught in the side seams, free, or is there none? Or is the mouth rolled up instead?
enum class FlapLaw { caught, free, none, rolled };

struct Construction {
  std::string name;   ///< as a job names it: the file's stem
  std::string title;  ///< plain text; the words table may translate it under `construction-NAME`
  std::string about;  ///< one or two sentences; likewise `construction-NAME-about`
  FlapLaw flap_law = FlapLaw::none;
  std::vector<SizeRule> sizes;     ///< every size that [pouch] accepts, the common ones included
  std::vector<PanelRule> panels;   ///< at least one; the first is the main panel
  std::string bottom_a, bottom_b;  ///< the spans that meet at height 0
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
};

/// Limits of design and data; just over is an error at its place.
inline constexpr std::size_t kMostSpans = 64;
inline constexpr std::size_t kMostPanels = 32;

/// Checks all that can be checked without a job: names that are defined once and exist, spans that
/// meet, operations in an order that their needs allow and no circle among them. Reports at the
/// place in the construction file. Returns true where nothing was wrong.
[[nodiscard]] bool check(const Construction& construction, diag::Diagnostics& diagnostics);

}  // namespace pouchwright::pouch
