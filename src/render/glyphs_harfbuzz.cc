#include <cairo-ft.h>
#include <fribidi.h>
#include <hb-ot.h>
#include <hb.h>

#include <algorithm>
#include <array>
#include <map>
#include <memory>
#include <mutex>
#include <new>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "base/letter.h"
#include "base/text.h"
#include "render/glyphs.h"

namespace pouchwright::render {
namespace {

using ink::Weight;

template <class T, void (*drop)(T*)>
struct Dropper {
  void operator()(T* it) const { drop(it); }
};
template <class T, void (*drop)(T*)>
using Handle = std::unique_ptr<T, Dropper<T, drop>>;

/// Never dropped: Cairo keeps fonts for a while after nobody asks for them any more.
FT_Library library() {
  static const FT_Library kLibrary = [] {
    FT_Library made = nullptr;
    FT_Init_FreeType(&made);
    return made;
  }();
  return kLibrary;
}

void drop_face(void* face) { FT_Done_Face(static_cast<FT_Face>(face)); }

/// As exact_context() of the other typesetter has it: nothing moves to whole pixels.
Handle<cairo_font_options_t, cairo_font_options_destroy> exact_options() {
  Handle<cairo_font_options_t, cairo_font_options_destroy> options(cairo_font_options_create());
  cairo_font_options_set_hint_style(options.get(), CAIRO_HINT_STYLE_NONE);
  cairo_font_options_set_hint_metrics(options.get(), CAIRO_HINT_METRICS_OFF);
  cairo_font_options_set_antialias(options.get(), CAIRO_ANTIALIAS_GRAY);
  return options;
}

/// One file, as HarfBuzz shapes by it and as Cairo draws it.
class Font {
 public:
  explicit Font(const PinnedFont& font) {
    FT_Face face = nullptr;
    if (FT_New_Face(library(), font.file.c_str(), 0, &face) != 0) refuse(font, "font-damaged");
    const Handle<cairo_font_face_t, cairo_font_face_destroy> drawn(
        cairo_ft_font_face_create_for_ft_face(face, FT_LOAD_NO_HINTING));
    static const cairo_user_data_key_t kFace{};
    cairo_font_face_set_user_data(drawn.get(), &kFace, face, drop_face);
    cairo_matrix_t size;
    cairo_matrix_init_scale(&size, kUnitsPerEm, kUnitsPerEm);
    cairo_matrix_t unscaled;
    cairo_matrix_init_identity(&unscaled);
    drawn_.reset(cairo_scaled_font_create(drawn.get(), &size, &unscaled, exact_options().get()));

    const Handle<hb_blob_t, hb_blob_destroy> bytes(hb_blob_create_from_file(font.file.c_str()));
    const Handle<hb_face_t, hb_face_destroy> shapes(hb_face_create(bytes.get(), 0));
    shaped_.reset(hb_font_create(shapes.get()));
    constexpr int kScale = static_cast<int>(kUnitsPerEm) * kPartsOfUnit;
    hb_font_set_scale(shaped_.get(), kScale, kScale);
  }

  [[nodiscard]] bool has(char32_t letter) const {
    hb_codepoint_t glyph = 0;
    return hb_font_get_nominal_glyph(shaped_.get(), letter, &glyph) != 0;
  }
  [[nodiscard]] hb_font_t* shaped() const { return shaped_.get(); }
  [[nodiscard]] cairo_scaled_font_t* drawn() const { return drawn_.get(); }

 private:
  Handle<hb_font_t, hb_font_destroy> shaped_;
  Handle<cairo_scaled_font_t, cairo_scaled_font_destroy> drawn_;
};

/// A file is one font wherever it is used, as in Pango: Cairo would write it into a PDF once for each. Fails:
/// throws base::Failure where it is damaged.
std::shared_ptr<const Font> font_in(const PinnedFont& font) {
  static std::mutex guard;
  static std::map<std::string, std::weak_ptr<const Font>> read;
  const std::lock_guard<std::mutex> lock(guard);
  std::weak_ptr<const Font>& known = read[font.file];
  std::shared_ptr<const Font> one = known.lock();
  if (!one) {
    one = std::make_shared<const Font>(font);
    known = one;
  }
  return one;
}

/// A letter of a text, and all that decides which letters are shaped together.
struct Setting {
  char32_t letter = 0;
  int begin = 0;  ///< its first byte
  FriBidiLevel level = 0;
  hb_script_t script = HB_SCRIPT_COMMON;
  std::optional<std::size_t> font{};  ///< any, where it leaves no ink

