#include "job/job.h"

#include <algorithm>
#include <filesystem>
#include <map>
#include <memory>

#include "batch/savings.h"
#include "diag/diagnostic.h"
#include "drawing/cards.h"
#include "drawing/cutting_template.h"
#include "drawing/lay_picture.h"
#include "input/job.h"
#include "input/reader.h"
#include "job/files.h"
#include "job/report.h"
#include "job/saved_job.h"
#include "paper/pages.h"
#include "paper/test_page.h"
#include "pouch/pouch.h"
#include "render/fonts.h"
#include "render/pdf.h"
#include "render/png.h"
#include "render/svg.h"
#include "render/text.h"

namespace pouchwright::job {

namespace fs = std::filesystem;

namespace {

using diag::Severity;

constexpr double kPreviewDotsPerInch = 96;

/// The command line is at fault: exit 2, before the job is looked at.
struct UsageFault {
  diag::Message message;
  std::vector<diag::Message> hints;
};

/// One run, step by step. What every step needs is loaded when it is first asked for.
class Run {
 public:
  explicit Run(const JobOptions& options) : options_(options), data_(data_folder()) {
    words_ = words_in(data_);
  }

  static diag::Words words_in(const fs::path& data) {
    diag::Diagnostics faults;
    diag::Words words =
        input::read_words(data_file(data, "shared/words/en.toml", faults), faults);
    refuse(faults);
    return words;
  }

  [[nodiscard]] const diag::Words& words() const { return words_; }

  Outcome run() {
    try {
      return options_.command == Command::list ? list() : with_job();
    } catch (const UsageFault& fault) {
      diag::Diagnostics told;
      told.error({}, fault.message, fault.hints);
      return {Status::usage_wrong, "", shown(told, Severity::error)};
    }
  }

 private:
  // ---- Data ------------------------------------------------------------------------------------

  /// Own data at fault is the machine's fault, not the job's.
  static void refuse(const diag::Diagnostics& faults) {
    if (faults.has_errors()) throw diag::Failure(faults.sorted(Severity::error).front());
  }

  static input::LoadedFile data_file(const fs::path& data, const std::string& name,
                                     diag::Diagnostics&) {
    return {name, read_whole(data / name, name, input::kMostBytes)};
  }

  void load_library() {
    diag::Diagnostics faults;
    library_.papers = input::read_papers(data_file(data_, "shared/papers.toml", faults), faults);
    library_.materials =
        input::read_materials(data_file(data_, "shared/materials.toml", faults), faults);
    refuse(faults);
    library_.constructions = construction_names();
    library_.load = [this](const std::string& name) { return named_file(name); };
  }

  /// Files of patterns/ that state operations; starter jobs lie beside them.
  std::vector<std::string> construction_names() const {
    std::vector<std::string> names;
    for (const auto& entry : fs::directory_iterator(data_ / "patterns")) {
      if (entry.path().extension() != ".toml") continue;
      const std::string text =
          read_whole(entry.path(), entry.path().filename().string(), input::kMostBytes);
      if (text.find("[[operation]]") != std::string::npos) {
        names.push_back(entry.path().stem().string());
      }
    }
    std::sort(names.begin(), names.end());
    return names;
  }

  std::optional<input::LoadedFile> named_file(const std::string& name) {
    const bool is_path = name.find('/') != std::string::npos;
    const fs::path path = is_path ? fs::path(options_.job_file).parent_path() / name
                                  : data_ / "patterns" / (name + ".toml");
    const std::string shown = is_path ? path.string() : "patterns/" + name + ".toml";
    std::error_code ignored;
    if (fs::is_directory(path, ignored)) return std::nullopt;
    auto text = read_if_there(path, shown, input::kMostBytes);
    if (!text) return std::nullopt;
    if (!is_path && text->find("[[operation]]") == std::string::npos) return std::nullopt;
    sources_[shown] = *text;
    return input::LoadedFile{shown, std::move(*text)};
  }

  const render::Fonts& fonts() {
    if (!fonts_) fonts_ = std::make_unique<render::Fonts>(data_ / "fonts");
    return *fonts_;
  }

  // ---- Options ---------------------------------------------------------------------------------

