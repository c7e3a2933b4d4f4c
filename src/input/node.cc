#include "input/node.h"

#include <toml++/toml.h>

#include <algorithm>

namespace pouchwright::input {

namespace {

using diag::Place;

/// Lines of a file, for cutting out what stands between two places.
class Lines {
 public:
  explicit Lines(std::string_view text) : text_(text) {
    starts_.push_back(0);
    for (std::size_t i = 0; i < text.size(); ++i) {
      if (text[i] == '\n') starts_.push_back(i + 1);
    }
  }

  /// What stands between two columns of one line; columns count code points from 1.
  [[nodiscard]] std::string_view between(int line, int from, int to) const {
    if (line < 1 || static_cast<std::size_t>(line) > starts_.size()) return {};
    const std::size_t begin = offset(line, from);
    const std::size_t end = offset(line, to);
    return begin < end ? text_.substr(begin, end - begin) : std::string_view();
  }

 private:
  [[nodiscard]] std::size_t offset(int line, int column) const {
    std::size_t at = starts_[static_cast<std::size_t>(line - 1)];
    for (int skipped = 1; skipped < column && at < text_.size() && text_[at] != '\n'; ++skipped) {
      ++at;
      while (at < text_.size() && (static_cast<unsigned char>(text_[at]) & 0xC0U) == 0x80U) ++at;
    }
    return at;
  }

  std::string_view text_;
  std::vector<std::size_t> starts_;
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
  Converter(const std::string& file, std::string_view text) : file_(file), lines_(text) {}

