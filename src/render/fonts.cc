#include "render/fonts.h"

#include <fontconfig/fontconfig.h>
#include <pango/pangocairo.h>
#include <pango/pangofc-fontmap.h>

#include <algorithm>
#include <array>
#include <cstddef>
#include <fstream>
#include <functional>
#include <map>
#include <optional>
#include <sstream>
#include <string>
#include <unordered_map>
#include <utility>
#include <vector>

#include "base/diagnostic.h"
#include "base/text.h"

namespace pouchwright::render {
namespace {

using ink::Weight;

/// Shaped words kept for reuse. A packet has some hundreds of different words; the limit only keeps
/// a program that runs for days from growing.
constexpr std::size_t kMostKept = 4096;

template <class T, void (*drop)(T*)>
struct Dropper {
  void operator()(T* it) const { drop(it); }
};
struct ObjectDropper {
  void operator()(gpointer it) const { g_object_unref(it); }
};
using ConfigHandle = std::unique_ptr<FcConfig, Dropper<FcConfig, FcConfigDestroy>>;
using DescriptionHandle =
    std::unique_ptr<PangoFontDescription,
                    Dropper<PangoFontDescription, pango_font_description_free>>;
using GlyphsHandle =
    std::unique_ptr<PangoGlyphItem, Dropper<PangoGlyphItem, pango_glyph_item_free>>;
template <class T>
using ObjectHandle = std::unique_ptr<T, ObjectDropper>;

constexpr std::array<std::pair<Weight, std::string_view>, 3> kWeights = {
    {{Weight::regular, "regular"}, {Weight::bold, "bold"}, {Weight::italic, "italic"}}};

struct PinnedFont {
  Weight weight = Weight::regular;
  std::string family;
  std::string file;
  std::string package;
};

std::optional<PinnedFont> pinned_font(const std::string& line) {
  std::istringstream parts(line);
  std::array<std::string, 4> field;
  for (std::string& part : field) {
    if (!std::getline(parts, part, '|')) return std::nullopt;
    part = std::string(base::trimmed(part));
    if (part.empty()) return std::nullopt;
  }
  const auto weight = std::find_if(kWeights.begin(), kWeights.end(), [&field](const auto& known) {
    return known.second == field[0];
  });
  if (weight == kWeights.end()) return std::nullopt;
  return PinnedFont{
      .weight = weight->first, .family = field[1], .file = field[2], .package = field[3]};
}

std::vector<PinnedFont> pinned_fonts(const std::filesystem::path& list) {
  std::ifstream in(list);
  if (!in) throw base::Failure(list.string(), "font-list-unreadable", {{"data-missing-hint"}});
  std::vector<PinnedFont> fonts;
  std::string line;
  for (int number = 1; std::getline(in, line); ++number) {
    line = std::string(base::trimmed(line));
    if (line.empty() || line.front() == '#') continue;
    auto font = pinned_font(line);
    if (!font) {
      throw base::Failure(base::Diagnostic{
          .severity = base::Severity::error,
          .place = {.file = list.string(), .line = number, .column = 1, .end_column = 1},
          .message = "font-list-line",
          .hints = {"font-list-line-hint"}});
    }
    fonts.push_back(std::move(*font));
  }
  return fonts;
}

[[noreturn]] void refuse(const PinnedFont& font, const char* key) {
  throw base::Failure(font.file, {key, {{"package", font.package}}},
                      {{"font-hint", {{"package", font.package}}}});
}

/// What the list names is there, also what no document may ever ask for: a missing file is told on
/// the day that the program is set up.
void look_for(const PinnedFont& font) {
  if (!std::filesystem::is_regular_file(font.file)) refuse(font, "font-missing");
}

void load(FcConfig& config, const PinnedFont& font) {
  // FcChar8 is unsigned char; fontconfig reads the name as plain bytes.
  const auto* name = reinterpret_cast<const FcChar8*>(font.file.c_str());
  if (FcConfigAppFontAddFile(&config, name) == FcFalse) refuse(font, "font-damaged");
}

/// The letters of the only font that `config` holds; they belong to it.
const FcCharSet* letters_of(FcConfig& config) {
  const FcFontSet* fonts = FcConfigGetFonts(&config, FcSetApplication);
  FcCharSet* letters = nullptr;
  if (fonts == nullptr || fonts->nfont == 0) return nullptr;
  FcPatternGetCharSet(fonts->fonts[0], FC_CHARSET, 0, &letters);
  return letters;
}

/// Gives the process an empty font configuration of its own. Pango, on first use, starts a thread
/// that makes sure there is one, and would read the machine's: milliseconds, files that differ
/// between machines, and complaints on standard error where the cache cannot be written.
void keep_from_machine_fonts() {
  static const FcBool kSet = FcConfigSetCurrent(ConfigHandle(FcConfigCreate()).get());
  static_cast<void>(kSet);
}

/// A context in which a millimetre of text comes out as a millimetre: by default Pango and Cairo
/// move glyphs to whole pixels, which at our sizes stretches a line by several percent.
ObjectHandle<PangoContext> exact_context(PangoFontMap& map) {
  ObjectHandle<PangoContext> context(pango_font_map_create_context(&map));
  cairo_font_options_t* options = cairo_font_options_create();
  cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
  cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
  cairo_font_options_set_antialias(options, CAIRO_ANTIALIAS_GRAY);
  pango_cairo_context_set_font_options(context.get(), options);
  cairo_font_options_destroy(options);
  pango_context_set_round_glyph_positions(context.get(), FALSE);
  // Fixed, or the locale would choose some glyphs.
  pango_context_set_language(context.get(), pango_language_from_string("en"));
  pango_context_changed(context.get());
  return context;
}

/// A letter is taken from the first of the families that has it.
DescriptionHandle description(const std::vector<std::string>& families, Weight weight) {
  std::string list;
  for (const std::string& family : families) list += (list.empty() ? "" : ",") + family;
  DescriptionHandle result(pango_font_description_new());
  pango_font_description_set_family(result.get(), list.c_str());
  pango_font_description_set_weight(
      result.get(), weight == Weight::bold ? PANGO_WEIGHT_BOLD : PANGO_WEIGHT_NORMAL);
  pango_font_description_set_style(
      result.get(), weight == Weight::italic ? PANGO_STYLE_ITALIC : PANGO_STYLE_NORMAL);
  pango_font_description_set_absolute_size(result.get(), kUnitsPerEm * PANGO_SCALE);
  return result;
}

/// `fl` as one sign, which no writing in these words needs, is lost to some programs that search a
/// PDF or read it aloud. What a script must join, as Arabic does, is joined all the same.
void set_without_ligatures(PangoLayout& layout) {
  PangoAttrList* attributes = pango_attr_list_new();
  pango_attr_list_insert(attributes, pango_attr_font_features_new("liga=0"));
  pango_layout_set_attributes(&layout, attributes);
  pango_attr_list_unref(attributes);
}

/// Pango's units, 1/1024 of ours, to ems.
double ems(int pango_units) { return pango_units / (PANGO_SCALE * kUnitsPerEm); }

/// True for what is read from left to right and shaped alike whatever stands behind a blank: the
/// letters before Hebrew and the signs, without those that only control.
bool is_plain(gunichar character) {
  return (character >= 0x20 && character < 0x590) ||
         (character >= 0x2010 && character < 0x2C00 &&
          !(character >= 0x2028 && character < 0x202F) &&
          !(character >= 0x2060 && character < 0x2070));
}

bool is_plain(const std::string& valid) {
  for (const char* at = valid.c_str(); *at != '\0'; at = g_utf8_next_char(at)) {
    if (!is_plain(g_utf8_get_char(at))) return false;
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
  std::vector<GlyphsHandle> runs;
  int width = 0;  ///< in Pango's units
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
    for (const GlyphsHandle& glyphs : part.runs) add(*glyphs);
    text_ += text;
    width_ += part.width;
  }

  [[nodiscard]] ShapedLine shaped() {
    shown_.clear();
    for (Run& run : runs_) shown_.push_back(&run.shown());
    return {.text = text_, .runs = shown_, .width = ems(width_)};
  }

 private:
  class Run {
   public:
    Run(const PangoAnalysis& analysis, int offset)
        : item_{.offset = offset, .length = 0, .num_chars = 0, .analysis = analysis} {}

    [[nodiscard]] bool goes_on_in(const PangoAnalysis& analysis) const {
      return item_.analysis.font == analysis.font && item_.analysis.level == analysis.level;
    }

    void add(const PangoGlyphItem& part) {
      const PangoGlyphString& glyphs = *part.glyphs;
      for (int k = 0; k < glyphs.num_glyphs; ++k) {
        glyphs_.push_back(glyphs.glyphs[k]);
        clusters_.push_back(item_.length + glyphs.log_clusters[k]);
      }
      item_.length += part.item->length;
      item_.num_chars += part.item->num_chars;
    }

    [[nodiscard]] PangoGlyphItem& shown() {
      string_ = {.num_glyphs = static_cast<int>(glyphs_.size()),
                 .glyphs = glyphs_.data(),
                 .log_clusters = clusters_.data(),
                 .space = static_cast<int>(glyphs_.size())};
      shown_ = {.item = &item_, .glyphs = &string_};
      return shown_;
    }

   private:
    PangoItem item_;
    std::vector<PangoGlyphInfo> glyphs_;
    std::vector<int> clusters_;  ///< the byte in the run where each glyph's letters begin
    PangoGlyphString string_{};
    PangoGlyphItem shown_{};
  };

  void add(const PangoGlyphItem& part) {
    const PangoAnalysis& analysis = part.item->analysis;
    if (runs_.empty() || !runs_.back().goes_on_in(analysis)) {
      runs_.emplace_back(analysis, static_cast<int>(text_.size()) + part.item->offset);
    }
    runs_.back().add(part);
  }

  std::string text_;
  std::vector<Run> runs_;
  std::vector<PangoGlyphItem*> shown_;
  int width_ = 0;
};

struct TextHash {
  using is_transparent = void;
  std::size_t operator()(std::string_view text) const {
    return std::hash<std::string_view>()(text);
  }
};

}  // namespace

struct Fonts::Loaded {
  /// A font of the list. It is read when a text may need it.
  struct Source {
    PinnedFont font;
    ConfigHandle own{};                  ///< with this font alone
    const FcCharSet* letters = nullptr;  ///< they belong to `own`

