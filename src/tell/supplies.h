/// The shopping list in words: its rows, the notes that stand below it, and those that are for
/// whoever leads.
#pragma once

#include <string>
#include <vector>

#include "base/voice.h"
#include "batch/supplies.h"
#include "pouch/pouch.h"

namespace pouchwright::tell {

/// One line of the list; price and cost are empty where they are not known.
struct SupplyRow {
  std::string what;
  std::string amount;  ///< to buy now, with its unit; says so where it is not known
  std::string used;    ///< up a pouch; or that the thing is bought once
  std::string price;
  std::string cost;
};

/// What more of a cloth is bought for: `50 mm to square the cut end`.
[[nodiscard]] base::Message extra_said(const batch::ClothExtra& extra);

[[nodiscard]] std::vector<SupplyRow> supply_rows(const batch::Supplies& list,
                                                 const base::Voice& words);

/// What stands below the list, one sentence each: the sum, what the thread holds, sets of cards,
/// what is only a rule of thumb.
[[nodiscard]] std::vector<std::string> supply_notes(const batch::Supplies& list,
                                                    const batch::ThreadRules& rules,
                                                    const std::string& currency,
                                                    const base::Voice& words);

/// What whoever leads can change or look up: prices that are missing, stitches that the job did not
/// choose, what no figure counts.
[[nodiscard]] std::vector<std::string> supply_choices(const batch::Supplies& list,
                                                      const batch::ThreadRules& rules,
                                                      const base::Voice& words);

/// By whose figures the thread of each stitch is counted, and seams that may take more.
[[nodiscard]] std::vector<std::string> thread_sources(const pouch::Pouch& pouch,
                                                      const batch::Supplies& list,
                                                      const batch::ThreadRules& rules,
                                                      const base::Voice& words);

/// What is left when all are made, and how many more it serves: where something is used up.
[[nodiscard]] std::vector<std::string> left_for_more(const batch::Supplies& list,
                                                     const base::Voice& words);

/// What a table needs besides what is bought: tools for each kind of work that the pouch takes.
[[nodiscard]] std::vector<std::string> things_to_lay_ready(const pouch::Pouch& pouch,
                                                           const batch::Supplies& list, int irons,
                                                           const base::Voice& words);

}  // namespace pouchwright::tell
