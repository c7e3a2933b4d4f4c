/// Parts of reports, as fields for machines and as rows for people.
///
/// Inside `job` only.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/voice.h"
#include "batch/supplies.h"
#include "job/report/report.h"
#include "pouch/judge/content.h"
#include "pouch/judge/fill.h"
#include "pouch/pouch.h"
#include "tell/construction.h"

namespace pouchwright::job {

using tell::by;
/// `{width_mm, length_mm}`
[[nodiscard]] Cell::Fields sides(base::Length width, base::Length length);
[[nodiscard]] base::Message from_to(const pouch::Interval& interval);
/// `{name, from_mm, to_mm}`
[[nodiscard]] Cell::Fields span_fields(const pouch::Span& span);
/// `[[x_mm, y_mm] …]`
[[nodiscard]] Cell::List outline_cells(const pouch::Card& card);

/// `{what, length_mm}`, and for whole pouches `pouches`.
[[nodiscard]] Cell::Fields extra_fields(const batch::ClothExtra& extra);

/// Adds `panels`, `pieces`, `attachments`, `compartments`, `test_here` and `cards`.
void add_parts(Report& report, const pouch::Pouch& pouch);
/// `{name, cloth, width_mm, length_mm, count}`
[[nodiscard]] Cell::Fields cut_fields(const pouch::CutPart& part);
/// Cut sizes of further panels and of pieces.
void part_rows(Report& report, const pouch::Pouch& pouch);

/// The fused bands; in words those of the left side and along the bottom, each with its panel where
/// there are several.
[[nodiscard]] Cell::List zone_cells(const pouch::Pouch& pouch);
void zone_rows(Report& report, const pouch::Pouch& pouch);

/// `{liners, columns, turned, one_more_at_thickness_mm, one_fewer_above_thickness_mm, limited_by, limits: [{limit, has_mm, needs_mm, next_needs_mm, short_mm}]}`;
/// nothing where the job has no liners.
[[nodiscard]] Cell capacity_cell(const std::optional<pouch::Capacity>& capacity);
/// What stops one liner more, and by how much; empty where nothing does.
[[nodiscard]] std::string limits_said(const pouch::Capacity& capacity, const base::Voice& words);

/// Adds `capacity`, `alternatives` (`cloth_mm2` is the panel's own area) and `content`.
void add_content(Report& report, const pouch::Pouch& pouch, const base::Voice& words);
/// `{test_fill_ml, test_level_mm, test_pressure_pa, carry_fill_ml, carry_level_mm, tilt_deg}`.
[[nodiscard]] Cell::Fields fill_fields(const pouch::Fill& fill);
void fill_rows(Report& report, const pouch::Fill& fill);

}  // namespace pouchwright::job
