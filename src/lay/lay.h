/// Cut planning: pieces of a few kinds from a cloth of one width, at the least length, with a bound
/// that says how near the least the plan is, and the cuts in the order a person makes them.
///
///     Request request;
///     request.cloth = {"laminate", Length::whole_mm(1480)};
///     request.kinds = {{"panel", Length::whole_mm(204), Length::whole_mm(360), 40}};
///     if (faults(request).empty()) Plan made = plan(request);
///
/// x runs across the usable width from its left edge, y along the cloth from its cut end; all sizes
/// are whole nanometres and no decision is made with floating point, so the same request gives the
/// same plan everywhere. Not for texts, pictures or prices: see `job`, `drawing` and `batch`.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "base/length.h"
#include "base/turn.h"
#include "lay/settings.h"

namespace pouchwright::lay {

using base::Length;
using base::Turn;

/// A cloth on the roll, as long as it takes. `width` is what can be used, without selvedges.
struct Cloth {
  std::string name;
  Length width;

  bool operator==(const Cloth&) const = default;
};

/// A kind of piece. `value` decides what a remnant is used for first and which by-product fills a
/// waste. Default of `value`: the area.
struct Kind {
  std::string name;
  Length width, length;
  int demand = 1;
  Turn turn = Turn::either;
  std::optional<std::int64_t> value;

  bool operator==(const Kind&) const = default;
};

/// A left-over rectangle in stock; its length lies along the grain.
struct Stock {
  std::string name;
  Length width, length;

  bool operator==(const Stock&) const = default;
};

/// At most so many kinds, by-products, and pieces of all kinds together.
inline constexpr int kMostKinds = 20;
inline constexpr int kMostPieces = 2000;
/// Steps that a plan may spend on searching, about a second's worth on a small machine. The count
/// decides, never a clock, so that a plan does not depend on the machine.
inline constexpr std::int64_t kWork = 250'000'000;
/// A left-over at least so wide and so long is kept (common practice, no source).
inline constexpr Length kWorthKeeping = Length::whole_mm(100);
/// Where the table sets no limit, lengths up to this are cut off if that costs no cloth: a longer
/// strip is hard to rip straight (common practice, no source).
inline constexpr Length kHandyLength = Length::whole_mm(2000);

struct Request {
  Cloth cloth;
  std::vector<Kind> kinds;
  Cuts cuts = Cuts::straight;
  std::optional<Length> longest;  ///< no length cut off is longer than this (the table)
  Plies plies;
  std::vector<Stock> remnants;    ///< used first, in this order
  std::vector<Kind> by_products;  ///< `demand`: at most so many
  Length keep = kWorthKeeping;
  std::int64_t work = kWork;
};

/// Why a request cannot be planned. `index` is a kind's, a by-product's or a remnant's.
struct Fault {
  enum class What {
    nothing_to_cut,  ///< no kinds
    too_many_kinds,  ///< more than kMostKinds kinds
    too_many_by_products,
    bad_size,            ///< a kind's side is not above 0 or is longer than base::kLongest
    bad_demand,          ///< a kind's demand is below 1 or above kMostPieces
    too_many_pieces,     ///< all demands together are above kMostPieces
    bad_cloth,           ///< the usable width is not above 0
    bad_longest,         ///< the table's length is not above 0
    bad_plies,           ///< fewer than one, more than kMostPlies, or folded in other than 2 or 4
    too_large,           ///< the kind fits the cloth in no allowed direction
    too_long_for_table,  ///< it would fit the cloth, but not the table's length
    too_wide_folded,     ///< it would fit the cloth single, but not folded
    bad_by_product,
    bad_remnant,
  };
  What what{};
  int index = 0;

  bool operator==(const Fault&) const = default;
};

/// Everything wrong with the request, in the order of the enumeration, then by index. A remnant
/// smaller than every piece is no fault: it yields a lay without pieces.
[[nodiscard]] std::vector<Fault> faults(const Request& request);

/// A rectangle of the cloth.
struct Area {
  Length x, y, width, length;

  bool operator==(const Area&) const = default;
};

/// A piece where it lies. `turned`: its length runs across the cloth.
struct Placed {
  int kind = 0;  ///< index into Request::kinds, or by_products
  bool by_product = false;
  Area area;  ///< as laid; folded cloth: as seen on the cloth laid open
  bool turned = false;
  int layer = 0;       ///< stacked cloth: from 0; else 0
  bool spare = false;  ///< more than the demand, cut because it lies in the same plies

