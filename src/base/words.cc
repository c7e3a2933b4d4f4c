#include "base/words.h"

#include <algorithm>

#include "base/reading.h"

namespace pouchwright::base {

namespace {

/// Small, and with the sign of BCP 47 between language and country.
char letter(char c) {
  if (c == '_') return '-';
  return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
}

using Rows = std::vector<Words::Row>;

std::optional<std::string_view> text_in(const Rows& rows, std::string_view key) {
  const auto found = std::lower_bound(
      rows.begin(), rows.end(), key,
      [](const Words::Row& row, std::string_view wanted) { return row.key < wanted; });
  if (found == rows.end() || found->key != key) return std::nullopt;
  return found->text;
}

/// One of two words of a head; false where it is neither, which is as if it were the first.
bool is_second(const Rows& rows, const char* key, std::string_view first, std::string_view second,
               std::vector<std::string>& unread) {
  const std::string_view said = text_in(rows, key).value_or(first);
  if (said != first && said != second) unread.emplace_back(key);
  return said == second;
}

Language language_of(const Rows& rows) {
  const auto text = [&](const char* key) { return std::string(text_in(rows, key).value_or("")); };
  Language head;
  head.name = text("language-name");
  const bool is_rtl = is_second(rows, "language-direction", "ltr", "rtl", head.unread);
  if (is_rtl) head.direction = Language::Direction::from_right;
  // A mark that is none would make 125 of 12.5.
  const std::string mark = text("language-decimal");
  const bool is_mark = mark == "." || mark == "," || mark == "٫";
  if (is_mark) head.decimal_mark = mark;
  if (!is_mark && text_in(rows, "language-decimal")) head.unread.emplace_back("language-decimal");
  for (const char* category : {"zero", "one", "two", "few", "many"}) {
    const std::string key = std::string("language-plural-") + category;
    const auto rule = text_in(rows, key);
    if (rule && !head.plurals.add(category, *rule)) head.unread.push_back(key);
  }
  const std::string state = text("language-state");
  head.is_draft = state == "drafted by a machine";
  if (!head.is_draft && !state.empty() && state != "source" && state != "read by a speaker")
    head.unread.emplace_back("language-state");
  return head;
}

}  // namespace

Words::Words() : language_(std::make_shared<const Language>()) {}

Words::Words(std::shared_ptr<const void> kept, std::vector<Row> rows)
    : kept_(std::move(kept)),
      rows_(std::move(rows)),
      language_(std::make_shared<const Language>(language_of(rows_))) {}

Words::Words(Table table) : Words() {
  const auto kept = std::make_shared<const Table>(std::move(table));
  std::vector<Row> rows;
  for (const auto& [key, text] : *kept) rows.push_back({key, text});
  *this = Words(kept, std::move(rows));
}

std::optional<std::string_view> Words::text(std::string_view key) const {
  return text_in(rows_, key);
}

Words::Table Words::table() const {
  Table table;
  for (const Row& row : rows_) table.emplace_hint(table.end(), row.key, row.text);
  return table;
}

namespace {

/// What each language says for itself, or not at all.
bool is_of_head(std::string_view key) {
  constexpr std::string_view kHead = "language-";
  if (!key.starts_with(kHead)) return false;
  const std::string_view rest = key.substr(kHead.size());
  return rest == "name" || rest == "direction" || rest == "decimal" || rest == "list" ||
         rest == "state" || rest.starts_with("plural-");
}

}  // namespace

Words Words::over(const Words& others) const {
  std::vector<Row> all;
  all.reserve(others.rows_.size() + rows_.size());
  auto mine = rows_.begin();
  for (const Row& other : others.rows_) {
    while (mine != rows_.end() && mine->key < other.key) all.push_back(*mine++);
    const bool is_said = mine != rows_.end() && mine->key == other.key;
    if (is_said) {
      all.push_back(*mine++);
    } else if (!is_of_head(other.key)) {
      all.push_back(other);
    }
  }
  all.insert(all.end(), mine, rows_.end());
  Words both(std::make_shared<const std::pair<Words, Words>>(*this, others), std::move(all));
  both.source_ = others.source_ ? others.source_ : std::make_shared<const Words>(others);
  return both;
}

std::optional<std::string> language_named(std::string_view tag,
                                          const std::vector<std::string>& known) {
  const auto alike = [](char a, char b) { return letter(a) == letter(b); };
  std::string_view wanted = tag.substr(0, tag.find_first_of(".@"));
  while (!wanted.empty()) {
    const auto found = std::find_if(known.begin(), known.end(), [&](const std::string& one) {
      return std::equal(one.begin(), one.end(), wanted.begin(), wanted.end(), alike);
    });
    if (found != known.end()) return *found;
    const std::size_t last = wanted.find_last_of("-_");
    wanted = wanted.substr(0, last == wanted.npos ? 0 : last);
  }
  return std::nullopt;
}

std::string Words::filled(std::string_view key, const Texts& texts) const {
  if (const auto pattern = text(key)) {
    std::string said = base::filled(*pattern, texts, language().plurals);
    const bool is_turned = language().direction == Language::Direction::from_right;
    return is_turned ? read_from_right(said) : said;
  }
  std::string shown = "[" + std::string(key);
  for (const auto& [name, text] : texts) shown += " " + name + "=" + text;
  return shown + "]";
}

namespace {

constexpr std::size_t kNone = std::string_view::npos;

std::string_view without_blanks(std::string_view text) {
  text.remove_prefix(std::min(text.find_first_not_of(' '), text.size()));
  return text;
}

/// The place behind the brace that closes the one which `text` begins with; kNone: none does, or braces
/// lie deeper in each other than any text's.
std::size_t behind_closing(std::string_view text) {
  constexpr std::size_t kMostDepth = 8;
  std::size_t depth = 0;
  for (std::size_t at = 0; at < text.size() && depth <= kMostDepth; ++at) {
    if (text[at] == '{') ++depth;
    if (text[at] == '}' && --depth == 0) return at + 1;
  }
  return kNone;
}

/// `one {…} other {…}`, and nothing else; empty where it is not so, or without the last form.
std::vector<std::pair<std::string_view, std::string_view>> forms_in(std::string_view text) {
  std::vector<std::pair<std::string_view, std::string_view>> forms;
  for (text = without_blanks(text); !text.empty(); text = without_blanks(text)) {
    const std::size_t open = text.find('{');
    if (open == kNone || open == 0) return {};
    const std::string_view name = text.substr(0, text.find_first_of(" {"));
    text.remove_prefix(open);
    const std::size_t end = behind_closing(text);
    if (end == kNone) return {};
    forms.emplace_back(name, text.substr(1, end - 2));
    text.remove_prefix(end);
  }
  const bool is_whole = std::any_of(forms.begin(), forms.end(),
                                    [](const auto& form) { return form.first == kOtherPlural; });
  if (!is_whole) forms.clear();
  return forms;
}

/// The form that goes with a number as it is written.
std::string_view form_of(const Hole& hole, std::string_view number, const Plurals& plurals) {
  const auto called = [&](std::string_view name) {
    return std::find_if(hole.forms.begin(), hole.forms.end(),
                        [&](const auto& form) { return form.first == name; });
  };
  auto form = called("=" + std::string(number));
  if (form == hole.forms.end()) form = called(plurals.category(number));
  if (form == hole.forms.end()) form = called(kOtherPlural);
  return form->second;
}

}  // namespace

std::optional<Hole> hole_at_front(std::string_view text) {
  if (!text.starts_with('{')) return std::nullopt;
  const std::size_t end = text.find_first_of("{},", 1);
  if (end == kNone || text[end] == '{') return std::nullopt;
  const std::string_view name = text.substr(1, end - 1);
  if (text[end] == '}') return Hole{name, {}, end + 1};
  constexpr std::string_view kPlural = "plural,";
  const std::size_t close = behind_closing(text);
  if (close == kNone) return std::nullopt;
  std::string_view rest = without_blanks(text.substr(end + 1, close - end - 2));
  if (!rest.starts_with(kPlural)) return std::nullopt;
  auto forms = forms_in(rest.substr(kPlural.size()));
  if (forms.empty()) return std::nullopt;
  return Hole{name, std::move(forms), close};
}

// NOLINTNEXTLINE(misc-no-recursion): a form is shorter than the text that it stands in
std::string filled(std::string_view pattern, const Texts& texts, const Plurals& plurals) {
  std::string result;
  while (!pattern.empty()) {
    const std::size_t open = std::min(pattern.find('{'), pattern.size());
    result += pattern.substr(0, open);
    pattern.remove_prefix(open);
    if (pattern.empty()) return result;
    const auto hole = hole_at_front(pattern);
    const auto text = std::find_if(texts.begin(), texts.end(), [&](const auto& candidate) {
      return hole && candidate.first == hole->name;
    });
    if (text == texts.end()) {
      // Only the brace is passed over, so that in "{ {name}" the inner hole is still found.
      result += pattern.front();
      pattern.remove_prefix(1);
    } else {
      result += hole->forms.empty() ? text->second
                                    : filled(form_of(*hole, text->second, plurals), texts, plurals);
      pattern.remove_prefix(hole->size);
    }
  }
  return result;
}

}  // namespace pouchwright::base
