#include "cli/arguments.h"

#include <CLI/CLI.hpp>
#include <optional>
#include <sstream>
#include <string>
#include <vector>

#include "base/diagnostic.h"

namespace pouchwright::cli {

namespace {

using job::Command;
using job::JobOptions;

/// A command's name and key in the words: `cli-NAME` and the example `cli-NAME-example`.
struct CommandName {
  const char* name;
  Command command;
  bool takes_job;
};
constexpr CommandName kCommands[] = {
    {"check", Command::check, true},       {"size", Command::size, true},
    {"range", Command::range, true},       {"template", Command::cutting_template, true},
    {"mask", Command::mask, true},         {"savings", Command::savings, true},
    {"lay", Command::lay, true},           {"supplies", Command::supplies, true},
    {"schedule", Command::schedule, true}, {"steps", Command::steps, true},
    {"packet", Command::packet, true},     {"new", Command::new_job, false},
    {"list", Command::list, false}};

class Arguments {
 public:
  explicit Arguments(const base::Words& words)
      : words_(words), app_(words.say({"cli-about"}), "pouchwright") {
    app_.set_version_flag("--version", "pouchwright " POUCHWRIGHT_VERSION,
                          words.say({"cli-version"}));
    app_.set_help_flag("-h,--help", words.say({"cli-help"}));
    app_.require_subcommand(1);
    app_.footer(words.say({"cli-footer"}));
    for (const CommandName& known : kCommands) add(known);
    add_desk();
  }

  [[nodiscard]] Help help() const {
    Help all{app_.get_description(), app_.get_footer(), options_of(app_), {}};
    for (const CLI::App* command : app_.get_subcommands({})) {
      CommandHelp one{
          command->get_name(), command->get_description(), command->get_footer(), "", {}, {},
          options_of(*command)};
      for (const CLI::Option* option : command->get_options()) {
        if (!option->get_positional()) continue;
        one.job += (one.job.empty() ? "" : " ") + option->get_name(true);
        one.operands.push_back(option_help(*option));
        one.operands.back().names = {option->get_name(true)};
        if (one.subjects.empty()) one.subjects = one.operands.back().choices;
      }
      all.commands.push_back(std::move(one));
    }
    return all;
  }

  Asked read(int argc, const char* const* argv) {
    try {
      app_.parse(argc, argv);
    } catch (const CLI::Success& asked_for_help) {
      std::ostringstream out;
      std::ostringstream err;
      app_.exit(asked_for_help, out, err);
      return {std::nullopt, {job::Status::done, out.str(), "", {}}};
    } catch (const CLI::ParseError& error) {
      // The library's own exit codes are 104, 106 …; ours for a wrong command line is 2.
      return wrong(unknown_command(argc, argv).value_or(error.what()));
    }
    if (desk_command_->parsed()) return {std::nullopt, {}, desk_};
    if (options_.job_file.empty() && needs_job()) return wrong(words_.say({"cli-no-job"}));
    if (const auto why = idle_option_of_lay()) return wrong(*why);
    if (png_) options_.previews = job::Previews::png;
    if (lines_only_) options_.lines = job::Lines::cut_and_fold;
    if (json_) options_.form = job::Form::json;
    if (quiet_) options_.talk = job::Talk::quiet;
    return {options_, {}};
  }

 private:
  static std::vector<OptionHelp> options_of(const CLI::App& app) {
    std::vector<OptionHelp> all;
    for (const CLI::Option* option : app.get_options()) {
      if (!option->get_positional()) all.push_back(option_help(*option));
    }
    return all;
  }

  static OptionHelp option_help(const CLI::Option& option) {
    OptionHelp help;
    for (const std::string& name : option.get_snames()) help.names.push_back("-" + name);
    for (const std::string& name : option.get_lnames()) help.names.push_back("--" + name);
    help.text = option.get_description();
    if (option.get_items_expected_max() == 0) return help;
    // The library puts what a value is held to behind a colon: `TEXT:{mm,in}`, `:N`.
    const std::string type = option.get_type_name();
    const std::size_t colon = type.find(':');
    help.value = colon == std::string::npos ? type : type.substr(colon + 1);
    if (!help.value.starts_with('{')) return help;
    help.choices = CLI::detail::split(help.value.substr(1, help.value.size() - 2), ',');
    help.value = CLI::detail::join(help.choices, "|");
    return help;
  }

  [[nodiscard]] bool needs_job() const {
    const bool is_quick = options_.command == Command::lay && !options_.quick.pieces.empty();
    const bool takes_none =
        options_.command == Command::list || options_.command == Command::new_job;
    return !takes_none && !options_.test_page && !is_quick;
  }