  bool operator==(const Placed&) const = default;
};

/// What a cut does: a length off the roll; a strip along the cloth; across a strip; a fold opened;
/// or, with free cuts, round the template.
enum class Cut { off, strip, cross, slit, around };
inline constexpr base::Named<Cut> kCutWords[] = {{Cut::off, "off"},
                                                 {Cut::strip, "strip"},
                                                 {Cut::cross, "cross"},
                                                 {Cut::slit, "slit"},
                                                 {Cut::around, "around"}};

struct Line {
  Length x0, y0, x1, y1;

  bool operator==(const Line&) const = default;
};

/// A cut with its ruler setting, made at all of `lines`, in this order. `at` is the width or length
/// that comes off, measured from the edge cut last (an `around` has none: 0). Lines are given on
/// the cloth as it lies (folded cloth: folded, x from 0 to a ply's width; a slit: on the cloth laid
/// open). `from` is the part that the first line divides, `off` what comes off it; both are areas
/// of the cloth as it lies. `kind` is what has come off: a finished piece's kind, or -1. `count` is
/// how many parts like `off` there are then, as they lie: a last one may need no cut of its own.
/// What lies behind the last cut and is a finished piece of another kind or size is `rest`.
struct Step {
  Cut cut = Cut::off;
  Length at;
  std::vector<Line> lines;
  Area from;
  Area off;
  int kind = -1;
  bool by_product = false;
  int count = 0;
  /// Pieces that need no cut of their own.
  struct Rest {
    int kind = -1;
    bool by_product = false;
    int count = 0;

    bool operator==(const Rest&) const = default;
  };
  std::optional<Rest> rest{};
  int cut_off = 0;  ///< index into Lay::cut_offs of the first length concerned
  int section = 0;  ///< index into Lay::sections

  bool operator==(const Step&) const = default;
};

/// A stretch of the cloth cut in one way; `layers` lie under every cut.
struct Section {
  Length from, length;
  Plies plies;
  Length ply_width;

  bool operator==(const Section&) const = default;
};

/// A length cut off the roll. Those with equal `pattern` (from 0, in order of first use) are cut
/// alike.
struct CutOff {
  Length from, length;
  int pattern = 0;
  int section = 0;

  bool operator==(const CutOff&) const = default;
};

/// The plan for one cloth or one remnant.
struct Lay {
  std::string cloth;
  Length width;          ///< usable
  Length length;         ///< of cloth used (a remnant: its length)
  Length bound;          ///< no plan of this kind is shorter; at most `length`
  bool optimal = false;  ///< proved: no plan of this kind is shorter
  Cuts cuts = Cuts::straight;
  std::vector<Placed> pieces;  ///< by layer, y, then x
  std::vector<Step> steps;
  std::vector<Section> sections;  ///< the first through the plies, the second single, if any
  std::vector<CutOff> cut_offs;   ///< in order along the cloth; none for a remnant
  std::vector<Area> wastes;       ///< of straight cuts, along the cloth; layer 0 only
  std::vector<Area> kept;         ///< those worth keeping, largest first
  std::vector<int> spare;         ///< a kind: how many more the last length cut off would yield
  int layers = 1;                 ///< stacked cloth: so many lengths lie on each other
  Length cloth_length;            ///< of one layer times layers, the single part counted once
  Length single_length;           ///< what the same pieces take without plies; `length` if no plies
  double waste_fraction = 0;      ///< of the cloth used, not needed pieces and not by-products
  double pieces_per_metre = 0;    ///< of cloth, all kinds together, by-products left out
  int cuts_made = 0;              ///< all lines of all steps
  bool work_ended = false;        ///< the search stopped at the work limit: see `bound`
};

/// `remnants` has one lay a remnant, in the request's order. `cloth` has length 0 and no pieces
/// where the remnants yield everything.
struct Plan {
  std::vector<Lay> remnants;
  Lay cloth;
  std::vector<int> by_products;  ///< how many of each are cut, of remnants and cloth together
};

/// Plans all pieces: remnants first, each for the greatest value of pieces still needed; then the
/// cloth at the least length; then by-products into the waste, never lengthening the plan.
/// Plies: full multiples go through all plies; of a remainder either one position more is cut
/// (spare pieces come out) or the remainder is cut single behind it, whichever takes less cloth.
/// With plies, `bound` and `optimal` speak of plans of this form.
/// Requires: faults(request) is empty.
[[nodiscard]] Plan plan(const Request& request);

/// The lengths of plan() for the roll alone, without orders: as Lay's of the same names.
struct LengthFound {
  Length length, bound, cloth_length;
  bool optimal = false;
};
/// Requires: faults(request) is empty; remnants and by-products are left out of account.
[[nodiscard]] LengthFound least_length(const Request& request);

/// How many pieces lie side by side across the cloth, over both allowed directions: the most.
/// Zero where none fits.
[[nodiscard]] int across(Length cloth_width, const Kind& kind);

}  // namespace pouchwright::lay
