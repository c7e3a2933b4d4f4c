#include "input/node.h"

#include <toml++/toml.h>

#include <algorithm>
#include <utility>

#include "base/text.h"

namespace pouchwright::input {

namespace {

using base::Place;

/// The letters of a file by line and column, for cutting out what stands between two places. A list
/// of where each begins makes that quick: counted from the line's start each time, a file of one
/// long line would take time squared.
class Letters {
 public:
  explicit Letters(std::string_view text) : text_(text) {
    starts_.reserve(text.size() + 1);
    lines_.push_back(0);
    for (const std::string_view letter : base::letters(text)) {
      starts_.push_back(static_cast<std::size_t>(letter.data() - text.data()));
      if (letter == "\n") lines_.push_back(starts_.size());
    }
    starts_.push_back(text.size());
  }

  /// What stands between two columns of one line; columns count code points from 1.
  [[nodiscard]] std::string_view between(int line, int from, int to) const {
    if (line < 1 || static_cast<std::size_t>(line) > lines_.size()) return {};
    const std::size_t begin = offset(line, from);
    const std::size_t end = offset(line, to);
    return begin < end ? text_.substr(begin, end - begin) : std::string_view();
  }

 private:
  /// Columns beyond the line's last letter stand for its end.
  [[nodiscard]] std::size_t offset(int line, int column) const {
    const auto index = static_cast<std::size_t>(line);
    const std::size_t last = index < lines_.size() ? lines_[index] - 1 : starts_.size() - 1;
    const std::size_t skipped = column < 1 ? 0 : static_cast<std::size_t>(column - 1);
    return starts_[std::min(lines_[index - 1] + skipped, last)];
  }

  std::string_view text_;
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
  Converter(const std::string& file, std::string_view text) : file_(file), letters_(text) {}

  // NOLINTNEXTLINE(misc-no-recursion): nesting was limited before parsing
  Node converted(const toml::node& source) const {
    Node node;
    node.place = place_at(file_, source.source());
    if (const auto* table = source.as_table()) {
      node.kind = Node::Kind::table;
      for (const auto& [key, value] : *table) {
        Node entry = converted(value);
        entry.key_place = place_at(file_, key.source());
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
    const std::string_view written =
        letters_.between(node.place.line, node.place.column, node.place.end_column);
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

/// Walks over a text that is not yet parsed, counting dots and brackets outside of strings and
/// comments, so that nothing reaches the parser that could overflow its stack: dotted keys escape
/// its own limit.
class Depth {
 public:
  Depth(const LoadedFile& file, base::Diagnostics& diagnostics)
      : file_(file), text_(file.text), diagnostics_(diagnostics) {}

  bool is_fine() {
    for (; at_ < text_.size(); ++at_) {
      const char c = text_[at_];
      if (!quote_.empty()) {
        in_string(c);
      } else if (comment_) {
        comment_ = c != '\n';
      } else if (!outside(c)) {
        return false;
      }
      if (c == '\n') new_line();
    }
    return true;
  }

 private:
  bool fault(const char* key) { return refused(file_, at_, key, diagnostics_); }

  void new_line() {
    dots_ = 0;
    key_dots_ = 0;
    is_escaped_ = false;
    if (quote_.size() == 1) quote_.clear();
  }

  bool outside(char c) {
    if (c == '#') comment_ = true;
    if (c == '"' || c == '\'') {
      const std::string three(3, c);
      quote_ = text_.substr(at_, 3) == three ? three : std::string(1, c);
      at_ += quote_.size() - 1;
    }
    if (c == '.' && ++dots_ >= kMostDepth) return fault("key-too-deep");
    if (c == '=') key_dots_ = dots_;
    if (c == '=' || c == ',' || c == '{' || c == '[') dots_ = 0;
    if (c == '[' || c == '{') return opened();
    if (c == ',') key_dots_ = 0;
    if ((c == ']' || c == '}') && !open_.empty()) {
      depth_ -= open_.back();
      open_.pop_back();
    }
    return true;
  }

  /// A bracket is as deep as its key has dotted parts.
  bool opened() {
    open_.push_back(1 + std::exchange(key_dots_, 0));
    depth_ += open_.back();
    return depth_ <= kMostDepth || fault("brackets-too-deep");
  }

  void in_string(char c) {
    if (std::exchange(is_escaped_, false)) return;
    is_escaped_ = c == '\\' && quote_.front() == '"';
    if (is_escaped_ || text_.substr(at_, quote_.size()) != quote_) return;
    at_ += quote_.size() - 1;
    quote_.clear();
  }

  const LoadedFile& file_;
  std::string_view text_;
  base::Diagnostics& diagnostics_;
  std::size_t at_ = 0;
  int dots_ = 0;
  int key_dots_ = 0;  ///< of the key whose value begins here
  int depth_ = 0;
  std::vector<int> open_;  ///< how much deeper each open bracket is
  bool comment_ = false;
  std::string quote_;        ///< what ends the string we are in; empty outside
  bool is_escaped_ = false;  ///< a backslash stands before
};

/// May the text be parsed?
bool is_readable(const LoadedFile& file, base::Diagnostics& diagnostics) {
  if (file.text.size() > kMostBytes) {
    diagnostics.error({file.name, 0, 0, 0}, {"file-too-large", {{"most", kMostBytes / 1024}}},
                      {{"file-too-large-hint"}});
    return false;
  }
  return is_text(file, diagnostics) && Depth(file, diagnostics).is_fine();
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

std::optional<Node> parsed(const LoadedFile& file, base::Diagnostics& diagnostics) {
  if (!is_readable(file, diagnostics)) return std::nullopt;
  std::string_view text = file.text;
  // An editor's byte order mark is no part of the first line: columns count from behind it.
  constexpr std::string_view kByteOrderMark = "\xEF\xBB\xBF";
  if (text.starts_with(kByteOrderMark)) text.remove_prefix(kByteOrderMark.size());
  try {
    const toml::table table = toml::parse(text, file.name);
    return Converter(file.name, text).converted(table);
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