  /// What `lay` is given and would not look at: a job's cloth and pieces stand in the job, and
  /// where there is no job, nothing of it can be set.
  [[nodiscard]] std::optional<std::string> idle_option_of_lay() const {
    if (options_.command != Command::lay) return std::nullopt;
    const bool has_job = !options_.job_file.empty();
    const auto without_job = {"--cloth", "--piece",        "--turn",    "--cuts",
                              "--plies", "--table-length", "--selvedge"};
    const auto with_job = {"--set", "--liners"};
    const CLI::App& lay = *app_.get_subcommand("lay");
    for (const char* name : has_job ? without_job : with_job) {
      if (lay.get_option(name)->count() == 0) continue;
      return words_.say({has_job ? "cli-lay-has-job" : "cli-lay-has-no-job", {{"option", name}}});
    }
    return std::nullopt;
  }

  [[nodiscard]] Asked wrong(const std::string& why) const {
    const std::string text =
        words_.say({"cli-wrong", {{"why", why}}}) + "\n" + words_.say({"cli-wrong-hint"}) + "\n";
    return {std::nullopt, {job::Status::usage_wrong, "", text, {}}};
  }

  /// The library only says that a command is missing.
  [[nodiscard]] std::optional<std::string> unknown_command(int argc,
                                                           const char* const* argv) const {
    if (argc < 2 || argv[1][0] == '-') return std::nullopt;
    std::vector<std::string> names = {desk_command_->get_name()};
    if (argv[1] == names.front()) return std::nullopt;
    for (const CommandName& known : kCommands) {
      if (std::string_view(argv[1]) == known.name) return std::nullopt;
      names.emplace_back(known.name);
    }
    const std::string near = base::nearest(argv[1], names);
    return words_.say({near.empty() ? "cli-unknown-command" : "cli-unknown-command-near",
                       {{"text", std::string(argv[1]).substr(0, 40)}, {"near", near}}});
  }

  void add(const CommandName& known) {
    const std::string key = std::string("cli-") + known.name;
    CLI::App* command = app_.add_subcommand(known.name, words_.say({key}));
    command->set_help_flag("-h,--help", words_.say({"cli-help"}));
    command->footer(words_.say({key + "-example"}));
    command->callback([this, chosen = known.command] { options_.command = chosen; });
    if (known.takes_job) {
      command->add_option("JOB.toml", options_.job_file, words_.say({"cli-job"}));
    }
    if (known.command == Command::cutting_template || known.command == Command::mask ||
        known.command == Command::range) {
      command->add_flag("--png", png_, words_.say({"cli-png"}));
      command->add_flag("--lines-only", lines_only_, words_.say({"cli-lines-only"}));
    }
    if (known.command == Command::cutting_template) {
      command->add_flag("--test-page", options_.test_page, words_.say({"cli-test-page"}));
    }
    if (known.command == Command::lay) add_quick_lay(*command);
    if (known.command == Command::new_job) add_answers(*command);
    if (known.command == Command::list) {
      command->add_option("WHAT", options_.listed, words_.say({"cli-list-what"}))
          ->check(CLI::IsMember({"constructions", "materials", "papers", "stitches"}));
      command->add_option("NAME", options_.listed_name, words_.say({"cli-list-name"}));
    }
    if (known.command == Command::steps) {
      command->add_flag("--finished", options_.finished, words_.say({"cli-finished"}));
      command->add_flag("--wordless", options_.wordless, words_.say({"cli-wordless"}));
    }
    if (known.command == Command::packet) add_packet(*command);
    if (known.command == Command::savings) {
      command->add_option("--tolerance", options_.tolerance, words_.say({"cli-tolerance"}))
          ->type_name("LENGTH");
      command->add_option("--apply", options_.apply, words_.say({"cli-apply"}))->type_name("N");
    }
    add_repeatable(*command, "--set", options_.sets, "cli-set")->type_name("PATH=VALUE");
    add_liners(*command, known.command);
    command->add_option("--units", options_.units, words_.say({"cli-units"}))
        ->check(CLI::IsMember({"mm", "in"}));
    command->add_option("--paper", options_.paper, words_.say({"cli-paper"}))
        ->type_name("NAME|WxH");
    command
        ->add_option("--printed-square", options_.printed_square,
                     words_.say({"cli-printed-square"}))
        ->type_name("AxB");
    command->add_option("-o,--out", options_.out, words_.say({out_key(known.command)}))
        ->type_name("PATH");
    command->add_flag("--json", json_, words_.say({"cli-json"}));
    command->add_flag("--quiet", quiet_, words_.say({"cli-quiet"}));
  }

  /// What --out says of itself: a folder, or a file with some ending.
  static const char* out_key(Command command) {
    if (command == Command::lay || command == Command::supplies) return "cli-out-file";
    if (command == Command::size) return "cli-out-size";
    if (command == Command::packet) return "cli-out-packet";
    if (command == Command::new_job) return "cli-out-job";
    if (command == Command::list) return "cli-out-list";
    return command == Command::steps ? "cli-out-sheet" : "cli-out";
  }

