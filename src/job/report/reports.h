/// The reports, one file each: from what was worked out to what is told of it. A voice is asked only
/// for what words decide.
///
///     const Report report = size_report(pouch, words);
///
/// Inside `job`; the desk's page shows list_report().
#pragma once

#include <string>
#include <vector>

#include "base/voice.h"
#include "batch/savings.h"
#include "job/report/report.h"
#include "pouch/pouch.h"

namespace pouchwright::job {

class Data;
struct ClothPlan;
struct Recorded;
struct ShoppingList;
struct WorkPlan;

/// All fields but warnings and errors, and a table to copy from, in the voice's unit and the other.
/// Of a seal that leaves little for many hands: how wide a better one is. Requires: there is advice.
[[nodiscard]] base::Message seal_advice(const pouch::Pouch& pouch);
[[nodiscard]] Report size_report(const pouch::Pouch& pouch, const base::Voice& words);

/// `lays`, one a remnant and a cloth; a table a lay; the cloths' pieces as rows for a spreadsheet.
[[nodiscard]] Report lay_report(const std::vector<ClothPlan>& plans, const std::string& currency,
                                const base::Voice& words);

/// `now` and `changes`, numbered in words; `tolerance` is what was asked for.
[[nodiscard]] Report savings_report(const batch::Savings& found, int pouches,
                                    base::Length tolerance, const base::Voice& words);

/// All that is bought, with thread, seams and cards; what is bought also as rows for a spreadsheet.
/// Amounts have three decimals, money four: what is added up is not rounded before.
[[nodiscard]] Report supplies_report(const pouch::Pouch& pouch, const ShoppingList& shopping,
                                     const std::string& currency, const base::Voice& words);

/// The plan, its tasks by start and then helper, and each helper's work; the tasks also as rows for
/// a spreadsheet.
[[nodiscard]] Report schedule_report(const WorkPlan& made, const base::Voice& words);
/// Bundles, finish and bound, what holds it up, and who has no work: a line each.
[[nodiscard]] std::vector<base::Message> schedule_summary(const WorkPlan& made);
/// What the letters stand for, where, and minutes a pouch.
[[nodiscard]] std::vector<std::string> key_lines(const WorkPlan& made, const base::Voice& words);

/// What a group's record tells, beside the plan; the bundles also as rows for a spreadsheet.
[[nodiscard]] Report record_report(const Recorded& made, const base::Voice& words);

/// `asked` is "materials", "papers" or "stitches"; empty: all of them, and the constructions in
/// short. Fails: throws base::Failure where the program's own data are at fault.
[[nodiscard]] Report list_report(const Data& data, const std::string& asked,
                                 const base::Voice& words);

}  // namespace pouchwright::job
