#include <algorithm>

#include "base/length.h"
#include "base/number.h"
#include "base/text.h"
#include "job/report/parts.h"
#include "tell/capacity.h"
#include "tell/names.h"

namespace pouchwright::job {

using base::Length;
using Fields = Cell::Fields;

namespace {

/// The table shows no more ways than this; the report for machines has all.
constexpr std::size_t kMostWaysShown = 6;

double area_mm2(const pouch::Alternative& way) {
  return way.cut_width.in_mm() * way.cut_length.in_mm();
}

/// The chosen way and those nearest to it in cloth, by columns.
std::vector<pouch::Alternative> worth_showing(std::vector<pouch::Alternative> ways) {
  std::stable_sort(ways.begin(), ways.end(), [](const auto& a, const auto& b) {
    if (a.chosen != b.chosen) return a.chosen;
    if (a.holds != b.holds) return a.holds;
    return area_mm2(a) < area_mm2(b);
  });
  ways.resize(std::min(ways.size(), kMostWaysShown));
  std::stable_sort(ways.begin(), ways.end(),
                   [](const auto& a, const auto& b) { return a.columns < b.columns; });
  return ways;
}

base::Message way_said(const pouch::Alternative& way) {
  base::Message columns = tell::columns_said(way.columns);
  if (way.lies == pouch::Lies::as_given) return columns;
  return {"size-way-turned", {{"columns", std::move(columns)}}};
}

void way_rows(Report& report, const std::vector<pouch::Alternative>& all, base::Unit unit) {
  const auto ways = worth_showing(all);
  if (ways.size() < 2) return;
  for (const pouch::Alternative& way : ways) {
    const char* not_chosen = way.holds ? "size-way" : "size-way-small";
    const char* key = !way.chosen ? not_chosen : way.holds ? "size-way-chosen" : "size-way-short";
    report.row(way_said(way),
               base::Message(key, {{"width", way.cut_width},
                                   {"length", way.cut_length},
                                   {"cloth", tell::area_said(area_mm2(way), 4, unit)}}));
  }
}

Fields way_fields(const pouch::Alternative& way) {
  return {{"turned", way.lies == pouch::Lies::turned},
          {"columns", way.columns},
          {"layers", way.layers},
          {"width_mm", way.width},
          {"depth_mm", way.depth},
          {"flap_mm", way.flap},
          {"cut", sides(way.cut_width, way.cut_length)},
          {"cloth_mm2", area_mm2(way)},
          {"holds", way.holds},
          {"chosen", way.chosen}};
}

Fields limit_fields(const pouch::LimitState& state) {
  return {{"limit", word_of(pouch::kLimitWords, state.limit)},
          {"has_mm", state.has},
          {"needs_mm", state.needs},
          {"next_needs_mm", state.needs_next},
          {"short_mm", state.is_short_by()}};
}

/// Nothing where nothing goes in.
Cell packed_cell(const pouch::Pouch& pouch) {
  const auto content = pouch::packed(pouch);
  if (!content) return {};
  return Fields{{"turned", content->lies == pouch::Lies::turned},
                {"liners", content->liners},
                {"columns", content->columns},
                {"layers", content->layers},
                {"width_mm", content->box.width},
                {"length_mm", content->box.length},
                {"height_mm", content->box.height}};
}

}  // namespace

Cell capacity_cell(const std::optional<pouch::Capacity>& capacity) {
  if (!capacity) return {};
  return Fields{
      {"liners", capacity->liners},
      {"columns", capacity->columns},
      {"turned", capacity->lies == pouch::Lies::turned},
      {"one_more_at_thickness_mm", capacity->one_more_at},
      {"one_fewer_above_thickness_mm", capacity->one_fewer_above},
      {"limited_by",
       cells(capacity->limited_by, [](auto limit) { return word_of(pouch::kLimitWords, limit); })},
      {"limits", cells(capacity->limits, limit_fields)}};
}

std::string limits_said(const pouch::Capacity& capacity, const base::Voice& words) {
  std::vector<std::string> limits;
  for (const pouch::LimitState& state : capacity.limits) {
    if (state.is_short_by() <= Length()) continue;
    const base::Message limit = key_of("limit-", pouch::kLimitWords, state.limit);
    limits.push_back(words.say(
        {"size-limit-is", {{"limit", limit}, {"short", base::at_least(state.is_short_by())}}}));
  }
  return base::list_text(limits, "; ");
}

void add_content(Report& report, const pouch::Pouch& pouch, const base::Voice& words) {
  const std::vector<pouch::Alternative> ways = pouch::alternatives(pouch.request);
  report.field("capacity", capacity_cell(pouch.capacity));
  report.field("alternatives", cells(ways, way_fields));
  report.field("content", packed_cell(pouch));
  if (!pouch.capacity) return;
  report.heading("size-content");
  report.row("size-capacity", tell::capacity_said(*pouch.capacity));
  for (const auto& by_thickness :
       {tell::one_more_said(*pouch.capacity), tell::one_fewer_said(*pouch.capacity)}) {
    if (by_thickness) report.row("size-by-thickness", *by_thickness);
  }
  const std::string limits = limits_said(*pouch.capacity, words);
  if (!limits.empty()) report.row("size-limited-by", limits);
  way_rows(report, ways, words.unit());
}

Fields fill_fields(const pouch::Fill& fill) {
  return {{"test_fill_ml", fill.test_ml},
          {"test_level_mm", fill.test_level},
          {"test_pressure_pa", fill.test_pressure_pa},
          {"carry_fill_ml", fill.carry_ml},
          {"carry_level_mm", fill.carry_level},
          {"tilt_deg", pouch::kCarryTiltDegrees}};
}

void fill_rows(Report& report, const pouch::Fill& fill) {
  const auto both = [](Length level) { return base::in_both(base::at_most(level)); };
  if (fill.test_level <= Length()) return;
  report.row("size-test-fill",
             base::Message("size-test-fill-is", {{"ml", base::figures(fill.test_ml, 2)},
                                                 {"level", both(fill.test_level)}}));
  const bool tilts = fill.carry_level > Length();
  report.row("size-carry-fill", base::Message(tilts ? "size-carry-fill-is" : "size-carry-level",
                                              {{"ml", base::figures(fill.carry_ml, 2)},
                                               {"level", both(fill.carry_level)},
                                               {"tilt", pouch::kCarryTiltDegrees}}));
}

}  // namespace pouchwright::job
