/// The fields of a job, as they are told to whoever writes one by hand.
///
///     for (const ToldField& field : told_fields(words)) text += field.path + ": " + field.says;
#pragma once

#include <string>
#include <vector>

#include "base/voice.h"

namespace pouchwright::job {

struct ToldField {
  std::string path;   ///< as "pouch.cards"
  std::string value;  ///< what stands there: "LENGTH", or choices as "mm|in"
  std::string usual;  ///< as TOML: what holds without it, or where nothing does, an example
  std::string says;   ///< what it is; empty where nothing is said of it
};

/// Table by table, in the order of a starter job; nothing of lists of tables.
[[nodiscard]] std::vector<ToldField> told_fields(const base::Voice& words);

/// What a field is called, and what is said to it. `word` is its key.
[[nodiscard]] std::string field_meaning(const std::string& word, const base::Voice& words);

}  // namespace pouchwright::job
