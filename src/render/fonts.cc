#include "render/fonts.h"

#include <algorithm>
#include <array>
#include <cstddef>
#include <functional>
#include <map>
#include <string>
#include <unordered_map>
#include <utility>
#include <vector>

#include "base/diagnostic.h"
#include "base/letter.h"
#include "base/text.h"
#include "render/pinned.h"

namespace pouchwright::render {
namespace {

using ink::Weight;

/// Shaped words kept for reuse. A packet has some hundreds of different words; the limit only keeps
/// a program that runs for days from growing.
constexpr std::size_t kMostKept = 4096;

constexpr std::size_t kWeights = 3;

/// What the list names is there, also what no document may ever ask for: a missing file is told on
/// the day that the program is set up.
void look_for(const PinnedFont& font) {
  if (!std::filesystem::is_regular_file(font.file)) refuse(font, "font-missing");
}

/// Parts of a unit to ems.
double ems(int parts) { return parts / (kPartsOfUnit * kUnitsPerEm); }

/// True for what is read from left to right and shaped alike whatever stands behind a blank: the
/// letters before Hebrew and the signs, without those that only control.
bool is_plain(char32_t character) {
  return (character >= 0x20 && character < 0x590) ||
         (character >= 0x2010 && character < 0x2C00 &&
          !(character >= 0x2028 && character < 0x202F) &&
          !(character >= 0x2060 && character < 0x2070));
}

bool is_plain(std::string_view valid) {
  for (const std::string_view letter : base::letters(valid)) {
    if (!is_plain(base::code_point(letter))) return false;
  }
  return true;
}

bool is_printable_ascii(std::string_view words) {
  return std::all_of(words.begin(), words.end(), [](char c) { return c >= 0x20 && c < 0x7F; });
}

/// Where the first part of a plain line ends that is shaped by itself: a blank between two ASCII
/// characters, or what comes before it. No pair of letters is set closer over a blank in the pinned
/// fonts (a test looks), so that a line is its parts side by side, and most of them were met before.
std::size_t part_length(std::string_view line) {
  constexpr auto kIsAscii = [](char c) { return static_cast<unsigned char>(c) < 0x80; };
  const auto parts_here = [&](std::size_t at) {
    return line[at] == ' ' && at > 0 && at + 1 < line.size() && kIsAscii(line[at - 1]) &&
           kIsAscii(line[at + 1]);
  };
  if (line.front() == ' ') return 1;
  std::size_t end = 1;
  while (end < line.size() && !parts_here(end)) ++end;
  return end;
}

/// What is kept of a part of a line.
struct Part {
  std::vector<GlyphRun> runs;
  int width = 0;  ///< in parts of a unit
};

/// A line put together of parts: those of one font side by side become one run.
class Line {
 public:
  void clear() {
    text_.clear();
    runs_.clear();
    width_ = 0;
  }

  void add(std::string_view text, const Part& part) {
    for (const GlyphRun& run : part.runs) add(run);
    text_ += text;
    width_ += part.width;
  }

  [[nodiscard]] ShapedLine shaped() const {
    return {.text = text_, .runs = runs_, .width = ems(width_)};
  }

 private:
  void add(const GlyphRun& part) {
    const int begin = part.begin + static_cast<int>(text_.size());
    if (runs_.empty() || !goes_on(runs_.back(), part, begin)) {
      runs_.push_back(part);
      runs_.back().begin = begin;
      return;
    }
    GlyphRun& run = runs_.back();
    for (Glyph glyph : part.glyphs) {
      glyph.cluster += run.length;
      run.glyphs.push_back(glyph);
    }
    run.length += part.length;
  }

  /// What is read backward is never put together of parts, nor what stands side by side in another
  /// order than it is written in.
  static bool goes_on(const GlyphRun& run, const GlyphRun& next, int begin) {
    return run.begin + run.length == begin && run.font == next.font && !run.is_backward &&
           !next.is_backward && run.box == 0 && next.box == 0;
  }

  std::string text_;
  std::vector<GlyphRun> runs_;
  int width_ = 0;
};

struct TextHash {
  using is_transparent = void;
  std::size_t operator()(std::string_view text) const {
    return std::hash<std::string_view>()(text);
  }
};

}  // namespace

FontHeight font_height(std::string_view words) {
  constexpr FontHeight kArabic{1, 0.47};
  constexpr FontHeight kDevanagari{kFontHeight.above, 0.28};
  FontHeight height = kFontHeight;
  for (std::size_t at = 0; at < words.size(); ++at) {
    const auto byte = static_cast<unsigned char>(words[at]);
    const auto next = static_cast<unsigned char>(at + 1 < words.size() ? words[at + 1] : 0);
    // First bytes of U+0600 to U+06FF, and of U+0900 to U+097F, in UTF-8.
    if (byte >= 0xD8 && byte <= 0xDB) return kArabic;
    if (byte == 0xE0 && (next == 0xA4 || next == 0xA5)) height = kDevanagari;
  }
  return height;
}

struct Fonts::Loaded {
  /// What is known of one weight.
  struct Face {
    std::size_t fonts = 0;  ///< as in the list, the main font first
    std::unique_ptr<Typesetter> setter;
    std::unordered_map<std::string, Part, TextHash, std::equal_to<>> parts;
  };