    FcConfig& config() {
      if (!own) {
        own.reset(FcConfigCreate());
        load(*own, font);
        letters = letters_of(*own);
      }
      return *own;
    }
    [[nodiscard]] bool has(gunichar letter) {
      config();
      return letters != nullptr && FcCharSetHasChar(letters, letter) == FcTrue;
    }
  };

  /// Shapes by some of a weight's fonts and no others.
  struct Shaper {
    ObjectHandle<PangoFontMap> map;
    ObjectHandle<PangoContext> context;
    ObjectHandle<PangoLayout> layout;
  };

  /// What is known of one weight.
  struct Face {
    std::vector<Source> sources;                         ///< as in the list, the main font first
    std::map<std::vector<std::size_t>, Shaper> shapers;  ///< by the fonts they have
    std::unordered_map<std::string, Part, TextHash, std::equal_to<>> parts;
  };

  std::map<Weight, Face> faces;
  Line line;

  /// Of each letter the first font that has it, in order; the main font where none has any.
  static std::vector<std::size_t> fonts_of(Face& face, std::string_view text) {
    if (is_printable_ascii(text)) return {0};
    std::vector<std::size_t> needed;
    const char* const end = text.data() + text.size();
    for (const char* at = text.data(); at < end; at = g_utf8_next_char(at)) {
      const gunichar letter = g_utf8_get_char(at);
      const auto found = std::find_if(face.sources.begin(), face.sources.end(),
                                      [letter](Source& source) { return source.has(letter); });
      const auto index = static_cast<std::size_t>(found - face.sources.begin());
      needed.push_back(index < face.sources.size() ? index : 0);
    }
    std::sort(needed.begin(), needed.end());
    needed.erase(std::unique(needed.begin(), needed.end()), needed.end());
    return needed;
  }