  [[nodiscard]] bool goes_with(const Setting& other) const {
    return level == other.level && script == other.script && font == other.font;
  }
};

std::vector<Setting> letters_of(std::string_view text) {
  std::vector<Setting> letters;
  for (const std::string_view letter : base::letters(text)) {
    letters.push_back({.letter = base::code_point(letter),
                       .begin = static_cast<int>(letter.data() - text.data())});
  }
  return letters;
}

/// How deep each letter lies in words of the other direction (Unicode annex 9); the first letter
/// that has a direction decides for the line, as in Pango.
void set_levels(std::vector<Setting>& letters) {
  const auto count = static_cast<FriBidiStrIndex>(letters.size());
  std::vector<FriBidiChar> text;
  for (const Setting& one : letters) text.push_back(one.letter);
  std::vector<FriBidiCharType> types(letters.size());
  std::vector<FriBidiBracketType> brackets(letters.size());
  std::vector<FriBidiLevel> levels(letters.size());
  fribidi_get_bidi_types(text.data(), count, types.data());
  fribidi_get_bracket_types(text.data(), count, types.data(), brackets.data());
  FriBidiParType direction = fribidi_get_par_direction(types.data(), count);
  if (direction == FRIBIDI_PAR_ON) direction = FRIBIDI_PAR_WLTR;
  if (fribidi_get_par_embedding_levels_ex(types.data(), brackets.data(), count, &direction,
                                          levels.data()) == 0) {
    throw std::bad_alloc();
  }
  for (std::size_t k = 0; k < letters.size(); ++k) letters[k].level = levels[k];
}

/// Signs that all scripts share go with the letters before them, or at the front with those behind; a
/// closing bracket goes with its opening one (Unicode annex 24, 5.1 and 5.2).
void set_scripts(std::vector<Setting>& letters) {
  hb_unicode_funcs_t* const unicode = hb_unicode_funcs_get_default();
  const auto is_real = [](hb_script_t script) {
    return script != HB_SCRIPT_COMMON && script != HB_SCRIPT_INHERITED &&
           script != HB_SCRIPT_UNKNOWN;
  };
  hb_script_t current = HB_SCRIPT_COMMON;
  std::vector<std::pair<char32_t, hb_script_t>> open;
  std::size_t undecided = 0;
  for (std::size_t k = 0; k < letters.size(); ++k) {
    const char32_t letter = letters[k].letter;
    const hb_script_t own = hb_unicode_script(unicode, letter);
    const char32_t other = hb_unicode_mirroring(unicode, letter);
    const auto kind = hb_unicode_general_category(unicode, letter);
    if (is_real(own)) {
      if (!is_real(current)) {
        for (auto& [bracket, script] : open) script = own;
        for (; undecided < k; ++undecided) letters[undecided].script = own;
      }
      current = own;
    } else if (kind == HB_UNICODE_GENERAL_CATEGORY_OPEN_PUNCTUATION) {
      open.emplace_back(other, current);
    } else if (kind == HB_UNICODE_GENERAL_CATEGORY_CLOSE_PUNCTUATION) {
      const auto mate = std::find_if(open.rbegin(), open.rend(),
                                     [letter](const auto& one) { return one.first == letter; });
      if (mate != open.rend()) {
        current = mate->second;
        open.erase(std::prev(mate.base()), open.end());
      }
    }
    letters[k].script = current;
  }
}

/// Neither ink nor a place in a font: such letters are of the font beside them.
bool is_of_any_font(char32_t letter) {
  constexpr std::array<hb_unicode_general_category_t, 5> kWithoutInk = {
      HB_UNICODE_GENERAL_CATEGORY_CONTROL, HB_UNICODE_GENERAL_CATEGORY_FORMAT,
      HB_UNICODE_GENERAL_CATEGORY_SURROGATE, HB_UNICODE_GENERAL_CATEGORY_LINE_SEPARATOR,
      HB_UNICODE_GENERAL_CATEGORY_PARAGRAPH_SEPARATOR};
  constexpr char32_t kBlankWithLine = 0x1680;
  const auto kind = hb_unicode_general_category(hb_unicode_funcs_get_default(), letter);
  if (kind == HB_UNICODE_GENERAL_CATEGORY_SPACE_SEPARATOR) return letter != kBlankWithLine;
  const bool is_selector =
      (letter >= 0xFE00 && letter <= 0xFE0F) || (letter >= 0xE0100 && letter <= 0xE01EF);
  return is_selector ||
         std::find(kWithoutInk.begin(), kWithoutInk.end(), kind) != kWithoutInk.end();
}

/// The language whose habits a script is shaped by: English where it is Latin, as everywhere, else
/// one that is written in it, as Pango's list has them.
const char* language_of(hb_script_t script) {
  constexpr std::array<std::pair<hb_script_t, const char*>, 7> kLanguages = {
      {{HB_SCRIPT_LATIN, "en"},
       {HB_SCRIPT_COMMON, "en"},
       {HB_SCRIPT_INHERITED, "en"},
       {HB_SCRIPT_ARABIC, "ar"},
       {HB_SCRIPT_CYRILLIC, "ru"},
       {HB_SCRIPT_DEVANAGARI, "hi"},
       {HB_SCRIPT_GREEK, "el"}}};
  const auto found = std::find_if(kLanguages.begin(), kLanguages.end(),
                                  [script](const auto& one) { return one.first == script; });
  return found == kLanguages.end() ? "xx" : found->second;
}

/// The letters [begin, end), which go together.
struct Stretch {
  std::size_t begin = 0, end = 0;
};

std::vector<Stretch> stretches_of(const std::vector<Setting>& letters) {
  std::vector<Stretch> stretches;
  for (std::size_t k = 0; k < letters.size(); ++k) {
    if (k == 0 || !letters[k].goes_with(letters[k - 1])) stretches.push_back({k, k});
    stretches.back().end = k + 1;
  }
  return stretches;
}

/// From the order of the text to the order from left to right (annex 9, L2).
void put_side_by_side(std::vector<Stretch>& stretches, const std::vector<Setting>& letters) {
  const auto level = [&](const Stretch& one) { return letters[one.begin].level; };
  FriBidiLevel deepest = 0;
  for (const Stretch& one : stretches) deepest = std::max(deepest, level(one));
  for (; deepest > 0; --deepest) {
    const auto is_deep = [&](const Stretch& one) { return level(one) >= deepest; };
    for (auto at = stretches.begin(); at != stretches.end();) {
      const auto begin = std::find_if(at, stretches.end(), is_deep);
      at = std::find_if_not(begin, stretches.end(), is_deep);
      std::reverse(begin, at);
    }
  }
}

class HarfBuzzTypesetter final : public Typesetter {
 public:
  explicit HarfBuzzTypesetter(std::vector<PinnedFont> fonts) : fonts_(std::move(fonts)) {
    static_cast<void>(font(0));
  }