  static input::Override override_of(const std::string& text) {
    const std::size_t equals = text.find('=');
    if (equals == std::string::npos || equals == 0) {
      throw UsageFault{{"usage-set", {{"text", text}}}, {{"set-no-path-hint"}}};
    }
    return {"--set " + text, text.substr(0, equals), text.substr(equals + 1)};
  }

  /// Bare numbers of an option are millimetres, whatever the job's units are.
  static std::string in_mm(const std::string& text) {
    const bool ends_bare = !text.empty() && text.back() >= '0' && text.back() <= '9';
    // A literal string of TOML, since an inch mark would end a quoted one.
    return "'" + text + (ends_bare ? " mm'" : "'");
  }

  std::vector<input::Override> overrides() const {
    std::vector<input::Override> all;
    for (const std::string& text : options_.sets) all.push_back(override_of(text));
    if (options_.liners) {
      all.push_back({"--liners " + *options_.liners, "liners.count", *options_.liners});
    }
    if (options_.paper) {
      const auto paper = input::paper_of(*options_.paper, units::Unit::mm, library_.papers);
      if (!paper) {
        std::string names;
        for (const auto& known : library_.papers) names += " " + known.name;
        throw UsageFault{{"usage-paper", {{"text", *options_.paper}}},
                         {{"usage-paper-hint", {{"names", names.substr(1)}}}}};
      }
      const bool named = std::any_of(library_.papers.begin(), library_.papers.end(),
                                     [&](const auto& one) { return one.name == paper->name; });
      all.push_back({"--paper " + *options_.paper, "paper.size",
                     named ? "\"" + paper->name + "\"" : in_mm(*options_.paper)});
    }
    if (options_.printed_square) {
      if (!input::length_pair_of(*options_.printed_square, units::Unit::mm)) {
        throw UsageFault{{"usage-printed-square", {{"text", *options_.printed_square}}},
                         {{"usage-printed-square-hint"}}};
      }
      all.push_back({"--printed-square " + *options_.printed_square, "paper.printed_square",
                     in_mm(*options_.printed_square)});
    }
    return all;
  }

  [[nodiscard]] std::optional<units::Unit> printed_units() const {
    if (!options_.units) return std::nullopt;
    return *options_.units == "in" ? units::Unit::inch : units::Unit::mm;
  }

  // ---- Reading and deriving --------------------------------------------------------------------

  Outcome with_job() {
    load_library();
    if (options_.test_page) return printer_test();
    if (options_.command == Command::lay && options_.job_file.empty()) return quick_lay();
    const auto all = overrides();
    for (const auto& override : all) sources_[override.shown] = override.text();
    input::LoadedFile file{options_.job_file,
                           read_whole(options_.job_file, options_.job_file, input::kMostBytes)};
    sources_[file.name] = file.text;
    auto settings = input::read_job(file, all, printed_units(), library_, diagnostics_);
    if (!settings) return job_wrong();
    auto pouch = pouch::derive(settings->request, diagnostics_);
    tell_unusable_construction(*settings);
    if (!pouch || diagnostics_.has_errors()) return job_wrong();
    switch (options_.command) {
      case Command::check:
        return check(*pouch, *settings);
      case Command::size:
        return size(*pouch);
      case Command::cutting_template:
        return documents(*pouch, *settings, "template");
      case Command::mask:
        return documents(*pouch, *settings, "mask");
      case Command::savings:
        return savings(*pouch, *settings);
      case Command::lay:
        return lay(*pouch, *settings);
      case Command::list:
        break;
    }
    return {};
  }

  /// After a fault in the construction's file, the job is told that it cannot use it.
  void tell_unusable_construction(const input::JobSettings& settings) {
    const std::string& file = settings.request.construction.place.file;
    for (const auto& found : diagnostics_.sorted(Severity::error)) {
      if (found.place.file != file) continue;
      diagnostics_.error(settings.construction_place,
                         {"construction-unusable",
                          {{"construction", settings.request.construction.name}}});
      return;
    }
  }

  // ---- Telling ---------------------------------------------------------------------------------

  std::string shown(const diag::Diagnostics& diagnostics, Severity severity) const {
    std::string text;
    for (const auto& one : diagnostics.sorted(severity)) {
      text += diag::to_text(one, words_, sources_);
    }
    return text;
  }

