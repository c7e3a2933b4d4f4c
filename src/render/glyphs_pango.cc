#include <fontconfig/fontconfig.h>
#include <pango/pangocairo.h>
#include <pango/pangofc-fontmap.h>

#include <map>
#include <memory>
#include <string>
#include <utility>
#include <vector>

#include "render/glyphs.h"

namespace pouchwright::render {
namespace {

static_assert(kPartsOfUnit == PANGO_SCALE);
static_assert(kNoGlyph == PANGO_GLYPH_EMPTY);

using ink::Weight;

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

/// A blank that no font has leaves no box.
constexpr PangoGlyph kUnknownBlank = 0x20 | PANGO_GLYPH_UNKNOWN_FLAG;

Glyph glyph_of(const PangoGlyphInfo& info, int cluster) {
  Glyph glyph{.index = info.glyph,
              .x_offset = info.geometry.x_offset,
              .y_offset = info.geometry.y_offset,
              .advance = info.geometry.width,
              .cluster = cluster};
  if (info.glyph == kUnknownBlank) {
    glyph.index = kNoGlyph;
  } else if (info.glyph != PANGO_GLYPH_EMPTY && (info.glyph & PANGO_GLYPH_UNKNOWN_FLAG) != 0) {
    glyph.unknown = info.glyph & ~PANGO_GLYPH_UNKNOWN_FLAG;
  }
  return glyph;
}

class PangoTypesetter final : public Typesetter {
 public:
  PangoTypesetter(std::vector<PinnedFont> fonts, Weight weight) : weight_(weight) {
    keep_from_machine_fonts();
    for (PinnedFont& font : fonts) sources_.push_back({.font = std::move(font)});
    shapers_.emplace(std::vector<std::size_t>{0}, shaper({0}));
  }

  [[nodiscard]] bool has(std::size_t font, char32_t letter) override {
    Source& source = sources_.at(font);
    source.config();
    return source.letters != nullptr && FcCharSetHasChar(source.letters, letter) == FcTrue;
  }

  [[nodiscard]] std::vector<GlyphRun> set(std::string_view text,
                                          const std::vector<std::size_t>& fonts) override {
    auto found = shapers_.find(fonts);
    if (found == shapers_.end()) found = shapers_.emplace(fonts, shaper(fonts)).first;
    PangoLayout* const layout = found->second.layout.get();
    pango_layout_set_text(layout, text.data(), static_cast<int>(text.size()));
    std::vector<GlyphRun> runs;
    const PangoLayoutLine* line = pango_layout_get_line_readonly(layout, 0);
    for (const GSList* run = line->runs; run != nullptr; run = run->next) {
      runs.push_back(run_of(*static_cast<const PangoGlyphItem*>(run->data)));
    }
    return runs;
  }

 private:
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
  };

  /// Shapes by some of the fonts and no others.
  struct Shaper {
    ObjectHandle<PangoFontMap> map;
    ObjectHandle<PangoContext> context;
    ObjectHandle<PangoLayout> layout;
  };

  [[nodiscard]] Shaper shaper(const std::vector<std::size_t>& fonts) {
    std::vector<std::string> families;
    for (const std::size_t k : fonts) families.push_back(sources_[k].font.family);
    ConfigHandle config;
    if (fonts.size() == 1) {
      config.reset(FcConfigReference(&sources_[fonts.front()].config()));
    } else {
      config.reset(FcConfigCreate());
      for (const std::size_t k : fonts) load(*config, sources_[k].font);
    }
    Shaper made;
    made.map.reset(pango_cairo_font_map_new_for_font_type(CAIRO_FONT_TYPE_FT));
    pango_fc_font_map_set_config(PANGO_FC_FONT_MAP(made.map.get()), config.get());
    made.context = exact_context(*made.map);
    made.layout.reset(pango_layout_new(made.context.get()));
    pango_layout_set_font_description(made.layout.get(), description(families, weight_).get());
    pango_layout_set_single_paragraph_mode(made.layout.get(), TRUE);
    set_without_ligatures(*made.layout);
    return made;
  }

  /// Cairo's font belongs to Pango's, which is held: another might get its address.
  [[nodiscard]] cairo_scaled_font_t* font_of(PangoFont* font) {
    auto found = fonts_.find(font);
    if (found == fonts_.end()) {
      g_object_ref(font);
      found = fonts_.emplace(font, ObjectHandle<PangoFont>(font)).first;
    }
    return pango_cairo_font_get_scaled_font(PANGO_CAIRO_FONT(font));
  }

  [[nodiscard]] GlyphRun run_of(const PangoGlyphItem& item) {
    GlyphRun run{.font = font_of(item.item->analysis.font),
                 .is_backward = item.item->analysis.level % 2 == 1,
                 .begin = item.item->offset,
                 .length = item.item->length};
    for (int k = 0; k < item.glyphs->num_glyphs; ++k) {
      run.glyphs.push_back(glyph_of(item.glyphs->glyphs[k], item.glyphs->log_clusters[k]));
    }
    return run;
  }

  Weight weight_;
  std::vector<Source> sources_;
  std::map<std::vector<std::size_t>, Shaper> shapers_;  ///< by the fonts they have
  std::map<PangoFont*, ObjectHandle<PangoFont>> fonts_;
};

}  // namespace

std::unique_ptr<Typesetter> pango_typesetter(std::vector<PinnedFont> fonts, Weight weight) {
  return std::make_unique<PangoTypesetter>(std::move(fonts), weight);
}

}  // namespace pouchwright::render
