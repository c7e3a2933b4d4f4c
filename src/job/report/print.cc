#include "job/report/print.h"

#include <algorithm>
#include <cmath>
#include <variant>

#include "base/length.h"
#include "base/named.h"
#include "base/number.h"
#include "base/text.h"

namespace pouchwright::job {

namespace {

double rounded(const base::Number& number) {
  const double steps = std::pow(10, number.places);
  return number.digits == base::Number::Digits::significant
             ? number.value
             : std::round(number.value * steps) / steps;
}

struct ToJson {
  const base::Voice& words;

  Json operator()(std::monostate) const { return nullptr; }
  Json operator()(bool yes) const { return yes; }
  Json operator()(double number) const { return number; }
  Json operator()(const Cell& cell) const { return std::visit(*this, cell.held()); }
  Json operator()(const base::Value& value) const { return std::visit(*this, value.held()); }
  Json operator()(const Cell::List& cells) const { return array(cells); }
  Json operator()(const Cell::Fields& fields) const {
    Json object = Json::object();
    for (const Field& field : fields) {
      if (field.in == In::json) object[field.id] = (*this)(field.cell);
    }
    return object;
  }

  Json operator()(const std::string& name) const { return name; }
  Json operator()(std::int64_t count) const { return count; }
  Json operator()(const base::Measure& measure) const { return measure.length.in_mm(); }
  Json operator()(const base::Distinct& length) const { return length.length.in_mm(); }
  Json operator()(const base::Difference& one) const { return (one.more - one.less).in_mm(); }
  Json operator()(const base::Number& number) const { return rounded(number); }
  Json operator()(base::Time time) const { return time.in_minutes(); }
  Json operator()(const base::FieldName& field) const { return words.text(field); }
  Json operator()(const base::Value::List& values) const { return array(values); }
  Json operator()(const base::Value::Nested& message) const { return words.say(*message); }

