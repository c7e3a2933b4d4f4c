#include "job/job_text/starter.h"

#include <algorithm>
#include <vector>

#include "base/text.h"
#include "input/job.h"
#include "job/job_text/choices.h"
#include "paper/pages.h"
#include "pouch/judge/content.h"
#include "pouch/request.h"

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

/// Text as TOML: nothing that a person types may end it early.
std::string quoted(const std::string& text) {
  std::string result = "\"";
  for (const char letter : text) {
    if (letter == '"' || letter == '\\') result += '\\';
    const bool is_control = static_cast<unsigned char>(letter) < 0x20U || letter == 0x7F;
    result += is_control ? ' ' : letter;
  }
  return result + "\"";
}

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

std::string in_millimetres(base::Length length) { return base::decimal_mm(length) + " mm"; }

class StarterText {
 public:
  StarterText(const Starter& starter, const base::Voice& words) : made_(starter), words_(words) {}

  std::string text() {
    text_ = as_comment(words_.say({"new-head", {{"construction", made_.construction.title}}}));
    text_ += "\n";
    job();
    liners();
    sizes();
    materials();
    batch();
    stitches();
    iron();
    lay();
    tolerance();
    paper();
    return text_;
  }

 private:
  /// What the desk's page says of the same value.
  [[nodiscard]] std::string meaning(const std::string& path) const {
    const std::string key = "desk-field-" + base::slug(path);
    std::string text = words_.say(base::Message(key));
    if (!words_.has(key + "-hint")) return text;
    const std::string hint = words_.say(base::Message(key + "-hint"));
    return text + (hint.find(':') == std::string::npos ? ": " : ", ") + hint;
  }

  [[nodiscard]] Entry entry(const std::string& table, const std::string& key, std::string value,
                            bool stated) const {
    const std::string path = table.empty() ? key : table + "." + key;
    std::string says = meaning(path);
    const std::string choices = base::list_text(choices_of(path));
    if (!choices.empty()) says += " (" + choices + ")";
    return {key, std::move(value), says, stated};
  }

  /// A table whose header is a comment as well where nothing in it is stated: for those that are
  /// at fault when they are empty.
  void table(const char* name, const std::string& lead, const std::vector<Entry>& entries,
             bool stated = true) {
    text_ += "\n" + as_comment(lead) + (stated ? "[" : "# [") + name + "]\n";
    add(entries);
  }

  void add(const std::vector<Entry>& entries) {
    std::size_t widest = 0;
    for (const Entry& one : entries) {
      const std::size_t size = line_of(one).size();
      if (size <= kWidestAligned) widest = std::max(widest, size);
    }
    for (const Entry& one : entries) {
      std::string line = line_of(one);
      line.resize(std::max(widest, line.size()), ' ');
      text_ += line + "  # " + one_line(one.meaning) + "\n";
    }
  }

  [[nodiscard]] static std::string line_of(const Entry& one) {
    return (one.stated ? "" : "# ") + one.key + " = " + one.value;
  }

  void job() {
    const bool inches = made_.units == base::Unit::inch;
    const base::Length ruler = base::default_style(made_.units).ruler;
    add({{"construction", quoted(made_.construction.name), words_.say({"desk-construction"}), true},
         entry("", "title", quoted(made_.title), true),
         entry("", "units", quoted(inches ? "in" : "mm"), true),
         entry("", "ruler", quoted(base::exact_text(ruler, made_.units)), false)});
  }

  void liners() {
    const bool stated = made_.liner.has_value();
    const LinerTexts liner = stated ? *made_.liner : usual_liner(made_.units);
    const pouch::Liners usual;
    table("liners", words_.say({"desk-group-liners-lead"}),
          {entry("liners", "count", made_.count.value_or("3"), made_.count.has_value()),
           entry("liners", "width", quoted(liner.width), stated),
           entry("liners", "length", quoted(liner.length), stated),
           entry("liners", "thickness", quoted(liner.thickness), stated),
           entry("liners", "columns", "1", false),
           entry("liners", "ease", quoted(in_millimetres(usual.ease.value)), false),
           entry("liners", "overlap", quoted(in_millimetres(usual.overlap.value)), false)},
          stated);
  }

  [[nodiscard]] std::string standard_of(const pouch::SizeRule& rule) const {
    if (rule.standard) return in_millimetres(*rule.standard);
    if (rule.name == pouch::size::kMinClearSeal) return in_millimetres(input::kMinClearSeal);
    for (const pouch::SizeRule& other : made_.construction.sizes) {
      const bool is_allowance = other.name == pouch::size::kSeamAllowance;
      if (is_allowance && other.standard) return in_millimetres(*other.standard);
    }
    return in_millimetres(base::Length());
  }

