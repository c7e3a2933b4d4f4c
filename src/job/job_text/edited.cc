#include "job/job_text/edited.h"

#include <algorithm>
#include <map>
#include <memory>
#include <string_view>

#include "base/text.h"
#include "input/fields.h"
#include "input/node.h"

namespace pouchwright::job {

namespace {

using input::Node;

struct Value {
  std::string path;
  const Node* node;
};

/// A text that is TOML, and what stands at which byte of it.
struct Job {
  std::string text;
  Node root;
  std::vector<Value> values{};                  ///< nothing of [[tables]]
  std::map<std::size_t, std::string> tables{};  ///< by where their headers begin; `?`: one of many

  [[nodiscard]] const Node* value(std::string_view path) const {
    const auto found = std::find_if(values.begin(), values.end(),
                                    [&](const Value& one) { return one.path == path; });
    return found == values.end() ? nullptr : found->node;
  }
  /// The header above `at`; npos for what stands above the first.
  [[nodiscard]] std::size_t header_of(std::size_t at) const {
    const auto next = tables.upper_bound(at);
    return next == tables.begin() ? std::string::npos : std::prev(next)->first;
  }
  [[nodiscard]] std::size_t line_start(std::size_t at) const {
    return at == 0 ? 0 : text.rfind('\n', at - 1) + 1;
  }
  [[nodiscard]] std::size_t line_end(std::size_t at) const {
    return std::min(text.find('\n', at), text.size());
  }
  void erase_lines(std::size_t from, std::size_t to) {
    text.erase(line_start(from), line_end(to) + 1 - line_start(from));
  }
};

// NOLINTNEXTLINE(misc-no-recursion): nesting was limited before parsing
void collect(Job& job, const Node& table, const std::string& above) {
  for (const auto& [key, node] : table.entries) {
    const std::string path = above.empty() ? key : above + "." + key;
    const bool is_spread = node.from <= node.key_from;
    if (is_spread && node.kind == Node::Kind::table) {
      // `[a.b]` is b's header: it comes after a, whose place is the same.
      if (job.text[node.from] == '[') job.tables[node.from] = path;
      collect(job, node, path);
    } else if (is_spread && node.kind == Node::Kind::array) {
      for (const Node& item : node.items) job.tables[item.from] = "?";
    } else {
      job.values.push_back({path, &node});
      collect(job, node, path);
    }
  }
}

std::unique_ptr<Job> read(std::string text) {
  base::Diagnostics ignored;
  auto root = input::parsed({"", text}, ignored);
  if (!root) return nullptr;
  auto job = std::make_unique<Job>(Job{std::move(text), *std::move(root)});
  collect(*job, job->root, "");
  return job;
}

bool is_within(const Node& inner, const Node& outer) {
  return outer.key_from <= inner.key_from && inner.to <= outer.to;
}

/// The end of the last value that belongs to a header, or of the header itself.
std::size_t end_of(const Job& job, std::size_t header) {
  std::size_t end = header == std::string::npos ? 0 : header;
  for (const auto& [path, node] : job.values) {
    if (job.header_of(node->key_from) == header) end = std::max(end, node->to);
  }
  return end;
}

/// The text of the line that holds `at`, without blanks around it.
std::string_view line_at(const Job& job, std::size_t at) {
  const std::size_t start = job.line_start(at);
  return base::trimmed(std::string_view(job.text).substr(start, job.line_end(at) - start));
}

/// Is a comment all that stands in a line above the header, without a blank line between, or
/// anywhere below it up to the next header?
bool has_comments(const Job& job, std::size_t header) {
  const std::size_t start = job.line_start(header);
  if (start > 0 && line_at(job, start - 1).starts_with('#')) return true;
  const auto next = job.tables.upper_bound(header);
  const std::size_t end = next == job.tables.end() ? job.text.size() : next->first;
  std::size_t at = job.line_end(header) + 1;
  // What is above the next header without a blank line between is that header's.
  std::size_t behind = end;
  while (next != job.tables.end() && behind > at &&
         line_at(job, job.line_start(behind) - 1).starts_with('#')) {
    behind = job.line_start(job.line_start(behind) - 1);
  }
  for (; at < behind; at = job.line_end(at) + 1) {
    if (line_at(job, at).starts_with('#')) return true;
  }
  return false;
}

/// A header below which nothing is left goes as well, with the blank line above it.
void take_out_header(Job& job, std::size_t header) {
  const std::size_t start = job.line_start(header);
  const bool has_blank_above = start > 0 && line_at(job, start - 1).empty();
  job.erase_lines(has_blank_above ? start - 1 : start, header);
}

/// Takes a value out with its lines; one that stands among others in a line stays.
void take_out(Job& job, const Node& node) {
  const std::size_t start = job.line_start(node.key_from);
  const std::string before = job.text.substr(start, node.key_from - start);
  if (before.find_first_of("{,") == std::string::npos) job.erase_lines(start, node.to);
}

/// The same, with the header if nothing is left below it.
void take_out_with_header(Job& job, const Node& node) {
  const std::size_t header = job.header_of(node.key_from);
  const bool is_alone =
      header != std::string::npos && job.tables.at(header) != "?" &&
      std::none_of(job.values.begin(), job.values.end(), [&](const Value& one) {
        return job.header_of(one.node->key_from) == header && !is_within(*one.node, node);
      });
  const bool closes = is_alone && has_comments(job, header);
  const std::size_t size = job.text.size();
  take_out(job, node);
  if (!is_alone || job.text.size() == size) return;
  if (closes) {
    job.text.insert(header, "# ");
  } else {
    take_out_header(job, header);
  }
}

/// Where a header that was left as a comment begins; npos where there is none.
std::size_t closed_header(const Job& job, const std::string& table) {
  const std::string closed = "# [" + table + "]";
  for (std::size_t at = 0; at < job.text.size(); at = job.line_end(at) + 1) {
    const bool is_in_value =
        std::any_of(job.values.begin(), job.values.end(),
                    [&](const Value& one) { return one.node->from < at && at < one.node->to; });
    const std::string_view line = line_at(job, at);
    const bool is_it =
        line.starts_with(closed) && (line.size() == closed.size() ||
                                     base::trimmed(line.substr(closed.size())).starts_with('#'));
    if (is_it && !is_in_value) return at + job.text.substr(at).find('#');
  }
  return std::string::npos;
}

void add(Job& job, const std::string& path, const std::string& toml) {
  const std::size_t dot = path.rfind('.');
  const std::string line = path.substr(dot + 1) + " = " + toml;
  if (dot == std::string::npos) {
    const std::size_t end = end_of(job, std::string::npos);
    return end == 0 ? void(job.text.insert(0, line + "\n"))
                    : void(job.text.insert(job.line_end(end), "\n" + line));
  }
  const std::string table = path.substr(0, dot);
  for (const auto& [header, name] : job.tables) {
    if (name == table) return void(job.text.insert(job.line_end(end_of(job, header)), "\n" + line));
  }
  if (const std::size_t closed = closed_header(job, table); closed != std::string::npos) {
    job.text.erase(closed, std::string_view("# ").size());
    return void(job.text.insert(job.line_end(closed), "\n" + line));
  }
  job.text.resize(job.text.find_last_not_of(" \t\r\n") + 1);
  job.text += "\n\n[" + table + "]\n" + line + "\n";
}

/// Without the table called `name` and its values.
std::string without_table(Job& job, std::string_view name) {
  for (const auto& [header, table] : job.tables) {
    if (table != name) continue;
    job.erase_lines(header, end_of(job, header));
    break;
  }
  return job.text;
}

bool is_number_or_truth(const std::string& typed) {
  if (typed == "true" || typed == "false") return true;
  const bool is_plain = typed.find_first_not_of("-.0123456789") == std::string::npos;
  const auto job = is_plain ? read("value = " + typed) : nullptr;
  return job && job->values.front().node->kind != Node::Kind::moment;
}

bool is_field_of(input::FieldKind kind, std::string_view path) {
  const auto& fields = input::job_fields();
  return std::any_of(fields.begin(), fields.end(), [&](const input::FieldFacts& field) {
    return field.kind == kind && field.path() == path;
  });
}

bool is_digit(char c) { return c >= '0' && c <= '9'; }

/// Whether the comma at `at` may be a decimal one: no room around it, digits on both sides.
bool is_between_digits(std::string_view typed, std::size_t at) {
  return at > 0 && at + 1 < typed.size() && is_digit(typed[at - 1]) && is_digit(typed[at + 1]);
}

/// Whether the commas between digits are decimal ones. `40,80` alone is two numbers; something that
/// parts the list beside (`155,5 mm, 320 mm`) or a single length with its unit (`155,5 mm`) tells.
bool has_decimal_commas(std::string_view typed) {
  int tight = 0;
  for (std::size_t at = 0; at < typed.size(); ++at) {
    if (typed[at] == ';') return true;
    if (typed[at] != ',') continue;
    if (!is_between_digits(typed, at)) return true;
    ++tight;
  }
  const bool has_unit = typed.find_first_not_of("-.,0123456789 \t") != std::string_view::npos;
  return tight == 1 && has_unit;
}

/// Where the first item of a list ends.
std::size_t end_of_item(std::string_view typed, bool are_decimal) {
  std::size_t at = 0;
  while (at < typed.size()) {
    if (typed[at] == ';') return at;
    if (typed[at] == ',' && !(are_decimal && is_between_digits(typed, at))) return at;
    ++at;
  }
  return at;
}

/// `6 in, 12 in` or `155,5 mm; 320 mm` as a list of its own.
std::string list_as_toml(std::string_view typed) {
  const bool are_decimal = has_decimal_commas(typed);
  std::string items;
  while (!typed.empty()) {
    const std::size_t end = end_of_item(typed, are_decimal);
    const std::string one(base::trimmed(typed.substr(0, end)));
    if (!one.empty()) {
      items += (items.empty() ? "" : ", ") + (is_number_or_truth(one) ? one : toml_text(one));
    }
    typed.remove_prefix(std::min(end + 1, typed.size()));
  }
  return "[" + items + "]";
}

/// A list as it is typed; absent where it holds others.
std::optional<std::string> typed_list(const Node& list) {
  const auto is_plain = [](const Node& one) {
    return one.kind != Node::Kind::table && one.kind != Node::Kind::array;
  };
  const auto has_comma = [](const Node& one) { return one.text.find(',') != std::string::npos; };
  if (!std::all_of(list.items.begin(), list.items.end(), is_plain)) return std::nullopt;
  const bool has_commas = std::any_of(list.items.begin(), list.items.end(), has_comma);
  return base::list_text(list.items, has_commas ? "; " : ", ",
                         [](const Node& one) { return one.text; });
}

}  // namespace

std::string toml_text(const std::string& text) {
  constexpr const char* kDigits = "0123456789abcdef";
  std::string result = "\"";
  for (const char c : text) {
    const auto byte = static_cast<unsigned char>(c);
    if (byte < 0x20U || byte == 0x7FU) {
      result += std::string("\\u00") + kDigits[byte / 16] + kDigits[byte % 16];
      continue;
    }
    if (c == '"' || c == '\\') result += '\\';
    result += c;
  }
  return result + "\"";
}

std::string typed_as_toml(const std::string& path, const std::string& typed) {
  if (path == "construction" || is_field_of(input::FieldKind::text, path)) return toml_text(typed);
  if (is_field_of(input::FieldKind::lengths, path)) return list_as_toml(typed);
  return is_number_or_truth(typed) ? typed : toml_text(typed);
}

std::optional<std::string> edited(const std::string& text, const std::string& path,
                                  const std::optional<std::string>& toml) {
  auto job = read(text);
  if (!job) return std::nullopt;
  job = read(without_table(*job, path));
  const std::string table = path.substr(0, std::min(path.rfind('.'), path.size()));
  const Node* in_the_way = toml && table != path ? job->value(table) : nullptr;
  if (in_the_way && in_the_way->kind != Node::Kind::table) {
    take_out(*job, *in_the_way);
    job = read(job->text);
  }
  const Node* old = job->value(path);
  if (old && toml) {
    job->text.replace(old->from, old->to - old->from, *toml);
  } else if (old) {
    take_out_with_header(*job, *old);
  } else if (toml) {
    add(*job, path, *toml);
  }
  return read(job->text) ? std::optional(job->text) : std::nullopt;
}

std::optional<WrittenJob> written_job(const std::string& text) {
  const auto job = read(text);
  if (!job) return std::nullopt;
  WrittenJob all;
  for (const auto& [path, node] : job->values) {
    WrittenValue value{path, text.substr(node->from, node->to - node->from), {}, 0, 0};
    const bool is_one = node->kind != Node::Kind::table && node->kind != Node::Kind::array;
    const bool is_long = value.written.starts_with("\"\"\"") || value.written.starts_with("'''");
    if (is_one && !is_long) value.typed = node->text;
    if (node->kind == Node::Kind::array && is_field_of(input::FieldKind::lengths, path)) {
      value.typed = typed_list(*node);
    }
    value.first = node->key_place.line;
    value.last = value.first +
                 static_cast<int>(std::count(value.written.begin(), value.written.end(), '\n'));
    all.values.push_back(std::move(value));
  }
  for (const auto& [header, name] : job->tables) all.tables.push_back(name);
  return all;
}

}  // namespace pouchwright::job
