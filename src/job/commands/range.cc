#include <algorithm>
#include <charconv>
#include <memory>
#include <optional>
#include <utility>

#include "base/length.h"
#include "draw/full_size/card_marks.h"
#include "draw/full_size/cards.h"
#include "draw/full_size/nested.h"
#include "draw/full_size/template.h"
#include "job/commands/commands.h"
#include "job/commands/new_day.h"
#include "job/documents.h"
#include "job/job_text/day_text.h"
#include "job/job_text/edited.h"
#include "job/report/documents.h"
#include "job/report/reports.h"
#include "render/text.h"
#include "tell/capacity.h"

namespace pouchwright::job {

namespace {

using base::Length;
using pouch::Request;
namespace size = pouch::size;

/// One size: its options, and the run that reads and folds it.
struct OneSize {
  int liners = 0;
  JobOptions options;
  std::shared_ptr<Run> run;
};

[[noreturn]] void refuse(const char* key, const std::string& text) {
  throw UsageFault{{key, {{"text", text.substr(0, 60)}}}, {{"range-liners-hint"}}};
}

/// "1,2,3,5": whole numbers, each once. What is too small or too large for a job, the job tells.
std::vector<int> counts_of(const std::string& text) {
  std::vector<int> counts;
  const char* at = text.data();
  const char* const end = at + text.size();
  const auto skip_blanks = [&] {
    while (at != end && *at == ' ') ++at;
  };
  while (true) {
    skip_blanks();
    int count = 0;
    const auto read = std::from_chars(at, end, count);
    if (read.ec != std::errc()) refuse("range-liners", text);
    if (std::find(counts.begin(), counts.end(), count) != counts.end()) {
      refuse("range-liners-twice", std::to_string(count));
    }
    counts.push_back(count);
    at = read.ptr;
    skip_blanks();
    if (at == end) break;
    if (*at++ != ',') refuse("range-liners", text);
  }
  if (counts.size() > draw::kMostNested) {
    refuse("range-too-many", std::to_string(draw::kMostNested));
  }
  std::sort(counts.begin(), counts.end());
  return counts;
}

Length seam_allowance(const Request& request) {
  const auto found = request.sizes.find(size::kSeamAllowance);
  return found == request.sizes.end() ? Length() : found->second.value;
}

bool is_of_the_job(const Request& request, const char* name) {
  const auto found = request.sizes.find(name);
  if (found == request.sizes.end()) return false;
  const auto& stated = found->second.stated;
  return stated && !stated->file.starts_with("--");
}

/// A job that states width and depth describes one pouch, and every size would be that one. So
/// they and the flap are worked out anew, but for those that an option states.
void let_liners_decide(Request& request, base::Diagnostics& diagnostics) {
  if (request.panel) {
    diagnostics.error(
        request.panel->place, {"range-with-panel"},
        {{"range-with-panel-hint",
          {{"width", base::exact(request.panel->width.value - 2 * seam_allowance(request))}}}});
    return;
  }
  if (!is_of_the_job(request, size::kWidth) || !is_of_the_job(request, size::kDepth)) return;
  diagnostics.warning(*request.sizes.at(size::kWidth).stated, {"range-anew"},
                      {{"range-anew-hint"}});
  for (const char* name : {size::kWidth, size::kDepth, size::kFlap}) {
    if (is_of_the_job(request, name)) request.sizes.erase(name);
  }
}

std::string file_suffix(const OneSize& one) { return "-" + std::to_string(one.liners); }

/// Its own below the folder of --out: what is printed together lies together.
std::string folder_of(const OneSize& one) { return "liners" + file_suffix(one) + "/"; }

paper::Pages own_document(OneSize& one, const std::string& name, const char* title,
                          const DrawnAround& drawn, PartOf whole = {}) {
  Run& run = *one.run;
  const std::string words =
      run.say({title, {{"liners", draw::liners_named({one.liners}, run.words())}}});
  paper::Pages pages = paged(run, name + file_suffix(one), words, drawn, whole);
  for (ink::Drawing& drawing : pages.drawings) drawing.name += file_suffix(one);
  return pages;
}

paper::Pages own_template(OneSize& one) {
  Run& run = *one.run;
  const render::FontMeasure measure(run.fonts());
  return own_document(one, "template", "range-template", [&](const ink::Joins& joins) {
    return draw::cutting_templates(run.pouch(), run.settings().pattern, run.paper_words(), measure,
                                   joins);
  });
}

std::vector<ink::Drawing> cards_of(const Run& run, pouch::CardKind kind, const ink::Joins& joins) {
  const render::FontMeasure measure(run.fonts());
  return draw::cards(run.pouch(), kind, run.settings().sole, run.paper_words(), measure, joins);
}

/// Is this card made for each size? One that somebody has serves them all, and then only the job asks
/// for the other.
bool is_made_for_each(const Request& request, pouch::CardKind kind) {
  if (!request.card) return true;
  const pouch::CardUse alone =
      kind == pouch::CardKind::slip ? pouch::CardUse::inside : pouch::CardUse::on_top;
  const bool is_used = request.cards == pouch::CardUse::both || request.cards == alone;
  return request.card->kind != kind && is_used;
}

/// None where no card is made for each size.
std::optional<paper::Pages> own_cards(OneSize& one) {
  const auto drawn = [&](const ink::Joins& joins) {
    std::vector<ink::Drawing> all;
    for (const pouch::CardKind kind : {pouch::CardKind::slip, pouch::CardKind::shield}) {
      if (!is_made_for_each(one.run->pouch().request, kind)) continue;
      for (auto& card : cards_of(*one.run, kind, joins)) all.push_back(std::move(card));
    }
    return all;
  };
  if (drawn({}).empty()) return std::nullopt;
  return own_document(one, "mask", "range-mask", drawn, {.outlines = paper::Outlines::traced});
}

std::vector<draw::NestedSize> drawn_sizes(const std::vector<OneSize>& sizes) {
  std::vector<draw::NestedSize> drawn;
  drawn.reserve(sizes.size());
  for (const OneSize& one : sizes) drawn.push_back({one.liners, &one.run->pouch()});
  return drawn;
}

/// The card that somebody has with a mark for each size, and the top bar that it lacks.
paper::Pages shared_card(const std::vector<OneSize>& sizes) {
  Run& run = *sizes.back().run;
  const render::FontMeasure measure(run.fonts());
  const auto drawn = [&](const ink::Joins& joins) {
    std::vector<ink::Drawing> all = {
        draw::card_marks(drawn_sizes(sizes), run.paper_words(), measure, joins)};
    for (auto& bar : cards_of(run, run.pouch().request.card->kind, joins)) {
      all.push_back(std::move(bar));
    }
    return all;
  };
  return paged(run, "mask", run.say({"range-card"}), drawn, {.outlines = paper::Outlines::traced});
}

paper::Pages nested(std::vector<OneSize>& sizes) {
  Run& run = *sizes.front().run;
  const render::FontMeasure measure(run.fonts());
  return paged(run, "nested", run.say({"range-nested"}), [&](const ink::Joins& joins) {
    return std::vector{
        draw::nested_template(drawn_sizes(sizes), run.paper_words(), measure, joins)};
  });
}

/// Each warning once: what one size is warned of, most others are as well, in other numbers.
void tell_warnings(Run& run, const std::vector<OneSize>& sizes) {
  std::vector<std::pair<base::Place, std::string>> told;
  for (const OneSize& one : sizes) {
    for (const auto& warning : one.run->diagnostics().sorted(base::Severity::warning)) {
      const auto known = std::find_if(told.begin(), told.end(), [&](const auto& other) {
        return other.first.line == warning.place.line && other.first.file == warning.place.file &&
               other.second == warning.message.key;
      });
      if (known != told.end()) continue;
      told.emplace_back(warning.place, warning.message.key);
      run.diagnostics().add(warning);
    }
  }
}

Cell::List size_cells(const std::vector<OneSize>& sizes) {
  return cells(sizes, [](const OneSize& one) {
    Cell::Fields fields = {{"liners", one.liners}};
    for (Field& field : size_report(one.run->pouch(), one.run->words()).fields) {
      fields.push_back(std::move(field));
    }
    fields.push_back({"warnings", one.run->told(base::Severity::warning)});
    return fields;
  });
}

void add_sizes(Report& report, const Run& run, const std::vector<OneSize>& sizes) {
  report.heading("range-sizes");
  for (const OneSize& one : sizes) {
    const pouch::Pouch& pouch = one.run->pouch();
    const bool has_flap = pouch.sizes.flap > base::Length();
    report.item({draw::liners_named({one.liners}, run.words()),
                 base::Message(has_flap ? "range-size" : "range-size-no-flap",
                               {{"cut_width", pouch.sizes.cut_width},
                                {"cut_length", pouch.sizes.cut_length},
                                {"width", pouch.sizes.finished_width},
                                {"depth", pouch.sizes.depth},
                                {"flap", pouch.sizes.flap},
                                {"capacity", tell::capacity_said(*pouch.capacity)},
                                {"water", base::at_most(pouch.water_line())}})});
  }
}

/// Counts that come out as one panel bring nothing over each other.
void add_same_panels(Report& report, const Run& run, const std::vector<OneSize>& sizes) {
  for (std::size_t i = 0; i + 1 < sizes.size(); ++i) {
    const pouch::Sizes& here = sizes[i].run->pouch().sizes;
    const pouch::Sizes& next = sizes[i + 1].run->pouch().sizes;
    if (here.cut_width != next.cut_width || here.main_panel().spans != next.main_panel().spans)
      continue;
    report.say({"range-same",
                {{"less", draw::liners_named({sizes[i].liners}, run.words())},
                 {"more", draw::liners_named({sizes[i + 1].liners}, run.words())}}});
  }
}

/// A day of all sizes, each with its sizes stated, so that the day makes what these pages show.
void add_day(Made& made, const Run& run, const std::vector<OneSize>& sizes) {
  const std::string file = *run.options().day;
  if (std::filesystem::path(file).extension() != ".toml") {
    throw UsageFault{{"usage-option", {{"option", "--day"}, {"text", file.substr(0, 60)}}},
                     {{"usage-option-hint--day"}}};
  }
  if (run.options().writing == Writing::disk) keep_what_is_there(file);
  DayText day;
  for (const OneSize& one : sizes) {
    const pouch::Pouch& pouch = one.run->pouch();
    const base::Unit unit = pouch.request.units;
    const auto exact = [unit](Length length) { return toml_text(base::exact_text(length, unit)); };
    DayText::Make make{path_from(run.options().job_file, file)};
    make.title = draw::liners_named({one.liners}, run.words());
    make.set = {{"liners.count", std::to_string(one.liners)},
                {"pouch.width", exact(pouch.sizes.finished_width)},
                {"pouch.depth", exact(pouch.sizes.depth)}};
    if (pouch.sizes.flap > Length()) make.set.push_back({"pouch.flap", exact(pouch.sizes.flap)});
    day.makes.push_back(std::move(make));
  }
  made.files.add(file, day_text(day, run.words()));
}

}  // namespace

Answer range(Run& run) {
  if (!run.options().liners) {
    throw UsageFault{{"range-no-liners"}, {{"range-liners-hint"}}};
  }
  std::vector<OneSize> sizes;
  for (const int liners : counts_of(*run.options().liners)) {
    OneSize one{liners, run.options(), nullptr};
    one.options.liners = std::to_string(liners);
    sizes.push_back(std::move(one));
  }
  // What the largest asks for would do for the others that are too small.
  Run* wrong = nullptr;
  for (OneSize& one : sizes) {
    one.run = std::make_shared<Run>(one.options, run.data());
    if (!one.run->read_job(let_liners_decide)) wrong = one.run.get();
  }
  if (wrong != nullptr) return wrong->job_wrong();
  run.speak_in(sizes.front().run->style());
  Made made{{}, {}, Made::Told::prints};
  Cell::List documents;
  const auto add = [&](OneSize& one, const paper::Pages& pages, const std::string& folder = {}) {
    if (one.run->diagnostics().has_errors()) return false;
    add_document(made.files, pages, run.out_folder() / folder, one.run);
    for (Cell& entry : document_cells(pages, {.pdf = pages.name + ".pdf", .folder = folder})) {
      documents.push_back(std::move(entry));
    }
    return true;
  };
  if (!add(sizes.front(), nested(sizes))) return sizes.front().run->job_wrong();
  for (OneSize& one : sizes) {
    if (!add(one, own_template(one), folder_of(one))) return one.run->job_wrong();
    const auto cards = own_cards(one);
    if (cards && !add(one, *cards, folder_of(one))) return one.run->job_wrong();
  }
  if (sizes.back().run->pouch().request.card && !add(sizes.back(), shared_card(sizes))) {
    return sizes.back().run->job_wrong();
  }
  if (run.options().day) add_day(made, run, sizes);
  tell_warnings(run, sizes);
  made.report.field("sizes", size_cells(sizes));
  made.report.field("documents", std::move(documents));
  add_sizes(made.report, run, sizes);
  add_same_panels(made.report, run, sizes);
  return made;
}

}  // namespace pouchwright::job
