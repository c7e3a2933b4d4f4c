/// A job's text with a value changed, everything else (comments too) as it was.
///
///     auto text = edited(job_text, "pouch.width", toml_text("187 mm"));
///
/// Values of [[tables]] have no path and are left alone.
#pragma once

#include <optional>
#include <string>
#include <vector>

namespace pouchwright::job {

/// Text as TOML: nothing that a person types may end it early.
[[nodiscard]] std::string toml_text(const std::string& text);

/// What a person typed for `path` as TOML: numbers and truths bare where they can be meant, all
/// else a text.
[[nodiscard]] std::string typed_as_toml(const std::string& path, const std::string& typed);

/// `text` with the value at `path` (a key, or table and key) set, or taken out where `toml` is
/// empty. A new one stands behind the last of its table, which is made where there is none. A table
/// called `path` makes way; so does a value that bears the name of the table. The last value of a
/// table takes its header with it, unless comments belong to it: then the header becomes one as
/// well, and is opened again by the next value.
/// Fails: empty where `text` is no TOML.
[[nodiscard]] std::optional<std::string> edited(const std::string& text, const std::string& path,
                                                const std::optional<std::string>& toml);

/// A value as it stands in a text, on lines `first` to `last`, from 1.
struct WrittenValue {
  std::string path;
  std::string written;
  std::optional<std::string> typed;  ///< as a person types it; empty: it is more than one value
  int first = 0;
  int last = 0;
};

/// The values of a job's text in order, and the tables that headers open.
struct WrittenJob {
  std::vector<WrittenValue> values;
  std::vector<std::string> tables;
};
/// Fails: empty where `text` is no TOML.
[[nodiscard]] std::optional<WrittenJob> written_job(const std::string& text);

}  // namespace pouchwright::job
