/// Reports of what goes into a pouch: capacity, ways to lay the liners, water.
///
/// Inside `job` only: report.h takes them in.
#pragma once

#include <string>
#include <vector>

#include "job/report/size.h"
#include "job/report/table.h"
#include "pouch/pouch.h"

namespace pouchwright::job {

/// `{liners, columns, limited_by, limits [{limit, has_mm, needs_mm, next_needs_mm, short_mm}]}`.
[[nodiscard]] Json capacity_report(const pouch::Capacity& capacity);

/// `[{columns, layers, width_mm, depth_mm, flap_mm, cut, cloth_mm2, holds, chosen}]`; `cloth_mm2`
/// is the panel's own area.
[[nodiscard]] Json alternatives_report(const std::vector<pouch::Alternative>& ways);

/// `{liners, columns, layers, width_mm, length_mm, height_mm}`, or null where nothing goes in.
[[nodiscard]] Json content_report(const pouch::Pouch& pouch);

/// `{test_fill_ml, test_level_mm, test_pressure_pa, carry_fill_ml, carry_level_mm, tilt_deg}`.
[[nodiscard]] Json water_report(const pouch::Fill& fill);

void content_rows(const pouch::Pouch& pouch, const std::vector<pouch::Alternative>& ways,
                  TextTable& table, const base::Voice& words);
void water_rows(const pouch::Fill& fill, TextTable& table, const base::Voice& words);

/// "3 liners in 1 column"
[[nodiscard]] std::string shown(const pouch::Capacity& capacity, const base::Voice& words);
/// "the width, by 5 mm; the flap, by 2 mm"; empty where nothing binds.
[[nodiscard]] std::string shown_limits(const pouch::Capacity& capacity, const base::Voice& words);

}  // namespace pouchwright::job
