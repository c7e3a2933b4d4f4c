/// Questions to whoever sits at the terminal.
///
///     options.ask = terminal_questions();
#pragma once

#include <string>

#include "job/commands/new.h"

namespace pouchwright::cli {

/// Puts questions on standard error and reads a line of standard input each; empty where standard
/// input is no terminal, so that nobody could answer.
[[nodiscard]] job::Ask terminal_questions();

/// The country of whoever sits there, of two letters, as the environment names it (POSIX: LC_ALL,
/// LC_MEASUREMENT, LANG); empty where it does not.
[[nodiscard]] std::string country();

/// The language that the environment asks messages in (POSIX: LC_ALL, LC_MESSAGES, LANG), as it is
/// written there; empty where it does not.
[[nodiscard]] std::string language();

}  // namespace pouchwright::cli
