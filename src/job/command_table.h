/// The commands and their options, a row each: what the command line, the desk, the manual page and
/// the shell's completion know of them stands here and nowhere else.
///
///     const CommandRow* row = command_called("size");
///     for (const OptionRow* option : row->options) show(option->name, words.say({option->key}));
///
/// Not for what a command does (see commands/).
#pragma once

#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "job/job.h"

namespace pouchwright::job {

class Run;
struct Day;
struct Made;
using Answer = std::variant<Made, Outcome>;

/// What follows an option.
enum class Follows { nothing, text, whole_number };
enum class Times { once, often };

/// An option, or a word that follows the command without a dash (then `name` has none).
struct OptionRow {
  const char* name;   ///< `--out`; `WHAT`
  const char* brief;  ///< `-o`, or empty
  const char* key;    ///< of the words that tell of it
  /// What follows it, as told: `LENGTH`; `mm|in` are all that may follow.
  std::string value;
  void (*take)(JobOptions&, const std::string&);
  Follows follows = Follows::text;
  Times times = Times::once;
  /// What the desk calls it in a query: `square`, or with its one value `page=test`. Empty: it is
  /// not for the desk.
  const char* query = "";

  /// `mm` and `in` of `mm|in`; empty where anything may follow.
  [[nodiscard]] std::vector<std::string> choices() const;
};

/// How a command comes by its job.
enum class Needs { job, job_for_each_size, nothing };
/// What --out means.
enum class Out { nothing, folder, file };

/// What a command makes of a day's file: each job's own, all of them together, or nothing.
enum class OfDay { each, together, refused };

struct CommandRow {
  const char* name;  ///< told by the words of `cli-NAME`, with an example of `cli-NAME-example`
  Command command;
  Needs needs;
  Out out;
  Answer (*run)(Run&);
  std::vector<const OptionRow*> words;    ///< what may follow it without a dash
  std::vector<const OptionRow*> options;  ///< in the order in which they are told
  /// Does it go without a job, with these options? Then `alone` is run. Null: never.
  bool (*goes_alone)(const JobOptions&) = nullptr;
  Answer (*alone)(Run&) = nullptr;
  /// Options that only mean something without a job, and those that only do with one.
  std::vector<const OptionRow*> only_alone = {};
  std::vector<const OptionRow*> only_with_job = {};
  OfDay of_day = OfDay::each;
  Answer (*run_day)(Run&, const Day&) = nullptr;
};

/// In the order in which they are told.
[[nodiscard]] const std::vector<CommandRow>& command_table();
/// Null where there is none.
[[nodiscard]] const CommandRow* command_called(std::string_view name);
[[nodiscard]] const CommandRow& row_of(Command command);

/// Takes one field of a query. False where the desk has no such option, or it has no such value.
[[nodiscard]] bool take_from_query(JobOptions& options, std::string_view name,
                                   const std::string& value);

/// The exit codes, told by `manual-exit-CODE`.
[[nodiscard]] std::vector<Status> told_statuses();

}  // namespace pouchwright::job
