#include "input/words_check.h"

#include <algorithm>
#include <array>
#include <iterator>
#include <optional>
#include <set>
#include <string_view>

#include "base/text.h"
#include "input/reader.h"

namespace pouchwright::input {

namespace {

/// English has no others than the one that its own head states.
bool is_plural_rule(std::string_view key) {
  constexpr std::string_view kRule = "language-plural-";
  const bool is_rule = key.starts_with(kRule);
  const std::string_view category = key.substr(is_rule ? kRule.size() : key.size());
  return category == "zero" || category == "two" || category == "few" || category == "many";
}

// NOLINTNEXTLINE(misc-no-recursion): nesting was limited before parsing
void add_rows(const Node& table, const std::string& prefix, std::vector<WordsRow>& rows) {
  for (const auto& [key, node] : table.entries) {
    if (node.kind == Node::Kind::table) add_rows(node, prefix + key + ".", rows);
    if (node.kind == Node::Kind::text) {
      rows.push_back({prefix + key, node.text, node.place, node.key_place});
    }
  }
}

/// What a text's braces say: the names of its holes, the forms it has, and whether all can be read.
struct Holes {
  std::set<std::string> names;
  std::set<std::string> forms;
  bool are_readable = true;
};

// NOLINTNEXTLINE(misc-no-recursion): a form is shorter than the text that it stands in
void collect(std::string_view text, Holes& holes) {
  for (auto open = text.find('{'); open != text.npos; open = text.find('{')) {
    text.remove_prefix(open);
    const auto hole = base::hole_at_front(text);
    if (!hole) {
      holes.are_readable = false;
      return;
    }
    holes.names.emplace(hole->name);
    for (const auto& [category, form] : hole->forms) {
      holes.forms.emplace(category);
      collect(form, holes);
    }
    text.remove_prefix(hole->size);
  }
}

Holes holes_of(std::string_view text) {
  Holes holes;
  collect(text, holes);
  return holes;
}

std::vector<std::string> without(const std::set<std::string>& some,
                                 const std::set<std::string>& others) {
  std::vector<std::string> left;
  std::set_difference(some.begin(), some.end(), others.begin(), others.end(),
                      std::back_inserter(left));
  return left;
}

/// `=1` stands for a number in every language.
bool is_form(const std::string& form, const base::Plurals& plurals) {
  const auto known = plurals.categories();
  return form.starts_with('=') || form == base::kOtherPlural ||
         std::find(known.begin(), known.end(), form) != known.end();
}

/// Signs that turn the direction of what follows until another ends them (Unicode Annex 9: U+202A to
/// U+202E, U+2066 to U+2069): the program puts words into places where the end would be cut off.
bool has_direction_sign(std::string_view text) {
  constexpr std::array<std::string_view, 9> kSigns = {
      "\u202A", "\u202B", "\u202C", "\u202D", "\u202E", "\u2066", "\u2067", "\u2068", "\u2069"};
  return std::any_of(kSigns.begin(), kSigns.end(),
                     [&](std::string_view sign) { return text.find(sign) != text.npos; });
}

void check_row(const WordsRow& row, std::string_view english, const base::Plurals& plurals,
               base::Diagnostics& diagnostics) {
  const Holes mine = holes_of(row.text);
  const Holes theirs = holes_of(english);
  if (!mine.are_readable && theirs.are_readable) {
    diagnostics.error(row.place, {"words-hole-unread", {{"key", row.key}}}, {{"words-hole-hint"}});
    return;
  }
  for (const std::string& hole : without(theirs.names, mine.names)) {
    diagnostics.error(row.place, {"words-hole-missing", {{"key", row.key}, {"hole", hole}}},
                      {{"words-hole-missing-hint", {{"english", std::string(english)}}}});
  }
  for (const std::string& hole : without(mine.names, theirs.names)) {
    diagnostics.error(row.place, {"words-hole-unknown", {{"key", row.key}, {"hole", hole}}},
                      {{"words-hole-missing-hint", {{"english", std::string(english)}}}});
  }
  if (has_direction_sign(row.text)) {
    diagnostics.error(row.place, {"words-direction-sign", {{"key", row.key}}},
                      {{"words-direction-sign-hint"}});
  }
  for (const std::string& form : mine.forms) {
    if (is_form(form, plurals)) continue;
    std::string known = "other";
    for (const std::string_view one : plurals.categories()) known += ", " + std::string(one);
    diagnostics.error(row.place,
                      {"words-form-unknown", {{"key", row.key}, {"form", clipped(form)}}},
                      {{"choices-hint", {{"names", known}}}});
  }
}

std::vector<std::string> keys_of(const base::Words& words) {
  std::vector<std::string> keys;
  for (const auto& [key, text] : words.table()) keys.push_back(key);
  return keys;
}

/// The head is read as the program reads it, and told of where it stands.
void check_head(const std::vector<WordsRow>& rows, const base::Language& language,
                base::Diagnostics& diagnostics) {
  for (const WordsRow& row : rows) {
    const auto& unread = language.unread;
    if (std::find(unread.begin(), unread.end(), row.key) == unread.end()) continue;
    diagnostics.error(row.place,
                      {"words-head-unread", {{"key", row.key}, {"text", clipped(row.text)}}},
                      {{"words-head-hint"}});
  }
}

}  // namespace

std::vector<WordsRow> words_rows(const LoadedFile& file, base::Diagnostics& diagnostics) {
  std::vector<WordsRow> rows;
  if (const auto root = parsed(file, diagnostics, kMostWordsBytes)) add_rows(*root, "", rows);
  return rows;
}

void check_words(const LoadedFile& file, const base::Words& english,
                 base::Diagnostics& diagnostics) {
  const std::vector<WordsRow> rows = words_rows(file, diagnostics);
  base::Words::Table table;
  for (const WordsRow& row : rows) table[row.key] = row.text;
  const base::Words words(table);
  check_head(rows, words.language(), diagnostics);
  const std::vector<std::string> known = keys_of(english);
  for (const WordsRow& row : rows) {
    const auto text = english.text(row.key);
    if (text) {
      check_row(row, *text, words.language().plurals, diagnostics);
    } else if (!is_plural_rule(row.key)) {
      // Faults beyond what is kept are only counted: to look for what was meant takes its time.
      const std::string near =
          diagnostics.not_kept() == 0 ? base::nearest(row.key, known) : std::string();
      const base::Message hint = near.empty() ? base::Message("words-key-hint")
                                              : base::Message("did-you-mean", {{"word", near}});
      diagnostics.error(row.key_place, {"words-key-unknown", {{"key", clipped(row.key)}}}, {hint});
    }
  }
}

}  // namespace pouchwright::input