  /// A file that the job names is told of before the job that cannot use it.
  std::vector<diag::Diagnostic> in_telling_order() const {
    std::vector<diag::Diagnostic> all = diagnostics_.sorted();
    std::stable_partition(all.begin(), all.end(), [&](const diag::Diagnostic& one) {
      const std::string& file = one.place.file;
      return !file.empty() && file != options_.job_file && !file.starts_with("--");
    });
    return all;
  }

  void add_diagnostics(Json& report) const {
    report["warnings"] = diagnostics_report(diagnostics_, Severity::warning, words_);
    report["errors"] = diagnostics_report(diagnostics_, Severity::error, words_);
  }

  Outcome job_wrong() const {
    Outcome outcome{Status::job_wrong, "", ""};
    for (const auto& one : in_telling_order()) {
      outcome.err += diag::to_text(one, words_, sources_);
    }
    if (diagnostics_.not_kept() > 0) {
      outcome.err += words_.say({"more-errors",
                                 {{"count", std::to_string(diagnostics_.not_kept())}}}) + "\n";
    }
    if (options_.form == Form::json) {
      Json report;
      add_diagnostics(report);
      outcome.out = dumped(report);
    }
    return outcome;
  }

  Outcome done(Json report, const std::string& text) const {
    Outcome outcome;
    if (options_.talk == Talk::normal) outcome.err = shown(diagnostics_, Severity::warning);
    if (options_.form == Form::json) {
      add_diagnostics(report);
      outcome.out = dumped(report);
    } else {
      outcome.out = text;
    }
    return outcome;
  }

  // ---- Commands --------------------------------------------------------------------------------

  Outcome check(const pouch::Pouch& pouch, const input::JobSettings& settings) {
    // A check draws as well: paper that leaves no room is a fault of the job.
    (void)paged_documents(pouch, settings, "template");
    if (diagnostics_.has_errors()) return job_wrong();
    const std::size_t count = diagnostics_.sorted(Severity::warning).size();
    const char* key = count == 0 ? "check-fine" : count == 1 ? "check-one-warning" : "check-warnings";
    const std::string text = words_.say(
        {key, {{"job", options_.job_file}, {"count", std::to_string(count)}}});
    return done(size_report(pouch, words_), options_.talk == Talk::quiet ? "" : text + "\n");
  }

  Outcome size(const pouch::Pouch& pouch) {
    return done(size_report(pouch, words_), size_table(pouch, words_));
  }

  paper::Pages paged_documents(const pouch::Pouch& pouch, const input::JobSettings& settings,
                               const std::string& name) {
    const render::PangoMeasure measure(fonts());
    paper::Document document{name, "", {}};
    if (name == "template") {
      document.title = words_.say({"template-document"});
      document.drawings.push_back(drawing::cutting_template(pouch, pattern_of(settings), words_, measure));
    } else {
      document.title = words_.say({"mask-document"});
      const auto cards = pouch.request.cards;
      if (cards != pouch::CardUse::on_top) {
        document.drawings.push_back(drawing::slip_card(pouch, words_, measure));
      }
      if (cards != pouch::CardUse::inside) {
        document.drawings.push_back(drawing::shield(pouch, words_, measure));
      }
    }
    for (auto& drawn : document.drawings) {
      drawn = drawing::in_cutting_order(drawing::from_top_left(std::move(drawn)));
    }
    return paper::paged(document, settings.paper, words_, pouch.request.style.unit, measure,
                        diagnostics_);
  }

  /// The page is about the printer, so it needs no job: paper from --paper, else A4.
  Outcome printer_test() {
    (void)overrides();  // reads --paper, and tells where it cannot be read
    const auto paper =
        input::paper_of(options_.paper.value_or("A4"), units::Unit::mm, library_.papers);
    paper::PageSetup setup;
    setup.width = std::min(paper->width, paper->height);
    setup.height = std::max(paper->width, paper->height);
    const render::PangoMeasure measure(fonts());
    const paper::Pages pages = paper::test_page(
        setup, words_, printed_units().value_or(units::Unit::mm), measure);
    OutputFiles files;
    const fs::path folder = options_.out.empty() ? fs::path(".") : fs::path(options_.out);
    must_be_folder(folder);
    add_files(files, pages, folder, "");
    files.write();
    Json report;
    report["documents"] = documents_report(pages, pages.name + ".pdf");
    return done(report, written(files));
  }

