/// What each step of the work takes: the work table (shared/work.toml), and the steps that follow
/// from a construction and a job. Nothing here knows a style of pouch: an operation is worked as
/// the table says for its action, and a new action is a new table.
///
///     WorkTable table = ...;                       // `input` reads it from shared/work.toml
///     std::vector<Step> made = steps(pouch, settings, cloths, iron, table, diagnostics);
///
/// Not for who does them and when: see schedule.h.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/diagnostic.h"
#include "base/length.h"
#include "base/time.h"
#include "batch/settings.h"
#include "batch/thread.h"
#include "pouch/pouch.h"

namespace pouchwright::batch {

using base::Time;

/// Where a step is done: what it holds besides a helper. Hands are wherever the helper sits.
enum class Station { hands, table, machine, overedge, iron };
inline constexpr std::array kStations = {Station::hands, Station::table, Station::machine,
                                         Station::overedge, Station::iron};
inline constexpr base::Named<Station> kStationWords[] = {{Station::hands, "hands"},
                                                         {Station::table, "table"},
                                                         {Station::machine, "machine"},
                                                         {Station::overedge, "overedge"},
                                                         {Station::iron, "iron"}};

/// How one kind of work is reckoned, for one piece:
/// `minutes` + `minutes_each` an edge, cut or place of its own + `minutes_per_metre` of all edges
/// + machine minutes (length / (stitch length * stitches a minute)) + `hold_seconds` for every
/// stretch of an edge up to `hold_every` long; that, at `rating`, with the allowance on top.
struct WorkKind {
  std::string name;  ///< an action as a construction names it, or a kind that others call for
  Station station = Station::hands;
  double minutes = 0;
  double minutes_each = 0;
  double minutes_per_metre = 0;
  double minutes_per_bundle = 0;  ///< once a bundle: fetching it, laying it ready
  base::Length stitch;            ///< 0: nothing is stitched
  double stitches_per_minute = 0;
  double hold_seconds = 0;  ///< a job's trial with the iron takes its place
  base::Length hold_every;
  double rating = 100;   ///< per cent, of the person who was timed
  double allowance = 0;  ///< per cent on top, for rest and the like
  double waits = 0;      ///< minutes that pieces lie afterwards, in nobody's hands
  double set_up = 0;     ///< minutes of whoever comes to it from other work
  int clips = 0;         ///< put on one piece, and left there
  bool takes_clips_off = false;
  bool water = false;    ///< wet hands: not for whoever has the iron
  bool goes_on = false;  ///< the piece stays in the same hands for the operation that follows
  std::string then;      ///< a kind that always follows: "snip apart"
  base::Place place;
};

struct WorkTable {
  int bundle = 1;  ///< so many pieces move on together; the last bundle may be smaller
  int tables = 1;  ///< cutting tables
  std::vector<WorkKind> kinds;
  base::Place place;  ///< the file as a whole

