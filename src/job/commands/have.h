/// How many pouches the cloth yields that is there: "these ten yards give 168".
///
///     if (!options.have.empty()) return laid_from_stock(run);
///
/// Not for a batch of stated size, which uses what is there first: see cloth_plans.h.
#pragma once

#include <string>
#include <vector>

#include "base/length.h"
#include "job/commands/cloth_plans.h"
#include "job/report/report.h"
#include "job/run.h"

namespace pouchwright::job {

/// A rectangle that is left of a cloth.
struct LeftOver {
  std::string material;
  base::Length width, length;
};

struct Yield {
  int pouches = 0;
  std::string ends_first;  ///< the cloth's role; empty where no cloth sets an end
  std::vector<LeftOver>
      left{};  ///< of the cloths that are there, by cloth; past the last cut first
  std::vector<ClothPlan> plans;  ///< for that number; none where it is 0
};

/// The most pouches that `stock` yields; a cloth of which it holds none is without limit. Of each cloth
/// the largest piece is cut last, by lengths, as off a roll.
/// Requires: `stock` holds at least one piece of a cloth that the pouch has.
[[nodiscard]] Yield yield_of(const pouch::Pouch& pouch, const input::JobSettings& settings,
                             const std::vector<lay::Remnant>& stock);

/// A piece of cloth as an option says it; of laminate where no cloth is named. Empty where it cannot be
/// read.
[[nodiscard]] std::optional<lay::Remnant> piece_of(const std::string& text);

/// What an option says is there: "[laminate =] 60 in x 10 yd", or "laminate = 10 yd" for a roll of the
/// material's own width.
/// Fails: a UsageFault where it cannot be read; none after an error where the job has no such cloth or
/// the length is nothing or over 100 m.
[[nodiscard]] std::optional<lay::Remnant> stock_of(Run& run, const char* option,
                                                   const std::string& text);

/// As it stands in reports, and as it is told.
[[nodiscard]] Cell yield_cell(const Yield& made);
void say_yield(Report& report, const Yield& made);

/// `lay --have`: the plans for the most pouches. Requires: the run's job was read without an error.
[[nodiscard]] Answer lay_from_stock(Run& run);

}  // namespace pouchwright::job
