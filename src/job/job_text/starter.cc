#include "job/job_text/starter.h"

#include <algorithm>
#include <vector>

#include "base/text.h"
#include "input/fields.h"
#include "input/job.h"
#include "job/job_text/edited.h"
#include "job/told_fields.h"
#include "pouch/judge/content.h"

namespace pouchwright::job {

namespace {

/// Comments end before this column where their words allow it.
constexpr std::size_t kWidest = 98;
/// A longer value, such as a title, does not push the comments of its neighbours away.
constexpr std::size_t kWidestAligned = 40;

struct Entry {
  std::string key;
  std::string value;  ///< as TOML
  std::string meaning;
  bool stated = false;
};

/// `text` as lines of comment.
std::string as_comment(const std::string& text) {
  std::string lines;
  std::string line = "#";
  std::size_t at = 0;
  while (at < text.size()) {
    const std::size_t end = std::min(text.find_first_of(" \n", at), text.size());
    const std::string word = text.substr(at, end - at);
    if (line.size() > 1 && line.size() + 1 + word.size() > kWidest) {
      lines += line + "\n";
      line = "#";
    }
    if (!word.empty()) line += " " + word;
    at = end + 1;
  }
  return lines + line + "\n";
}

std::string one_line(std::string text) {
  std::replace(text.begin(), text.end(), '\n', ' ');
  return text;
}

/// A table of the job, in order, with the words above its header; one that would be at fault when it
/// is empty is a comment whole.
struct Part {
  const char* table;
  const char* lead;
  bool may_be_empty;
};
constexpr Part kParts[] = {{"", "", true},
                           {"liners", "desk-group-liners-lead", false},
                           {"panel", "new-panel", false},
                           {"card", "new-card", false},
                           {"pouch", "new-sizes", true},
                           {"materials", "new-materials", true},
                           {"batch", "desk-group-batch", true},
                           {"stitches", "new-stitches", false},
                           {"iron", "new-iron", false},
                           {"lay", "desk-group-lay", true},
                           {"tolerance", "desk-group-more", true},
                           {"paper", "desk-group-paper", true}};

base::Unit units_of(const Starter& made) {
  const auto stated = made.stated.find("units");
  const bool is_inch = stated != made.stated.end() &&
                       stated->second == toml_text(word_of(base::kUnitWords, base::Unit::inch));
  return is_inch ? base::Unit::inch : base::Unit::mm;
}

/// What stands at a path, or else what a comment shows there.
Entry entry(const Starter& made, const std::string& path, const std::string& usual,
            std::string meaning) {
  const auto stated = made.stated.find(path);
  const auto shown = made.shown.find(path);
  const bool is_stated = stated != made.stated.end();
  const std::string& value = is_stated                   ? stated->second
                             : shown != made.shown.end() ? shown->second
                                                         : usual;
  return {path.substr(path.find('.') + 1), value, std::move(meaning), is_stated};
}

Entry entry(const Starter& made, const input::FieldFacts& field, const base::Voice& words) {
  std::string says = field_meaning(field.word, words);
  const std::string choices = base::list_text(field.choices);
  if (!choices.empty()) says += " (" + choices + ")";
  return entry(made, field.path(), field.usual_of(units_of(made)), says);
}

std::string usual_of(const Starter& made, const pouch::SizeRule& rule) {
  const base::Unit units = units_of(made);
  const pouch::SizeRule* allowance = made.construction.size_rule(pouch::size::kSeamAllowance);
  base::Length usual;
  if (const auto own = rule.usual(units)) {
    usual = *own;
  } else if (rule.name == pouch::size::kMinClearSeal) {
    usual = input::kMinClearSeal.of(units);
  } else if (allowance) {
    usual = allowance->usual(units).value_or(usual);
  }
  return toml_text(base::exact_text(usual, units));
}

/// The construction says what its sizes mean; the program, what all of them know.
void add_sizes(const Starter& made, const base::Voice& words, std::vector<Entry>& entries) {
  for (const pouch::SizeRule& rule : made.construction.sizes) {
    const std::string path = "pouch." + rule.name;
    const std::string says = rule.meaning.empty()
                                 ? field_meaning("desk-field-" + base::slug(path), words)
                                 : rule.meaning;
    entries.push_back(entry(made, path, usual_of(made, rule), says));
  }
}

std::vector<Entry> entries_of(const Starter& made, std::string_view table,
                              const base::Voice& words) {
  std::vector<Entry> entries;
  if (table.empty()) {
    entries.push_back(entry(made, "construction", "", words.say({"desk-construction"})));
  }
  if (table == "pouch") add_sizes(made, words, entries);
  for (const input::FieldFacts& field : input::job_fields()) {
    if (field.table == table && field.is_in_starter()) entries.push_back(entry(made, field, words));
  }
  return entries;
}

base::Message lead_of(const Starter& made, const Part& part) {
  if (std::string_view(part.table) != "pouch" || !made.stated.contains("liners.count")) {
    return part.lead;
  }
  // What this construction has of the sizes that liners decide, by the names that the file takes.
  std::vector<std::string> names;
  for (const pouch::SizeRule& rule : made.construction.sizes) {
    if (pouch::follows_liners(made.construction, rule.name)) names.push_back(rule.name);
  }
  return {"new-sizes-from-liners", {{"sizes", base::list_text(names)}}};
}

std::string line_of(const Entry& one) {
  return (one.stated ? "" : "# ") + one.key + " = " + one.value;
}

std::string lines_of(const std::vector<Entry>& entries) {
  std::size_t widest = 0;
  for (const Entry& one : entries) {
    const std::size_t size = line_of(one).size();
    if (size <= kWidestAligned) widest = std::max(widest, size);
  }
  std::string text;
  for (const Entry& one : entries) {
    std::string line = line_of(one);
    line.resize(std::max(widest, line.size()), ' ');
    text += line + "  # " + one_line(one.meaning) + "\n";
  }
  return text;
}

/// The lines of one [[table]]: those that count, or an example.
std::string list_entry(const char* table,
                       const std::vector<std::pair<std::string, std::string>>& rows, bool counts) {
  const std::string mark = counts ? "" : "# ";
  std::string text = mark + "[[" + table + "]]\n";
  for (const auto& [key, value] : rows) {
    if (!value.empty()) text += mark + key + " = " + value + "\n";
  }
  return text;
}

std::string stock_text(const Starter& made, const base::Voice& words) {
  std::string text = "\n" + as_comment(words.say("new-stock"));
  const bool in_inches = units_of(made) == base::Unit::inch;
  std::vector<Starter::Piece> pieces = made.stock;
  if (pieces.empty()) {
    pieces.push_back({"\"laminate\"", in_inches ? "\"60 in\"" : "\"60 cm\"",
                      in_inches ? "\"10 yd\"" : "\"45 cm\""});
  }
  for (const Starter::Piece& piece : pieces) {
    text +=
        list_entry("stock.cloth",
                   {{"material", piece.material}, {"width", piece.width}, {"length", piece.length}},
                   !made.stock.empty());
  }
  text += "\n" + as_comment(words.say("new-by-product"));
  return text + list_entry("lay.by_product",
                           {{"name", "\"tag\""},
                            {"width", in_inches ? "\"1 in\"" : "\"25 mm\""},
                            {"length", in_inches ? "\"3 in\"" : "\"80 mm\""},
                            {"count", "20"}},
                           false);
}

}  // namespace

std::string starter_text(const Starter& starter, const base::Voice& words) {
  std::string text =
      as_comment(words.say({"new-head", {{"construction", starter.construction.title}}}));
  for (const Part& part : kParts) {
    const std::vector<Entry> entries = entries_of(starter, part.table, words);
    const bool is_stated = part.may_be_empty || std::any_of(entries.begin(), entries.end(),
                                                            [](auto& one) { return one.stated; });
    text += "\n";
    if (*part.table != '\0') {
      text += as_comment(words.say(lead_of(starter, part))) + (is_stated ? "[" : "# [") +
              part.table + "]\n";
    }
    text += lines_of(entries);
    if (std::string_view(part.table) == "lay") text += stock_text(starter, words);
  }
  return text;
}

}  // namespace pouchwright::job
