/// Thread: which seams a pouch has, which stitch each is sewn with, and how much thread they take.
///
///     use(settings.stitches, rules);
///     const auto seams = seams_of(pouch, rules);
///     for (const ThreadNeed& need : thread_needs(seams, 40, rules)) print(need.metres);
///
/// The rules are data (shared/stitches.toml), each figure with its source. Not for prices.
#pragma once

#include <cstddef>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/length.h"
#include "base/named.h"
#include "batch/settings.h"
#include "pouch/pouch.h"

namespace pouchwright::batch {

using base::Length;

/// What the threads do at a seam's ends: run on as a chain, or lie in a stretch sewn twice.
enum class SeamEnds { chain, back_tack };
inline constexpr base::Named<SeamEnds> kSeamEndsWords[] = {{SeamEnds::chain, "chain"},
                                                           {SeamEnds::back_tack, "back_tack"}};

/// How one of a stitch's threads takes part: `weight` against the sum of all weights.
struct ThreadShare {
  std::string part;  ///< "needle", "bobbin", "looper"
  double weight = 1;
};

/// A stitch type of ISO 4915 and the thread it takes.
struct Stitch {
  std::string code;                 ///< as "504"
  double ratio = 0;                 ///< metres of thread for a metre of seam, all threads together
  std::string source;               ///< "textbook", "formula" or "measured"
  int threads = 2;                  ///< how many run at once
  std::vector<ThreadShare> shares;  ///< empty where no source divides the thread
  SeamEnds ends = SeamEnds::chain;
  std::string package;                         ///< the name of the Package it is bought in
  std::optional<Length> stitch_length, width;  ///< for ratio_by_geometry
  std::optional<Length> least_width{};         ///< the narrowest that machines sew it
  std::optional<double> other_ratio{};         ///< of a table that disagrees and is not used
};

/// How thread is sold.
struct Package {
  std::string name;  ///< "cone", "spool"
  double metres = 0;
  /// Does every thread of a machine run off one of its own? Else they share one: a bobbin is wound
  /// off the spool.
  bool each_thread = true;
};

struct ThreadRules {
  double waste = 0;  ///< fraction added to all thread
  Length chain;      ///< left between pieces that are sewn one after the other
  Length back_tack;  ///< sewn back and forth again at each end of a seam
  Length tail;       ///< sewn over each end of a chain
  std::vector<Stitch> stitches;
  std::vector<Package> packages;
  /// The codes that operations are sewn with.
  std::string sew, secure_tails, finish_overedge, finish_zigzag, finish_turned, attach;
  /// Words that a job may use for a code, as "overedge".
  std::map<std::string, std::string, std::less<>> words;

