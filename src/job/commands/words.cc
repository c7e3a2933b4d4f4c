#include <algorithm>
#include <optional>
#include <utility>

#include "base/text.h"
#include "ink/flow.h"
#include "input/words_check.h"
#include "job/commands/commands.h"
#include "job/files.h"
#include "job/sheets.h"
#include "render/text.h"

namespace pouchwright::job {

namespace {

using base::Message;

/// One of the program's languages, by its own name or a tag that leads to it.
/// Fails: throws UsageFault.
std::string language_of(const std::string& tag, const Run& run) {
  const std::vector<std::string>& known = run.data().languages();
  if (auto named = base::language_named(tag, known)) return *std::move(named);
  throw UsageFault{{"usage-language", {{"text", tag.substr(0, 40)}}},
                   {{"usage-language-hint", {{"names", base::list_text(known)}}}}};
}

/// The rows of one of the program's own files.
std::vector<input::WordsRow> rows_of(const std::string& language, const Run& run) {
  base::Diagnostics faults;
  auto rows = input::words_rows(run.data().words_file(language), faults);
  Data::refuse(faults);
  return rows;
}

/// The language's own words, without what lies under them.
base::Words own_words(const std::string& language, const Run& run) {
  base::Words::Table table;
  for (const input::WordsRow& row : rows_of(language, run)) table[row.key] = row.text;
  return base::Words(std::move(table));
}

/// A country says only what differs from its language.
bool is_country(const std::string& language) { return language.find('-') != language.npos; }

const char* const kEnglish = "en";

Answer missing(Run& run) {
  const std::string language = language_of(*run.options().words_missing, run);
  const std::string whole =
      is_country(language) ? language.substr(0, language.find('-')) : language;
  const base::Words own = own_words(whole, run);
  const auto english = rows_of(kEnglish, run);
  Made made;
  Cell::List all;
  std::vector<const input::WordsRow*> left;
  for (const input::WordsRow& row : english) {
    if (!own.has(row.key)) left.push_back(&row);
  }
  made.report.heading({"words-missing",
                       {{"language", run.data().words(language).language().name},
                        {"count", left.size()},
                        {"all", english.size()}}});
  for (const input::WordsRow* row : left) {
    made.report.item({row->key, row->text});
    all.emplace_back(Cell::Fields{{"key", row->key}, {"text", row->text}});
  }
  made.report.field("language", language);
  made.report.field("texts", static_cast<std::int64_t>(english.size()));
  made.report.field("missing", std::move(all));
  return made;
}

/// Reads a file that is nobody's yet.
Answer checked(Run& run) {
  const std::string& name = *run.options().words_checked;
  const input::LoadedFile file{name, read_whole(name, name, input::kMostWordsBytes)};
  run.read_from(file);
  input::check_words(file, run.data().words(kEnglish), run.diagnostics());
  if (run.diagnostics().has_errors()) return run.job_wrong();
  Made made;
  made.report.say({"words-good", {{"file", name}}});
  return made;
}

constexpr double kPenLine = 9;  ///< mm: a hand's writing

/// A text with its English over it, and a line for a pen below.
ink::Frame reviewed(const input::WordsRow& english, const std::string& text, double width,
                    const ink::TextMeasure& measure) {
  const ink::Frame said =
      ink::laid_out({{.words = english.key + " · " + english.text,
                      .size = ink::kSmallestSize,
                      .weight = ink::Weight::italic},
                     {.words = text, .size = ink::kLabelSize, .space_before = 0.8}},
                    width, 1, measure);
  ink::Frame made;
  made.place(said, {0, -said.box.y0});
  const double down = said.box.height() + kPenLine;
  made.items.emplace_back(ink::Shape{.group = ink::Group::label,
                                     .path = ink::line({0, down}, {width, down}),
                                     .stroke = ink::Stroke{ink::LinePattern::dotted, 0.25},
                                     .name = "pen"});
  made.box = {0, 0, width, down};
  return made;
}

/// Every text, in the order of the English file, which is that of the papers.
Answer review(Run& run) {
  const std::string language = language_of(*run.options().words_review, run);
  const std::string& out = run.options().out;
  if (out.empty() || out_ending(run) != Ending::pdf) {
    throw UsageFault{{"words-review-out"}, {{"words-review-out-hint"}}};
  }
  const base::Words& words = run.data().words(language);
  const render::FontMeasure measure(run.fonts());
  const std::string title = run.say({"words-review-title", {{"language", words.language().name}}});
  constexpr double kGap = 3;
  ink::Flow flow({"words", title, kSheetRoom},
                 {.first_head = ink::title_head(title, ink::kTitleSize, kSheetRoom, measure),
                  .later_head = ink::title_head(title, ink::kLabelSize, kSheetRoom, measure),
                  .columns = 2,
                  .gap = kGap});
  std::size_t count = 0;
  for (const input::WordsRow& row : rows_of(kEnglish, run)) {
    if (row.key.starts_with("language-")) continue;
    flow.add(reviewed(row, std::string(words.text(row.key).value_or("")), flow.width(), measure));
    ++count;
  }
  Made made{{}, {}, Made::Told::files};
  made.report.field("language", language);
  made.report.field("texts", static_cast<std::int64_t>(count));
  made.files.add(out, sheet_bytes(run, "words", Ending::pdf, flow.pages()));
  return made;
}

}  // namespace

Answer words(Run& run) {
  const JobOptions& options = run.options();
  const int asked = (options.words_missing ? 1 : 0) + (options.words_review ? 1 : 0) +
                    (options.words_checked ? 1 : 0);
  if (asked != 1) throw UsageFault{{"words-what"}, {{"words-what-hint"}}};
  if (options.words_missing) return missing(run);
  return options.words_checked ? checked(run) : review(run);
}

}  // namespace pouchwright::job
