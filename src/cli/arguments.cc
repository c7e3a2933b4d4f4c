#include "cli/arguments.h"

#include <CLI/CLI.hpp>
#include <algorithm>
#include <optional>
#include <sstream>
#include <string>
#include <string_view>
#include <vector>

#include "base/diagnostic.h"
#include "cli/manual.h"
#include "cli/told.h"
#include "job/limits.h"

namespace pouchwright::cli {

namespace {

using job::CommandRow;
using job::Follows;
using job::OptionRow;

/// Example, exit codes and limits, below the commands; the library ends the last line.
std::string footer(const base::Voice& words) {
  std::string text = words.say("cli-footer") + "\n\n" + words.say("manual-exit") + "\n";
  for (const job::Status status : job::told_statuses()) {
    const std::string code = std::to_string(static_cast<int>(status));
    text += "  " + code + std::string(4 - code.size(), ' ') +
            words.say(base::Message("manual-exit-" + code)) + "\n";
  }
  text += "\n" + words.say("manual-limits") + "\n";
  for (const base::Message& most : job::limits()) text += "  " + words.say(most) + "\n";
  text.pop_back();
  return text;
}

class Arguments {
 public:
  /// All commands are listed, but only those that `given` names have their options: to set up all
  /// took longer than to read a job.
  Arguments(const base::Voice& words, const std::vector<std::string_view>& given)
      : words_(words), app_(words.say("cli-about"), "pouchwright") {
    app_.set_version_flag("--version", "pouchwright " POUCHWRIGHT_VERSION,
                          words.say("cli-version"));
    app_.set_help_flag("-h,--help", words.say("cli-help"));
    app_.require_subcommand(1);
    app_.footer([this] { return footer(words_); });
    print_instead("--manual-page", "cli-manual-page", manual_page);
    print_instead("--completion", "cli-completion", completion);
    for (const CommandRow& row : job::command_table()) {
      add(row, std::find(given.begin(), given.end(), row.name) != given.end());
    }
    add_desk();
  }

  Asked read(int argc, const char* const* argv) {
    try {
      app_.parse(argc, argv);
    } catch (const CLI::Success& asked_for_help) {
      if (!printed_.empty()) return {std::nullopt, {job::Status::done, printed_, "", {}}};
      std::ostringstream out;
      std::ostringstream err;
      app_.exit(asked_for_help, out, err);
      return {std::nullopt, {job::Status::done, out.str(), "", {}}};
    } catch (const CLI::ParseError& error) {
      // The library's own exit codes are 104, 106 …; ours for a wrong command line is 2.
      return wrong(unknown_command(argc, argv).value_or(error.what()));
    }
    if (desk_command_->parsed()) return {std::nullopt, {}, desk_};
    const CommandRow& row = job::row_of(options_.command);
    const bool is_alone = row.goes_alone != nullptr && row.goes_alone(options_);
    if (row.needs != job::Needs::nothing && options_.job_file.empty() && !is_alone) {
      return wrong(words_.say("cli-no-job"));
    }
    if (const auto why = idle_option(row, is_alone)) return wrong(*why);
    return {options_, {}};
  }

 private:
  /// An option that is given and would be passed over: without a job nothing of it can be changed,
  /// and with one its cloth and pieces stand there.
  [[nodiscard]] std::optional<std::string> idle_option(const CommandRow& row, bool is_alone) const {
    const CLI::App& command = *app_.get_subcommand(row.name);
    for (const OptionRow* option : is_alone ? row.only_with_job : row.only_alone) {
      if (command.get_option(option->name)->count() == 0) continue;
      return words_.say(
          {is_alone ? "cli-lay-has-no-job" : "cli-lay-has-job", {{"option", option->name}}});
    }
    return std::nullopt;
  }

  [[nodiscard]] Asked wrong(const std::string& why) const {
    const std::string text =
        words_.say({"cli-wrong", {{"why", why}}}) + "\n" + words_.say("cli-wrong-hint") + "\n";
    return {std::nullopt, {job::Status::usage_wrong, "", text, {}}};
  }

