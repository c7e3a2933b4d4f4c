/// What a job says of the batch: how many pouches, who makes them, what the trial with the iron
/// showed, what things cost. Plain values.
#pragma once

#include <algorithm>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "base/diagnostic.h"
#include "base/length.h"
#include "base/named.h"

namespace pouchwright::batch {

/// What a job's [stitches] says its seams are sewn with: a code of ISO 4915, or one of the words
/// that shared/stitches.toml has for codes. Absent: what that file uses.
struct StatedStitches {
  using Stated = std::optional<base::Placed<std::string>>;
  Stated sides;  ///< whatever closes the pouch, a bottom seam as well
  Stated ends;   ///< overedged ends
  Stated hems;   ///< turned ends, a hemmed flap
  Stated tails;  ///< over the ends of a chain
};

/// More pouches or helpers than these are refused.
inline constexpr int kMostPouches = 2000;
inline constexpr int kMostPeople = 100;

/// Of cut pieces, spoiled by a crooked cut or a scorched seal: common practice, no source.
inline constexpr double kSpoiled = 0.03;
/// More than half is refused.
inline constexpr double kMostSpoiled = 0.5;

/// Whose first pouch is filled with water once it is pressed, before it is sewn.
enum class FirstPouch { each_presser, one, none };
inline constexpr base::Named<FirstPouch> kFirstPouchWords[] = {
    {FirstPouch::each_presser, "each presser"},
    {FirstPouch::one, "one"},
    {FirstPouch::none, "none"}};

/// What the people at the table keep to: each a station for the day, or whatever is most urgent.
enum class PlanBy { stations, any };
inline constexpr base::Named<PlanBy> kPlanWords[] = {{PlanBy::stations, "stations"},
                                                     {PlanBy::any, "any"}};
/// From so many on a job that says nothing is planned by stations.
inline constexpr int kStationsFrom = 3;
inline constexpr int kMostChanges = 2;

/// Minutes of work between two breaks, and of a break. Assumed: a group's own habit goes first.
inline constexpr double kBreakEvery = 90;
inline constexpr double kBreak = 10;
inline constexpr double kLongestBreakEvery = 600;
inline constexpr double kLongestBreak = 240;

/// Somebody whom the job names, or says something about.
struct HelperStated {
  std::string name;
  /// Actions of constructions, kinds of work and stations of the work table; empty: everything.
  std::vector<base::Placed<std::string>> can;
  double speed = 1;  ///< 0.5: takes twice as long
  base::Place place;
};
inline constexpr double kSlowest = 0.1;
inline constexpr double kQuickest = 3;

/// Counts by the names of the shopping list: pieces, or metres or yards of what is sold so.
using Things = std::map<std::string, base::Placed<double>, std::less<>>;

struct Settings {
  base::Placed<int> pouches{1, {}};
  base::Placed<int> helpers{1, {}};
  base::Placed<int> machines{1, {}};
  base::Placed<int> overedge_machines{0, {}};  ///< none: the others overedge
  base::Placed<int> irons{1, {}};
  std::optional<base::Placed<int>> bundle;  ///< pouches that move on together; the work table's
  double spoiled = kSpoiled;                ///< share of the pieces that are cut to spare
  std::optional<base::Placed<double>> aql;  ///< acceptance quality limit, per cent (ISO 2859-1)
  FirstPouch first_pouch = FirstPouch::each_presser;
  std::optional<PlanBy> plan;  ///< absent: by stations from kStationsFrom helpers on
  int changes = 1;             ///< of station, by one person at most
  base::Placed<double> break_every{kBreakEvery, {}};  ///< minutes; 0: no breaks
  double break_lasts = kBreak;
  std::vector<HelperStated> people;  ///< the first of the helpers, or all; others can do everything
  std::string currency;
  StatedStitches stitches;
  Things stock;  ///< what is there already
};

/// How many first pouches are filled: of those who press, one stands at each iron.
[[nodiscard]] inline int first_pouches(const Settings& settings) {
  if (settings.first_pouch == FirstPouch::none) return 0;
  if (settings.first_pouch == FirstPouch::one) return 1;
  const int pressers = std::min(settings.helpers.value, settings.irons.value);
  return std::clamp(pressers, 1, settings.pouches.value);
}

/// What the trial on scraps showed. Dots as on an iron's dial (ISO 3758): one, two or three.
struct IronTrial {
  int dots = 2;
  bool steam = false;
  double seconds = 0;
  base::Place place;
};

/// The sole of an iron, across and from its point to its heel. Assumed, a common household iron's:
/// whoever measures her own states it.
struct IronSole {
  base::Length width = base::Length::whole_mm(120);
  base::Length length = base::Length::whole_mm(240);
  bool operator==(const IronSole&) const = default;
};

/// Prices by the name of the thing, all in one currency.
using Prices = std::map<std::string, base::Placed<double>, std::less<>>;

}  // namespace pouchwright::batch
