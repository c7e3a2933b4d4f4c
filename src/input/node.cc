#include "input/node.h"

#include <toml++/toml.h>

#include <algorithm>
#include <utility>

#include "base/text.h"

namespace pouchwright::input {

namespace {

using base::Place;

/// The bytes of a file by line and column, for cutting out what stands between two places. A list
/// of where each begins makes that quick: counted from the line's start each time, a file of one
/// long line would take time squared.
class Letters {
 public:
  /// Of `text` behind its first `skipped` bytes; the bytes are those of all of it.
  Letters(std::string_view text, std::size_t skipped) {
    starts_.reserve(text.size() + 1);
    lines_.push_back(0);
    for (const std::string_view letter : base::letters(text.substr(skipped))) {
      starts_.push_back(static_cast<std::size_t>(letter.data() - text.data()));
      if (letter == "\n") lines_.push_back(starts_.size());
    }
    starts_.push_back(text.size());
  }

  /// The byte of a line and column, which count from 1; columns count code points, and beyond the
  /// line's last letter stand for its end.
  [[nodiscard]] std::size_t offset(const toml::source_position& at) const {
    const std::size_t index = std::clamp<std::size_t>(at.line, 1, lines_.size());
    const std::size_t last = index < lines_.size() ? lines_[index] - 1 : starts_.size() - 1;
    const std::size_t skipped = at.column < 1 ? 0 : at.column - 1;
    return starts_[std::min(lines_[index - 1] + skipped, last)];
  }

 private:
  std::vector<std::size_t> starts_;  ///< the byte of each letter, and the text's end
  std::vector<std::size_t> lines_;   ///< the number of each line's first letter
};

Place place_at(const std::string& file, const toml::source_region& region) {
  Place place{file, static_cast<int>(region.begin.line), static_cast<int>(region.begin.column), 0};
  const bool one_line = region.end.line == region.begin.line;
  place.end_column = one_line ? static_cast<int>(region.end.column) : place.column + 1;
  return place;
}

/// Turns the library's tree into ours.
class Converter {
 public:
  Converter(const LoadedFile& file, std::size_t skipped)
      : file_(file.name), text_(file.text), letters_(text_, skipped) {}

  // NOLINTNEXTLINE(misc-no-recursion): nesting was limited before parsing
  Node converted(const toml::node& source) const {
    Node node;
    node.place = place_at(file_, source.source());
    node.from = letters_.offset(source.source().begin);
    node.to = std::max(node.from, letters_.offset(source.source().end));
    if (const auto* table = source.as_table()) {
      node.kind = Node::Kind::table;
      for (const auto& [key, value] : *table) {
        Node entry = converted(value);
        entry.key_place = place_at(file_, key.source());
        entry.key_from = letters_.offset(key.source().begin);
        node.entries.push_back({std::string(key.str()), std::move(entry)});
      }
      std::stable_sort(node.entries.begin(), node.entries.end(), [](const auto& a, const auto& b) {
        const Place& first = a.node.key_place;
        const Place& second = b.node.key_place;
        return std::pair(first.line, first.column) < std::pair(second.line, second.column);
      });
    } else if (const auto* array = source.as_array()) {
      node.kind = Node::Kind::array;
      for (const auto& item : *array) node.items.push_back(converted(item));
    } else {
      scalar(source, node);
    }
    return node;
  }

 private:
  void scalar(const toml::node& source, Node& node) const {
    const std::string_view written = text_.substr(node.from, node.to - node.from);
    if (const auto* text = source.as_string()) {
      node.kind = Node::Kind::text;
      node.text = text->get();
      const bool as_written = written.size() == node.text.size() + 2 &&
                              written.substr(1, node.text.size()) == node.text;
      if (as_written) node.text_column = node.place.column + 1;
      return;
    }
    node.text = std::string(written);
    if (const auto* whole = source.as_integer()) {
      node.kind = Node::Kind::whole;
      node.whole = whole->get();
    } else if (const auto* decimal = source.as_floating_point()) {
      node.kind = Node::Kind::decimal;
      node.decimal = decimal->get();
    } else if (const auto* truth = source.as_boolean()) {
      node.kind = Node::Kind::boolean;
      node.truth = truth->get();
    } else {
      node.kind = Node::Kind::moment;
    }
  }

