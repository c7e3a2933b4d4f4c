#include "job/commands/size_questions.h"

#include <algorithm>
#include <utility>
#include <vector>

#include "base/text.h"
#include "input/reader.h"
#include "job/commands/have.h"
#include "job/commands/unlikely.h"
#include "job/job_text/edited.h"
#include "job/job_text/sides.h"
#include "pouch/judge/content.h"

namespace pouchwright::job {
namespace {

constexpr const char* kUsualLiners = "3";

/// A liner that stands where nobody has measured one.
const char* usual_liner(base::Unit units) {
  return units == base::Unit::inch ? "3 1/4 in x 4 3/4 in x 3/8 in" : "80 mm x 120 mm x 9 mm";
}

class SizeQuestions {
 public:
  explicit SizeQuestions(Answered& with) : with_(with) {}

  void put() {
    with_.made.stock.clear();
    if (with_.begins_with(kFromPanel)) return panel();
    if (with_.begins_with(kFromCard)) card();
    if (with_.begins_with(kFromCloth)) cloth();
    if (with_.begins_with(kFromPouch)) return pouch();
    liners();
  }

 private:
  // ---- The ways ----

  /// Sizes; liners only where an option has them.
  void pouch() {
    has_count_ = with_.run.options().liners && *with_.run.options().liners != "0";
    if (has_count_) with_.made.stated["liners.count"] = *with_.run.options().liners;
    if (!has_count_) with_.made.shown["liners.count"] = kUsualLiners;
    liner();
    size("--width", with_.answers.width, "new-ask-width", pouch::size::kWidth);
    size("--depth", with_.answers.depth, "new-ask-depth", pouch::size::kDepth);
  }

  /// Liners, from which the sizes follow, or none and the sizes.
  void liners() {
    const std::string count =
        with_.ask.count({"--liners", with_.run.options().liners, "new-ask-liners", kUsualLiners}, 0,
                        pouch::kMostLiners);
    has_count_ = count != "0";
    (has_count_ ? with_.made.stated : with_.made.shown)["liners.count"] =
        has_count_ ? count : kUsualLiners;
    liner();
    // A card decides the width.
    if (!with_.begins_with(kFromCard) || with_.answers.width) {
      size("--width", with_.answers.width, "new-ask-width", pouch::size::kWidth);
    }
    size("--depth", with_.answers.depth, "new-ask-depth", pouch::size::kDepth);
  }

  void panel() {
    const auto whole = both("--panel", with_.answers.panel, "new-ask-panel",
                            with_.units == base::Unit::inch ? "8 1/2 x 15 in" : "204 x 360 mm");
    with_.state("panel.width", with_.in_words(whole.across));
    with_.state("panel.length", with_.in_words(whole.down));
    const std::string lines =
        with_.ask.answer({"--fold-at",
                          with_.answers.fold_at,
                          "new-ask-fold-at",
                          kNone,
                          {"new-hint-fold-at"},
                          [this](const std::string& of) { return of == kNone || folds_of(of); }});
    if (lines != kNone) with_.made.stated["panel.fold_at"] = folds_as_toml(*folds_of(lines));
    has_count_ = false;
    with_.made.shown["liners.count"] = kUsualLiners;
    liner();
  }

  void card() {
    with_.state("card.kind", with_.ask.choice("--card-kind", with_.answers.card_kind,
                                              "new-ask-card-kind", "shield",
                                              {{"shield", with_.run.say({"new-card-shield"})},
                                               {"slip", with_.run.say({"new-card-slip"})}}));
    const auto whole = both("--card", with_.answers.card, "new-ask-card",
                            with_.units == base::Unit::inch ? "7 1/4 x 5 1/2 in" : "172 x 150 mm");
    with_.state("card.width", with_.in_words(whole.across));
    with_.state("card.length", with_.in_words(whole.down));
  }

