/// The names that a construction's file gives to its parts, and what is said of those that nothing
/// has.
///
///     Names names(made, file_place);
///     if (const auto span = names.span({"front", place})) made.bottom_a = *span;
///
/// Inside `input` only; callers outside use read_construction() in data.h.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "input/reader.h"
#include "pouch/construction.h"

namespace pouchwright::input {

using pouch::SpanRef;
using Name = Placed<std::string>;

/// Two spans that a file names together.
struct TwoNames {
  std::string a, b;
  base::Place place;
};
/// A key that must name exactly two spans; what else stands there is reported.
[[nodiscard]] std::optional<TwoNames> two_spans(TableReader& reader, std::string_view key);

/// `made` grows while it is read; the names of what is there by then are known. It must outlive it.
class Names {
 public:
  explicit Names(const pouch::Construction& made) : made_(made) {}

  /// A span keeps its name to itself; so do panels and pieces, and attachments among each other.
  void add_span(const Name& name, SpanRef ref);
  void twice(const char* what, const Name& name);

  // What is called so; where nothing is, it is reported with the nearest name.
  [[nodiscard]] std::optional<SpanRef> span(const Name& name);
  [[nodiscard]] std::optional<std::size_t> panel(const Name& name);
  [[nodiscard]] std::optional<std::size_t> piece(const Name& name);
  [[nodiscard]] std::optional<std::size_t> attachment(const Name& name);
  [[nodiscard]] std::optional<std::size_t> compartment(const Name& name);
  [[nodiscard]] std::optional<std::size_t> closure(const Name& name);
  void size(const Name& name);

  [[nodiscard]] bool knows_span(const std::string& name) const { return spans_.contains(name); }
  /// Two spans that follow each other on one panel, in either order; else it is reported.
  [[nodiscard]] std::optional<std::pair<SpanRef, SpanRef>> touching(const TwoNames& names);
  /// Does the span lie at an end of its panel, where another panel's end may be joined to it?
  [[nodiscard]] bool is_at_an_end(SpanRef ref) const;

  /// What is wrong with names and with what they stand for. It is told only of a file that reads
  /// well: after a slip in a key, most of it would be about what the slip left out.
  base::Diagnostics faults;

 private:
  [[nodiscard]] std::optional<std::size_t> among(const std::vector<std::string>& known,
                                                 const Name& name, const char* key,
                                                 const char* what);

  const pouch::Construction& made_;
  std::map<std::string, SpanRef> spans_;
};

/// The hint that names the nearest of the known words, or all of them, or says that there are none.
[[nodiscard]] base::Message hint_for(const std::string& word,
                                     const std::vector<std::string>& known);

}  // namespace pouchwright::input
