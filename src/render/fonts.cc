#include "render/fonts.h"

#include <fontconfig/fontconfig.h>
#include <pango/pangocairo.h>
#include <pango/pangofc-fontmap.h>

#include <array>
#include <cstddef>
#include <fstream>
#include <map>
#include <optional>
#include <sstream>
#include <utility>
#include <vector>

#include "base/diagnostic.h"
#include "base/text.h"

namespace pouchwright::render {
namespace {

using ink::Weight;

/// Shaped lines kept for reuse. A packet has some hundreds of different texts; the limit only
/// keeps a program that runs for days from growing.
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
template <class T>
using ObjectHandle = std::unique_ptr<T, ObjectDropper>;

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
  if (field[0] != "regular" && field[0] != "bold") return std::nullopt;
  return PinnedFont{.weight = field[0] == "bold" ? Weight::bold : Weight::regular,
                    .family = field[1],
                    .file = field[2],
                    .package = field[3]};
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

void load(FcConfig& config, const PinnedFont& font, const std::filesystem::path& folder) {
  const std::string file = (folder / font.file).string();
  const base::Message hint("font-hint", {{"package", font.package}});
  if (!std::filesystem::is_regular_file(file)) {
    throw base::Failure(file, {"font-missing", {{"package", font.package}}}, {hint});
  }
  // FcChar8 is unsigned char; fontconfig reads the name as plain bytes.
  const auto* name = reinterpret_cast<const FcChar8*>(file.c_str());
  if (FcConfigAppFontAddFile(&config, name) == FcFalse) {
    throw base::Failure(file, {"font-damaged", {{"package", font.package}}}, {hint});
  }
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

DescriptionHandle description(const std::string& family, Weight weight) {
  DescriptionHandle result(pango_font_description_new());
  pango_font_description_set_family(result.get(), family.c_str());
  pango_font_description_set_weight(
      result.get(), weight == Weight::bold ? PANGO_WEIGHT_BOLD : PANGO_WEIGHT_NORMAL);
  pango_font_description_set_absolute_size(result.get(), kUnitsPerEm * PANGO_SCALE);
  return result;
}

/// Pango's units, 1/1024 of ours, to ems.
double ems(int pango_units) { return pango_units / (PANGO_SCALE * kUnitsPerEm); }

}  // namespace

struct Fonts::Loaded {
  /// What is known of one weight.
  struct Face {
    DescriptionHandle description;
    std::optional<FontHeight> height;
    std::map<std::string, ObjectHandle<PangoLayout>, std::less<>> layouts;
  };

  ConfigHandle config;
  ObjectHandle<PangoFontMap> map;
  ObjectHandle<PangoContext> context;
  std::map<Weight, Face> faces;
};

Fonts::Fonts(const std::filesystem::path& folder) : loaded_(std::make_unique<Loaded>()) {
  const std::filesystem::path list = folder / "pinned.txt";
  keep_from_machine_fonts();
  loaded_->config.reset(FcConfigCreate());
  for (const PinnedFont& font : pinned_fonts(list)) {
    load(*loaded_->config, font, folder);
    loaded_->faces[font.weight].description = description(font.family, font.weight);
  }
  if (loaded_->faces.size() != 2)
    throw base::Failure(list.string(), "font-list-short", {{"data-missing-hint"}});
  loaded_->map.reset(pango_cairo_font_map_new_for_font_type(CAIRO_FONT_TYPE_FT));
  pango_fc_font_map_set_config(PANGO_FC_FONT_MAP(loaded_->map.get()), loaded_->config.get());
  loaded_->context = exact_context(*loaded_->map);
}

Fonts::~Fonts() = default;
Fonts::Fonts(Fonts&&) noexcept = default;
Fonts& Fonts::operator=(Fonts&&) noexcept = default;

ShapedLine Fonts::shaped(std::string_view words, Weight weight) const {
  Loaded::Face& face = loaded_->faces.at(weight);
  auto found = face.layouts.find(words);
  if (found == face.layouts.end()) {
    if (face.layouts.size() >= kMostKept) face.layouts.clear();
    ObjectHandle<PangoLayout> layout(pango_layout_new(loaded_->context.get()));
    pango_layout_set_font_description(layout.get(), face.description.get());
    pango_layout_set_single_paragraph_mode(layout.get(), TRUE);
    pango_layout_set_text(layout.get(), valid_utf8(words).c_str(), -1);
    found = face.layouts.emplace(words, std::move(layout)).first;
  }
  PangoLayoutLine* line = pango_layout_get_line_readonly(found->second.get(), 0);
  PangoRectangle logical;
  pango_layout_line_get_extents(line, nullptr, &logical);
  return {.line = line, .width = ems(logical.width)};
}

FontHeight Fonts::height(Weight weight) const {
  Loaded::Face& face = loaded_->faces.at(weight);
  if (face.height) return *face.height;
  PangoFontMetrics* metrics =
      pango_context_get_metrics(loaded_->context.get(), face.description.get(), nullptr);
  face.height = FontHeight{.above = ems(pango_font_metrics_get_ascent(metrics)),
                           .below = ems(pango_font_metrics_get_descent(metrics))};
  pango_font_metrics_unref(metrics);
  return *face.height;
}

std::string Fonts::without_glyph(std::string_view words) const {
  const FcFontSet* fonts = FcConfigGetFonts(loaded_->config.get(), FcSetApplication);
  const auto has_glyph = [fonts](gunichar character) {
    for (int k = 0; fonts != nullptr && k < fonts->nfont; ++k) {
      FcCharSet* glyphs = nullptr;
      if (FcPatternGetCharSet(fonts->fonts[k], FC_CHARSET, 0, &glyphs) == FcResultMatch &&
          FcCharSetHasChar(glyphs, character) == FcTrue) {
        return true;
      }
    }
    return false;
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
