/// The manual page and the shell's completion, made of the command table, as --help is.
///
///     std::string page = manual_page(words);
///     std::string script = completion(words);
#pragma once

#include <string>

#include "base/voice.h"

namespace pouchwright::cli {

/// The page pouchwright(1) in the `man` macros of roff. Options that all commands take are told of
/// once. No date, so that the same words give the same page.
[[nodiscard]] std::string manual_page(const base::Voice& words);

/// A script for bash: commands, options, choices, TOML files where a job may stand, files
/// elsewhere. It has no words, so that it is the same in every language.
[[nodiscard]] std::string completion(const base::Voice& words);

}  // namespace pouchwright::cli
