#include "job/report/content.h"

#include <algorithm>

#include "base/length.h"
#include "base/number.h"
#include "pouch/judge/content.h"

namespace pouchwright::job {

using base::Length;

namespace {

/// The table shows no more ways than this; the report for machines has all.
constexpr std::size_t kMostWaysShown = 6;

double area_mm2(const pouch::Alternative& way) {
  return way.cut_width.in_mm() * way.cut_length.in_mm();
}

std::string counted(const char* one, const char* many, int count, const base::Voice& words) {
  return words.say({count == 1 ? one : many, {{"count", count}}});
}

std::string shown_columns(int columns, const base::Voice& words) {
  return counted("size-column", "size-columns", columns, words);
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

void way_rows(const std::vector<pouch::Alternative>& all, TextTable& table,
              const base::Voice& words) {
  const auto ways = worth_showing(all);
  if (ways.size() < 2) return;
  constexpr double kSquareMetre = 1e6;  // in mm²
  for (const pouch::Alternative& way : ways) {
    const char* not_chosen = way.holds ? "size-way" : "size-way-small";
    const char* key = !way.chosen ? not_chosen : way.holds ? "size-way-chosen" : "size-way-short";
    table.row(shown_columns(way.columns, words),
              words.say({key,
                         {{"width", way.cut_width},
                          {"length", way.cut_length},
                          {"cloth", base::fixed(area_mm2(way) / kSquareMetre, 4)}}}));
  }
}

}  // namespace

Json capacity_report(const pouch::Capacity& capacity) {
  Json names = Json::array();
  for (const auto limit : capacity.limited_by) names.push_back(word_of(pouch::kLimitWords, limit));
  Json limits = Json::array();
  for (const pouch::LimitState& state : capacity.limits) {
    limits.push_back({{"limit", word_of(pouch::kLimitWords, state.limit)},
                      {"has_mm", state.has.in_mm()},
                      {"needs_mm", state.needs.in_mm()},
                      {"next_needs_mm", state.needs_next.in_mm()},
                      {"short_mm", state.is_short_by().in_mm()}});
  }
  return {{"liners", capacity.liners},
          {"columns", capacity.columns},
          {"limited_by", names},
          {"limits", limits}};
}

Json alternatives_report(const std::vector<pouch::Alternative>& ways) {
  Json report = Json::array();
  for (const pouch::Alternative& way : ways) {
    report.push_back(
        {{"columns", way.columns},
         {"layers", way.layers},
         {"width_mm", way.width.in_mm()},
         {"depth_mm", way.depth.in_mm()},
         {"flap_mm", way.flap.in_mm()},
         {"cut", {{"width_mm", way.cut_width.in_mm()}, {"length_mm", way.cut_length.in_mm()}}},
         {"cloth_mm2", area_mm2(way)},
         {"holds", way.holds},
         {"chosen", way.chosen}});
  }
  return report;
}

Json content_report(const pouch::Pouch& pouch) {
  const auto content = pouch::packed(pouch);
  if (!content) return nullptr;
  return {{"liners", content->liners},
          {"columns", content->columns},
          {"layers", content->layers},
          {"width_mm", content->box.width.in_mm()},
          {"length_mm", content->box.length.in_mm()},
          {"height_mm", content->box.height.in_mm()}};
}

Json water_report(const pouch::Fill& fill) {
  return {{"test_fill_ml", fill.test_ml},
          {"test_level_mm", fill.test_level.in_mm()},
          {"test_pressure_pa", fill.test_pressure_pa},
          {"carry_fill_ml", fill.carry_ml},
          {"carry_level_mm", fill.carry_level.in_mm()},
          {"tilt_deg", pouch::kCarryTiltDegrees}};
}

std::string shown(const pouch::Capacity& capacity, const base::Voice& words) {
  return words.say({"size-capacity-is",
                    {{"liners", counted("size-liner", "size-liners", capacity.liners, words)},
                     {"columns", shown_columns(capacity.columns, words)}}});
}

std::string shown_limits(const pouch::Capacity& capacity, const base::Voice& words) {
  std::string limits;
  for (const pouch::LimitState& state : capacity.limits) {
    if (state.is_short_by() <= Length()) continue;
    limits += (limits.empty() ? "" : "; ") +
              words.say({"size-limit-is",
                         {{"limit", words.say(key_of("limit-", pouch::kLimitWords, state.limit))},
                          {"short", base::at_least(state.is_short_by())}}});
  }
  return limits;
}

void content_rows(const pouch::Pouch& pouch, const std::vector<pouch::Alternative>& ways,
                  TextTable& table, const base::Voice& words) {
  if (!pouch.capacity) return;
  table.heading("size-content");
  table.row("size-capacity", shown(*pouch.capacity, words));
  const std::string limits = shown_limits(*pouch.capacity, words);
  if (!limits.empty()) table.row("size-limited-by", limits);
  way_rows(ways, table, words);
}

void water_rows(const pouch::Fill& fill, TextTable& table, const base::Voice& words) {
  const auto both = [](Length level) { return base::in_both(base::at_most(level)); };
  if (fill.test_level <= Length()) return;
  table.row(
      "size-test-fill",
      words.say({"size-test-fill-is",
                 {{"ml", base::figures(fill.test_ml, 2)}, {"level", both(fill.test_level)}}}));
  const bool tilts = fill.carry_level > Length();
  table.row("size-carry-fill", words.say({tilts ? "size-carry-fill-is" : "size-carry-level",
                                          {{"ml", base::figures(fill.carry_ml, 2)},
                                           {"level", both(fill.carry_level)},
                                           {"tilt", pouch::kCarryTiltDegrees}}}));
}

}  // namespace pouchwright::job
