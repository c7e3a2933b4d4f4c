#include "cli/told.h"

namespace pouchwright::cli {
namespace {

using job::Follows;
using job::OptionRow;

const OptionRow kHelp{"--help", "-h", "cli-help", "", nullptr, Follows::nothing};
const OptionRow kVersion{"--version", "", "cli-version", "", nullptr, Follows::nothing};
const OptionRow kManualPage{"--manual-page", "", "cli-manual-page", "", nullptr, Follows::nothing};
const OptionRow kCompletion{"--completion", "", "cli-completion", "", nullptr, Follows::nothing};
const OptionRow kPort{"--port", "", "cli-port", "N", nullptr, Follows::whole_number};
const OptionRow kOpen{"--open", "", "cli-open", "", nullptr, Follows::nothing};

}  // namespace

std::vector<ToldCommand> told_commands() {
  std::vector<ToldCommand> all;
  for (const job::CommandRow& row : job::command_table()) {
    all.push_back({row.name, row.words, row.options});
  }
  all.push_back({"desk", {}, {&kPort, &kOpen}});
  return all;
}

const std::vector<const OptionRow*>& program_options() {
  static const std::vector<const OptionRow*> all{&kHelp, &kVersion, &kManualPage, &kCompletion};
  return all;
}

const OptionRow& port_option() { return kPort; }
const OptionRow& open_option() { return kOpen; }

std::string names_of(const OptionRow& option, const char* between) {
  return std::string(option.brief) + (*option.brief == '\0' ? "" : between) + option.name;
}

}  // namespace pouchwright::cli
