#include "job/run.h"

#include <algorithm>
#include <utility>
#include <variant>

#include "input/reader.h"

namespace pouchwright::job {

namespace fs = std::filesystem;
using base::Severity;

namespace {

input::Override override_of(const std::string& text) {
  const std::size_t equals = text.find('=');
  if (equals == std::string::npos || equals == 0) {
    throw UsageFault{{"usage-set", {{"text", text}}}, {{"set-no-path-hint"}}};
  }
  return {"--set " + text, text.substr(0, equals), text.substr(equals + 1)};
}

/// A size as TOML. The job would read its bare numbers in its own units, an option's are
/// millimetres: so what was read of the option is written, not its text.
std::string in_mm(base::Length across, base::Length down) {
  return "'" + base::decimal_mm(across) + " x " + base::decimal_mm(down) + " mm'";
}

}  // namespace

Run::Run(const JobOptions& options, const Data& data)
    : options_(options),
      data_(data),
      style_(base::default_style(printed_units().value_or(base::Unit::mm))) {}

// ---- Options ----

std::optional<base::Unit> Run::printed_units() const {
  if (!options_.units) return std::nullopt;
  return base::value_of(base::kUnitWords, *options_.units);
}

base::Length Run::length_of(const std::string& option, const std::string& text) const {
  const auto reading = base::read_length(text, base::Unit::mm);
  const auto* length = std::get_if<base::Length>(&reading);
  if (length && *length > base::Length()) return *length;
  throw UsageFault{{"usage-option", {{"option", option}, {"text", text}}},
                   {{"usage-option-hint" + option}}};
}

input::PaperSize Run::paper() const {
  const std::string text = options_.paper.value_or("A4");
  const auto paper = input::paper_of(text, base::Unit::mm, data_.papers());
  if (paper) return *paper;
  std::string names;
  for (const auto& known : data_.papers()) names += " " + known.name;
  throw UsageFault{{"usage-paper", {{"text", text}}},
                   {{"usage-paper-hint", {{"names", names.substr(1)}}}}};
}

std::vector<input::Override> Run::overrides() const {
  std::vector<input::Override> all;
  for (const std::string& text : options_.sets) all.push_back(override_of(text));
  if (options_.liners) {
    all.push_back({"--liners " + *options_.liners, "liners.count", *options_.liners});
  }
  if (options_.paper) {
    const input::PaperSize read = paper();
    const bool named = std::any_of(data_.papers().begin(), data_.papers().end(),
                                   [&](const auto& one) { return one.name == read.name; });
    all.push_back({"--paper " + *options_.paper, "paper.size",
                   named ? "\"" + read.name + "\"" : in_mm(read.width, read.height)});
  }
  if (options_.printed_square) {
    const auto square = input::length_pair_of(*options_.printed_square, base::Unit::mm);
    if (!square) {
      throw UsageFault{{"usage-printed-square", {{"text", *options_.printed_square}}},
                       {{"usage-printed-square-hint"}}};
    }
    all.push_back({"--printed-square " + *options_.printed_square, "paper.printed_square",
                   in_mm(square->across, square->down)});
  }
  return all;
}

void Run::go_on() const {
  if (options_.goes_on && !options_.goes_on()) throw Stopped();
}

// ---- Reading and deriving ----

std::optional<input::LoadedFile> Run::named_file(const std::string& name) {
  std::optional<input::LoadedFile> found;
  if (name.find('/') == std::string::npos) {
    found = data_.construction(name);
  } else if (options_.naming == Naming::paths) {
    const fs::path path = fs::path(options_.job_file).parent_path() / name;
    std::error_code ignored;
    if (fs::is_directory(path, ignored)) return std::nullopt;
    auto text = read_if_there(path, path.string(), input::kMostBytes);
    if (text) found = input::LoadedFile{path.string(), std::move(*text)};
  }
  if (found) sources_[found->name] = found->text;
  return found;
}

input::Library Run::library() {
  return {data_.materials(), data_.papers(), data_.constructions(),
          [this](const std::string& name) { return named_file(name); },
          [this] { return data_.supplies().thread.known(); }};
}

input::LoadedFile Run::job_file() const {
  if (options_.job_text) return {options_.job_file, *options_.job_text};
  return {options_.job_file, read_whole(options_.job_file, options_.job_file, input::kMostBytes)};
}

bool Run::read_job(const Change& change) {
  const auto all = overrides();
  for (const auto& override : all) sources_[override.shown] = override.text();
  const input::LoadedFile file = job_file();
  sources_[file.name] = file.text;
  settings_ = input::read_job(file, all, printed_units(), library(), diagnostics_);
  if (!settings_) return false;
  style_ = settings_->style;
  if (change) change(settings_->request, diagnostics_);
  if (diagnostics_.has_errors()) return false;
  pouch_ = pouch::derive(settings_->request, diagnostics_);
  tell_unusable_construction();
  return pouch_ && !diagnostics_.has_errors();
}

/// After a fault in the construction's file, the job is told that it cannot use it.
void Run::tell_unusable_construction() {
  const pouch::Construction& construction = settings_->request.construction;
  for (const auto& found : diagnostics_.sorted(Severity::error)) {
    if (found.place.file != construction.place.file) continue;
    diagnostics_.error(settings_->construction_place,
                       {"construction-unusable", {{"construction", construction.name}}});
    return;
  }
}

// ---- Files ----

fs::path Run::out_folder() const {
  fs::path folder = options_.out.empty() ? fs::path(".") : fs::path(options_.out);
  std::error_code ignored;
  if (fs::exists(folder, ignored) && !fs::is_directory(folder, ignored)) {
    throw base::Failure(folder.string(), {"folder-is-a-file"}, {{"folder-cannot-make-hint"}});
  }
  return folder;
}

void Run::write(const OutputFiles& files) {
  const bool reads_file = !options_.job_file.empty() && !options_.job_text;
  for (const MadeFile& made : files.files()) {
    std::error_code ignored;
    if (!reads_file || !fs::equivalent(made.path, options_.job_file, ignored)) continue;
    throw UsageFault{{"usage-out-is-job", {{"file", made.path.string()}}},
                     {{"usage-out-is-job-hint"}}};
  }
  if (options_.writing == Writing::disk) files.write();
  for (const MadeFile& made : files.files()) made_.push_back(made);
}

std::string Run::written() const {
  if (options_.talk == Talk::quiet) return "";
  std::string text;
  for (const MadeFile& made : made_) {
    text += say({"wrote-file", {{"file", made.path.string()}}}) + "\n";
  }
  return text;
}

// ---- Telling ----

std::string Run::shown(const base::Diagnostics& diagnostics, Severity severity) const {
  std::string text;
  for (const auto& one : diagnostics.sorted(severity)) {
    text += base::to_text(one, words(), sources_);
  }
  return text;
}

/// A file that the job names is told of before the job that cannot use it.
std::vector<base::Diagnostic> Run::in_telling_order() const {
  std::vector<base::Diagnostic> all = diagnostics_.sorted();
  std::stable_partition(all.begin(), all.end(), [&](const base::Diagnostic& one) {
    const std::string& file = one.place.file;
    return !file.empty() && file != options_.job_file && !file.starts_with("--");
  });
  return all;
}

void Run::add_diagnostics(Json& report) const {
  report["warnings"] = diagnostics_report(diagnostics_, Severity::warning, words());
  report["errors"] = diagnostics_report(diagnostics_, Severity::error, words());
}

Outcome Run::job_wrong() const {
  Outcome outcome{Status::job_wrong, "", "", {}};
  for (const auto& one : in_telling_order()) {
    outcome.err += base::to_text(one, words(), sources_);
  }
  if (diagnostics_.not_kept() > 0) {
    const int count = diagnostics_.not_kept();
    const char* key = count == 1 ? "one-more-error" : "more-errors";
    outcome.err += say({key, {{"count", count}}}) + "\n";
  }
  if (options_.form == Form::json) {
    Json report;
    add_diagnostics(report);
    outcome.out = dumped(report);
  }
  return outcome;
}

Outcome Run::usage_wrong(const UsageFault& fault) const {
  base::Diagnostics told;
  told.error({}, fault.message, fault.hints);
  return {Status::usage_wrong, "", shown(told, Severity::error), {}};
}

Outcome Run::done(Json report, const std::string& text) {
  Outcome outcome;
  if (options_.talk == Talk::normal) outcome.err = shown(diagnostics_, Severity::warning);
  if (options_.form == Form::json) {
    add_diagnostics(report);
    outcome.out = dumped(report);
  } else {
    outcome.out = text;
  }
  if (options_.writing == Writing::kept) outcome.files = std::move(made_);
  return outcome;
}

}  // namespace pouchwright::job
