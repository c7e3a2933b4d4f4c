#include "desk/page.h"

#include <algorithm>
#include <functional>
#include <map>
#include <utility>
#include <vector>

#include "base/length.h"
#include "base/text.h"
#include "desk/answer.h"
#include "desk/assets.h"
#include "desk/call.h"
#include "desk/target.h"
#include "input/fields.h"
#include "input/job.h"
#include "job/command_table.h"
#include "job/job.h"
#include "job/job_text/edited.h"

namespace pouchwright::desk {

namespace {

using Json = nlohmann::ordered_json;

struct Option {
  std::string value;
  std::string label;
};

/// A size of a construction, or how often something is done in it.
struct Size {
  std::string name;
  std::string meaning;
  input::FieldKind kind = input::FieldKind::length;
};

/// `text` with every `from` replaced.
std::string replaced(std::string text, std::string_view from, std::string_view to) {
  for (std::size_t at = text.find(from); at != std::string::npos;
       at = text.find(from, at + to.size())) {
    text.replace(at, from.size(), to);
  }
  return text;
}

class Page {
 public:
  Page(const Json& list, const job::Data& data, const std::string& language)
      : list_(list), data_(data), language_(language), words_(data.words(language)) {
    for (const Json& one : list.at("constructions")) {
      const bool is_usual = one.at("name") == job::kUsualConstruction;
      constructions_.insert(is_usual ? constructions_.begin() : constructions_.end(), &one);
    }
  }

  [[nodiscard]] std::string html() const {
    std::string made;
    std::string_view rest = asset("desk.html");
    while (true) {
      const std::size_t open = rest.find("{{");
      if (open == std::string_view::npos) return made + std::string(rest);
      const std::size_t close = rest.find("}}", open);
      made += rest.substr(0, open);
      made += filled(std::string(rest.substr(open + 2, close - open - 2)));
      rest.remove_prefix(close + 2);
    }
  }

 private:
  [[nodiscard]] std::string say(const std::string& key) const {
    return html_text(words_.say(base::Message(key)));
  }

  [[nodiscard]] std::string filled(const std::string& hole) const {
    if (hole == "constructions") return constructions();
    if (hole == "sizes") return sizes([](const Size& one) { return !has_place(one.name); });
    if (hole == "data") return data();
    if (hole == "tongue") return language_;
    if (hole == "direction") return is_from_right() ? "rtl" : "ltr";
    if (hole == "languages") return languages();
    const std::size_t blank = hole.find(' ');
    if (blank == std::string::npos) return say(hole);
    const std::string name = hole.substr(blank + 1);
    if (hole.starts_with("size ")) return sizes([&](const Size& one) { return one.name == name; });
    const bool is_table = hole.starts_with("fields ");
    std::string text;
    for (const input::FieldFacts& one : input::job_fields()) {
      if (one.is_on_page() && (is_table ? one.table : one.path()) == name) text += field(one);
    }
    return text;
  }

  // ---- Fields ----

  /// A label, the control, what it is for, and room for what is wrong with it.
  [[nodiscard]] std::string field(const input::FieldFacts& one) const {
    const bool is_choice =
        one.kind == input::FieldKind::choice || one.kind == input::FieldKind::name;
    return field(one.path(), one.word, is_choice ? select(one) : input(one.path(), one.kind), "");
  }

  [[nodiscard]] std::string field(const std::string& path, const std::string& word,
                                  const std::string& control, const std::string& meaning) const {
    const std::string label = words_.has(word)
                                  ? say(word)
                                  : html_text(replaced(path.substr(path.find('.') + 1), "_", " "));
    std::string hint = meaning;
    if (words_.has(word + "-hint")) hint = say(word + "-hint");
    return "<div class=\"field\" data-path=\"" + path + "\"><label for=\"" + path + "\">" + label +
           "</label><span class=\"box\">" + control + "</span><p class=\"hint\" id=\"" + path +
           "-hint\">" + hint + "</p><p class=\"fault\" id=\"" + path + "-fault\"></p></div>";
  }

  [[nodiscard]] static std::string attributes(const std::string& path) {
    return " id=\"" + path + "\" name=\"" + path + "\" data-value=\"" + path +
           "\" aria-describedby=\"" + path + "-hint " + path + "-fault\"";
  }

  [[nodiscard]] static std::string input(const std::string& path, input::FieldKind kind) {
    // Some numbers have a fraction, which the keypads of "numeric" may lack.
    const bool is_number = kind == input::FieldKind::number;
    const std::string mode = is_number ? " inputmode=\"decimal\"" : "";
    const bool is_length = kind == input::FieldKind::length || kind == input::FieldKind::lengths;
    const std::string unit = is_length ? "<span class=\"unit\" aria-hidden=\"true\"></span>" : "";
    return std::string("<input type=\"text\" data-kind=\"") +
           word_of(input::kFieldKindWords, kind) +
           "\" autocapitalize=\"off\" spellcheck=\"false\"" + mode + attributes(path) + ">" + unit;
  }