  static drawing::Pattern pattern_of(const input::JobSettings& settings) {
    return settings.pattern == input::Pattern::half ? drawing::Pattern::half
                                                    : drawing::Pattern::whole;
  }

  Outcome documents(const pouch::Pouch& pouch, const input::JobSettings& settings,
                    const std::string& name) {
    const paper::Pages pages = paged_documents(pouch, settings, name);
    if (diagnostics_.has_errors()) return job_wrong();
    const fs::path folder = options_.out.empty() ? fs::path(".") : fs::path(options_.out);
    must_be_folder(folder);
    OutputFiles files;
    add_files(files, pages, folder, pouch.request.title);
    files.write();
    Json report;
    report["documents"] = documents_report(pages, name + ".pdf");
    return done(report, written(files));
  }

  static void must_be_folder(const fs::path& folder) {
    std::error_code ignored;
    if (fs::exists(folder, ignored) && !fs::is_directory(folder, ignored)) {
      throw diag::Failure(folder.string(), {"folder-is-a-file"}, {{"folder-cannot-make-hint"}});
    }
  }

  void add_files(OutputFiles& files, const paper::Pages& pages, const fs::path& folder,
                 const std::string& job_title) {
    const std::string title =
        job_title.empty() ? pages.title : job_title + ": " + pages.title;
    files.add(folder / (pages.name + ".pdf"),
              render::to_pdf(pages, {.title = title}, fonts()));
    const render::TextOutliner outliner(fonts());
    const render::PangoMeasure measure(fonts());
    const std::string note = words_.say({"svg-note"});
    for (const auto& drawn : pages.drawings) {
      const auto& lines = options_.lines == Lines::all
                              ? drawn
                              : drawing::only(drawn, {drawing::Group::cut, drawing::Group::fold});
      files.add(folder / (drawn.name + ".svg"),
                render::canvas_svg(lines, {drawn.title, note}, outliner));
      if (options_.previews == Previews::none) continue;
      files.add(folder / (drawn.name + ".png"),
                render::canvas_png(drawn, kPreviewDotsPerInch, fonts()));
    }
    for (std::size_t page = 0; page < pages.pages.size(); ++page) {
      files.add(folder / page_file_name(pages, page),
                render::page_svg(pages, page, {title, note}, measure, outliner));
    }
  }

  std::string written(const OutputFiles& files) const {
    if (options_.talk == Talk::quiet) return "";
    std::string text;
    for (const auto& [path, bytes] : files.files()) {
      text += words_.say({"wrote-file", {{"file", path.string()}}}) + "\n";
    }
    return text + words_.say({"note-print"}) + "\n";
  }

  // ---- Savings ---------------------------------------------------------------------------------

  [[nodiscard]] units::Length tolerance() const {
    constexpr units::Length kTolerance = units::Length::whole_mm(10);
    if (!options_.tolerance) return kTolerance;
    const auto reading = units::read_length(*options_.tolerance, units::Unit::mm);
    const auto* length = std::get_if<units::Length>(&reading);
    if (length && *length > units::Length()) return *length;
    throw UsageFault{{"usage-option", {{"option", "--tolerance"}, {"text", *options_.tolerance}}},
                     {{"usage-option-hint--tolerance"}}};
  }

  Outcome savings(const pouch::Pouch& pouch, const input::JobSettings& settings) {
    batch::LayingRules rules{settings.lay.cuts, std::nullopt, settings.lay.plies};
    if (settings.lay.table_length) rules.longest = settings.lay.table_length->value;
    const units::Length within = tolerance();
    (void)cloth_plans(pouch, settings, diagnostics_);  // a panel must fit before it can fit better
    if (diagnostics_.has_errors()) return job_wrong();
    const batch::Savings found =
        batch::savings(pouch.request, settings.batch.pouches.value, rules, within);
    std::string text = savings_table(found, within, pouch.request.style, words_);
    if (options_.apply) text += applied(found, pouch.request);
    return done(savings_report(found), text);
  }

