#include "cli/manual.h"

#include <algorithm>
#include <numeric>
#include <set>
#include <string_view>
#include <vector>

#include "base/text.h"
#include "cli/told.h"
#include "job/limits.h"
#include "job/told_fields.h"

namespace pouchwright::cli {

namespace {

using job::OptionRow;
using Rows = std::vector<const OptionRow*>;

/// Text as roff shows it: a backslash starts an escape, a hyphen would become a typographic one,
/// and a dot or a quote at the start of a line would be a request.
std::string escaped(std::string_view text) {
  std::string result;
  for (const char letter : text) {
    if (letter == '\\') {
      result += "\\e";
    } else if (letter == '-') {
      result += "\\-";
    } else {
      result += letter;
    }
  }
  if (result.starts_with('.') || result.starts_with('\'')) result.insert(0, "\\&");
  return result;
}

std::string bold(std::string_view text) { return "\\fB" + escaped(text) + "\\fR"; }
std::string slanted(std::string_view text) { return "\\fI" + escaped(text) + "\\fR"; }

std::string tagged(const std::string& tag, std::string_view text) {
  // A blank line would leave white.
  return ".TP\n" + tag + "\n" + (text.empty() ? "" : escaped(text) + "\n");
}

std::string as_entry(const OptionRow& option, const base::Voice& words) {
  std::string tag = *option.brief == '\0' ? "" : bold(option.brief) + ", ";
  tag += bold(option.name);
  if (!option.value.empty()) tag += " " + slanted(option.value);
  return tagged(tag, words.say(option.key));
}

bool is_among(const Rows& rows, const OptionRow* option) {
  return std::any_of(rows.begin(), rows.end(), [&](const OptionRow* one) { return one == option; });
}

/// Those options of the first command that all commands of a job take.
Rows common_options(const std::vector<ToldCommand>& commands) {
  Rows common;
  for (const OptionRow* option : commands.front().options) {
    const bool everywhere = std::all_of(
        job::command_table().begin(), job::command_table().end(),
        [&](const job::CommandRow& command) { return is_among(command.options, option); });
    if (everywhere) common.push_back(option);
  }
  return common;
}

std::string as_section(const ToldCommand& command, const Rows& common, const base::Voice& words) {
  const std::string key = "cli-" + command.name;
  std::string line = bold("pouchwright " + command.name);
  for (const OptionRow* word : command.words) line += " " + slanted(word->name);
  std::string text = ".SS " + line + "\n" + escaped(words.say(base::Message(key))) + "\n";
  for (const OptionRow* word : command.words) {
    text += tagged(slanted(word->name), words.say(word->key));
  }
  for (const OptionRow* option : command.options) {
    if (!is_among(common, option)) text += as_entry(*option, words);
  }
  return text + ".PP\n" + escaped(words.say(base::Message(key + "-example"))) + "\n";
}

std::string section(const base::Voice& words, const char* key) {
  return ".SH " + words.say({key}) + "\n";
}

std::string paragraph(const base::Voice& words, const char* key) {
  return ".PP\n" + escaped(words.say(key)) + "\n";
}

std::string statuses(const base::Voice& words) {
  std::string text;
  for (const job::Status status : job::told_statuses()) {
    const std::string code = std::to_string(static_cast<int>(status));
    text += tagged(bold(code), words.say(base::Message("manual-exit-" + code)));
  }
  return text;
}

std::string limits(const base::Voice& words) {
  std::string text = escaped(words.say("manual-limits-lead")) + "\n";
  for (const base::Message& most : job::limits()) {
    text += ".PP\n" + escaped(words.say(most)) + "\n";
  }
  return text;
}

/// What a job may say, and what holds, or may stand, where it says nothing.
std::string fields(const base::Voice& words) {
  std::string text = paragraph(words, "manual-job-fields");
  for (const job::ToldField& field : job::told_fields(words)) {
    std::string says = field.says;
    if (!field.usual.empty()) {
      says += (says.empty() ? "" : "; ") + words.say({"manual-job-as", {{"value", field.usual}}});
    }
    text += tagged(bold(field.path) + " " + slanted(field.value), says);
  }
  return text;
}

std::string spaced(const std::vector<std::string>& words) { return base::list_text(words, " "); }

/// What completes an option's value: its choices, files for a path, else nothing.
std::string completed(const OptionRow& option) {
  const std::vector<std::string> choices = option.choices();
  if (!choices.empty()) {
    return "mapfile -t COMPREPLY < <(compgen -W '" + spaced(choices) + "' -- \"$word\"); ";
  }
  return option.value == "PATH" ? "mapfile -t COMPREPLY < <(compgen -f -- \"$word\"); " : "";
}

/// A case each for the options that take a value.
std::string value_cases(const std::vector<ToldCommand>& commands) {
  std::set<std::string> lines;
  for (const ToldCommand& command : commands) {
    for (const OptionRow* option : command.options) {
      if (option->follows == job::Follows::nothing) continue;
      lines.insert("    " + names_of(*option, "|") + ") " + completed(*option) + "return ;;\n");
    }
  }
  return std::accumulate(lines.begin(), lines.end(), std::string());
}

std::string all_names(const Rows& options) {
  std::vector<std::string> names;
  for (const OptionRow* option : options) names.push_back(names_of(*option, " "));
  return spaced(names);
}

std::string command_cases(const std::vector<ToldCommand>& commands) {
  const std::string help = names_of(*program_options().front(), " ");
  std::string text;
  for (const ToldCommand& command : commands) {
    text += "    " + command.name + ") options='" + help + " " + all_names(command.options) + "'";
    if (!command.words.empty()) {
      const std::vector<std::string> choices = command.words.front()->choices();
      text += choices.empty() ? " takes_job=yes" : " subjects='" + spaced(choices) + "'";
    }
    text += " ;;\n";
  }
  return text;
}

}  // namespace

std::string manual_page(const base::Voice& words) {
  const std::vector<ToldCommand> commands = told_commands();
  const Rows common = common_options(commands);
  std::string page = ".TH POUCHWRIGHT 1 \"\" \"pouchwright " POUCHWRIGHT_VERSION "\"\n";
  page +=
      section(words, "manual-name") + "pouchwright \\- " + escaped(words.say("cli-about")) + "\n";
  page += section(words, "manual-synopsis") + bold("pouchwright") + " " +
          slanted(words.say("manual-synopsis-line")) + "\n";
  page += section(words, "manual-description") + escaped(words.say("manual-about")) + "\n";
  page += section(words, "manual-commands");
  for (const ToldCommand& command : commands) page += as_section(command, common, words);
  page += section(words, "manual-options");
  for (const OptionRow* option : common) page += as_entry(*option, words);
  for (const OptionRow* option : program_options()) page += as_entry(*option, words);
  page += section(words, "manual-job") + paragraph(words, "manual-job-batch") +
          paragraph(words, "manual-job-stitches") + paragraph(words, "manual-job-cloth") +
          paragraph(words, "manual-job-stock") + paragraph(words, "manual-job-group") +
          paragraph(words, "manual-job-day") + paragraph(words, "manual-job-half") + fields(words);
  page += section(words, "manual-packet") + paragraph(words, "manual-packet-sections");
  page += section(words, "manual-exit") + statuses(words);
  page += section(words, "manual-limits") + limits(words);
  page += section(words, "manual-files") + paragraph(words, "manual-data") +
          paragraph(words, "manual-output");
  return page + section(words, "manual-example") + escaped(words.say("cli-footer")) + "\n";
}

std::string completion(const base::Voice&) {
  const std::vector<ToldCommand> commands = told_commands();
  std::vector<std::string> names;
  for (const ToldCommand& command : commands) names.push_back(command.name);
  std::string script = R"(# bash completion for pouchwright, made from its help texts
_pouchwright() {
  local word=${COMP_WORDS[COMP_CWORD]} before=${COMP_WORDS[COMP_CWORD-1]} options='' takes_job='' subjects=''
  COMPREPLY=()
  if [[ $COMP_CWORD -eq 1 ]]; then
    mapfile -t COMPREPLY < <(compgen -W 'COMMANDS OPTIONS' -- "$word")
    return
  fi
  case $before in
VALUES  esac
  case ${COMP_WORDS[1]} in
CASES  esac
  if [[ $word == -* ]]; then
    mapfile -t COMPREPLY < <(compgen -W "$options" -- "$word")
  elif [[ $subjects ]]; then
    mapfile -t COMPREPLY < <(compgen -W "$subjects" -- "$word")
  elif [[ $takes_job ]]; then
    mapfile -t COMPREPLY < <(compgen -f -X '!*.toml' -- "$word"; compgen -d -- "$word")
  fi
}
complete -o filenames -F _pouchwright pouchwright
)";
  const auto put = [&script](std::string_view hole, const std::string& text) {
    script.replace(script.find(hole), hole.size(), text);
  };
  put("COMMANDS", spaced(names));
  put("OPTIONS", all_names(program_options()));
  put("VALUES", value_cases(commands));
  put("CASES", command_cases(commands));
  return script;
}

}  // namespace pouchwright::cli
