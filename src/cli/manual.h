/// The manual page and the shell's completion, made of what `--help` tells, so that the three
/// cannot disagree.
///
///     const Help all = help(words);
///     std::string page = manual_page(all, words, "0.1.0");
///     std::string script = completion(all);
#pragma once

#include <string>

#include "base/words.h"
#include "cli/arguments.h"

namespace pouchwright::cli {

/// The page pouchwright(1) in the `man` macros of roff. Options that all commands take are told of
/// once. No date, so that the same words give the same page.
[[nodiscard]] std::string manual_page(const Help& help, const base::Words& words,
                                      const std::string& version);

/// A script for bash: commands, options, choices, TOML files where a job may stand, files
/// elsewhere.
[[nodiscard]] std::string completion(const Help& help);

}  // namespace pouchwright::cli
