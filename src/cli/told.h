/// The commands as people are told of them: those of the table, and the desk, which runs no job.
///
///     for (const ToldCommand& command : told_commands()) show(command.name, command.options);
#pragma once

#include <string>
#include <vector>

#include "job/command_table.h"

namespace pouchwright::cli {

struct ToldCommand {
  std::string name;
  std::vector<const job::OptionRow*> words;    ///< what may follow it without a dash
  std::vector<const job::OptionRow*> options;  ///< without --help
};

/// In the order in which they are told.
[[nodiscard]] std::vector<ToldCommand> told_commands();

/// Options that stand without a command, --help first, which every command takes too.
[[nodiscard]] const std::vector<const job::OptionRow*>& program_options();

/// Options of the desk. Their `take` is null: they are no options of a job.
[[nodiscard]] const job::OptionRow& port_option();
[[nodiscard]] const job::OptionRow& open_option();

/// `-o,--out`, as the library for arguments has it; `-o, --out` for people.
[[nodiscard]] std::string names_of(const job::OptionRow& option, const char* between);

}  // namespace pouchwright::cli
