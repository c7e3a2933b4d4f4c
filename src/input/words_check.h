/// A file of words held against the English ones that it stands for.
///
///     check_words(file, english, diagnostics);
///     for (const WordsRow& row : words_rows(file, diagnostics)) show(row.key, row.text);
#pragma once

#include <string>
#include <vector>

#include "base/diagnostic.h"
#include "base/words.h"
#include "input/node.h"

namespace pouchwright::input {

/// A text as a file has it, in the file's order.
struct WordsRow {
  std::string key;
  std::string text;
  base::Place place, key_place;
};
/// Fails: empty after an error, where the file is none of TOML.
[[nodiscard]] std::vector<WordsRow> words_rows(const LoadedFile& file,
                                               base::Diagnostics& diagnostics);

/// Tells of a key that `english` lacks, of holes that differ from the English text's, of forms that
/// cannot be read or that the language of the file does not have, and of a head that says nothing
/// known. What is missing is no fault: it is said in English.
void check_words(const LoadedFile& file, const base::Words& english,
                 base::Diagnostics& diagnostics);

}  // namespace pouchwright::input