  [[nodiscard]] std::string select(const input::FieldFacts& one) const {
    const std::string path = one.path();
    std::string text =
        "<select" + attributes(path) + "><option value=\"\">" +
        say(path == "materials.outer" ? "desk-choice-no-outer" : "desk-choice-usual") + "</option>";
    for (const Option& option : options(one)) {
      text += "<option value=\"" + html_text(option.value) + "\">" + html_text(option.label) +
              "</option>";
    }
    return text + "</select>";
  }

  [[nodiscard]] std::vector<Option> options(const input::FieldFacts& one) const {
    if (one.table == "materials") return materials(one.key);
    if (one.path() == "paper.size") return papers();
    std::vector<Option> all;
    for (const std::string& value : one.path() == "pouch.closure" ? closures() : one.choices) {
      all.push_back({value, words_.say(base::Message(word_of_choice(one, value)))});
    }
    return all;
  }

  /// One value may be called otherwise in each field.
  [[nodiscard]] std::string word_of_choice(const input::FieldFacts& field,
                                           const std::string& value) const {
    const std::string own = "desk-choice-" + base::slug(field.path()) + "-" + base::slug(value);
    return words_.has(own) ? own : "desk-choice-" + base::slug(value);
  }

  /// A name that the data know, as people call it.
  [[nodiscard]] Option named(const char* kind, const std::string& name) const {
    const std::string word = kind + base::slug(name);
    return {name, words_.has(word) ? words_.say(base::Message(word)) : name};
  }

  [[nodiscard]] std::vector<Option> materials(const std::string& kind) const {
    std::vector<Option> all;
    for (const Json& one : list_.at("materials")) {
      if (one.at("kind") == kind) all.push_back(named("material-", one.at("name")));
    }
    return all;
  }

  /// With their sizes, in the unit that they are made in.
  [[nodiscard]] std::vector<Option> papers() const {
    std::vector<Option> all;
    for (const Json& one : list_.at("papers")) {
      Option option = named("desk-paper-", one.at("name"));
      const auto width = base::Length::mm(one.at("width_mm").get<double>());
      const auto height = base::Length::mm(one.at("height_mm").get<double>());
      const bool is_inch = width.in_nm() % base::Length::inches(1, 2).in_nm() == 0;
      const base::Unit unit = is_inch ? base::Unit::inch : base::Unit::mm;
      option.label += ", " + base::exact_text(width, unit) + " × " + base::exact_text(height, unit);
      all.push_back(std::move(option));
    }
    return all;
  }

  /// Of all constructions; the page shows the field where the chosen one has several.
  [[nodiscard]] std::vector<std::string> closures() const {
    std::vector<std::string> all;
    for (const Json* one : constructions_) {
      for (const std::string& closure : closures_of(*one)) {
        if (std::find(all.begin(), all.end(), closure) == all.end()) all.push_back(closure);
      }
    }
    return all;
  }

  [[nodiscard]] std::vector<std::string> closures_of(const Json& construction) const {
    return read(construction).closures;
  }

  /// As its file has it; empty where it cannot be used.
  [[nodiscard]] pouch::Construction read(const Json& construction) const {
    const auto name = construction.at("name").get<std::string>();
    base::Diagnostics ignored;
    const auto file = data_.construction(name);
    auto made = file ? input::read_construction(*file, name, ignored) : std::nullopt;
    return made ? std::move(made->construction) : pouch::Construction();
  }

  /// Its sizes, then how often something is done.
  [[nodiscard]] std::vector<Size> sizes_of(const Json& construction) const {
    std::vector<Size> all;
    for (const Json& size : construction.at("sizes")) {
      all.push_back({size.at("name").get<std::string>(), size.at("meaning").get<std::string>()});
    }
    for (const pouch::CountRule& count : read(construction).counts) {
      all.push_back({count.name, count.meaning, input::FieldKind::number});
    }
    return all;
  }

  // ---- Constructions ----

  [[nodiscard]] std::string constructions() const {
    std::string text;
    for (const Json* each : constructions_) {
      const Json& one = *each;
      const std::string name = html_text(one.at("name").get<std::string>());
      const bool is_usual = name == job::kUsualConstruction;
      const auto [title, rest] = split_title(title_of(one));
      text += "<label class=\"construction\"><input type=\"radio\" name=\"construction\" value=\"" +
              name + "\"" + (is_usual ? " checked" : "") + " aria-labelledby=\"construction-" +
              name + "\"><img src=\"/picture/" + name +
              ".svg\" alt=\"\"><span class=\"name\" id=\"construction-" + name + "\">" +
              html_text(title) + "<span>" + html_text(rest) + "</span></span></label>";
    }
    return text;
  }