  // NOLINTNEXTLINE(misc-no-recursion): nesting was limited before parsing
  Node converted(const toml::node& source) const {
    Node node;
    node.place = place_at(file_, source.source());
    if (const auto* table = source.as_table()) {
      node.kind = Node::Kind::table;
      for (const auto& [key, value] : *table) {
        Node entry = converted(value);
        entry.key_place = place_at(file_, key.source());
        node.entries.emplace_back(std::string(key.str()), std::move(entry));
      }
      std::stable_sort(node.entries.begin(), node.entries.end(), [](const auto& a, const auto& b) {
        const Place& first = a.second.key_place;
        const Place& second = b.second.key_place;
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
        lines_.between(node.place.line, node.place.column, node.place.end_column);
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
  Lines lines_;
};

/// Walks over a text that is not yet parsed, counting lines, columns, dots and brackets, so that
/// nothing reaches the parser that could overflow its stack: dotted keys escape its own limit.
class Guard {
 public:
  Guard(const LoadedFile& file, diag::Diagnostics& diagnostics)
      : name_(file.name), text_(file.text), diagnostics_(diagnostics) {}

  bool fine() {
    if (text_.size() > kMostBytes) {
      diagnostics_.error({name_, 0, 0, 0},
                         {"file-too-large", {{"most", std::to_string(kMostBytes / 1024)}}},
                         {{"file-too-large-hint"}});
      return false;
    }
    while (at_ < text_.size()) {
      if (!step()) return false;
    }
    return true;
  }

 private:
  bool fault(const char* key) {
    diagnostics_.error({name_, line_, column_, column_ + 1},
                       {key, {{"most", std::to_string(kMostDepth)}}}, {{std::string(key) + "-hint"}});
    return false;
  }

  bool step() {
    const std::size_t size = character_size();
    if (size == 0) return fault("file-not-text");
    const char c = text_[at_];
    if (!quote_.empty()) {
      in_string(c);
    } else if (comment_) {
      comment_ = c != '\n';
    } else if (!outside(c)) {
      return false;
    }
    at_ += size;
    ++column_;
    if (c == '\n') {
      ++line_;
      column_ = 1;
      dots_ = 0;
      if (quote_.size() == 1) quote_.clear();
    }
    return true;
  }

  bool outside(char c) {
    if (c == '#') comment_ = true;
    if (c == '"' || c == '\'') {
      const std::string three(3, c);
      const bool is_long = text_.substr(at_, 3) == three;
      quote_ = is_long ? three : std::string(1, c);
      if (is_long) {
        at_ += 2;
        column_ += 2;
      }
    }
    if (c == '.' && ++dots_ >= kMostDepth) return fault("key-too-deep");
    if (c == '=' || c == ',' || c == '{' || c == '[') dots_ = 0;
    if ((c == '[' || c == '{') && ++depth_ > kMostDepth) return fault("brackets-too-deep");
    if ((c == ']' || c == '}') && depth_ > 0) --depth_;
    return true;
  }

  void in_string(char c) {
    if (c == '\\' && quote_.front() == '"' && at_ + 1 < text_.size()) {
      ++at_;
      ++column_;
      return;
    }
    if (text_.substr(at_, quote_.size()) != quote_) return;
    at_ += quote_.size() - 1;
    column_ += static_cast<int>(quote_.size()) - 1;
    quote_.clear();
  }

  /// Bytes of the character here; 0 where it is no UTF-8 text (RFC 3629) or a control character.
  std::size_t character_size() const {
    const auto byte = [&](std::size_t i) {
      return at_ + i < text_.size() ? static_cast<unsigned char>(text_[at_ + i]) : 0U;
    };
    const unsigned first = byte(0);
    if (first < 0x20U) return first == '\n' || first == '\r' || first == '\t' ? 1 : 0;
    if (first < 0x80U) return first == 0x7FU ? 0 : 1;
    const std::size_t size = first >= 0xF0U ? 4 : first >= 0xE0U ? 3 : 2;
    if (first < 0xC2U || first > 0xF4U) return 0;
    for (std::size_t i = 1; i < size; ++i) {
      if ((byte(i) & 0xC0U) != 0x80U) return 0;
    }
    const bool overlong = (first == 0xE0U && byte(1) < 0xA0U) || (first == 0xF0U && byte(1) < 0x90U);
    const bool surrogate = first == 0xEDU && byte(1) > 0x9FU;
    const bool beyond = first == 0xF4U && byte(1) > 0x8FU;
    return overlong || surrogate || beyond ? 0 : size;
  }

  const std::string& name_;
  std::string_view text_;
  diag::Diagnostics& diagnostics_;
  std::size_t at_ = 0;
  int line_ = 1;
  int column_ = 1;
  int dots_ = 0;
  int depth_ = 0;
  bool comment_ = false;
  std::string quote_;
};

/// The parser's description without what it adds of the place, which stands before the message.
std::string described(const toml::parse_error& error) {
  std::string text(error.description());
  for (char& c : text) {
    if (c == '\n') c = ' ';
  }
  return text.substr(0, 200);
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

Node* entry_of(Node& table, std::string_view key) {
  for (auto& [name, node] : table.entries) {
    if (name == key) return &node;
  }
  return nullptr;
}

Node value_of(const Override& override) {
  const std::string text = override.text();
  diag::Diagnostics ignored;
  if (auto root = parsed({override.shown, text}, ignored)) {
    Node* node = &*root;
    while (node->kind == Node::Kind::table && node->entries.size() == 1 &&
           node->place.column <= static_cast<int>(override.path.size())) {
      node = &node->entries.front().second;
    }
    return *node;
  }
  Node node;
  node.kind = Node::Kind::text;
  node.text = override.value;
  const int column = static_cast<int>(override.path.size()) + 4;
  node.text_column = column;
  node.place = {override.shown, 1, column, column + static_cast<int>(override.value.size())};
  node.key_place = {override.shown, 1, 1, 1 + static_cast<int>(override.path.size())};
  return node;
}

}  // namespace

const Node* Node::find(std::string_view key) const {
  for (const auto& [name, node] : entries) {
    if (name == key) return &node;
  }
  return nullptr;
}

std::optional<Node> parsed(const LoadedFile& file, diag::Diagnostics& diagnostics) {
  if (!Guard(file, diagnostics).fine()) return std::nullopt;
  try {
    const toml::table table = toml::parse(file.text, file.name);
    return Converter(file.name, file.text).converted(table);
  } catch (const toml::parse_error& error) {
    diagnostics.error(place_at(file.name, error.source()),
                      {"file-syntax", {{"what", described(error)}}}, {{"file-syntax-hint"}});
  }
  return std::nullopt;
}

void apply(const Override& override, Node& root, diag::Diagnostics& diagnostics) {
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
    if (!entry) {
      table->entries.emplace_back(key, Node{});
      entry = &table->entries.back().second;
      entry->place = whole;
      entry->key_place = whole;
    }
    if (dot == std::string_view::npos) {
      *entry = value_of(override);
      entry->key_place = whole;
      return;
    }
    if (entry->kind != Node::Kind::table) {
      entry->kind = Node::Kind::table;
      entry->entries.clear();
    }
    table = entry;
    rest.remove_prefix(dot + 1);
  }
}

}  // namespace pouchwright::input
