#include <algorithm>
#include <filesystem>
#include <utility>

#include "job/commands/record.h"
#include "job/report/reports.h"

namespace pouchwright::job {

using Fields = Cell::Fields;
using base::Message;

namespace {

Cell text_or_null(const std::string& text) { return text.empty() ? Cell() : Cell(text); }

Fields with_bundle(const batch::BundleName& name, Fields more) {
  Fields all{{"bundle", name.bundle},
             {"date", text_or_null(name.date)},
             {"make", text_or_null(name.make)}};
  all.insert(all.end(), more.begin(), more.end());
  return all;
}

Fields bundle_fields(const batch::BundleLeaks& one) {
  return with_bundle(one.name, {{"tested", one.of.tested},
                                {"leaked", one.of.leaked},
                                {"outside_limits", one.outside_limits}});
}

Fields joined_fields(const batch::JoinedLeaks& one) {
  return {{"date", text_or_null(one.first.date)},
          {"first_bundle", one.first.bundle},
          {"last_bundle", one.last.bundle},
          {"tested", one.of.tested},
          {"leaked", one.of.leaked},
          {"most_within_limits", one.most},
          {"outside_limits", one.outside_limits}};
}

Fields station_fields(const batch::StationLeaks& one) {
  const batch::Interval share = batch::clopper_pearson(one.of);
  return {{"operation", one.operation}, {"helper", one.helper},    {"tested", one.of.tested},
          {"leaked", one.of.leaked},    {"share", one.of.share()}, {"low", share.low},
          {"high", share.high}};
}

Fields suspect_fields(const batch::Suspect& one) {
  return {{"operation", one.of.operation}, {"helper", one.of.helper}, {"tested", one.of.of.tested},
          {"leaked", one.of.of.leaked},    {"p_value", one.chance},   {"p_holm", one.corrected},
          {"same_bundles", one.group}};
}

Fields cannot_fields(const batch::CannotTell& one) {
  Cell swap;
  if (!one.other.empty()) {
    swap = Fields{{"helper", one.other}, {"operation", one.other_operation}};
  }
  return {{"operation", one.operation}, {"helper", one.helper}, {"swap_with", swap}};
}

Fields minutes_fields(const batch::OperationMinutes& one, const Recorded& made) {
  const auto planned = made.planned.find(one.operation);
  return {{"operation", one.operation},
          {"pieces", one.pieces},
          {"per_piece", one.a_piece()},
          {"planned", planned == made.planned.end() ? Cell() : Cell(planned->second.a_piece)},
          {"least", one.least_a_piece},
          {"most", one.most_a_piece},
          {"rows", one.rows}};
}

Fields setting_fields(const batch::TrialSetting& one) {
  return {{"dots", one.dots}, {"steam", one.steam}, {"seconds", one.seconds}};
}

Fields trial_fields(const batch::Trial& one) {
  Fields all = setting_fields(one.setting);
  all.push_back({"held", one.held});
  all.push_back({"date", text_or_null(one.date)});
  all.push_back({"note", text_or_null(one.note)});
  return all;
}

Cell seal_cell(const std::optional<batch::ClearSeals>& seals) {
  if (!seals) return {};
  return Fields{{"measured", seals->measured},
                {"least_mm", seals->least},
                {"mean_mm", seals->mean_mm},
                {"spread_mm", seals->spread_mm},
                {"least_wanted_mm", seals->least_wanted},
                {"below", seals->below},
                {"capability", seals->capability}};
}

std::string file_called(const base::Place& place) {
  return std::filesystem::path(place.file).filename().string();
}

Fields left_out_fields(const batch::RowLeftOut& one) {
  return {{"file", file_called(one.at)},
          {"line", one.at.line},
          {"column", one.at.column},
          {"why", one.why}};
}

void add_fields(Report& report, const Recorded& made) {
  const batch::RecordFindings& found = made.found;
  const bool any = found.total.tested > 0;
  report.field("tested", found.total.tested);
  report.field("leaked", found.total.leaked);
  report.field("share", any ? Cell(found.total.share()) : Cell());
  report.field("low", any ? Cell(found.share.low) : Cell());
  report.field("high", any ? Cell(found.share.high) : Cell());
  report.field("by_place", cells(found.by_place, [](const batch::PlaceLeaks& one) {
                 return Fields{{"place", one.place}, {"leaks", one.leaks}};
               }));
  report.field("by_bundle", cells(found.by_bundle, bundle_fields));
  report.field("by_rows", cells(found.rows, joined_fields));
  report.field("by_day", cells(found.by_day, joined_fields));
  report.field("by_station", cells(found.by_station, station_fields));
  report.field("minutes", cells(found.minutes, [&](const batch::OperationMinutes& one) {
                 return minutes_fields(one, made);
               }));
  report.field("suspects", cells(found.suspects, suspect_fields));
  report.field("cannot_tell", cells(found.cannot_tell, cannot_fields));
  report.field("would_show", found.would_show);
  report.field(
      "retests", cells(found.retests, [](const batch::Retest& one) {
        return with_bundle(one.name, {{"tested", one.of.tested}, {"leaked", one.of.leaked}});
      }));
  report.field("trials", cells(found.trials, trial_fields));
  report.field("setting", found.setting ? Cell(setting_fields(*found.setting)) : Cell());
  report.field("clear_seal", seal_cell(found.clear_seals));
  report.field("rows_left_out", cells(made.record.left_out, left_out_fields));
  report.field("operations", cells(made.works, [&](const std::string& id) {
                 return Fields{{"operation", id}, {"name", tell::called(id, made.names)}};
               }));
}

void add_table(Report& report, const Recorded& made) {
  report.table.columns = {{"bundle"},
                          {"date", Table::Quotes::always},
                          {"make", Table::Quotes::always},
                          {"tested"},
                          {"leaked"},
                          {"outside_limits"}};
  for (const batch::BundleLeaks& one : made.found.by_bundle) {
    report.table.rows.push_back(bundle_fields(one));
  }
}

void say_all(Report& report, const char* heading, const std::vector<Message>& sentences) {
  if (sentences.empty()) return;
  report.begin(Block::Look::prose);
  report.heading(heading);
  for (const Message& one : sentences) report.say(one);
}

void say_minutes(Report& report, const Recorded& made) {
  if (made.found.minutes.empty()) return;
  report.begin(Block::Look::table);
  report.line(
      Line::Kind::heading,
      {Message("record-minutes"), Message("record-minutes-pieces"), Message("record-minutes-each"),
       Message("record-minutes-planned"), Message("record-minutes-spread")});
  for (const batch::OperationMinutes& one : made.found.minutes) {
    const auto planned = made.planned.find(one.operation);
    const auto two = [](double minutes) { return base::fixed(minutes, 2); };
    const bool is_planned = planned != made.planned.end();
    report.item({tell::called(one.operation, made.names), one.pieces, two(one.a_piece()),
                 is_planned ? base::Value(two(planned->second.a_piece)) : base::Value(""),
                 Message{"record-minutes-from-to",
                         {{"least", two(one.least_a_piece)}, {"most", two(one.most_a_piece)}}}});
  }
}

void say_left_out(Report& report, const Recorded& made) {
  const auto& rows = made.record.left_out;
  if (rows.empty()) return;
  constexpr std::size_t kMostSaid = 20;
  report.begin(Block::Look::prose);
  report.heading("record-left-out");
  for (std::size_t i = 0; i < std::min(rows.size(), kMostSaid); ++i) {
    report.say({"record-left-out-row",
                {{"file", file_called(rows[i].at)},
                 {"line", rows[i].at.line},
                 {"column", rows[i].at.column},
                 {"why", rows[i].why}}});
  }
  if (rows.size() > kMostSaid) {
    report.say({"record-left-out-more", {{"count", rows.size() - kMostSaid}}});
  }
}

}  // namespace

Report record_report(const Recorded& made, const base::Voice& /*words*/) {
  Report report;
  add_fields(report, made);
  add_table(report, made);
  const batch::RecordFindings& found = made.found;
  say_all(report, "record-title-leaks", tell::record_leaks(found));
  say_all(report, "record-title-places", tell::record_places(found));
  say_all(report, "record-title-limits", tell::record_limits(found));
  say_all(report, "record-title-people", tell::record_people(found, made.names));
  say_all(report, "record-title-alone", tell::record_cannot_tell(found, made.names));
  say_minutes(report, made);
  say_all(report, "record-title-seals", tell::record_seals(found));
  say_all(report, "record-title-iron", tell::record_iron(found));
  say_left_out(report, made);
  return report;
}

}  // namespace pouchwright::job
