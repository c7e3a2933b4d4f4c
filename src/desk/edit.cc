#include "desk/edit.h"

#include <algorithm>
#include <nlohmann/json.hpp>
#include <optional>
#include <string_view>
#include <utility>
#include <vector>

#include "base/message.h"
#include "base/text.h"
#include "desk/call.h"
#include "input/day.h"
#include "input/fields.h"
#include "job/job_text/edited.h"

namespace pouchwright::desk {

namespace {

using base::Length;
using Json = nlohmann::ordered_json;

void add_values(const job::WrittenJob& job, Json& made) {
  made["values"] = Json::object();
  for (const job::WrittenValue& one : job.values) {
    made["values"][one.path] = {{"typed", one.typed ? Json(*one.typed) : Json()},
                                {"written", one.written},
                                {"first", one.first},
                                {"last", one.last}};
  }
  made["tables"] = job.tables;
}

Length length_of(const Json& millimetres) { return Length::mm(millimetres.get<double>()); }

std::string liners_said(int liners, const base::Voice& words) {
  return liners == 1 ? words.say({"desk-one-liner"})
                     : words.say({"desk-liners", {{"count", liners}}});
}

std::string area_said(double mm2, const base::Voice& words) {
  constexpr double kMm2InCm2 = 100;
  constexpr double kMm2InSquareInch = 25.4 * 25.4;  // NIST SP 811
  const bool inches = words.unit() == base::Unit::inch;
  return words.say({inches ? "desk-area-inches" : "desk-area-cm",
                    {{"area", base::fixed(mm2 / (inches ? kMm2InSquareInch : kMm2InCm2), 0)}}});
}

/// The numbers that matter, of the report of `check`.
void add_numbers(const Json& report, const base::Voice& words, Json& made) {
  Json rows = Json::array();
  const auto add = [&](const char* key, const std::string& value) {
    rows.push_back({words.say(base::Message(key)), value});
  };
  const auto said = [&](const Json& mm) { return words.text(length_of(mm)); };
  const auto at_most = [&](const Json& mm) { return words.text(base::at_most(length_of(mm))); };
  const Json& finished = report.at("finished");
  add("desk-number-cut", base::list_text(report.at("panels"), "; ", [&](const Json& panel) {
        return said(panel.at("width_mm")) + " × " + said(panel.at("length_mm"));
      }));
  add("desk-number-finished",
      said(finished.at("width_mm")) + " × " + said(finished.at("depth_mm")));
  add("desk-number-inside", said(report.at("inside_width_mm")));
  if (const Json capacity = report.value("capacity", Json()); !capacity.is_null()) {
    add("desk-number-capacity", liners_said(capacity.at("liners").get<int>(), words));
  }
  add("desk-number-water", at_most(report.at("water_line_mm")));
  const Json& worst = report.at("clear_seal_worst_mm");
  const base::Length left = length_of(worst);
  add("desk-number-seal", left > base::Length() ? at_most(worst)
                          : left == base::Length()
                              ? words.say({"seal-none-left"})
                              : words.say({"seal-short", {{"short", base::exact(-left)}}}));
  for (const Json& cloth : report.at("cloth")) {
    const auto material = cloth.at("material").get<std::string>();
    rows.push_back(
        {words.say({"desk-number-cloth", {{"cloth", base::Message("cloth-" + material)}}}),
         area_said(cloth.at("mm2").get<double>(), words)});
  }
  made["numbers"] = rows;
}

/// What a person wants to know first.
void add_answer(const Json& report, const base::Voice& words, Json& made) {
  Json parts = Json::array();
  const auto add = [&](const char* name, const base::Message& message) {
    parts.push_back({{"name", name}, {"words", words.say(message)}});
  };
  const Json capacity = report.value("capacity", Json());
  if (!capacity.is_null()) {
    const int liners = capacity.at("liners").get<int>();
    add("carries", {"desk-answer-carries", {{"liners", liners_said(liners, words)}}});
  }
  const Json& finished = report.at("finished");
  add("size", {"desk-answer-size",
               {{"width", length_of(finished.at("width_mm"))},
                {"depth", length_of(finished.at("depth_mm"))}}});
  const Length water = length_of(report.at("water_line_mm"));
  if (water > Length() && length_of(report.at("clear_seal_worst_mm")) > Length()) {
    add("water", {"desk-answer-water", {{"level", base::at_most(water)}}});
  } else {
    add("water", {"desk-answer-leaks"});
  }
  made["answer"] = std::move(parts);
}

/// Without the quotes of TOML.
std::string as_typed(const std::string& toml) {
  const Json read = Json::parse(toml, nullptr, false);
  return read.is_string() ? read.get<std::string>() : toml;
}

/// Where the panel is folded, as it would be typed.
std::string folds_said(const Json& report, const base::Voice& words) {
  return base::list_text(report.at("folds"), ", ",
                         [&](const Json& fold) { return words.text(length_of(fold.at("at_mm"))); });
}

/// In the fields that were left out: what comes of it, or what is usual.
void add_usual(const Json& report, const job::Data& data, const base::Voice& words, Json& made) {
  Json usual = Json::object();
  for (const input::FieldFacts& field : input::job_fields()) {
    if (field.holds_unless_stated()) usual[field.path()] = as_typed(field.usual_of(words.unit()));
  }
  usual["panel.fold_at"] = folds_said(report, words);
  usual["units"] = word_of(base::kUnitWords, base::Unit::mm);
  usual["materials.laminate"] = input::kLaminate;
  usual["paper.size"] = paper::PageSetup().name;
  const auto name = report.at("construction").get<std::string>();
  base::Diagnostics ignored;
  const auto file = data.construction(name);
  const auto construction = file ? input::read_construction(*file, name, ignored) : std::nullopt;
  if (construction) {
    const auto& closures = construction->construction.closures;
    if (!closures.empty()) usual["pouch.closure"] = closures.front();
    for (const pouch::SizeRule& rule : construction->construction.sizes) {
      usual["pouch." + rule.name] =
          rule.usual(words.unit()) ? words.text(*rule.usual(words.unit())) : "";
    }
    for (const pouch::CountRule& rule : construction->construction.counts) {
      usual["pouch." + rule.name] = std::to_string(rule.standard);
    }
  }
  for (const char* size : {"width", "depth", "flap"}) {
    const Json mm = report.at("finished").value(std::string(size) + "_mm", Json());
    usual[std::string("pouch.") + size] = mm.is_number() ? words.text(length_of(mm)) : "";
  }
  made["usual"] = std::move(usual);
}

// ---- The picture -------------------------------------------------------------------------------

/// The fields that a part of the pouch is about: of each table all, or one value.
const std::vector<std::pair<std::string_view, std::vector<std::string_view>>> kPathsOfParts = {
    {"front", {"pouch.width", "pouch.depth", "pouch.gusset", "materials", "panel"}},
    {"seal",
     {"pouch.seal_width", "pouch.min_clear_seal", "pouch.cards", "iron", "tolerance.place"}},
    {"seam", {"pouch.seam_allowance", "pouch.needle_reach", "stitches", "tolerance.sew"}},
    {"flap",
     {"pouch.flap", "pouch.flap_shape", "pouch.flap_corner", "pouch.closure", "pouch.rolls"}},
    {"opening", {"pouch.lip_drop", "pouch.start_finish", "pouch.end_finish"}},
    {"liners", {"liners"}},
    {"water", {}}};

std::string alt_text(const Json& report, const base::Voice& words) {
  const Json& finished = report.at("finished");
  const Json capacity = report.value("capacity", Json());
  const base::Message size("desk-picture-alt", {{"width", length_of(finished.at("width_mm"))},
                                                {"depth", length_of(finished.at("depth_mm"))}});
  if (capacity.is_null()) return words.say(size);
  return words.say(
      {"desk-picture-alt-liners",
       {{"pouch", size}, {"liners", liners_said(capacity.at("liners").get<int>(), words)}}});
}

/// Sizes that cannot be changed themselves, and what to change instead.
const std::vector<std::pair<std::string_view, std::string_view>> kToldOnly = {
    {"water_line", "pouch.lip_drop"}};

/// Sizes that a panel or a card that is there decides: the job may not state them as well.
std::vector<std::string> decided_by_what_is_there(const std::optional<job::WrittenJob>& written) {
  std::vector<std::string> paths;
  const auto has = [&](std::string_view table) {
    return written && std::any_of(written->tables.begin(), written->tables.end(),
                                  [&](const std::string& one) { return one == table; });
  };
  if (has("panel")) paths = {"pouch.width", "pouch.depth"};
  const auto is_fold = [](const job::WrittenValue& one) { return one.path == "panel.fold_at"; };
  if (written && std::any_of(written->values.begin(), written->values.end(), is_fold)) {
    paths.insert(paths.end(), {"pouch.flap", "pouch.lip_drop"});
  }
  if (has("card")) paths.push_back("pouch.seal_width");
  return paths;
}

void add_picture(const Json& report, const std::string& places,
                 const std::vector<std::string>& decided, const base::Voice& words, Json& made) {
  Json pouch = Json::parse(places);
  pouch["dimensions"] = Json::array();
  for (Json& size : pouch.at("sizes")) {
    const auto name = size.at("name").get<std::string>();
    const std::string path = "pouch." + name;
    size["path"] = path;
    size["about"] = path;
    for (const auto& [known, about] : kToldOnly) {
      if (known == name) size["path"] = nullptr, size["about"] = about;
    }
    if (std::find(decided.begin(), decided.end(), path) != decided.end()) size["path"] = nullptr;
    pouch["dimensions"].push_back(size);
  }
  pouch.erase("sizes");
  for (Json& part : pouch.at("parts")) {
    const auto name = part.at("name").get<std::string>();
    for (const auto& [known, paths] : kPathsOfParts) {
      if (known == name) part["paths"] = paths;
    }
  }
  pouch["alt"] = alt_text(report, words);
  made["pouch"] = std::move(pouch);
}

// ---- What is missing ---------------------------------------------------------------------------

/// Paths of the values that are missing, where nothing else is wrong.
std::vector<std::string> only_missing(const Json& report) {
  std::vector<std::string> paths;
  for (const Json& error : report.at("errors")) {
    if (!error.value("missing", false)) return {};
    paths.push_back(error.at("path").get<std::string>());
  }
  return paths;
}

/// The job without the tables that lack one of these.
std::string without_tables_of(const std::vector<std::string>& paths, const std::string& job) {
  std::string made = job;
  const auto written = job::written_job(job);
  if (!written) return made;
  for (const std::string& path : paths) {
    const std::string table = path.substr(0, path.rfind('.') + 1);
    for (const job::WrittenValue& value : written->values) {
      if (!table.empty() && value.path.starts_with(table)) {
        made = job::edited(made, value.path, std::nullopt).value_or(made);
      }
    }
  }
  return made;
}

/// What `check` says of a job, and what it shows.
struct Checked {
  job::Outcome outcome;
  Json report;