  static Shaper shaper(Face& face, Weight weight, const std::vector<std::size_t>& fonts) {
    std::vector<std::string> families;
    for (const std::size_t k : fonts) families.push_back(face.sources[k].font.family);
    ConfigHandle config;
    if (fonts.size() == 1) {
      config.reset(FcConfigReference(&face.sources[fonts.front()].config()));
    } else {
      config.reset(FcConfigCreate());
      for (const std::size_t k : fonts) load(*config, face.sources[k].font);
    }
    Shaper made;
    made.map.reset(pango_cairo_font_map_new_for_font_type(CAIRO_FONT_TYPE_FT));
    pango_fc_font_map_set_config(PANGO_FC_FONT_MAP(made.map.get()), config.get());
    made.context = exact_context(*made.map);
    made.layout.reset(pango_layout_new(made.context.get()));
    pango_layout_set_font_description(made.layout.get(), description(families, weight).get());
    pango_layout_set_single_paragraph_mode(made.layout.get(), TRUE);
    set_without_ligatures(*made.layout);
    return made;
  }

  static PangoLayout* layout_for(Face& face, Weight weight, std::string_view text) {
    const std::vector<std::size_t> fonts = fonts_of(face, text);
    auto found = face.shapers.find(fonts);
    if (found == face.shapers.end()) {
      found = face.shapers.emplace(fonts, shaper(face, weight, fonts)).first;
    }
    return found->second.layout.get();
  }

