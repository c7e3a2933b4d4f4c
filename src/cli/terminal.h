/// Questions to whoever sits at the terminal.
///
///     options.ask = terminal_questions();
#pragma once

#include "job/commands/new.h"

namespace pouchwright::cli {

/// Puts questions on standard error and reads a line of standard input each; empty where standard
/// input is no terminal, so that nobody could answer.
[[nodiscard]] job::Ask terminal_questions();

}  // namespace pouchwright::cli