  void add_desk() {
    desk_command_ = app_.add_subcommand("desk", words_.say({"cli-desk"}));
    desk_command_->set_help_flag("-h,--help", words_.say({"cli-help"}));
    desk_command_->footer(words_.say({"cli-desk-example"}));
    desk_command_->add_option("--port", desk_.port, words_.say({"cli-port"}))
        ->check(CLI::Range(0, 65535))
        ->type_name("N");
    desk_command_->add_flag("--open", desk_.opens_browser, words_.say({"cli-open"}));
  }

  /// One value each time, so that a job's path after it is not swallowed.
  CLI::Option* add_repeatable(CLI::App& command, const char* name, std::vector<std::string>& into,
                              const char* key) {
    return command.add_option(name, into, words_.say({key}))
        ->expected(1)
        ->allow_extra_args(false)
        ->multi_option_policy(CLI::MultiOptionPolicy::TakeAll);
  }

  void add_liners(CLI::App& command, Command which) {
    if (which == Command::range) {
      command.add_option("--liners", options_.liners, words_.say({"cli-range-liners"}))
          ->type_name("N,N,...");
      return;
    }
    command.add_option("--liners", options_.liners, words_.say({"cli-liners"}))
        ->check(CLI::Validator(whole_number, "N"))
        ->type_name("");
    if (which == Command::size) {
      add_repeatable(command, "--other-liner", options_.other_liners, "cli-other-liner")
          ->type_name("[NAME =] WxLxT");
    }
    if (which == Command::size || which == Command::cutting_template || which == Command::mask) {
      command.add_option("--remnant", options_.remnant, words_.say({"cli-remnant"}))
          ->type_name("WxL");
    }
  }

  void add_packet(CLI::App& command) {
    command.add_option("--only", options_.only, words_.say({"cli-only"}))
        ->type_name("NAME,NAME,...");
    command.add_option("--without", options_.without, words_.say({"cli-without"}))
        ->type_name("NAME,NAME,...");
    command.add_option("--copies", options_.copies, words_.say({"cli-copies"}))->type_name("N");
    command.add_flag("--png", png_, words_.say({"cli-png-sections"}));
  }

  void add_quick_lay(CLI::App& command) {
    job::QuickLay& quick = options_.quick;
    command.add_option("--cloth", quick.cloth, words_.say({"cli-cloth"}))->type_name("LENGTH");
    add_repeatable(command, "--piece", quick.pieces, "cli-piece")
        ->type_name("[NAME =] LENGTH x LENGTH [* COUNT]");
    command.add_option("--turn", quick.turn, words_.say({"cli-turn"}))
        ->check(CLI::IsMember({"either", "along", "across"}));
    command.add_option("--cuts", quick.cuts, words_.say({"cli-cuts"}))
        ->check(CLI::IsMember({"straight", "free"}));
    command.add_option("--plies", quick.plies, words_.say({"cli-plies"}))->type_name("N|folded N");
    command.add_option("--table-length", quick.table_length, words_.say({"cli-table-length"}))
        ->type_name("LENGTH");
    command.add_option("--selvedge", quick.selvedge, words_.say({"cli-selvedge"}))
        ->type_name("LENGTH");
  }

  void add_answers(CLI::App& command) {
    job::Answers& answers = options_.answers;
    const auto add_one = [&](const char* name, std::optional<std::string>& into, const char* type) {
      const std::string key = std::string("cli-answer-") + (name + 2);
      command.add_option(name, into, words_.say(base::Message(key)))->type_name(type);
    };
    add_one("--construction", answers.construction, "NAME");
    add_one("--liner", answers.liner, "WxLxT");
    add_one("--width", answers.width, "LENGTH");
    add_one("--depth", answers.depth, "LENGTH");
    add_one("--laminate", answers.laminate, "NAME");
    add_one("--outer", answers.outer, "NAME");
    add_one("--pouches", answers.pouches, "N");
    add_one("--helpers", answers.helpers, "N");
    add_one("--title", answers.title, "TITLE");
    command.add_flag("--force", answers.overwrites, words_.say({"cli-force"}));
  }

  /// Whole numbers are read here; whether one makes sense, the job says.
  static std::string whole_number(std::string& text) {
    const std::size_t first = text.starts_with('-') ? 1 : 0;
    const bool digits = text.size() > first && text.size() < first + 10 &&
                        text.find_first_not_of("0123456789", first) == std::string::npos;
    return digits ? std::string() : "not a whole number: " + text.substr(0, 40);
  }

  const base::Words& words_;
  CLI::App app_;
  JobOptions options_;
  CLI::App* desk_command_ = nullptr;
  desk::Settings desk_;
  bool json_ = false;
  bool png_ = false;
  bool lines_only_ = false;
  bool quiet_ = false;
};

}  // namespace

Asked read_arguments(int argc, const char* const* argv, const base::Words& words) {
  return Arguments(words).read(argc, argv);
}

Help help(const base::Words& words) { return Arguments(words).help(); }

}  // namespace pouchwright::cli