  /// Writes the job with one change beside the old one.
  std::string applied(const batch::Savings& found, const pouch::Request& request) {
    const auto index = static_cast<std::size_t>(*options_.apply);
    if (index < 1 || index > found.changes.size()) {
      throw UsageFault{{"usage-apply", {{"number", std::to_string(*options_.apply)},
                                        {"count", std::to_string(found.changes.size())}}},
                       {{"usage-apply-hint"}}};
    }
    std::vector<NewValue> values;
    for (const auto& [path, length] : found.changes[index - 1].set) {
      const std::size_t dot = path.find('.');
      NewValue value{path.substr(0, dot), path.substr(dot + 1),
                     exact_text(length, request.style.unit), {}};
      const diag::Place& place = place_of_value(request, value.table, value.key);
      if (place.file == options_.job_file) value.place = place;
      values.push_back(std::move(value));
    }
    const fs::path old = options_.job_file;
    const fs::path path =
        old.parent_path() / (old.stem().string() + "-saving-" + std::to_string(index) + ".toml");
    OutputFiles files;
    files.add(path, with_sizes(sources_[options_.job_file], values));
    files.write();
    return words_.say({"wrote-file", {{"file", path.string()}}}) + "\n";
  }

  static diag::Place place_of_value(const pouch::Request& request, const std::string& table,
                                    const std::string& key) {
    if (table == "panel" && request.panel) {
      return key == "width" ? request.panel->width.place : request.panel->length.place;
    }
    const auto size = request.sizes.find(key);
    return size == request.sizes.end() ? diag::Place() : size->second.place;
  }

  // ---- Cut plans -------------------------------------------------------------------------------

  Outcome quick_lay() {
    units::LengthStyle style;
    auto made = quick_request(options_.quick, style);
    if (const auto* fault = std::get_if<QuickFault>(&made)) {
      throw UsageFault{fault->message, {fault->hint}};
    }
    if (const auto unit = printed_units()) style = units::default_style(*unit);
    std::vector<ClothPlan> plans = {std::get<ClothPlan>(std::move(made))};
    if (!planned(plans.front(), {}, style, diagnostics_)) return job_wrong();
    return laid(plans, style, "");
  }

  Outcome lay(const pouch::Pouch& pouch, const input::JobSettings& settings) {
    const auto plans = cloth_plans(pouch, settings, diagnostics_);
    if (diagnostics_.has_errors()) return job_wrong();
    return laid(plans, pouch.request.style, settings.batch.currency);
  }

  /// Not at full size, so the pages are only furniture and carry no check square.
  std::string lay_picture(const std::vector<ClothPlan>& plans, units::LengthStyle style,
                          const std::string& ending) {
    constexpr drawing::Point kRoom{190, 277};
    const render::PangoMeasure measure(fonts());
    const auto drawn = drawing::lay_pictures(
        lays_to_draw(plans, style, words_), style, words_, measure, kRoom,
        ending == ".pdf" ? drawing::Breaks::pages : drawing::Breaks::none);
    if (ending == ".svg") {
      const render::TextOutliner outliner(fonts());
      return render::canvas_svg(drawn.front(), {drawn.front().title, drawn.front().title},
                                outliner);
    }
    paper::Pages pages;
    pages.name = "lay";
    pages.title = drawn.front().title;
    pages.width = 210;  // A4, ISO 216
    pages.height = 297;
    for (const drawing::Drawing& one : drawn) {
      paper::Page page;
      page.label = std::to_string(pages.pages.size() + 1);
      page.placements.push_back({.drawing = pages.drawings.size(),
                                 .window = one.extent,
                                 .at = {10, 10},
                                 .cell = page.label});
      pages.drawings.push_back(one);
      pages.pages.push_back(std::move(page));
    }
    return render::to_pdf(pages, {.title = pages.title}, fonts());
  }

