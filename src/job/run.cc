#include "job/run.h"

#include <algorithm>
#include <utility>
#include <variant>

#include "base/text.h"
#include "batch/thread.h"
#include "input/reader.h"
#include "input/value_places.h"
#include "job/report/print.h"
#include "job/upright.h"

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

/// Files are named without their folders; nothing where nobody can be pointed anywhere.
Cell place_cell(const base::Place& place) {
  if (place.file.empty()) return {};
  const bool is_option = place.file.starts_with("--");
  return Cell::Fields{{"file", is_option ? place.file : fs::path(place.file).filename().string()},
                      {"line", place.line},
                      {"column", place.column}};
}

Cell remedy_cell(const std::optional<base::Remedy>& remedy, const base::Voice& voice) {
  if (!remedy) return {};
  return Cell::Fields{{"path", remedy->path},
                      {"value", base::typed(*remedy, voice)},
                      {"words", base::told(*remedy)}};
}

}  // namespace

Run::Run(JobOptions options, const Data& data)
    : options_(std::move(options)),
      data_(data),
      words_(&data.words()),
      style_(base::default_style(printed_units().value_or(base::Unit::mm))) {}

// ---- Options ----

void Run::speak(const std::optional<std::string>& language) {
  if (options_.language) {
    const auto named = base::language_named(*options_.language, data_.languages());
    if (!named) {
      throw UsageFault{{"usage-language", {{"text", *options_.language}}},
                       {{"usage-language-hint", {{"names", base::list_text(data_.languages())}}}}};
    }
    words_ = &data_.words(*named);
  } else if (language) {
    words_ = &data_.words(*language);
  }
}

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
  if (options_.packet_template) {
    const std::string& text = *options_.packet_template;
    all.push_back({"--template " + text, "packet.template", text});
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

std::optional<input::LoadedFile> Run::file_beside(const std::string& file,
                                                  const std::string& name) const {
  if (options_.naming != Naming::paths) return std::nullopt;
  const fs::path path = fs::path(file).parent_path() / name;
  std::error_code ignored;
  if (fs::is_directory(path, ignored)) return std::nullopt;
  auto text = read_if_there(path, path.string(), input::kMostBytes);
  if (!text) return std::nullopt;
  return input::LoadedFile{path.string(), std::move(*text)};
}

std::optional<input::LoadedFile> Run::named_file(const std::string& name) {
  std::optional<input::LoadedFile> found;
  if (name.find('/') == std::string::npos) {
    found = data_.construction(name);
  } else {
    found = file_beside(options_.job_file, name);
  }
  if (found) sources_[found->name] = found->text;
  return found;
}

input::Library Run::library() {
  return {data_.materials(),
          data_.papers(),
          [this] { return data_.constructions(); },
          [this](const std::string& name) { return named_file(name); },
          [this]() -> const batch::SupplyData& { return data_.supplies(); },
          [this] {
            auto file = data_.group();
            if (file) sources_[file->name] = file->text;
            return file;
          },
          make_,
          languages()};
}

const input::LoadedFile& Run::job_file() const {
  if (!job_file_) {
    const std::string& name = options_.job_file;
    job_file_ = {
        name, options_.job_text ? *options_.job_text : read_whole(name, name, input::kMostBytes)};
  }
  return *job_file_;
}

void Run::is_made_in(const input::LoadedFile& day, const input::Make& make) {
  read_from(day);
  make_ = &make;
}

void Run::take(const Run& other) {
  sources_.insert(other.sources_.begin(), other.sources_.end());
  const auto known = diagnostics_.sorted();
  for (base::Diagnostic& one : other.diagnostics_.sorted()) {
    if (std::find(known.begin(), known.end(), one) == known.end()) diagnostics_.add(std::move(one));
  }
}

base::Voice Run::paper_words() const {
  base::LengthStyle style = style_;
  style.fractions = base::Fractions::set;
  // Nobody types a file's key from paper.
  return {*words_, style, base::FieldNames::words};
}

bool Run::read_job(const Change& change) {
  const auto all = overrides();
  for (const auto& override : all) sources_[override.shown] = override.text();
  const input::LoadedFile& file = job_file();
  sources_[file.name] = file.text;
  settings_ = input::read_job(file, all, printed_units(), library(), diagnostics_);
  if (!settings_) return false;
  style_ = settings_->style;
  speak(settings_->language);
  const batch::StatedStitches& stitches = settings_->batch.stitches;
  const batch::ThreadRules& rules = data_.supplies().thread;
  settings_->request.chains = batch::leaves_chains(settings_->request, stitches, rules);
  settings_->request.end_chains = batch::ends_leave_chains(stitches, rules);
  if (change) change(settings_->request, diagnostics_);
  if (diagnostics_.has_errors()) return false;
  pouch_ = pouch::derive(settings_->request, diagnostics_);
  tell_unusable_construction();
  if (pouch_) tell_upright(*pouch_, data_, diagnostics_);
  return pouch_ && !diagnostics_.has_errors();
}

/// After a fault in the construction's file, the job is told that it cannot use it.
void Run::tell_unusable_construction() {
  const pouch::Request& request = settings_->request;
  for (const auto& found : diagnostics_.sorted(Severity::error)) {
    if (found.place.file != request.places.file.file) continue;
    diagnostics_.error(settings_->construction_place,
                       {"construction-unusable", {{"construction", request.construction.name}}});
    return;
  }
}

std::optional<std::string> Run::source_of(const std::string& file) const {
  const auto found = sources_.find(file);
  return found == sources_.end() ? std::nullopt : std::optional(found->second);
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

std::vector<MadeFile> Run::write(const OutputFiles& files) const {
  const bool reads_file = !options_.job_file.empty() && !options_.job_text;
  for (const fs::path& path : files.paths()) {
    std::error_code ignored;
    if (!reads_file || !fs::equivalent(path, options_.job_file, ignored)) continue;
    throw UsageFault{{"usage-out-is-job", {{"file", path.string()}}}, {{"usage-out-is-job-hint"}}};
  }
  auto made = files.made([this](const fs::path& path) {
    go_on();
    return !options_.wants || options_.wants(path);
  });
  if (options_.writing == Writing::disk) write_whole(made);
  return made;
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

Cell::List Run::told(Severity severity) const {
  const base::Voice voice = words();
  const auto faults = diagnostics_.sorted(severity);
  if (faults.empty()) return {};
  const auto job = sources_.find(options_.job_file);
  const auto places = job == sources_.end()
                          ? std::vector<input::ValuePlace>()
                          : input::value_places({job->first, job->second}, overrides());
  return cells(faults, [&](const base::Diagnostic& one) {
    const std::string path = one.path.empty() ? input::path_at(places, one.place) : one.path;
    return Cell::Fields{
        {"place", place_cell(one.place)},
        {"message", one.message},
        {"hint", base::list_text(one.hints, "; ",
                                 [&](const base::Message& hint) { return voice.say(hint); })},
        {"path", path.empty() ? Cell() : Cell(path)},
        {"missing", one.is_missing},
        {"leaks", one.leaks},
        {"remedy", remedy_cell(one.remedy, voice)}};
  });
}

void Run::add_diagnostics(Cell::Fields& fields) const {
  // For machines what is always so stands among the warnings.
  Cell::List warnings = told(Severity::warning);
  for (Cell& one : told(Severity::note)) warnings.push_back(std::move(one));
  fields.push_back({"warnings", std::move(warnings)});
  fields.push_back({"errors", told(Severity::error)});
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
  if (options_.form != Form::text) {
    Cell::Fields fields;
    add_diagnostics(fields);
    outcome.out = json_text(fields, words());
  }
  return outcome;
}

Outcome Run::usage_wrong(const UsageFault& fault) const {
  base::Diagnostics told;
  told.error({}, fault.message, fault.hints);
  return {Status::usage_wrong, "", shown(told, Severity::error), {}};
}

/// What is found out, then a line for each file where that is said.
std::string Run::text_of(const Made& made) const {
  std::string all = text(made.report.blocks, words());
  if (made.told == Made::Told::nothing || options_.talk == Talk::quiet) return all;
  const std::vector<fs::path> paths = made.files.paths();
  if (paths.empty()) return all;
  const bool prints = made.told == Made::Told::prints;
  if (prints && !all.empty()) all += "\n";
  for (const fs::path& path : paths) {
    all += say({"wrote-file", {{"file", path.string()}}}) + "\n";
  }
  return prints ? all + say({"note-print"}) + "\n" : all;
}

Outcome Run::done(Made made) {
  std::vector<MadeFile> files = write(made.files);
  Outcome outcome;
  if (options_.talk == Talk::normal) outcome.err = shown(diagnostics_, Severity::warning);
  // What is always so is told once: where a job is looked through.
  const bool looks = options_.command == Command::check || options_.command == Command::size;
  if (options_.talk == Talk::normal && looks) outcome.err += shown(diagnostics_, Severity::note);
  if (options_.form == Form::text) {
    outcome.out = text_of(made);
  } else {
    add_diagnostics(made.report.fields);
    Json fields = json(made.report.fields, words());
    if (options_.form == Form::said) fields["said"] = said(made.report.blocks, words());
    outcome.out = json_text(fields);
  }
  if (options_.writing == Writing::kept) outcome.files = std::move(files);
  return outcome;
}

}  // namespace pouchwright::job