  /// The language's word for what a construction's file says, or what it says.
  [[nodiscard]] std::string own_word(const std::string& key, const std::string& otherwise) const {
    return words_.has(key) ? words_.say(base::Message(key)) : otherwise;
  }

  [[nodiscard]] std::string title_of(const Json& construction) const {
    return own_word("construction-title-" + construction.at("name").get<std::string>(),
                    construction.at("title").get<std::string>());
  }

  [[nodiscard]] std::string meaning_of(const std::string& meaning) const {
    return own_word("construction-means-" + base::slug(meaning), meaning);
  }

  /// What it is called, and what tells it from others: `Sleeve, open at the top`.
  static std::pair<std::string, std::string> split_title(const std::string& title) {
    const std::size_t comma = std::min(title.find(','), title.find("،"));
    return {title.substr(0, comma), comma == std::string::npos ? "" : title.substr(comma)};
  }

  /// Does desk.html say where the size stands?
  static bool has_place(const std::string& size) {
    return asset("desk.html").find("{{size " + size + "}}") != std::string_view::npos;
  }

  /// Those sizes of all constructions; the page shows what the chosen one has.
  [[nodiscard]] std::string sizes(const std::function<bool(const Size&)>& is_meant) const {
    std::vector<Size> all;
    for (const Json* one : constructions_) {
      auto at = all.begin();  // after the size that it follows there
      for (const Size& size : sizes_of(*one)) {
        const auto known = std::find_if(all.begin(), all.end(),
                                        [&](const Size& other) { return other.name == size.name; });
        at = (known != all.end() ? known : all.insert(at, size)) + 1;
      }
    }
    std::string text;
    for (const Size& size : all) {
      if (!is_meant(size)) continue;
      const std::string path = "pouch." + size.name;
      text += field(path, "desk-field-" + base::slug(path), input(path, size.kind),
                    html_text(meaning_of(size.meaning)));
    }
    return text;
  }

  // ---- Languages ----

  [[nodiscard]] bool is_from_right() const {
    return words_.words().language().direction == base::Language::Direction::from_right;
  }

  /// Each by its own name, so that whoever reads no other finds it.
  [[nodiscard]] std::string languages() const {
    std::string options;
    for (const std::string& tag : data_.languages()) {
      options += "<option value=\"" + tag + "\" lang=\"" + tag + "\"" +
                 (tag == language_ ? " selected" : "") + ">" +
                 html_text(data_.words(tag).language().name) + "</option>";
    }
    return options;
  }

  // ---- For the script ----

  /// What makes something of a job: each has its place on the page.
  [[nodiscard]] static Json commands() {
    Json names = Json::array();
    for (const job::CommandRow& row : job::command_table()) {
      if (row.needs != job::Needs::nothing) names.push_back(row.name);
    }
    return names;
  }

  /// The words and lists as JSON; no `<` in it, so that it cannot end its element.
  [[nodiscard]] std::string data() const {
    Json all;
    all["words"] = Json::object();
    for (const auto& [key, text] : words_.words().table()) {
      if (key.starts_with("desk-")) all["words"][key] = text;
    }
    all["job"] = kJobName;
    all["constructions"] = list_.at("constructions");
    all["materials"] = list_.at("materials");
    all["papers"] = list_.at("papers");
    all["jobs"] = sample_jobs();
    for (Json& one : all["constructions"]) {
      one["closures"] = closures_of(one);
      Json sizes = Json::array();
      for (const Size& size : sizes_of(one)) {
        sizes.push_back({{"name", size.name}, {"meaning", meaning_of(size.meaning)}});
      }
      one["sizes"] = std::move(sizes);
    }
    all["commands"] = commands();
    return replaced(all.dump(), "<", "\\u003c");
  }

  [[nodiscard]] Json sample_jobs() const {
    Json all = Json::array();
    for (const std::string& name : data_.sample_jobs()) {
      Json one{{"name", name}, {"text", data_.file("patterns/" + name + ".toml").text}};
      const auto job = job::written_job(one.at("text").get<std::string>());
      for (const char* key : {"title", "construction"}) {
        for (const job::WrittenValue& value : job->values) {
          if (value.path == key) one[key] = value.typed.value_or("");
        }
      }
      all.push_back(std::move(one));
    }
    return all;
  }

  const Json& list_;
  const job::Data& data_;
  const std::string& language_;
  base::Voice words_;
  std::vector<const Json*>
      constructions_;  ///< the usual one first, as people are likeliest to want
};

}  // namespace

std::string page(const Json& list, const job::Data& data, const std::string& language) {
  return Page(list, data, language).html();
}

}  // namespace pouchwright::desk