  /// Null where there is none.
  [[nodiscard]] const Stitch* stitch(std::string_view code) const;
  [[nodiscard]] const Package* package(std::string_view name) const;
  /// The code that a word or a code stands for; empty where it is neither.
  [[nodiscard]] std::string code_of(std::string_view text) const;
  /// All that code_of() knows: codes, then words.
  [[nodiscard]] std::vector<std::string> known() const;
};

/// Lays what the job states over the codes that operations are sewn with; what is not known to the
/// rules is left out, since the job was told.
void use(const StatedStitches& stated, ThreadRules& rules);

/// Does any seam that closes the pouch end in a thread chain, so that there are tails to secure?
/// True where nothing is sewn, which is for others to tell.
[[nodiscard]] bool leaves_chains(const pouch::Request& request, const StatedStitches& stated,
                                 const ThreadRules& rules);

/// The same of overedged ends.
[[nodiscard]] bool ends_leave_chains(const StatedStitches& stated, const ThreadRules& rules);

/// One seam of a pouch.
struct Seam {
  std::size_t operation = 0;  ///< index into the construction's
  std::string stitch;         ///< code
  Length length;
  Length thickness;  ///< of the thickest stretch
  int per_pouch = 1;
  bool has_back_tacks = false;
};

/// Every seam, in the order of the operations: sewn edges (the sides once for each of the job's
/// passes), finished ends, hemmed flaps, tapes that are sewn on along their edges, tails. A
/// finished end goes across the cut panel; tails are those of sewn edges whose threads run on as a
/// chain (those of the ends are caught in the sides). Requires: the rules' codes are known to them.
[[nodiscard]] std::vector<Seam> seams_of(const pouch::Pouch& pouch, const ThreadRules& rules);

/// Names of what is sewn on along a way that no file states, so that its thread is not counted.
[[nodiscard]] std::vector<std::string> uncounted_seams(const pouch::Pouch& pouch);

struct ThreadPart {
  std::string part;
  double metres = 0;
};

/// The thread of one stitch type for a whole batch.
struct ThreadNeed {
  std::string stitch;
  double seam_metres = 0;         ///< of seam, without chains and back-tacks
  double metres = 0;              ///< of thread, chains, back-tacks and waste included
  double most_metres = 0;         ///< the same, where thick layers take more by geometry
  std::vector<ThreadPart> parts;  ///< by needle and looper; empty where no source divides it
  Package package;
  int threads = 1;  ///< at once, each off a package of its own
  /// Enough for one machine, of the most metres. Where the parts are unknown, enough however the
  /// threads divide it.
  int packages = 0;
};

/// One kind of package for all stitches that are bought in it: they are sewn one after the other,
/// so the same cones stand on the machine.
struct PackageNeed {
  Package package;
  double metres = 0;
  int threads = 1;  ///< the most that run at once
  int count = 0;
};
/// In the order of the rules' packages; none for those that no stitch takes.
[[nodiscard]] std::vector<PackageNeed> packages_needed(const std::vector<ThreadNeed>& needs,
                                                       const ThreadRules& rules);

/// By stitch code. Between one piece and the next, before the first and after the last, each
/// operation leaves a chain where its stitch does. Requires: `pouches` >= 1.
[[nodiscard]] std::vector<ThreadNeed> thread_needs(const std::vector<Seam>& seams, int pouches,
                                                   const ThreadRules& rules);

/// The seams of one of several batches.
struct BatchSeams {
  const std::vector<Seam>* seams = nullptr;
  int pouches = 1;
};
/// The same over all batches, sewn one after the other.
[[nodiscard]] std::vector<ThreadNeed> thread_needs(const std::vector<BatchSeams>& batches,
                                                   const ThreadRules& rules);

/// Lockstitch by geometry: both threads go along the seam and once through it at every stitch,
/// 2 + 2·T/s metres a metre. Source: textile calculation handbook pages.
[[nodiscard]] double lockstitch_ratio(Length thickness, Length stitch_length);
/// Three-thread overedge by geometry: 3 + 4·(W + T)/s. Source: the same.
[[nodiscard]] double overedge_ratio(Length width, Length thickness, Length stitch_length);

/// Four-thread overedge by geometry: 5 + 2·(3 T + 2 W)/s. Source: a textile engineering page's table
/// of formulas by stitch type.
[[nodiscard]] double four_thread_ratio(Length width, Length thickness, Length stitch_length);

/// Is the stitch of that code one of class 500 of ISO 4915, which takes an overedge machine?
[[nodiscard]] bool is_overedge(std::string_view code);

/// The least needle reach of a class 500 stitch (overedge): no machine sews it narrower. Empty for
/// other stitches, which lie wherever they are led, and where the width is not known.
[[nodiscard]] std::optional<Length> least_reach(const Stitch& stitch);

/// What geometry says of 301, 504 and 514 where their stitch length (and width) are known: seams thicker
/// than usual take more than the table's ratio.
[[nodiscard]] std::optional<double> ratio_by_geometry(const Stitch& stitch, Length thickness);

}  // namespace pouchwright::batch
