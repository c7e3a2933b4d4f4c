#include "cli/manual.h"

#include <algorithm>
#include <string_view>
#include <vector>

namespace pouchwright::cli {

namespace {

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
  return ".TP\n" + tag + "\n" + escaped(text) + "\n";
}

std::string as_entry(const OptionHelp& option) {
  std::string tag;
  for (const std::string& name : option.names) tag += (tag.empty() ? "" : ", ") + bold(name);
  if (!option.value.empty()) tag += " " + slanted(option.value);
  return tagged(tag, option.text);
}

/// Those options of the first command that all commands take.
std::vector<OptionHelp> common_options(const Help& help) {
  std::vector<OptionHelp> common;
  for (const OptionHelp& option : help.commands.front().options) {
    const bool everywhere =
        std::all_of(help.commands.begin(), help.commands.end(), [&](const CommandHelp& command) {
          return std::count(command.options.begin(), command.options.end(), option) > 0;
        });
    if (everywhere) common.push_back(option);
  }
  return common;
}

std::string as_section(const CommandHelp& command, const std::vector<OptionHelp>& common) {
  std::string line = bold("pouchwright " + command.name);
  if (!command.job.empty()) line += " " + slanted(command.job);
  std::string text = ".SS " + line + "\n" + escaped(command.text) + "\n";
  for (const OptionHelp& operand : command.operands) {
    text += tagged(slanted(operand.names.front()), operand.text);
  }
  for (const OptionHelp& option : command.options) {
    if (std::count(common.begin(), common.end(), option) == 0) text += as_entry(option);
  }
  return text + ".PP\n" + escaped(command.example) + "\n";
}

std::string section(const base::Words& words, const char* key) {
  return ".SH " + words.say({key}) + "\n";
}

constexpr const char* kStatuses[] = {"0", "1", "2", "3", "70"};

std::string statuses(const base::Words& words) {
  std::string text;
  for (const char* status : kStatuses) {
    text += tagged(bold(status), words.say({std::string("manual-exit-") + status}));
  }
  return text;
}

std::string spaced(const std::vector<std::string>& words) {
  std::string text;
  for (const std::string& word : words) text += (text.empty() ? "" : " ") + word;
  return text;
}

/// What completes an option's value: its choices, files for a path, else nothing.
std::string completed(const OptionHelp& option) {
  if (!option.choices.empty()) {
    return "mapfile -t COMPREPLY < <(compgen -W '" + spaced(option.choices) + "' -- \"$word\"); ";
  }
  return option.value == "PATH" ? "mapfile -t COMPREPLY < <(compgen -f -- \"$word\"); " : "";
}

/// A case each for the options that take a value.
std::string value_cases(const Help& help) {
  std::vector<std::string> lines;
  for (const CommandHelp& command : help.commands) {
    for (const OptionHelp& option : command.options) {
      if (option.value.empty()) continue;
      std::string names;
      for (const std::string& name : option.names) names += (names.empty() ? "" : "|") + name;
      lines.push_back("    " + names + ") " + completed(option) + "return ;;\n");
    }
  }
  std::sort(lines.begin(), lines.end());
  lines.erase(std::unique(lines.begin(), lines.end()), lines.end());
  std::string text;
  for (const std::string& line : lines) text += line;
  return text;
}

std::string names_of(const std::vector<OptionHelp>& options) {
  std::vector<std::string> names;
  for (const OptionHelp& option : options) {
    names.insert(names.end(), option.names.begin(), option.names.end());
  }
  return spaced(names);
}

std::string command_cases(const Help& help) {
  std::string text;
  for (const CommandHelp& command : help.commands) {
    text += "    " + command.name + ") options='" + names_of(command.options) + "'";
    if (!command.subjects.empty()) {
      text += " subjects='" + spaced(command.subjects) + "'";
    } else if (!command.job.empty()) {
      text += " takes_job=yes";
    }
    text += " ;;\n";
  }
  return text;
}

}  // namespace

std::string manual_page(const Help& help, const base::Words& words, const std::string& version) {
  const std::vector<OptionHelp> common = common_options(help);
  std::string page = ".TH POUCHWRIGHT 1 \"\" \"pouchwright " + version + "\"\n";
  page += section(words, "manual-name") + "pouchwright \\- " + escaped(help.text) + "\n";
  page += section(words, "manual-synopsis") + bold("pouchwright") + " " +
          slanted(words.say({"manual-synopsis-line"})) + "\n";
  page += section(words, "manual-description") + escaped(words.say({"manual-about"})) + "\n";
  page += section(words, "manual-commands");
  for (const CommandHelp& command : help.commands) page += as_section(command, common);
  page += section(words, "manual-options");
  for (const OptionHelp& option : common) page += as_entry(option);
  for (const OptionHelp& option : help.options) {
    if (std::count(common.begin(), common.end(), option) == 0) page += as_entry(option);
  }
  page += section(words, "manual-exit") + statuses(words);
  page += section(words, "manual-files") + escaped(words.say({"manual-data"})) + "\n";
  return page + section(words, "manual-example") + escaped(help.example) + "\n";
}

std::string completion(const Help& help) {
  std::vector<std::string> commands;
  for (const CommandHelp& command : help.commands) commands.push_back(command.name);
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
  put("COMMANDS", spaced(commands));
  put("OPTIONS", names_of(help.options));
  put("VALUES", value_cases(help));
  put("CASES", command_cases(help));
  return script;
}

}  // namespace pouchwright::cli