  Outcome laid(const std::vector<ClothPlan>& plans, units::LengthStyle style,
               const std::string& currency) {
    Json report;
    report["lays"] = lays_report(plans);
    std::string text = lays_table(plans, style, currency, words_);
    if (!options_.out.empty()) {
      const fs::path path = options_.out;
      const std::string ending = path.extension().string();
      OutputFiles files;
      if (ending == ".csv") {
        files.add(path, lays_csv(plans));
      } else if (ending == ".json") {
        files.add(path, report.dump(2) + "\n");
      } else if (ending == ".pdf" || ending == ".svg") {
        files.add(path, lay_picture(plans, style, ending));
      } else {
        throw UsageFault{{"usage-out-ending", {{"text", options_.out}}},
                         {{"usage-out-ending-hint"}}};
      }
      files.write();
    }
    return done(report, text);
  }

  Outcome list() {
    load_library();
    Json report;
    std::string text = words_.say({"list-constructions"}) + "\n";
    report["constructions"] = Json::array();
    for (const std::string& name : library_.constructions) {
      const auto made = input::read_construction(*named_file(name), name, diagnostics_);
      if (!made) continue;
      text += "  " + name + ": " + made->title + "\n    " + made->about + "\n";
      Json sizes = Json::array();
      for (const auto& rule : made->sizes) {
        sizes.push_back({{"name", rule.name}, {"meaning", rule.meaning}});
        if (rule.standard) sizes.back()["default_mm"] = rule.standard->in_mm();
      }
      report["constructions"].push_back(
          {{"name", name}, {"title", made->title}, {"about", made->about}, {"sizes", sizes}});
    }
    refuse(diagnostics_);
    list_materials(report, text);
    list_papers(report, text);
    return done(report, text);
  }

  void list_materials(Json& report, std::string& text) const {
    const auto style = units::default_style(printed_units().value_or(units::Unit::mm));
    text += "\n" + words_.say({"list-materials"}) + "\n";
    report["materials"] = Json::array();
    for (const auto& material : library_.materials) {
      const bool is_laminate = material.kind == pouch::MaterialKind::laminate;
      const std::string kind = words_.say({is_laminate ? "kind-laminate" : "kind-outer"});
      text += "  " + material.name + ": " +
              words_.say({"list-material-is",
                          {{"kind", kind}, {"width", text_in_both(material.width, style)}}}) +
              "\n";
      report["materials"].push_back({{"name", material.name},
                                     {"kind", is_laminate ? "laminate" : "outer"},
                                     {"width_mm", material.width.in_mm()},
                                     {"selvedge_mm", material.selvedge.in_mm()},
                                     {"thickness_mm", material.thickness.in_mm()},
                                     {"frays", material.frays}});
    }
  }

  void list_papers(Json& report, std::string& text) const {
    text += "\n" + words_.say({"list-papers"}) + "\n";
    report["papers"] = Json::array();
    for (const auto& paper : library_.papers) {
      text += "  " + paper.name + ": " +
              words_.say({"size-by-size",
                          {{"width", units::decimal_mm(paper.width)},
                           {"length", units::decimal_mm(paper.height) + " mm"}}}) +
              "\n";
      report["papers"].push_back({{"name", paper.name},
                                  {"width_mm", paper.width.in_mm()},
                                  {"height_mm", paper.height.in_mm()}});
    }
  }

  const JobOptions& options_;
  fs::path data_;
  diag::Words words_;
  input::Library library_;
  diag::Sources sources_;
  diag::Diagnostics diagnostics_;
  std::unique_ptr<render::Fonts> fonts_;
};

}  // namespace

Outcome refused(const diag::Words& words, const std::exception& failure) {
  diag::Diagnostic told;
  Status status = Status::our_bug;
  if (const auto* ours = dynamic_cast<const diag::Failure*>(&failure)) {
    told = ours->diagnostic();
    status = Status::machine_refused;
  } else if (dynamic_cast<const fs::filesystem_error*>(&failure) ||
             dynamic_cast<const std::bad_alloc*>(&failure)) {
    told.message = {"machine-refused", {{"why", failure.what()}}};
    status = Status::machine_refused;
  } else {
    told.message = {"our-bug", {{"why", failure.what()}}};
  }
  return {status, "", diag::to_text(told, words, {})};
}

diag::Words load_words() { return Run::words_in(data_folder()); }

Outcome run_job(const JobOptions& options) {
  diag::Words words;
  try {
    Run run(options);
    words = run.words();
    return run.run();
  } catch (const std::exception& failure) {
    return refused(words, failure);
  }
}

}  // namespace pouchwright::job
