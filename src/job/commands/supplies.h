/// The shopping list of a job: what `supplies` prints and the packet holds.
///
///     const ShoppingList list = shopping_list(run, plans, sewing, {pages, clips});
///     const Report report = supplies_report(run.pouch(), list, currency, words);
///
/// Inside `job` only.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "batch/sampling.h"
#include "batch/supplies.h"
#include "ink/scene.h"
#include "job/commands/cloth_plans.h"
#include "job/day.h"
#include "job/run.h"
#include "job/step_facts.h"

namespace pouchwright::job {

struct ShoppingList {
  batch::SupplyData data;
  batch::Supplies list;
};

/// What only other documents of the job know.
struct OtherCounts {
  std::optional<int> pages{};  ///< that the group is to print; absent where nobody counted them
  batch::ClipNeed clips{};
};

/// Fails: throws base::Failure where shared/stitches.toml is at fault.
[[nodiscard]] ShoppingList shopping_list(const Run& run, const std::vector<ClothPlan>& plans,
                                         const Sewing& sewing, const OtherCounts& counts);
/// Of all jobs of a day; `plans` are the day's.
[[nodiscard]] ShoppingList shopping_list(const Run& run, const Day& day,
                                         const std::vector<ClothPlan>& plans,
                                         const OtherCounts& counts);
/// Of a price that no line asks for, and of a needle reach that is less than the stitch needs.
void warn_of(Run& run, const ShoppingList& shopping);

/// The list as pages of `room`.
[[nodiscard]] std::vector<ink::Drawing> supplies_sheets(const Run& run,
                                                        const ShoppingList& shopping,
                                                        ink::Point room);

[[nodiscard]] std::vector<ink::Drawing> supplies_sheets(const Run& run, const Day& day,
                                                        const ShoppingList& shopping,
                                                        ink::Point room);

/// Clips in use, of jobs made one after the other.
[[nodiscard]] batch::ClipNeed clips_of_day(const Day& day, const std::vector<ClothPlan>& plans);

/// What whoever leads can change of the list; by whose figures it is counted. Sentences.
[[nodiscard]] std::vector<std::string> choices_of(const Run& run, const ShoppingList& shopping);
[[nodiscard]] std::vector<std::string> sources_of(const Run& run, const ShoppingList& shopping);

/// The plan that the job's [batch] aql asks for; absent where it asks for none, and for one pouch,
/// which is tested.
[[nodiscard]] std::optional<batch::SamplingPlan> sampling_of(const batch::Settings& settings);

}  // namespace pouchwright::job