  [[nodiscard]] bool has(std::size_t number, char32_t letter) override {
    return font(number).has(letter);
  }

  [[nodiscard]] std::vector<GlyphRun> set(std::string_view text,
                                          const std::vector<std::size_t>& fonts) override {
    std::vector<Setting> letters = letters_of(text);
    set_levels(letters);
    set_scripts(letters);
    set_fonts(letters, fonts);
    std::vector<Stretch> stretches = stretches_of(letters);
    put_side_by_side(stretches, letters);
    std::vector<GlyphRun> runs;
    for (const Stretch& one : stretches) runs.push_back(shaped(text, letters, one));
    return runs;
  }

 private:
  [[nodiscard]] const Font& font(std::size_t number) {
    auto found = read_.find(number);
    if (found == read_.end()) found = read_.emplace(number, font_in(fonts_.at(number))).first;
    return *found->second;
  }

  [[nodiscard]] std::size_t first_with(char32_t letter, const std::vector<std::size_t>& fonts) {
    const auto found = std::find_if(fonts.begin(), fonts.end(),
                                    [&](std::size_t number) { return font(number).has(letter); });
    return found == fonts.end() ? fonts.front() : *found;
  }

  /// Blanks are of the font before them, unless that behind them stands earlier in the list, or a
  /// level or script begins with them; by themselves of the first that has blanks. As in Pango.
  void set_fonts(std::vector<Setting>& letters, const std::vector<std::size_t>& fonts) {
    for (const Stretch& one : stretches_of(letters)) {
      std::optional<std::size_t> last;
      std::size_t blanks = one.begin;
      for (std::size_t k = one.begin; k < one.end; ++k) {
        if (!is_of_any_font(letters[k].letter)) {
          const std::size_t font = first_with(letters[k].letter, fonts);
          if (!last || font < *last) give_font(letters, {blanks, k}, font);
          last = font;
          blanks = k + 1;
        }
        letters[k].font = last;
      }
      if (!last) give_font(letters, one, first_with(U' ', fonts));
    }
  }

