#include "job/command_table.h"

#include <algorithm>
#include <charconv>

#include "base/diagnostic.h"
#include "base/text.h"
#include "base/turn.h"
#include "job/commands/commands.h"

namespace pouchwright::job {
namespace {

using Text = const std::string&;

/// Texts that follow an option have been read as whole numbers where the row asks for it.
int number(Text text) {
  int value = 0;
  std::from_chars(text.data(), text.data() + text.size(), value);
  return value;
}

/// The words of an enumeration, as told.
template <class Value, std::size_t kSize>
std::string one_of(const base::Named<Value> (&table)[kSize]) {
  return base::list_text(words_of(table), "|");
}

// ---- Options of every command ----

const OptionRow kJob{"JOB.toml", "", "cli-job", "",
                     [](JobOptions& o, Text text) { o.job_file = text; }};
const OptionRow kSet{"--set",
                     "",
                     "cli-set",
                     "PATH=VALUE",
                     [](JobOptions& o, Text text) { o.sets.push_back(text); },
                     Follows::text,
                     Times::often,
                     "set"};
const OptionRow kLiners{"--liners",
                        "",
                        "cli-liners",
                        "N",
                        [](JobOptions& o, Text text) { o.liners = text; },
                        Follows::whole_number,
                        Times::once,
                        "liners"};
const OptionRow kUnits{"--units",
                       "",
                       "cli-units",
                       one_of(base::kUnitWords),
                       [](JobOptions& o, Text text) { o.units = text; },
                       Follows::text,
                       Times::once,
                       "units"};
const OptionRow kLanguage{"--language",
                          "",
                          "cli-language",
                          "TAG",
                          [](JobOptions& o, Text text) { o.language = text; },
                          Follows::text,
                          Times::once,
                          "language"};
const OptionRow kPaper{"--paper",
                       "",
                       "cli-paper",
                       "NAME|WxH",
                       [](JobOptions& o, Text text) { o.paper = text; },
                       Follows::text,
                       Times::once,
                       "paper"};
const OptionRow kPrintedSquare{"--printed-square",
                               "",
                               "cli-printed-square",
                               "AxB",
                               [](JobOptions& o, Text text) { o.printed_square = text; },
                               Follows::text,
                               Times::once,
                               "square"};
const OptionRow kJson{
    "--json",        "", "cli-json", "", [](JobOptions& o, Text) { o.form = Form::json; },
    Follows::nothing};
/// The desk answers with reports unless it is asked for the table.
const OptionRow kTable{"",
                       "",
                       "",
                       "",
                       [](JobOptions& o, Text) { o.form = Form::text; },
                       Follows::nothing,
                       Times::once,
                       "form=text"};
/// The report with what it tells people, for the page's tables.
const OptionRow kSaid{"",
                      "",
                      "",
                      "",
                      [](JobOptions& o, Text) { o.form = Form::said; },
                      Follows::nothing,
                      Times::once,
                      "form=said"};
const OptionRow kQuiet{
    "--quiet",       "", "cli-quiet", "", [](JobOptions& o, Text) { o.talk = Talk::quiet; },
    Follows::nothing};

/// --out, told as what it means for the command.
OptionRow out(const char* key) {
  return {"--out", "-o", key, "PATH", [](JobOptions& o, Text text) { o.out = text; }};
}
const OptionRow kOutFolder = out("cli-out");
const OptionRow kOutFile = out("cli-out-file");
const OptionRow kOutSheet = out("cli-out-sheet");
const OptionRow kOutSize = out("cli-out-size");
const OptionRow kOutPacket = out("cli-out-packet");
const OptionRow kOutJob = out("cli-out-job");
const OptionRow kOutList = out("cli-out-list");
const OptionRow kOutRecord = out("cli-out-record");

// ---- Options of some ----

const OptionRow kRangeLiners{"--liners", "", "cli-range-liners", "N,N,...",
                             [](JobOptions& o, Text text) { o.liners = text; }};
const OptionRow kOtherLiner{"--other-liner",
                            "",
                            "cli-other-liner",
                            "[NAME =] WxLxT",
                            [](JobOptions& o, Text text) { o.other_liners.push_back(text); },
                            Follows::text,
                            Times::often,
                            "other-liner"};
const OptionRow kRemnant{"--remnant",
                         "",
                         "cli-remnant",
                         "WxL",
                         [](JobOptions& o, Text text) { o.remnant = text; },
                         Follows::text,
                         Times::once,
                         "remnant"};
const OptionRow kTemplate{"--template",
                          "",
                          "cli-template-of-packet",
                          "full|gauge",
                          [](JobOptions& o, Text text) { o.packet_template = text; },
                          Follows::text,
                          Times::once,
                          "template"};
const OptionRow kExplain{
    "--explain",      "",          "cli-explain", "", [](JobOptions& o, Text) { o.explain = true; },
    Follows::nothing, Times::once, "explain=yes"};
const OptionRow kHave{"--have",
                      "",
                      "cli-have",
                      "[CLOTH =] WxL",
                      [](JobOptions& o, Text text) { o.have.push_back(text); },
                      Follows::text,
                      Times::often,
                      "have"};
const OptionRow kPng{
    "--png",         "", "cli-png", "", [](JobOptions& o, Text) { o.previews = Previews::png; },
    Follows::nothing};
const OptionRow kPngSections{"--png",
                             "",
                             "cli-png-sections",
                             "",
                             [](JobOptions& o, Text) { o.previews = Previews::png; },
                             Follows::nothing};
const OptionRow kLinesOnly{"--lines-only",
                           "",
                           "cli-lines-only",
                           "",
                           [](JobOptions& o, Text) { o.lines = Lines::cut_and_fold; },
                           Follows::nothing,
                           Times::once,
                           "lines=cut"};
const OptionRow kTestPage{"--test-page",
                          "",
                          "cli-test-page",
                          "",
                          [](JobOptions& o, Text) { o.test_page = true; },
                          Follows::nothing,
                          Times::once,
                          "page=test"};
const OptionRow kTolerance{"--tolerance",
                           "",
                           "cli-tolerance",
                           "LENGTH",
                           [](JobOptions& o, Text text) { o.tolerance = text; },
                           Follows::text,
                           Times::once,
                           "tolerance"};
const OptionRow kApply{"--apply",
                       "",
                       "cli-apply",
                       "N",
                       [](JobOptions& o, Text text) { o.apply = number(text); },
                       Follows::whole_number};
const OptionRow kRecordFile{"FILE.csv",
                            "",
                            "cli-record-file",
                            "",
                            [](JobOptions& o, Text text) { o.records.push_back(text); },
                            Follows::text,
                            Times::often};
/// The desk has no files: it sends what stands in one.
const OptionRow kRecordText{"",
                            "",
                            "",
                            "",
                            [](JobOptions& o, Text text) { o.record_texts.push_back(text); },
                            Follows::text,
                            Times::often,
                            "record"};
const OptionRow kApplyRecord{"--apply",
                             "",
                             "cli-apply-record",
                             "",
                             [](JobOptions& o, Text) { o.applies_record = true; },
                             Follows::nothing,
                             Times::once,
                             "apply=record"};
const OptionRow kRecordForm{
    "--form",        "", "cli-record-form", "", [](JobOptions& o, Text) { o.record_form = true; },
    Follows::nothing};
const OptionRow kFinished{"--finished",
                          "",
                          "cli-finished",
                          "",
                          [](JobOptions& o, Text) { o.finished = true; },
                          Follows::nothing,
                          Times::once,
                          "picture=finished"};
const OptionRow kWordless{"--wordless",
                          "",
                          "cli-wordless",
                          "",
                          [](JobOptions& o, Text) { o.wordless = true; },
                          Follows::nothing,
                          Times::once,
                          "picture=wordless"};
const OptionRow kOnly{"--only",
                      "",
                      "cli-only",
                      "NAME,NAME,...",
                      [](JobOptions& o, Text text) { o.only = text; },
                      Follows::text,
                      Times::once,
                      "only"};
const OptionRow kWithout{"--without",
                         "",
                         "cli-without",
                         "NAME,NAME,...",
                         [](JobOptions& o, Text text) { o.without = text; },
                         Follows::text,
                         Times::once,
                         "without"};
const OptionRow kCopies{"--copies",
                        "",
                        "cli-copies",
                        "N",
                        [](JobOptions& o, Text text) { o.copies = text; },
                        Follows::text,
                        Times::once,
                        "copies"};
const OptionRow kMissing{"--missing", "", "cli-words-missing", "LANGUAGE",
                         [](JobOptions& o, Text text) { o.words_missing = text; }};
const OptionRow kReview{"--review", "", "cli-words-review", "LANGUAGE",
                        [](JobOptions& o, Text text) { o.words_review = text; }};
const OptionRow kChecked{"--check", "", "cli-words-check", "FILE.toml",
                         [](JobOptions& o, Text text) { o.words_checked = text; }};
const OptionRow kListed{"WHAT", "", "cli-list-what",
                        "constructions|languages|materials|papers|stitches",
                        [](JobOptions& o, Text text) { o.listed = text; }};
const OptionRow kListedName{"NAME", "", "cli-list-name", "",
                            [](JobOptions& o, Text text) { o.listed_name = text; }};

// ---- A cut plan without a job ----

const OptionRow kCloth{"--cloth",
                       "",
                       "cli-cloth",
                       "LENGTH",
                       [](JobOptions& o, Text text) { o.quick.cloth = text; },
                       Follows::text,
                       Times::once,
                       "cloth"};
const OptionRow kPiece{"--piece",
                       "",
                       "cli-piece",
                       "[NAME =] LENGTH x LENGTH [* COUNT]",
                       [](JobOptions& o, Text text) { o.quick.pieces.push_back(text); },
                       Follows::text,
                       Times::often,
                       "piece"};
const OptionRow kTurn{"--turn",
                      "",
                      "cli-turn",
                      one_of(base::kTurnWords),
                      [](JobOptions& o, Text text) { o.quick.turn = text; },
                      Follows::text,
                      Times::once,
                      "turn"};
const OptionRow kCuts{"--cuts", "", "cli-cuts", one_of(lay::kCutsWords),
                      [](JobOptions& o, Text text) { o.quick.cuts = text; }};
const OptionRow kPlies{"--plies", "", "cli-plies", "N|folded N",
                       [](JobOptions& o, Text text) { o.quick.plies = text; }};
const OptionRow kTableLength{"--table-length", "", "cli-table-length", "LENGTH",
                             [](JobOptions& o, Text text) { o.quick.table_length = text; }};
const OptionRow kSelvedge{"--selvedge",
                          "",
                          "cli-selvedge",
                          "LENGTH",
                          [](JobOptions& o, Text text) { o.quick.selvedge = text; },
                          Follows::text,
                          Times::once,
                          "selvedge"};

// ---- Answers of `new` ----

const OptionRow kConstruction{"--construction", "", "cli-answer-construction", "NAME",
                              [](JobOptions& o, Text text) { o.answers.construction = text; }};
const OptionRow kLiner{"--liner", "", "cli-answer-liner", "WxLxT",
                       [](JobOptions& o, Text text) { o.answers.liner = text; }};
const OptionRow kWidth{"--width", "", "cli-answer-width", "LENGTH",
                       [](JobOptions& o, Text text) { o.answers.width = text; }};
const OptionRow kDepth{"--depth", "", "cli-answer-depth", "LENGTH",
                       [](JobOptions& o, Text text) { o.answers.depth = text; }};
const OptionRow kFrom{"--from", "", "cli-answer-from", "liners|pouch|panel|card|cloth",
                      [](JobOptions& o, Text text) { o.answers.from = text; }};
const OptionRow kPanel{"--panel", "", "cli-answer-panel", "WxL",
                       [](JobOptions& o, Text text) { o.answers.panel = text; }};
const OptionRow kFoldAt{"--fold-at", "", "cli-answer-fold-at", "LENGTH,LENGTH,...",
                        [](JobOptions& o, Text text) { o.answers.fold_at = text; }};
const OptionRow kCardKind{"--card-kind", "", "cli-answer-card-kind", one_of(pouch::kCardKindWords),
                          [](JobOptions& o, Text text) { o.answers.card_kind = text; }};
const OptionRow kCard{"--card", "", "cli-answer-card", "WxL",
                      [](JobOptions& o, Text text) { o.answers.card = text; }};
const OptionRow kMachine{"--machine", "", "cli-answer-machine", "overedger|zigzag|straight",
                         [](JobOptions& o, Text text) { o.answers.machine = text; }};
const OptionRow kKnife{"--knife", "", "cli-answer-knife", "LENGTH",
                       [](JobOptions& o, Text text) { o.answers.knife = text; }};
const OptionRow kClothLies{"--plies", "", "cli-answer-plies", "single|folded 2|folded 4",
                           [](JobOptions& o, Text text) { o.answers.plies = text; }};
const OptionRow kLaminate{"--laminate", "", "cli-answer-laminate", "NAME",
                          [](JobOptions& o, Text text) { o.answers.laminate = text; }};
const OptionRow kOuter{"--outer", "", "cli-answer-outer", "NAME",
                       [](JobOptions& o, Text text) { o.answers.outer = text; }};
const OptionRow kPouches{"--pouches", "", "cli-answer-pouches", "N",
                         [](JobOptions& o, Text text) { o.answers.pouches = text; }};
const OptionRow kHelpers{"--helpers", "", "cli-answer-helpers", "N",
                         [](JobOptions& o, Text text) { o.answers.helpers = text; }};
const OptionRow kTitle{"--title", "", "cli-answer-title", "TITLE",
                       [](JobOptions& o, Text text) { o.answers.title = text; }};
const OptionRow kDays{"--day",
                      "",
                      "cli-answer-day",
                      "JOB.toml [* N]",
                      [](JobOptions& o, Text text) { o.answers.days.push_back(text); },
                      Follows::text,
                      Times::often};
const OptionRow kDayOfRange{"--day", "", "cli-range-day", "FILE.toml",
                            [](JobOptions& o, Text text) { o.day = text; }};
const OptionRow kForce{
    "--force",       "", "cli-force", "", [](JobOptions& o, Text) { o.answers.overwrites = true; },
    Follows::nothing};

using Rows = std::vector<const OptionRow*>;

/// A command's own options, then those of every command.
Rows with_common(Rows own, const OptionRow& liners, Rows after_liners, const OptionRow& out_row) {
  own.insert(own.end(), {&kSet, &liners});
  own.insert(own.end(), after_liners.begin(), after_liners.end());
  own.insert(own.end(), {&kUnits, &kLanguage, &kPaper, &kPrintedSquare, &out_row, &kJson, &kQuiet});
  return own;
}

bool asks_for_test_page(const JobOptions& options) { return options.test_page; }
bool asks_for_form(const JobOptions& options) { return options.record_form; }
bool names_no_job(const JobOptions& options) {
  return options.job_file.empty() && !options.quick.pieces.empty();
}

std::vector<CommandRow> rows() {
  const Rows quick{&kCloth, &kPiece, &kTurn, &kCuts, &kPlies, &kTableLength, &kSelvedge};
  const Rows answers{&kFrom,     &kConstruction, &kLiner,     &kWidth,   &kDepth,
                     &kPanel,    &kFoldAt,       &kCardKind,  &kCard,    &kHave,
                     &kLaminate, &kOuter,        &kClothLies, &kMachine, &kKnife,
                     &kPouches,  &kHelpers,      &kTitle,     &kDays,    &kForce};
  const auto plain = [](Rows own, const OptionRow& out_row) {
    return with_common(std::move(own), kLiners, {}, out_row);
  };
  return {
      {"check",
       Command::check,
       Needs::job,
       Out::nothing,
       check,
       {&kJob},
       plain({&kExplain}, kOutFolder)},
      {"size",
       Command::size,
       Needs::job,
       Out::nothing,
       size,
       {&kJob},
       with_common({}, kLiners, {&kOtherLiner, &kRemnant}, kOutSize)},
      {"range",
       Command::range,
       Needs::job_for_each_size,
       Out::folder,
       range,
       {&kJob},
       with_common({&kPng, &kLinesOnly, &kDayOfRange}, kRangeLiners, {}, kOutFolder)},
      {"template",
       Command::cutting_template,
       Needs::job,
       Out::folder,
       cutting_template,
       {&kJob},
       with_common({&kPng, &kLinesOnly, &kTestPage}, kLiners, {&kRemnant}, kOutFolder),
       asks_for_test_page,
       printer_test},
      {"mask",
       Command::mask,
       Needs::job,
       Out::folder,
       mask,
       {&kJob},
       with_common({&kPng, &kLinesOnly}, kLiners, {&kRemnant}, kOutFolder)},
      {"savings",
       Command::savings,
       Needs::job,
       Out::nothing,
       savings,
       {&kJob},
       plain({&kTolerance, &kApply}, kOutFolder)},
      {"lay",
       Command::lay,
       Needs::job,
       Out::file,
       lay,
       {&kJob},
       with_common(quick, kLiners, {&kHave}, kOutFile),
       names_no_job,
       quick_lay,
       quick,
       {&kSet, &kLiners, &kHave}},
      {"supplies",
       Command::supplies,
       Needs::job,
       Out::file,
       supplies,
       {&kJob},
       plain({}, kOutFile)},
      {"schedule",
       Command::schedule,
       Needs::job,
       Out::file,
       schedule,
       {&kJob},
       plain({}, kOutFile)},
      {"steps",
       Command::steps,
       Needs::job,
       Out::file,
       steps,
       {&kJob},
       plain({&kFinished, &kWordless}, kOutSheet)},
      {"record",
       Command::record,
       Needs::job,
       Out::file,
       record,
       {&kJob, &kRecordFile},
       plain({&kApplyRecord, &kRecordForm, &kForce}, kOutRecord),
       asks_for_form,
       record_form},
      {"packet",
       Command::packet,
       Needs::job,
       Out::file,
       packet,
       {&kJob},
       plain({&kOnly, &kWithout, &kTemplate, &kCopies, &kPngSections}, kOutPacket)},
      {"new", Command::new_job, Needs::nothing, Out::nothing, new_job, {}, plain(answers, kOutJob)},
      {"list",
       Command::list,
       Needs::nothing,
       Out::nothing,
       list,
       {&kListed, &kListedName},
       plain({}, kOutList)},
      {"words",
       Command::words,
       Needs::nothing,
       Out::file,
       words,
       {},
       plain({&kMissing, &kReview, &kChecked}, kOutSheet)},
  };
}

/// What all jobs of a day come to together.
std::vector<CommandRow> with_days(std::vector<CommandRow> rows) {
  for (CommandRow& row : rows) {
    if (row.command == Command::range) row.of_day = OfDay::refused;
    if (row.command == Command::lay) row.run_day = lay_of_day;
    if (row.command == Command::supplies) row.run_day = supplies_of_day;
    if (row.command == Command::schedule) row.run_day = schedule_of_day;
    if (row.command == Command::record) row.run_day = record_of_day;
    if (row.command == Command::packet) row.run_day = packet_of_day;
    if (row.run_day != nullptr) row.of_day = OfDay::together;
  }
  return rows;
}

/// Does the field of a query stand for this option, with a value that it takes?
bool is_asked(const OptionRow& option, std::string_view name, const std::string& value) {
  const std::string_view query = option.query;
  if (query.empty()) return false;
  if (option.follows == Follows::nothing) return query == std::string(name) + "=" + value;
  const std::vector<std::string> choices = option.choices();
  return query == name &&
         (choices.empty() || std::find(choices.begin(), choices.end(), value) != choices.end());
}

}  // namespace

std::vector<std::string> OptionRow::choices() const {
  std::vector<std::string> all;
  const std::string_view told = value;
  // `NAME|WxH` tells of two forms; only words in small letters are choices.
  const bool is_choice = told.find('|') != std::string_view::npos &&
                         std::all_of(told.begin(), told.end(),
                                     [](char c) { return c == '|' || (c >= 'a' && c <= 'z'); });
  if (!is_choice) return all;
  for (std::size_t at = 0; at <= told.size();) {
    const std::size_t end = std::min(told.find('|', at), told.size());
    all.emplace_back(told.substr(at, end - at));
    at = end + 1;
  }
  return all;
}

const std::vector<CommandRow>& command_table() {
  static const std::vector<CommandRow> table = with_days(rows());
  return table;
}

const CommandRow* command_called(std::string_view name) {
  const auto& table = command_table();
  const auto found = std::find_if(table.begin(), table.end(),
                                  [&](const CommandRow& row) { return name == row.name; });
  return found == table.end() ? nullptr : &*found;
}

const CommandRow& row_of(Command command) {
  const auto& table = command_table();
  return *std::find_if(table.begin(), table.end(),
                       [&](const CommandRow& row) { return row.command == command; });
}

bool take_from_query(JobOptions& options, std::string_view name, const std::string& value) {
  const auto taken = [&](const OptionRow& option) {
    if (!is_asked(option, name, value)) return false;
    option.take(options, value);
    return true;
  };
  if (taken(kTable) || taken(kSaid) || taken(kRecordText)) return true;
  for (const CommandRow& row : command_table()) {
    if (std::any_of(row.options.begin(), row.options.end(),
                    [&](const OptionRow* option) { return taken(*option); })) {
      return true;
    }
  }
  return false;
}

std::vector<Status> told_statuses() {
  return {Status::done, Status::job_wrong, Status::usage_wrong, Status::machine_refused,
          Status::our_bug};
}

}  // namespace pouchwright::job