  void cloth() {
    std::vector<std::string> all = with_.run.options().have;
    static const std::optional<std::string> kNoOption;
    if (all.empty()) {
      all.push_back(
          with_.ask.answer({"--have",
                            kNoOption,
                            "new-ask-cloth",
                            with_.units == base::Unit::inch ? "60 in x 10 yd" : "150 cm x 5 m",
                            {"usage-option-hint--have"},
                            [](const std::string& of) { return piece_of(of).has_value(); }}));
    }
    for (const std::string& text : all) {
      const auto piece = piece_of(text);
      if (!piece) {
        throw UsageFault{{"usage-option", {{"option", "--have"}, {"text", text.substr(0, 60)}}},
                         {{"usage-option-hint--have"}}};
      }
      with_.made.stock.push_back({toml_text(piece->material),
                                  piece->width ? toml_text(with_.in_words(*piece->width)) : "",
                                  toml_text(with_.in_words(piece->length))});
    }
  }

  void liner() {
    const bool is_stated = has_count_ || with_.answers.liner;
    Sides sides = asked_liner(is_stated);
    while (is_stated && with_.ask.asks()) {
      const auto odd = unlikely_liner(sides);
      if (!odd || with_.ask.is_sure({"new-ask-sure", {{"odd", *odd}}})) break;
      sides = asked_liner(is_stated);
    }
    auto& into = is_stated ? with_.made.stated : with_.made.shown;
    into["liners.width"] = toml_text(with_.in_words(sides.width));
    into["liners.length"] = toml_text(with_.in_words(sides.length));
    into["liners.thickness"] = toml_text(with_.in_words(sides.thickness));
  }

  [[nodiscard]] Sides asked_liner(bool is_stated) const {
    const std::string usual = usual_liner(with_.units);
    if (!is_stated) return *three_sides(usual, with_.units);
    const std::string text = with_.ask.answer(
        {"--liner",
         with_.answers.liner,
         "new-ask-liner",
         usual,
         {"new-hint-liner"},
         [this](const std::string& of) { return three_sides(of, with_.units).has_value(); }});
    return *three_sides(text, with_.units);
  }

  void size(const char* option, const std::optional<std::string>& given, const char* key,
            const char* name) {
    if (!given && (!with_.ask.asks() || has_count_)) return;
    const pouch::SizeRule* rule = with_.made.construction.size_rule(name);
    if (rule == nullptr) {
      if (!given) return;
      throw UsageFault{
          {"new-no-size", {{"option", option}, {"construction", with_.made.construction.name}}},
          {{"new-no-size-hint"}}};
    }
    const auto usual = rule->usual(with_.units);
    const std::string standard = usual ? with_.in_words(*usual) : "";
    const std::string text = with_.ask.answer(
        {option, given, key, standard, {"new-hint-length"}, [this](const std::string& of) {
           return with_.length(of).has_value();
         }});
    if (const auto read = with_.length(text))
      with_.state("pouch." + std::string(name), with_.in_words(*read));
  }

  /// Width x length of something that is there.
  [[nodiscard]] input::LengthPair both(const char* option, const std::optional<std::string>& given,
                                       const char* key, const char* standard) const {
    const auto read = [this](const std::string& of) {
      const auto pair = input::length_pair_of(of, with_.units);
      const bool is_size = pair && pair->across > base::Length() && pair->down > base::Length();
      return is_size ? pair : std::nullopt;
    };
    return *read(with_.ask.answer(
        {option, given, key, standard, {"new-hint-both"}, [&](const std::string& of) {
           return read(of).has_value();
         }}));
  }

  [[nodiscard]] std::optional<std::vector<base::Length>> folds_of(const std::string& text) const {
    std::vector<base::Length> folds;
    for (std::size_t from = 0; from <= text.size();) {
      const std::size_t to = std::min(text.find(',', from), text.size());
      const auto fold = with_.length(std::string(base::trimmed(text.substr(from, to - from))));
      if (!fold) return std::nullopt;
      folds.push_back(*fold);
      from = to + 1;
    }
    return folds;
  }

  [[nodiscard]] std::string folds_as_toml(const std::vector<base::Length>& folds) const {
    return "[" +
           base::list_text(folds, ", ",
                           [this](base::Length fold) { return toml_text(with_.in_words(fold)); }) +
           "]";
  }

  Answered& with_;
  bool has_count_ = false;  ///< of liners
};

}  // namespace

void ask_sizes(Answered& with) { SizeQuestions(with).put(); }

}  // namespace pouchwright::job
