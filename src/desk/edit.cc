#include "desk/edit.h"

#include <algorithm>
#include <nlohmann/json.hpp>

#include "base/message.h"
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

/// The numbers that matter, of the report of `check`.
void add_numbers(const Json& report, const base::Voice& words, Json& made) {
  Json rows = Json::array();
  const auto add = [&](const char* key, const std::string& value) {
    rows.push_back({words.say(base::Message(key)), value});
  };
  const auto said = [&](const Json& mm) { return words.text(length_of(mm)); };
  const auto at_most = [&](const Json& mm) { return words.text(base::at_most(length_of(mm))); };
  const Json& cut = report.at("cut");
  const Json& finished = report.at("finished");
  add("desk-number-cut", said(cut.at("width_mm")) + " × " + said(cut.at("length_mm")));
  add("desk-number-finished",
      said(finished.at("width_mm")) + " × " + said(finished.at("depth_mm")));
  add("desk-number-inside", said(report.at("inside_width_mm")));
  if (const Json capacity = report.value("capacity", Json()); !capacity.is_null()) {
    const int liners = capacity.at("liners").get<int>();
    add("desk-number-capacity", liners == 1 ? words.say({"desk-one-liner"})
                                            : words.say({"desk-liners", {{"count", liners}}}));
  }
  add("desk-number-water", at_most(report.at("water_line_mm")));
  const Json& worst = report.at("clear_seal_worst_mm");
  const base::Length left = length_of(worst);
  add("desk-number-seal", left > base::Length() ? at_most(worst)
                          : left == base::Length()
                              ? words.say({"seal-none-left"})
                              : words.say({"seal-short", {{"short", base::exact(-left)}}}));
  made["numbers"] = rows;
}

/// In the fields of sizes that were left out: what comes of it, or what is usual.
void add_usual(const Json& report, const job::Data& data, const base::Voice& words, Json& made) {
  const auto name = report.at("construction").get<std::string>();
  base::Diagnostics ignored;
  const auto file = data.construction(name);
  const auto construction = file ? input::read_construction(*file, name, ignored) : std::nullopt;
  made["usual"] = Json::object();
  if (construction) {
    for (const pouch::SizeRule& rule : construction->construction.sizes) {
      made["usual"]["pouch." + rule.name] =
          rule.usual(words.unit()) ? words.text(*rule.usual(words.unit())) : "";
    }
  }
  for (const char* size : {"width", "depth", "flap"}) {
    const Json mm = report.at("finished").value(std::string(size) + "_mm", Json());
    made["usual"][std::string("pouch.") + size] = mm.is_number() ? words.text(length_of(mm)) : "";
  }
}

}  // namespace

Answer edited_job(const Fields& changes, const std::string& text, const job::Data& data,
                  const std::function<bool()>& goes_on) {
  std::string job = text;
  for (const auto& [path, typed] : changes) {
    const auto toml = typed.empty() ? std::nullopt : std::optional(job::typed_as_toml(path, typed));
    job = job::edited(job, path, toml).value_or(job);
  }
  Checked check = checked(job, data, goes_on);
  Answer& answer = check.answer;
  if (answer.type != "application/json") return answer;
  const Json report = Json::parse(answer.body);
  Json made;
  made["job"] = job;
  const auto written = job::written_job(job);
  if (written) add_values(*written, made);
  if (answer.status == 200) {
    const auto is_inch = [](const auto& one) { return one.path == "units" && one.typed == "in"; };
    const bool inches = std::any_of(written->values.begin(), written->values.end(), is_inch);
    const base::Voice words(data.words(), {inches ? base::Unit::inch : base::Unit::mm,
                                           length_of(report.at("ruler_mm"))});
    add_numbers(report, words, made);
    add_usual(report, data, words, made);
  }
  made["report"] = report;
  answer.body = made.dump(-1, ' ', false, Json::error_handler_t::replace) + "\n";
  if (answer.status != 200) return std::move(answer);
  return in_parts({{"told", answer.type, answer.body},
                   {"folded", "image/svg+xml", check.pictures.at(0).bytes},
                   {"panel", "image/svg+xml", check.pictures.at(1).bytes}});
}

}  // namespace pouchwright::desk