  const std::string& file_;
  std::string_view text_;
  Letters letters_;
};

/// The letter that begins at byte `at`.
Place place_of(const LoadedFile& file, std::size_t at) {
  const std::string_view before = std::string_view(file.text).substr(0, at);
  const auto lines = std::count(before.begin(), before.end(), '\n');
  const std::string_view line = before.substr(before.rfind('\n') + 1);
  const int column = static_cast<int>(base::letter_count(line)) + 1;
  return {file.name, static_cast<int>(lines) + 1, column, column + 1};
}

bool is_control(char c) {
  const auto byte = static_cast<unsigned char>(c);
  return (byte < 0x20U && c != '\n' && c != '\r' && c != '\t') || byte == 0x7FU;
}

bool refused(const LoadedFile& file, std::size_t at, const char* key,
             base::Diagnostics& diagnostics) {
  diagnostics.error(place_of(file, at), {key, {{"most", kMostDepth}}},
                    {{std::string(key) + "-hint"}});
  return false;
}

/// UTF-8 without control characters. One of these in what is otherwise text is told as such:
/// programs and pictures have zeros.
bool is_text(const LoadedFile& file, base::Diagnostics& diagnostics) {
  const std::string& text = file.text;
  const auto control = std::find_if(text.begin(), text.end(), is_control) - text.begin();
  const std::size_t at = std::min(base::utf8_bytes(text), static_cast<std::size_t>(control));
  if (at == text.size()) return true;
  const bool is_stray = is_control(text[at]) && text.find('\0') == std::string::npos;
  return refused(file, at, is_stray ? "file-control-character" : "file-not-text", diagnostics);
}

/// The last byte of the string that begins at `at`; one of a line ends with it at the latest.
std::size_t end_of_string(std::string_view text, std::size_t at) {
  const std::string three(3, text[at]);
  const std::string quote = text.substr(at, 3) == three ? three : three.substr(0, 1);
  for (std::size_t i = at + quote.size(); i < text.size(); ++i) {
    if (text.substr(i, quote.size()) == quote) return i + quote.size() - 1;
    if (text[i] == '\n' && quote.size() == 1) return i - 1;
    if (text[i] == '\\' && quote.front() == '"' && text.substr(i + 1, 1) != "\n") ++i;
  }
  return text.size();
}

/// Counts the dots and brackets outside of strings and comments of a text that is not yet parsed,
/// so that nothing reaches the parser that could overflow its stack: dotted keys escape its own
/// limit. A bracket is as deep as its key has dotted parts.
bool is_shallow(const LoadedFile& file, base::Diagnostics& diagnostics) {
  const std::string_view text = file.text;
  int dots = 0;
  int key_dots = 0;  // of the key whose value begins here
  int depth = 0;
  std::vector<int> open;  // how much deeper each open bracket is
  for (std::size_t at = 0; at < text.size(); ++at) {
    const char c = text[at];
    if (c == '"' || c == '\'') at = end_of_string(text, at);
    if (c == '#') at = std::min(text.find('\n', at), text.size()) - 1;
    if (c == '.' && ++dots >= kMostDepth) return refused(file, at, "key-too-deep", diagnostics);
    if (c == '=') key_dots = dots;
    if (c == '\n' || c == ',') key_dots = 0;
    if (c == '\n' || c == ',' || c == '=' || c == '{' || c == '[') dots = 0;
    if (c == '[' || c == '{') {
      open.push_back(1 + std::exchange(key_dots, 0));
      depth += open.back();
      if (depth > kMostDepth) return refused(file, at, "brackets-too-deep", diagnostics);
    }
    if ((c == ']' || c == '}') && !open.empty()) {
      depth -= open.back();
      open.pop_back();
    }
  }
  return true;
}

/// May the text be parsed?
bool is_readable(const LoadedFile& file, std::size_t most, base::Diagnostics& diagnostics) {
  if (file.text.size() > most) {
    diagnostics.error({file.name, 0, 0, 0}, {"file-too-large", {{"most", most / 1024}}},
                      {{"file-too-large-hint"}});
    return false;
  }
  return is_text(file, diagnostics) && is_shallow(file, diagnostics);
}

/// What the parser says is wrong, in our words: the part of its description that tells, and the
/// keys.
struct SyntaxFault {
  const char* told;
  const char* key;
  const char* hint;
};
constexpr SyntaxFault kSyntaxFaults[] = {
    {"cannot redefine", "syntax-twice", "syntax-twice-hint"},
    {"escape sequence", "syntax-escape", "syntax-escape-hint"},
    {"parsing string", "syntax-text", "syntax-text-hint"},
    {"parsing literal string", "syntax-text", "syntax-text-hint"},
    {"pair: expected a comment", "syntax-behind-value", "file-syntax-hint"},
    {"pair: expected '='", "syntax-no-equals", "file-syntax-hint"},
    {"parsing table header", "syntax-header", "syntax-header-hint"},
    {"parsing array", "syntax-list", "syntax-list-hint"},
    {"parsing inline table", "syntax-list", "syntax-list-hint"},
    {"parsing value", "syntax-value", "file-syntax-hint"},
    {"integer", "syntax-value", "file-syntax-hint"},
    {"parsing floating-point", "syntax-value", "file-syntax-hint"},
    {"parsing boolean", "syntax-value", "file-syntax-hint"},
};

/// Whether the character at `place` is one of those that a word processor makes of a quote.
bool is_curly_quote(std::string_view text, const base::Place& place) {
  constexpr std::string_view kByteOrderMark = "\xef\xbb\xbf";
  if (text.starts_with(kByteOrderMark)) text.remove_prefix(kByteOrderMark.size());
  for (int line = 1; line < place.line; ++line) text.remove_prefix(text.find('\n') + 1);
  text.remove_prefix(base::byte_of(text, static_cast<std::size_t>(std::max(0, place.column - 1))));
  const auto quotes = {"“", "”", "„", "‘", "’"};
  return std::any_of(quotes.begin(), quotes.end(),
                     [&](const char* quote) { return text.starts_with(quote); });
}

void report_syntax(const toml::parse_error& error, std::string_view text, const std::string& file,
                   base::Diagnostics& diagnostics) {
  const std::string_view description = error.description();
  SyntaxFault fault{"", "file-syntax", "file-syntax-hint"};
  for (const SyntaxFault& known : kSyntaxFaults) {
    if (description.find(known.told) == std::string_view::npos) continue;
    fault = known;
    break;
  }
  const base::Place place = place_at(file, error.source());
  if (fault.hint == std::string_view("file-syntax-hint") && is_curly_quote(text, place)) {
    fault = {"", "syntax-curly", "syntax-curly-hint"};
  }
  diagnostics.error(place, {fault.key}, {{fault.hint}});
}

bool is_path(std::string_view path) {
  bool expects_letter = true;
  for (const char c : path) {
    const bool letter = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') ||
                        (c >= '0' && c <= '9') || c == '_' || c == '-';
    if (!letter && (c != '.' || expects_letter)) return false;
    expects_letter = !letter;
  }
  return !expects_letter;
}

bool is_array_of_tables(const Node& node) {
  return std::any_of(node.items.begin(), node.items.end(),
                     [](const Node& item) { return item.kind == Node::Kind::table; });
}

Node* entry_of(Node& table, std::string_view key) {
  for (auto& [name, node] : table.entries) {
    if (name == key) return &node;
  }
  return nullptr;
}

/// The node that `path` leads to where it and the tables on the way are all there is in `root`;
/// null where the text says more than one value.
Node* only_node(Node& root, std::string_view path) {
  Node* node = &root;
  const auto parts = std::count(path.begin(), path.end(), '.') + 1;
  for (auto part = parts; part > 0; --part) {
    if (node->kind != Node::Kind::table || node->entries.size() != 1) return nullptr;
    node = &node->entries.front().node;
  }
  return node;
}

Node value_of(const Override& override) {
  const std::string text = override.text();
  base::Diagnostics ignored;
  if (auto root = parsed({override.shown, text}, ignored)) {
    if (const Node* node = only_node(*root, override.path)) return *node;
  }
  Node node;
  node.kind = Node::Kind::text;
  node.text = override.value;
  const int column = static_cast<int>(override.path.size()) + 4;
  node.text_column = column;
  node.place = {override.shown, 1, column,
                column + static_cast<int>(base::letter_count(override.value))};
  node.key_place = {override.shown, 1, 1, 1 + static_cast<int>(override.path.size())};
  return node;
}

}  // namespace

// Here, where Entry is complete.
Node::Node() = default;
Node::Node(const Node&) = default;
Node::Node(Node&&) noexcept = default;
Node& Node::operator=(const Node&) = default;
Node& Node::operator=(Node&&) noexcept = default;
Node::~Node() = default;

const Node* Node::find(std::string_view key) const {
  for (const auto& [name, node] : entries) {
    if (name == key) return &node;
  }
  return nullptr;
}

std::optional<Node> parsed(const LoadedFile& file, base::Diagnostics& diagnostics,
                           std::size_t most) {
  if (!is_readable(file, most, diagnostics)) return std::nullopt;
  std::string_view text = file.text;
  // An editor's byte order mark is no part of the first line: columns count from behind it.
  constexpr std::string_view kByteOrderMark = "\xEF\xBB\xBF";
  if (text.starts_with(kByteOrderMark)) text.remove_prefix(kByteOrderMark.size());
  try {
    const toml::table table = toml::parse(text, file.name);
    return Converter(file, file.text.size() - text.size()).converted(table);
  } catch (const toml::parse_error& error) {
    report_syntax(error, file.text, file.name, diagnostics);
  }
  return std::nullopt;
}

void apply(const Override& override, Node& root, base::Diagnostics& diagnostics) {
  const Place whole{override.shown, 1, 1, 1 + static_cast<int>(override.path.size())};
  if (!is_path(override.path) ||
      std::count(override.path.begin(), override.path.end(), '.') >= kMostDepth) {
    diagnostics.error(whole, {"set-no-path", {{"path", override.path}}}, {{"set-no-path-hint"}});
    return;
  }
  Node* table = &root;
  std::string_view rest = override.path;
  while (true) {
    const std::size_t dot = rest.find('.');
    const std::string key(rest.substr(0, dot));
    Node* entry = entry_of(*table, key);
    if (entry && (entry->kind == Node::Kind::array && dot != std::string_view::npos)) {
      diagnostics.error(whole, {"set-in-array", {{"key", key}}}, {{"set-in-array-hint"}});
      return;
    }
    const bool is_last = dot == std::string_view::npos;
    Node value = is_last ? value_of(override) : Node{};
    if (is_array_of_tables(value)) {
      diagnostics.error(value.place, {"set-in-array", {{"key", key}}}, {{"set-in-array-hint"}});
      return;
    }
    if (!entry) {
      table->entries.push_back({key, Node{}});
      entry = &table->entries.back().node;
      entry->place = whole;
      entry->key_place = whole;
    }
    if (is_last) {
      *entry = std::move(value);
      entry->key_place = whole;
      return;
    }
    if (entry->kind != Node::Kind::table) {
      *entry = Node{};
      entry->place = whole;
      entry->key_place = whole;
    }
    table = entry;
    rest.remove_prefix(dot + 1);
  }
}

}  // namespace pouchwright::input
