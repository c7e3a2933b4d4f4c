#include "draw/sheets/job_code.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

#include "ink/flow.h"

namespace pouchwright::draw {
namespace {

/// A module's side, mm. Half a millimetre is six dots of a printer with 300 to the inch; over 0.8 a
/// code needs more paper and is read no better (common practice, no source).
constexpr double kLeastModule = 0.5;
constexpr double kMostModule = 0.8;
/// Sides are a multiple of this, so that numbers in files stay short.
constexpr double kModuleStep = 0.01;
/// Held in the hand, telephones read this many modules of a flat print; scanners read more (common
/// practice, no source). It is version 30 of ISO/IEC 18004.
constexpr int kMostModules = 137;
/// What title and sentences leave of a small page, at the least.
constexpr double kForWords = 40;
constexpr double kGap = 4;
constexpr double kLabelRoom = line_distance(kLabelSize) + 1.5;
constexpr int kColumns = 2;

class Maker {
 public:
  Maker(const JobCode& sheet, const base::Voice& words, const TextMeasure& measure, Point room)
      : sheet_(sheet),
        words_(words),
        pages_("job", words.say({"job-code-title", {{"title", sheet.title}}}), room,
               TextPages::Columns::one, measure) {}

  std::vector<Drawing> made() {
    pages_.add(sentences());
    if (sheet_.codes.empty()) return pages_.finished();
    const bool are_several = sheet_.codes.size() > 1;
    columns_ = are_several && module_of(kColumns) >= kLeastModule ? kColumns : 1;
    module_ = std::max(kLeastModule, module_of(columns_));
    const auto step = static_cast<std::size_t>(columns_);
    for (std::size_t from = 0; from < sheet_.codes.size(); from += step) pages_.add(row(from));
    return pages_.finished();
  }

 private:
  [[nodiscard]] Paragraphs sentences() const {
    if (sheet_.codes.empty()) {
      return {text_paragraph(words_.say("job-code-too-long")),
              text_paragraph(words_.say("job-code-keep"))};
    }
    Paragraphs all = {text_paragraph(words_.say(purpose()))};
    if (sheet_.holds != JobCode::Holds::link) {
      all.push_back(text_paragraph(words_.say(opening())));
    }
    all.push_back(text_paragraph(words_.say("job-code-copy")));
    if (!sheet_.files.empty()) {
      all.push_back(text_paragraph(
          words_.say({"job-code-files",
                      {{"files", base::Value::List(sheet_.files.begin(), sheet_.files.end())}}})));
    }
    if (sheet_.lacks_settings) all.push_back(text_paragraph(words_.say("job-code-lacks")));
    return all;
  }

  /// The way back, where a telephone alone does not lead there.
  [[nodiscard]] base::Message opening() const {
    const base::Message room("desk-room-pouches");
    if (sheet_.page.empty()) return {"job-code-open", {{"room", room}}};
    return {"job-code-open-page", {{"page", sheet_.page}, {"room", room}}};
  }

  [[nodiscard]] base::Message purpose() const {
    if (sheet_.codes.size() > 1) {
      return {"job-code-parts", {{"count", static_cast<int>(sheet_.codes.size())}}};
    }
    switch (sheet_.holds) {
      case JobCode::Holds::link:
        return {"job-code-link", {{"page", sheet_.page}}};
      case JobCode::Holds::packed:
        return "job-code-packed";
      case JobCode::Holds::text:
        break;
    }
    return "job-code-text";
  }

  /// With so many codes side by side, all of them on this page if they can be.
  [[nodiscard]] double module_of(int columns) const {
    int most = 0;
    for (const CodeSquare& one : sheet_.codes) most = std::max(most, one.modules);
    const int side = most + 2 * kQuietZone;
    const auto count = static_cast<int>(sheet_.codes.size());
    const int rows = (count + columns - 1) / columns;
    const double across = (pages_.width() - (columns - 1) * kGap) / columns / side;
    const double more = kPictureGap + (count > 1 ? kLabelRoom : 0);
    const double here = (pages_.height_left() / rows - more) / side;
    const double down = here >= kLeastModule ? here : (pages_.height_of_page() - more) / side;
    const double module = std::min({kMostModule, across, down});
    return std::floor(module / kModuleStep) * kModuleStep;
  }

  /// The codes from `from` on, side by side, each above its number.
  [[nodiscard]] Frame row(std::size_t from) const {
    const std::size_t count = sheet_.codes.size();
    const std::size_t to = std::min(from + static_cast<std::size_t>(columns_), count);
    Frame made;
    double x = 0;
    for (std::size_t i = from; i < to; ++i) {
      const base::Message number{
          "job-code-part", {{"part", static_cast<int>(i) + 1}, {"count", static_cast<int>(count)}}};
      const Frame code =
          as_figure(code_frame(sheet_.codes[i], module_),
                    count > 1 ? words_.say({"job-code-figure-part", {{"number", number}}})
                              : words_.say("job-code-figure"));
      made.place(code, {x, 0});
      if (count > 1) {
        made.write(words_.say(number),
                   {x + code.box.x1 / 2, code.box.y1 + line_distance(kLabelSize)}, Anchor::middle,
                   Weight::bold, kLabelSize);
      }
      made.box.y1 = std::max(made.box.y1, code.box.y1 + (count > 1 ? kLabelRoom : 0));
      x += code.box.x1 + kGap;
    }
    made.box.x1 = x - kGap;
    return made;
  }

  const JobCode& sheet_;
  const base::Voice& words_;
  TextPages pages_;
  int columns_ = 1;
  double module_ = kLeastModule;
};

}  // namespace

int most_modules(Point room) {
  const double side = std::min(room.x, room.y - kForWords);
  return std::min(kMostModules, static_cast<int>(side / kLeastModule) - 2 * kQuietZone);
}

std::vector<Drawing> job_code(const JobCode& sheet, const base::Voice& words,
                              const TextMeasure& measure, Point room) {
  return Maker(sheet, words, measure, room).made();
}

}  // namespace pouchwright::draw