  [[nodiscard]] const WorkKind* kind(std::string_view name) const;
};
/// The kind of work that the table has to have for cutting.
inline constexpr const char* kCutting = "cut";
/// Kinds that a table may have for what a day holds besides its pouches' operations; without them it
/// is not counted. Done once: for each cloth, for each machine or iron of the job, for each card. The
/// trial is left out where the job says what it showed, cards where the job has one.
inline constexpr const char* kOpening = "open cloth";
inline constexpr const char* kThreading = "thread machine";
inline constexpr const char* kThreadingOveredge = "thread overedge";
inline constexpr const char* kWarming = "warm iron";
inline constexpr const char* kTrying = "iron trial";
inline constexpr const char* kTracing = "trace cards";
/// For each pouch: folds marked on the cut panel; and when it is dry, so not within the day.
inline constexpr const char* kMarking = "mark";
inline constexpr const char* kPacking = "pack";
/// What a machine sews on; where a table has no such kind, it is fixed like a snap.
inline constexpr const char* kSewingOn = "sew on";

/// Machine minutes for `length` of seam. Requires: stitch > 0, stitches_per_minute > 0.
[[nodiscard]] double machine_minutes(base::Length length, base::Length stitch,
                                     double stitches_per_minute);
/// What a person of rating 100 takes for the same: observed * rating / 100.
[[nodiscard]] double basic_minutes(double observed, double rating);
/// With the allowance on top, in per cent.
[[nodiscard]] double standard_minutes(double basic, double allowance);

/// How much of a kind's work one piece is.
struct Amount {
  std::vector<base::Length> edges;  ///< sewn, pressed or finished, one by one
  double each = 1;                  ///< edges, or cuts
  int sides = 1;                    ///< 2: pressed from the front and the back
};
[[nodiscard]] double minutes_a_piece(const WorkKind& kind, const Amount& amount);

/// Cuts through a cloth for the whole batch, of its lay.
struct ClothCuts {
  std::string cloth;         ///< `laminate`, `outer`
  std::optional<int> lines;  ///< absent: kCutsAPanel for each panel
};
/// Without a lay: one cut beside a panel and one above it; the other two are its neighbours'
/// (common practice, no source).
inline constexpr double kCutsAPanel = 2;

/// One operation within a step.
struct StepOperation {
  /// The construction's; derived ones: `cut-laminate`, `sew-sides-snip-apart`, `sew-sides-pass-2`.
  std::string id;
  std::string kind;                  ///< of the work table
  std::optional<std::size_t> about;  ///< the construction's operation; absent: a cloth is cut
  int pass = 1;  ///< from 1: an edge that is sewn several times is worked on as often
  Time each{};   ///< for one piece
  Time per_bundle{};
  std::string cloth;  ///< that is cut
};

/// What one helper does to a bundle in one go, at one station, piece by piece.
struct Step {
  std::vector<StepOperation> operations;  ///< in order
  Station station = Station::hands;
  Time waits{};                    ///< that the bundle lies afterwards
  std::vector<std::size_t> needs;  ///< earlier steps, sorted
  /// It is done to one piece of each of so many bundles, from the first; all others pass it by.
  /// Absent: to every piece.
  std::optional<int> firsts{};
  /// Done once, before all bundles, as threading: `firsts` is 1, and whatever needs it waits for it
  /// with every bundle. It needs only steps that are done once as well.
  bool once = false;
  /// That somebody takes who comes to it from another step: puts things away, lays things ready.
  Time set_up{};
  bool wet = false;  ///< with water
  /// Where jobs share a line: whose bundles pass through it, those from `from` to before `to`; all
  /// others pass it by. `firsts` count from `from`. Of one done once: all.
  std::size_t from = 0, to = kAllBundles;
  std::optional<std::size_t> like{};  ///< the first of the steps next to it that are the same work

  static constexpr std::size_t kAllBundles = static_cast<std::size_t>(-1);

  [[nodiscard]] bool is_done_to(std::size_t bundle) const {
    if (bundle < from || bundle >= to) return false;
    return !firsts || bundle - from < static_cast<std::size_t>(*firsts);
  }
  /// As people count its job's bundles: from 1.
  [[nodiscard]] std::size_t number_of(std::size_t bundle) const { return bundle - from + 1; }
  /// The last bundle of those, of `bundles` in all.
  [[nodiscard]] std::size_t last_of(std::size_t bundles) const {
    return (to < bundles ? to : bundles) - 1;
  }
  /// To how many of `bundles` it is done.
  [[nodiscard]] std::size_t done_to(std::size_t bundles) const {
    const std::size_t all = last_of(bundles) + 1 - from;
    return !firsts || all < static_cast<std::size_t>(*firsts) ? all
                                                              : static_cast<std::size_t>(*firsts);
  }
  /// Of a bundle of `size` pieces.
  [[nodiscard]] int pieces_of(std::size_t bundle, int size) const {
    if (!is_done_to(bundle)) return 0;
    return firsts ? 1 : size;
  }
  /// 0 for no piece.
  [[nodiscard]] Time takes(int pieces) const;
};

/// How many of a station there are; hands are as many as helpers.
[[nodiscard]] int count_of(Station station, const Settings& settings, const WorkTable& table);

/// What is worked on, and what other stages found out about it. All must outlive the call.
struct WorkToDo {
  const pouch::Pouch* pouch = nullptr;
  const Settings* settings = nullptr;
  const std::vector<ClothCuts>* cloths = nullptr;
  const std::optional<IronTrial>* iron = nullptr;
  const std::vector<Seam>* seams = nullptr;  ///< of seams_of(): which stitch each operation takes
};

/// Packing all pouches once they are dry: nobody's task of this day.
[[nodiscard]] Time packing_time(const Settings& settings, const WorkTable& table);

/// The steps from cloth to checked pouches, what is done once before them first, in an order in which they can be done. Operations that
/// the job skips make none. An operation comes after every earlier one of its panel, as the folding
/// engine found it possible, and after its `needs`. What the table has at a machine of either kind
/// stands where its stitch is sewn: overedges (class 500) on an overedge machine, all others on a
/// sewing machine; each pass is an operation of its own. Where the job has no overedge machine, its
/// sewing machines overedge as well.
/// Fails: errors where the table lacks a kind (about its file), or where an operation needs a
/// machine or iron and the job has none (at the job's place).
[[nodiscard]] std::vector<Step> steps(const WorkToDo& work, const WorkTable& table,
                                      base::Diagnostics& diagnostics);

}  // namespace pouchwright::batch
