/// A job's text with sizes changed, everything else (comments too) as it was.
///
///     std::string text = with_sizes(job_text, {{{"pouch.width", "187 mm"}, place_of_width}});
#pragma once

#include <string>
#include <vector>

#include "base/diagnostic.h"

namespace pouchwright::job {

/// Text as TOML: nothing that a person types may end it early.
[[nodiscard]] std::string toml_text(const std::string& text);

/// A value to set. `place` is where the old one stands in the text; line 0 where the job has none,
/// or has it from elsewhere.
struct NewValue {
  std::string table;  ///< "pouch" or "panel"
  std::string key;
  std::string value;  ///< as written between the quotes
  base::Place place;
};

/// Values that stand in the text are replaced where they stand; others are added below their
/// table's header, or with the table at the end.
[[nodiscard]] std::string with_sizes(const std::string& text, const std::vector<NewValue>& values);

}  // namespace pouchwright::job
