/// What a command found out: typed fields for machines, lines for people, rows for a spreadsheet.
/// Nothing is text yet: print.h makes JSON, a table or CSV of it, page.h pages.
///
///     Report report;
///     report.field("cut", Cell::Fields{{"width_mm", width}, {"length_mm", length}});
///     report.heading("size-pouch");
///     report.row("inside_width_mm", "size-inside", in_both(inside));  // for both
///
/// Inside `job` only.
#pragma once

#include <concepts>
#include <functional>
#include <optional>
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include "base/message.h"

namespace pouchwright::job {

struct Field;

/// What a field holds: nothing, yes or no, a number, a value (a length, a time, a count, a name, a
/// message), cells in order, or further fields. Lengths are millimetres in JSON, times minutes; a
/// base::Number has its places there as well, and a plain double all its digits.
class Cell {
 public:
  using List = std::vector<Cell>;
  using Fields = std::vector<Field>;
  using Held = std::variant<std::monostate, bool, double, base::Value, List, Fields>;

  // Not explicit: a field takes whatever it is given.
  // NOLINTBEGIN(google-explicit-constructor)
  Cell() = default;
  template <std::same_as<bool> T>
  Cell(T yes) : held_(yes) {}
  template <std::same_as<double> T>
  Cell(T number) : held_(number) {}
  template <std::convertible_to<base::Value> T>
  Cell(T&& value) : held_(base::Value(std::forward<T>(value))) {}
  /// Nothing where it is absent.
  template <class T>
  Cell(const std::optional<T>& value) : Cell(value ? Cell(*value) : Cell()) {}
  Cell(List cells) : held_(std::move(cells)) {}
  Cell(Fields fields);
  // NOLINTEND(google-explicit-constructor)

  [[nodiscard]] const Held& held() const { return held_; }

 private:
  Held held_;
};

/// Who reads a field besides the rows for a spreadsheet.
enum class In { json, csv_only };

struct Field {
  std::string id;
  Cell cell;
  In in = In::json;
};

inline Cell::Cell(Fields fields) : held_(std::move(fields)) {}

/// A cell for each of `parts`.
template <class Parts, class CellOf = std::identity>
[[nodiscard]] Cell::List cells(const Parts& parts, CellOf cell_of = {}) {
  Cell::List all;
  for (const auto& part : parts) all.emplace_back(std::invoke(cell_of, part));
  return all;
}

/// A line for people: a heading, a sentence, or an item, whose cells stand in columns.
struct Line {
  enum class Kind { heading, sentence, item };
  Kind kind = Kind::sentence;
  std::vector<base::Value> cells;
};

/// Lines that belong together, white above them.
struct Block {
  enum class Look {
    points,  ///< an item: its name, and what there is to say of it
    prose,   ///< running words
    steps,   ///< the same, numbered
    table,   ///< all but the first column are numbers; the heading names the columns
  };
  Look look = Look::points;
  std::vector<Line> lines;
  int indent = 0;  ///< letters, in a terminal
};

/// Rows for a spreadsheet: of each the fields that `columns` name.
struct Table {
  enum class Quotes { none, always };  ///< always: what people have named
  struct Column {
    const char* id;
    Quotes quotes = Quotes::none;
  };
  std::vector<Column> columns;
  std::vector<Cell::Fields> rows;
};

struct Report {
  Cell::Fields fields;
  std::vector<Block> blocks;
  Table table;

  void field(std::string id, Cell cell) { fields.push_back({std::move(id), std::move(cell)}); }

  /// What follows is a block of its own.
  void begin(Block::Look look = Block::Look::points, int indent = 0) {
    blocks.push_back({look, {}, indent});
  }
  // Of the last block; the first begins by itself.
  void heading(base::Message words) { line(Line::Kind::heading, {std::move(words)}); }
  void say(base::Message words) { line(Line::Kind::sentence, {std::move(words)}); }
  /// What is in words already.
  void write(std::string words) { line(Line::Kind::sentence, {std::move(words)}); }
  void item(std::vector<base::Value> cells) { line(Line::Kind::item, std::move(cells)); }
  void row(base::Message name, base::Value value) { item({std::move(name), std::move(value)}); }
  /// For machines as well: a length as its millimetres, a message as its words.
  void row(std::string id, base::Message name, base::Value value) {
    field(std::move(id), Cell(value));
    row(std::move(name), std::move(value));
  }
  void line(Line::Kind kind, std::vector<base::Value> cells) {
    if (blocks.empty()) begin();
    blocks.back().lines.push_back({kind, std::move(cells)});
  }
};

}  // namespace pouchwright::job