  template <class Parts>
  [[nodiscard]] Json array(const Parts& parts) const {
    Json all = Json::array();
    for (const auto& part : parts) all.push_back((*this)(part));
    return all;
  }
};

std::string csv_text(const Cell& cell, const base::Voice& words) {
  if (const auto* yes = std::get_if<bool>(&cell.held())) return *yes ? "yes" : "no";
  const auto* value = std::get_if<base::Value>(&cell.held());
  if (value == nullptr) return "";
  if (const auto* measure = std::get_if<base::Measure>(&value->held())) {
    return base::decimal_mm(measure->length);
  }
  // Tables are read by programs, whose decimal mark is the point.
  if (std::holds_alternative<base::Number>(value->held())) {
    static const base::Words kNone;
    return base::Voice(kNone).text(*value);
  }
  constexpr int kPlaces = 2;
  if (const auto* time = std::get_if<base::Time>(&value->held())) {
    return base::decimal(time->in_minutes(), kPlaces);
  }
  return words.text(*value);
}

constexpr base::Named<Block::Look> kLookWords[] = {{Block::Look::points, "points"},
                                                   {Block::Look::prose, "prose"},
                                                   {Block::Look::steps, "steps"},
                                                   {Block::Look::table, "table"}};
constexpr base::Named<Line::Kind> kLineKindWords[] = {{Line::Kind::heading, "heading"},
                                                      {Line::Kind::sentence, "sentence"},
                                                      {Line::Kind::item, "item"}};

using Texts = std::vector<std::string>;

/// Items stand in columns, and so does the heading of a table.
bool has_columns(const Line& line, const Block& block) {
  return line.kind == Line::Kind::item || block.look == Block::Look::table;
}

Texts texts_of(const Line& line, const base::Voice& words) {
  Texts texts;
  for (const base::Value& cell : line.cells) texts.push_back(words.text(cell));
  return texts;
}

std::vector<std::size_t> widths_of(const Block& block, const base::Voice& words) {
  std::vector<std::size_t> widths(1);
  for (const Line& line : block.lines) {
    const Texts cells = texts_of(line, words);
    widths.resize(std::max(widths.size(), cells.size()));
    if (!has_columns(line, block) || cells.size() < 2) continue;
    for (std::size_t i = 0; i < cells.size(); ++i) {
      widths[i] = std::max(widths[i], base::letter_count(cells[i]));
    }
  }
  return widths;
}

std::string padding(const std::string& text, std::size_t width) {
  const std::size_t letters = base::letter_count(text);
  return std::string(width > letters ? width - letters : 0, ' ');
}

/// Numbers at the right of their columns; what is said of a name, in one column.
std::string in_columns(const Texts& cells, const std::vector<std::size_t>& widths,
                       Block::Look look) {
  std::string text = cells.front() + padding(cells.front(), widths.front()) + "  ";
  const auto begin = text.size();
  for (std::size_t i = 1; i < cells.size(); ++i) {
    if (look == Block::Look::table) {
      text += (i == 1 ? "" : "  ") + padding(cells[i], widths[i]) + cells[i];
    } else if (!cells[i].empty()) {
      text += (text.size() == begin ? "" : "; ") + cells[i];
    }
  }
  text.erase(text.find_last_not_of(' ') + 1);
  return text;
}

void add(std::string& text, const Block& block, const base::Voice& words) {
  const std::vector<std::size_t> widths = widths_of(block, words);
  const std::string indent(static_cast<std::size_t>(block.indent), ' ');
  std::size_t number = 0;
  bool is_first = true;
  for (const Line& line : block.lines) {
    const Texts cells = texts_of(line, words);
    const bool is_heading = line.kind == Line::Kind::heading;
    if (!text.empty() && (is_heading || is_first)) text += "\n";
    is_first = false;
    text += indent + (has_columns(line, block) ? "  " : "");
    if (block.look == Block::Look::steps && !is_heading) {
      ++number;
      text += (number < 10 ? " " : "") + std::to_string(number) + ". ";
    }
    text += has_columns(line, block) ? in_columns(cells, widths, block.look) : cells.front();
    text += "\n";
  }
}

}  // namespace

Json json(const Cell& cell, const base::Voice& words) { return ToJson{words}(cell); }

std::string json_text(const Json& json) {
  return json.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

std::string json_text(const Cell::Fields& fields, const base::Voice& words) {
  return json_text(json(fields, words));
}

Json said(const std::vector<Block>& blocks, const base::Voice& words) {
  Json all = Json::array();
  for (const Block& block : blocks) {
    Json lines = Json::array();
    for (const Line& line : block.lines) {
      Json cells = Json::array();
      for (const std::string& text : texts_of(line, words)) cells.push_back(base::trimmed(text));
      lines.push_back({{"kind", word_of(kLineKindWords, line.kind)}, {"cells", std::move(cells)}});
    }
    all.push_back({{"look", word_of(kLookWords, block.look)}, {"lines", std::move(lines)}});
  }
  return all;
}

std::string text(const std::vector<Block>& blocks, const base::Voice& words) {
  std::string text;
  for (const Block& block : blocks) add(text, block, words);
  return text;
}

std::string csv(const Table& table, const base::Voice& words) {
  std::string text =
      base::list_text(table.columns, ",", [](const Table::Column& column) { return column.id; }) +
      "\n";
  for (const Cell::Fields& row : table.rows) {
    text += base::list_text(
                table.columns, ",",
                [&](const Table::Column& column) {
                  const auto field = std::find_if(row.begin(), row.end(), [&](const Field& one) {
                    return one.id == column.id;
                  });
                  const std::string cell = field == row.end() ? "" : csv_text(field->cell, words);
                  return column.quotes == Table::Quotes::always ? base::csv_cell(cell) : cell;
                }) +
            "\n";
  }
  return text;
}

}  // namespace pouchwright::job