  /// The library only says that a command is missing.
  [[nodiscard]] std::optional<std::string> unknown_command(int argc,
                                                           const char* const* argv) const {
    if (argc < 2 || argv[1][0] == '-') return std::nullopt;
    std::vector<std::string> names = {desk_command_->get_name()};
    for (const CommandRow& row : job::command_table()) names.emplace_back(row.name);
    if (std::find(names.begin(), names.end(), argv[1]) != names.end()) return std::nullopt;
    const std::string near = base::nearest(argv[1], names);
    return words_.say({near.empty() ? "cli-unknown-command" : "cli-unknown-command-near",
                       {{"text", std::string(argv[1]).substr(0, 40)}, {"near", near}}});
  }

  /// A flag of the program itself, which prints a text and leaves.
  void print_instead(const char* name, const char* key, std::string (*text)(const base::Voice&)) {
    app_.add_flag_callback(
        name,
        [this, text] {
          printed_ = text(words_);
          throw CLI::Success();
        },
        words_.say(key));
  }

  CLI::App* command_called(const std::string& name) {
    const std::string key = "cli-" + name;
    CLI::App* command = app_.add_subcommand(name, words_.say(base::Message(key)));
    command->set_help_flag("-h,--help", words_.say("cli-help"));
    command->footer(words_.say(base::Message(key + "-example")));
    return command;
  }

  void add(const CommandRow& row, bool is_given) {
    CLI::App* command = command_called(row.name);
    if (!is_given) return;
    command->callback([this, chosen = row.command] { options_.command = chosen; });
    for (const OptionRow* word : row.words) add(*command, *word);
    for (const OptionRow* option : row.options) add(*command, *option);
  }

  void add(CLI::App& command, const OptionRow& row) {
    const std::string about = words_.say(row.key);
    if (row.follows == Follows::nothing) {
      command.add_flag_callback(
          names_of(row, ","), [this, &row] { row.take(options_, ""); }, about);
      return;
    }
    const auto take = [this, &row](const std::vector<std::string>& texts) {
      for (const std::string& text : texts) row.take(options_, text);
      return true;
    };
    CLI::Option* option = command.add_option(names_of(row, ","), take, about);
    // One value each time, so that a job's path after it is not swallowed.
    option->type_size(1)->expected(1)->allow_extra_args(false)->type_name(row.value);
    // Words without a dash are as many as there are.
    if (row.times == job::Times::often && row.name[0] != '-') option->expected(-1);
    if (row.times == job::Times::often) {
      option->multi_option_policy(CLI::MultiOptionPolicy::TakeAll);
    }
    const std::vector<std::string> choices = row.choices();
    if (!choices.empty()) option->type_name("TEXT")->check(CLI::IsMember(choices));
    if (row.follows == Follows::whole_number) {
      option->type_name("")->check(
          CLI::Validator([this](std::string& text) { return whole_number(text); }, ""));
    }
  }

  void add_desk() {
    desk_command_ = command_called("desk");
    desk_command_->add_option(port_option().name, desk_.port, words_.say(port_option().key))
        ->check(CLI::Range(0, 65535))
        ->type_name(port_option().value);
    desk_command_->add_flag(open_option().name, desk_.opens_browser, words_.say(open_option().key));
  }

  /// What is wrong with a text that is to be a whole number; whether one makes sense, the job says.
  [[nodiscard]] std::string whole_number(const std::string& text) const {
    const std::size_t first = text.starts_with('-') ? 1 : 0;
    const bool digits = text.size() > first && text.size() < first + 10 &&
                        text.find_first_not_of("0123456789", first) == std::string::npos;
    return digits ? "" : words_.say({"cli-not-whole", {{"text", text.substr(0, 40)}}});
  }

  base::Voice words_;
  CLI::App app_;
  job::JobOptions options_;
  CLI::App* desk_command_ = nullptr;
  desk::Settings desk_;
  std::string printed_;
};

}  // namespace

Asked read_arguments(int argc, const char* const* argv, const base::Voice& words) {
  return Arguments(words, {argv, argv + argc}).read(argc, argv);
}

}  // namespace pouchwright::cli