  static const Part& part(Face& face, Weight weight, std::string_view text) {
    const auto found = face.parts.find(text);
    if (found != face.parts.end()) return found->second;
    PangoLayout* const layout = layout_for(face, weight, text);
    pango_layout_set_text(layout, text.data(), static_cast<int>(text.size()));
    PangoLayoutLine* line = pango_layout_get_line_readonly(layout, 0);
    PangoRectangle logical;
    pango_layout_line_get_extents(line, nullptr, &logical);
    Part& part = face.parts[std::string(text)];
    part.width = logical.width;
    for (const GSList* run = line->runs; run != nullptr; run = run->next) {
      part.runs.emplace_back(pango_glyph_item_copy(static_cast<PangoGlyphItem*>(run->data)));
    }
    return part;
  }

  /// How much of `text` comes from the main font, or else from others, in one go: letters of two
  /// fonts are shaped apart, so that the main font's are the same glyphs in all texts.
  static std::size_t length_of_one_font(Face& face, std::string_view text) {
    if (is_printable_ascii(text)) return text.size();
    const char* const end = text.data() + text.size();
    const auto is_main = [&face](const char* at) {
      return face.sources.front().has(g_utf8_get_char(at));
    };
    const bool begins = is_main(text.data());
    const char* at = g_utf8_next_char(text.data());
    while (at < end && is_main(at) == begins) at = g_utf8_next_char(at);
    return static_cast<std::size_t>(at - text.data());
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
      take(text, part(face, weight, text));
      rest.remove_prefix(text.size());
    }
  }
};

Fonts::Fonts(const std::filesystem::path& folder) : loaded_(std::make_unique<Loaded>()) {
  const std::filesystem::path list = folder / "pinned.txt";
  keep_from_machine_fonts();
  for (PinnedFont& font : pinned_fonts(list)) {
    font.file = (folder / font.file).string();
    look_for(font);
    loaded_->faces[font.weight].sources.push_back({.font = std::move(font)});
  }
  for (auto& [weight, face] : loaded_->faces) {
    face.shapers.emplace(std::vector<std::size_t>{0}, Loaded::shaper(face, weight, {0}));
  }
  if (loaded_->faces.size() != kWeights.size())
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
  std::vector<Loaded::Source>& sources = loaded_->faces.at(Weight::regular).sources;
  const auto has_glyph = [&sources](gunichar letter) {
    return std::any_of(sources.begin(), sources.end(),
                       [letter](Loaded::Source& source) { return source.has(letter); });
  };
  const std::string valid = valid_utf8(words);
  std::string missing;
  for (const char* at = valid.c_str(); *at != '\0'; at = g_utf8_next_char(at)) {
    const std::string character(at, static_cast<const char*>(g_utf8_next_char(at)));
    if (!has_glyph(g_utf8_get_char(at)) && missing.find(character) == std::string::npos) {
      missing += character;
    }
  }
  return missing;
}

std::string valid_utf8(std::string_view words) {
  gchar* copy = g_utf8_make_valid(words.data(), static_cast<gssize>(words.size()));
  std::string valid(copy);
  g_free(copy);
  return valid;
}

}  // namespace pouchwright::render
