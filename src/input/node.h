/// A TOML file as a tree of our own, every value with its place. The TOML library stays inside
/// node.cc.
///
///     std::optional<Node> root = parsed({"job.toml", text}, limits, diagnostics);
///     if (const Node* width = root->find("width")) ...
///
/// Not for what the values mean: see reader.h.
#pragma once

#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/diagnostic.h"
#include "base/length.h"

namespace pouchwright::input {

/// A file's text under the name by which messages call it.
struct LoadedFile {
  std::string name;
  std::string text;
};

/// Names of words files, asked for where a file names one; empty: no name is checked.
using Languages = std::function<const std::vector<std::string>&()>;

struct Entry;

struct Node {
  enum class Kind { table, array, text, whole, decimal, boolean, moment };

  Kind kind = Kind::table;
  base::Place place;         ///< of the value
  base::Place key_place;     ///< of the key before it; empty for the root and for items
  std::string text;          ///< text: the value; numbers: as written in the file
  std::size_t key_from = 0;  ///< byte of the file's text at which the key begins
  std::size_t
      from = 0,
      to = 0;  ///< bytes of the value, half open; of a table that a header opens, the header's
  int text_column = 0;  ///< text: the column of its first letter where each is as written, or 0
  std::int64_t whole = 0;
  double decimal = 0;
  bool truth = false;
  std::optional<base::Unit> bare;  ///< of bare lengths in it, where they are not in the reader's
  std::vector<Entry> entries;      ///< of a table, in file order
  std::vector<Node> items;         ///< of an array

  Node();
  Node(const Node&);
  Node(Node&&) noexcept;
  Node& operator=(const Node&);
  Node& operator=(Node&&) noexcept;
  ~Node();

  [[nodiscard]] const Node* find(std::string_view key) const;
};

/// A key of a table and its value.
struct Entry {
  std::string key;
  Node node;
};

/// A job, construction or data file is at most this large.
inline constexpr std::size_t kMostBytes = 256UL * 1024;
/// A file of words, in a script whose letters take three bytes.
inline constexpr std::size_t kMostWordsBytes = 2048UL * 1024;
/// A key or header has at most this many dotted parts; brackets nest at most so deep, each with as
/// many dotted parts as its key has. So the tree is at most twice as deep.
inline constexpr int kMostDepth = 64;

/// The file's root table.
/// Fails: empty after one error at its place: too large, not UTF-8, too deep, or not TOML.
[[nodiscard]] std::optional<Node> parsed(const LoadedFile& file, base::Diagnostics& diagnostics,
                                         std::size_t most = kMostBytes);

/// An override `path=value` as it is shown and counted: `path = value`.
struct Override {
  std::string shown;  ///< as on the command line: `--set pouch.width=19x`
  std::string path;
  std::string value;

  [[nodiscard]] std::string text() const { return path + " = " + value; }
};

/// Puts the override's value into the tree, in place of what stands there. The value is read as
/// TOML, or as text where it is none.
/// Fails: an error where the path is no path or leads through an array.
void apply(const Override& override, Node& root, base::Diagnostics& diagnostics);

}  // namespace pouchwright::input