  std::map<Weight, Face> faces;
  Line line;

  /// Which of a weight's fonts is the first that has the letter; their number where none has.
  static std::size_t font_of(const Face& face, char32_t letter) {
    std::size_t font = 0;
    while (font < face.fonts && !face.setter->has(font, letter)) ++font;
    return font;
  }

  /// Of each letter the first font that has it, in order; the main font where none has any.
  static std::vector<std::size_t> fonts_of(const Face& face, std::string_view text) {
    if (is_printable_ascii(text)) return {0};
    std::vector<std::size_t> needed;
    for (const std::string_view letter : base::letters(text)) {
      const std::size_t font = font_of(face, base::code_point(letter));
      needed.push_back(font < face.fonts ? font : 0);
    }
    std::sort(needed.begin(), needed.end());
    needed.erase(std::unique(needed.begin(), needed.end()), needed.end());
    return needed;
  }

  static const Part& part(Face& face, std::string_view text) {
    const auto found = face.parts.find(text);
    if (found != face.parts.end()) return found->second;
    Part& part = face.parts[std::string(text)];
    part.runs = with_boxes(face.setter->set(text, fonts_of(face, text)), *face.setter);
    for (const GlyphRun& run : part.runs) part.width += run.width();
    return part;
  }

  /// How much of `text` comes from the main font, or else from others, in one go: letters of two
  /// fonts are shaped apart, so that the main font's are the same glyphs in all texts.
  static std::size_t length_of_one_font(const Face& face, std::string_view text) {
    if (is_printable_ascii(text)) return text.size();
    const auto is_main = [&face](std::string_view letter) {
      return face.setter->has(0, base::code_point(letter));
    };
    const auto letters = base::letters(text);
    const bool begins = is_main(letters.front());
    const auto other = std::find_if(letters.begin(), letters.end(), [&](std::string_view letter) {
      return is_main(letter) != begins;
    });
    if (other == letters.end()) return text.size();
    return static_cast<std::size_t>(other->data() - text.data());
  }

  /// Calls `take` with each part of `words` and its text, in order.
  template <class Take>
  void for_each_part(std::string_view words, Weight weight, const Take& take) {
    Face& face = faces.at(weight);
    if (face.parts.size() >= kMostKept) face.parts.clear();
    std::string valid;
    bool in_parts = true;
    if (!is_printable_ascii(words)) {
      valid = valid_utf8(words);
      in_parts = is_plain(valid);
      words = valid;
    }
    for (std::string_view rest = words; !rest.empty();) {
      std::string_view text = rest;
      if (in_parts) {
        text = text.substr(0, part_length(text));
        text = text.substr(0, length_of_one_font(face, text));
      }
      take(text, part(face, text));
      rest.remove_prefix(text.size());
    }
  }
};

Fonts::Fonts(const std::filesystem::path& folder) : Fonts(folder, POUCHWRIGHT_TYPESETTER) {}

Fonts::Fonts(const std::filesystem::path& folder, TypesetterMaker maker)
    : loaded_(std::make_unique<Loaded>()) {
  const std::filesystem::path list = folder / "pinned.txt";
  std::map<Weight, std::vector<PinnedFont>> fonts;
  for (PinnedFont& font : pinned_fonts(list)) {
    font.file = (folder / font.file).string();
    look_for(font);
    fonts[font.weight].push_back(std::move(font));
  }
  for (auto& [weight, of_weight] : fonts) {
    Loaded::Face& face = loaded_->faces[weight];
    face.fonts = of_weight.size();
    face.setter = maker(std::move(of_weight), weight);
  }
  if (loaded_->faces.size() != kWeights)
    throw base::Failure(list.string(), "font-list-short", {{"data-missing-hint"}});
}

Fonts::~Fonts() = default;
Fonts::Fonts(Fonts&&) noexcept = default;
Fonts& Fonts::operator=(Fonts&&) noexcept = default;

ShapedLine Fonts::shaped(std::string_view words, Weight weight) const {
  Line& line = loaded_->line;
  line.clear();
  loaded_->for_each_part(
      words, weight, [&line](std::string_view text, const Part& part) { line.add(text, part); });
  return line.shaped();
}

double Fonts::width(std::string_view words, Weight weight) const {
  int width = 0;
  loaded_->for_each_part(words, weight,
                         [&width](std::string_view, const Part& part) { width += part.width; });
  return ems(width);
}

std::string Fonts::without_glyph(std::string_view words) const {
  const Loaded::Face& face = loaded_->faces.at(Weight::regular);
  const std::string valid = valid_utf8(words);
  std::string missing;
  for (const std::string_view letter : base::letters(valid)) {
    if (Loaded::font_of(face, base::code_point(letter)) == face.fonts &&
        missing.find(letter) == std::string::npos) {
      missing += letter;
    }
  }
  return missing;
}

std::string valid_utf8(std::string_view words) {
  std::string valid;
  for (const std::string_view letter : base::letters(words)) {
    const bool is_letter = base::utf8_bytes(letter) == letter.size() && letter.front() != '\0';
    valid += is_letter ? letter : "\uFFFD";
  }
  return valid;
}

}  // namespace pouchwright::render