  [[nodiscard]] bool is_right() const { return outcome.status == job::Status::done; }
};

Checked checked(const std::string& job, const job::Data& data,
                const std::function<bool()>& goes_on) {
  job::JobOptions options = options_for(job::row_of(job::Command::check), job, goes_on);
  options.shown = job::Shown::pouch;
  options.field_names = base::FieldNames::words;
  Checked made{job::run_job(options, data), {}};
  if (!made.outcome.out.empty()) made.report = Json::parse(made.outcome.out);
  return made;
}

std::string_view bytes_of(const job::Outcome& outcome, std::string_view name) {
  for (const job::MadeFile& file : outcome.files) {
    if (file.path == name) return file.bytes;
  }
  return {};
}

std::string job_after(const Fields& changes, const std::string& text) {
  std::string job = text;
  for (const auto& [path, typed] : changes) {
    const auto toml = typed.empty() ? std::nullopt : std::optional(job::typed_as_toml(path, typed));
    job = job::edited(job, path, toml).value_or(job);
  }
  return job;
}

base::Voice voice_for(const std::optional<job::WrittenJob>& written, const Json& report,
                      const job::Data& data) {
  const auto is_inch = [](const auto& one) { return one.path == "units" && one.typed == "in"; };
  const bool inches =
      written && std::any_of(written->values.begin(), written->values.end(), is_inch);
  return {data.words(),
          {inches ? base::Unit::inch : base::Unit::mm, length_of(report.at("ruler_mm"))},
          base::FieldNames::words};
}

/// A day of several jobs has no fields, and no one picture.
Answer no_job(const std::string& text, const job::Data& data) {
  const base::Voice words = data.words();
  const Json fault = {{"place", nullptr},
                      {"path", nullptr},
                      {"message", words.say({"desk-day-no-job"})},
                      {"hint", words.say({"desk-day-no-job-hint"})}};
  const Json made = {{"job", text},
                     {"report", {{"warnings", Json::array()}, {"errors", Json::array({fault})}}}};
  return {422, "application/json",
          made.dump(-1, ' ', false, Json::error_handler_t::replace) + "\n"};
}

}  // namespace

Edit read_edit(Fields query) {
  const auto is_panel = [](const auto& one) {
    return one.first == "with" && one.second == "panel";
  };
  const bool with_panel = std::erase_if(query, is_panel) > 0;
  return {std::move(query), with_panel};
}

Answer edited_job(const Edit& edit, const std::string& text, const job::Data& data,
                  const std::function<bool()>& goes_on) {
  if (input::is_day({kJobName, text})) return no_job(text, data);
  const std::string job = job_after(edit.changes, text);
  Checked check = checked(job, data, goes_on);
  if (check.report.is_null()) return told(check.outcome, data.words());
  Json made;
  made["job"] = job;
  const auto written = job::written_job(job);
  if (written) add_values(*written, made);
  made["report"] = check.report;
  const std::vector<std::string> needed = only_missing(check.report);
  made["needed"] = needed;
  if (!needed.empty()) check = checked(without_tables_of(needed, job), data, goes_on);
  const auto text_of = [&] {
    return made.dump(-1, ' ', false, Json::error_handler_t::replace) + "\n";
  };
  if (!check.is_right()) return {422, "application/json", text_of()};
  const base::Voice words = voice_for(written, check.report, data);
  add_answer(check.report, words, made);
  add_numbers(check.report, words, made);
  add_usual(check.report, data, words, made);
  add_picture(check.report, std::string(bytes_of(check.outcome, job::kPouchPlaces)),
              decided_by_what_is_there(written), words, made);
  const std::string body = text_of();
  std::vector<Part> parts{{"told", "application/json", body},
                          {"pouch", "image/svg+xml", bytes_of(check.outcome, job::kPouchPicture)}};
  if (edit.with_panel) {
    parts.push_back({"panel", "image/svg+xml", bytes_of(check.outcome, job::kPanelPicture)});
  }
  return in_parts(parts);
}

}  // namespace pouchwright::desk