  /// The construction says what its sizes mean; the program, what all of them know.
  void sizes() {
    std::vector<Entry> entries;
    for (const pouch::SizeRule& rule : made_.construction.sizes) {
      const auto stated = made_.sizes.find(rule.name);
      const bool is_stated = stated != made_.sizes.end();
      const bool is_common = rule.meaning.empty();
      const std::string says = is_common ? meaning("pouch." + rule.name) : rule.meaning;
      entries.push_back(
          {rule.name, quoted(is_stated ? stated->second : standard_of(rule)), says, is_stated});
    }
    entries.push_back(finish("start_finish", made_.construction.start_standard));
    entries.push_back(finish("end_finish", made_.construction.end_standard));
    entries.push_back(entry("pouch", "cards", quoted("inside"), false));
    const base::Message lead = made_.count
                                   ? base::Message("new-sizes-from-liners", {{"sizes", derived()}})
                                   : base::Message("new-sizes");
    table("pouch", words_.say(lead), entries);
  }

  /// What this construction has of the sizes that liners decide, by the names that the file takes.
  [[nodiscard]] std::string derived() const {
    std::string names;
    for (const pouch::SizeRule& rule : made_.construction.sizes) {
      if (!pouch::follows_liners(made_.construction, rule.name)) continue;
      names += (names.empty() ? "" : ", ") + rule.name;
    }
    return names;
  }

  /// A fraying outer needs its ends finished, unless the construction finishes them anyway.
  [[nodiscard]] Entry finish(const char* key, pouch::FinishKind standard) const {
    const bool is_stated = made_.outer_frays && standard == pouch::FinishKind::none;
    const char* value = is_stated ? "overedge" : word_of(pouch::kFinishWords, standard);
    return entry("pouch", key, quoted(value), is_stated);
  }

  void materials() {
    const bool has_outer = !made_.outer.empty();
    table("materials", words_.say({"new-materials"}),
          {entry("materials", "laminate", quoted(made_.laminate), true),
           entry("materials", "outer", quoted(has_outer ? made_.outer : made_.outer_example),
                 has_outer)});
  }

  void batch() {
    table("batch", words_.say({"desk-group-batch"}),
          {entry("batch", "pouches", made_.pouches, true),
           entry("batch", "helpers", made_.helpers, true), entry("batch", "machines", "1", false),
           entry("batch", "overedge_machines", "0", false), entry("batch", "irons", "1", false)});
  }

  /// Commented out: what shared/stitches.toml uses.
  void stitches() {
    const auto stitch = [&](const char* key, const char* code, const char* meaning) {
      return Entry{key, quoted(code), words_.say(base::Message(meaning)), false};
    };
    table(
        "stitches", words_.say({"new-stitches"}),
        {stitch("sides", "504", "new-stitches-sides"), stitch("ends", "504", "new-stitches-ends"),
         stitch("hems", "301", "new-stitches-hems"), stitch("tails", "304", "new-stitches-tails")},
        false);
  }

  void iron() {
    table("iron", words_.say({"new-iron"}),
          {entry("iron", "dots", "2", false), entry("iron", "steam", "true", false),
           entry("iron", "seconds", "8", false)},
          false);
  }

  void lay() {
    table(
        "lay", words_.say({"desk-group-lay"}),
        {entry("lay", "cuts", quoted("straight"), false),
         entry("lay", "table_length", quoted("1.5 m"), false), entry("lay", "plies", "1", false)});
  }

  void tolerance() {
    const pouch::Tolerances usual;
    table("tolerance", words_.say({"desk-group-more"}),
          {entry("tolerance", "cut", quoted(in_millimetres(usual.cut.value)), false),
           entry("tolerance", "place", quoted(in_millimetres(usual.place.value)), false),
           entry("tolerance", "sew", quoted(in_millimetres(usual.sew.value)), false)});
  }

  void paper() {
    table("paper", words_.say({"desk-group-paper"}),
          {entry("paper", "size", quoted(made_.paper), true),
           entry("paper", "margin", quoted(in_millimetres(paper::kMargin)), false),
           entry("paper", "overlap", quoted(in_millimetres(paper::kOverlap)), false),
           entry("paper", "printed_square", quoted(made_.printed_square.value_or("50 x 50 mm")),
                 made_.printed_square.has_value())});
  }

  const Starter& made_;
  base::Voice words_;
  std::string text_;
};

}  // namespace

LinerTexts usual_liner(base::Unit units) {
  if (units == base::Unit::inch) return {"3 1/4 in", "4 3/4 in", "3/8 in"};
  return {"80 mm", "120 mm", "9 mm"};
}

std::string starter_text(const Starter& starter, const base::Voice& words) {
  return StarterText(starter, words).text();
}

}  // namespace pouchwright::job