  static void give_font(std::vector<Setting>& letters, const Stretch& to, std::size_t font) {
    for (std::size_t k = to.begin; k < to.end; ++k) letters[k].font = font;
  }

  [[nodiscard]] GlyphRun shaped(std::string_view text, const std::vector<Setting>& letters,
                                const Stretch& stretch) {
    const Setting& first = letters[stretch.begin];
    const Font& font = this->font(*first.font);
    const int size = static_cast<int>(text.size());
    const int end = stretch.end < letters.size() ? letters[stretch.end].begin : size;
    GlyphRun run{.font = font.drawn(),
                 .is_backward = first.level % 2 == 1,
                 .begin = first.begin,
                 .length = end - first.begin};
    const Handle<hb_buffer_t, hb_buffer_destroy> buffer(hb_buffer_create());
    hb_buffer_set_direction(buffer.get(), run.is_backward ? HB_DIRECTION_RTL : HB_DIRECTION_LTR);
    hb_buffer_set_script(buffer.get(), first.script);
    hb_buffer_set_language(buffer.get(), hb_language_from_string(language_of(first.script), -1));
    hb_buffer_set_cluster_level(buffer.get(), HB_BUFFER_CLUSTER_LEVEL_MONOTONE_CHARACTERS);
    hb_buffer_set_flags(buffer.get(),
                        static_cast<hb_buffer_flags_t>(HB_BUFFER_FLAG_BOT | HB_BUFFER_FLAG_EOT));
    hb_buffer_set_invisible_glyph(buffer.get(), kNoGlyph);
    hb_buffer_add_utf8(buffer.get(), text.data(), size, static_cast<unsigned>(run.begin),
                       run.length);
    // As the other typesetter has it: two letters are never one sign that could be two.
    constexpr hb_feature_t kNoLigatures = {HB_TAG('l', 'i', 'g', 'a'), 0, HB_FEATURE_GLOBAL_START,
                                           HB_FEATURE_GLOBAL_END};
    hb_shape(font.shaped(), buffer.get(), &kNoLigatures, 1);
    run.glyphs = glyphs_of(buffer.get(), letters, run.begin);
    return run;
  }

  static std::vector<Glyph> glyphs_of(hb_buffer_t* buffer, const std::vector<Setting>& letters,
                                      int begin) {
    unsigned count = 0;
    const hb_glyph_info_t* glyphs = hb_buffer_get_glyph_infos(buffer, &count);
    const hb_glyph_position_t* places = hb_buffer_get_glyph_positions(buffer, &count);
    std::vector<Glyph> result;
    for (unsigned k = 0; k < count; ++k) {
      const int byte = static_cast<int>(glyphs[k].cluster);
      Glyph glyph{.index = glyphs[k].codepoint,
                  .x_offset = places[k].x_offset,
                  .y_offset = -places[k].y_offset,
                  .advance = places[k].x_advance,
                  .cluster = byte - begin};
      if (glyph.index == 0) {
        const auto letter =
            std::lower_bound(letters.begin(), letters.end(), byte,
                             [](const Setting& one, int other) { return one.begin < other; });
        glyph.unknown = letter->letter;
      }
      result.push_back(glyph);
    }
    return result;
  }

  std::vector<PinnedFont> fonts_;
  /// By their number; those that a text asked for.
  std::map<std::size_t, std::shared_ptr<const Font>> read_;
};

}  // namespace

std::unique_ptr<Typesetter> harfbuzz_typesetter(std::vector<PinnedFont> fonts, Weight /*weight*/) {
  return std::make_unique<HarfBuzzTypesetter>(std::move(fonts));
}

}  // namespace pouchwright::render
