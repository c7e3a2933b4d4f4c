/// What a run of the program is measured against: the same libraries without the program.
///
///     bare start                                  starts, and leaves
///     bare draw FOLDER FAMILY REGULAR.ttf BOLD.ttf PAGES TEXTS LETTERS STROKES SEGMENTS ...
///
/// `draw` writes one PDF of so many pages, each with so many texts of so many letters and strokes of
/// so many straight segments; five numbers more are the same of SVG files, one for each page. All
/// texts differ, and their places and lengths are nobody's: nothing is worked out.

#include <cairo-pdf.h>
#include <cairo-svg.h>
#include <fontconfig/fontconfig.h>
#include <pango/pangocairo.h>
#include <pango/pangofc-fontmap.h>
#include <qpdf/qpdf-c.h>

#include <cstdio>
#include <cstdlib>
#include <string>

namespace {

constexpr double kWidth = 595;
constexpr double kHeight = 842;

struct Contents {
  int pages, texts, letters, strokes, segments;
};

Contents contents(char** numbers) {
  return {std::atoi(numbers[0]), std::atoi(numbers[1]), std::atoi(numbers[2]),
          std::atoi(numbers[3]), std::atoi(numbers[4])};
}

/// The pinned files and no others, as in the program (render/fonts.cc).
PangoContext* pinned_fonts(const char* regular, const char* bold) {
  FcConfigSetCurrent(FcConfigCreate());
  FcConfig* config = FcConfigCreate();
  for (const char* file : {regular, bold}) {
    FcConfigAppFontAddFile(config, reinterpret_cast<const FcChar8*>(file));
  }
  PangoFontMap* map = pango_cairo_font_map_new_for_font_type(CAIRO_FONT_TYPE_FT);
  pango_fc_font_map_set_config(PANGO_FC_FONT_MAP(map), config);
  return pango_font_map_create_context(map);
}

std::string text(int number, int letters) {
  std::string made = std::to_string(number);
  while (static_cast<int>(made.size()) < letters) made += " sew the sides and fold the front over";
  return made.substr(0, static_cast<std::size_t>(letters));
}

void draw(cairo_t* target, const Contents& page, int number, PangoLayout* layout,
          const std::string& family) {
  for (int k = 0; k < page.texts; ++k) {
    PangoFontDescription* font =
        pango_font_description_from_string((family + (k % 4 == 0 ? " Bold 9" : " 9")).c_str());
    pango_layout_set_font_description(layout, font);
    pango_font_description_free(font);
    pango_layout_set_text(layout, text(number * page.texts + k, page.letters).c_str(), -1);
    cairo_move_to(target, 36 + 260 * (k % 2), 36 + kHeight * 0.9 * k / page.texts);
    pango_cairo_show_layout(target, layout);
  }
  for (int k = 0; k < page.strokes; ++k) {
    cairo_move_to(target, 36, 36.5 + k);
    for (int segment = 1; segment <= page.segments; ++segment) {
      cairo_line_to(target, 36.25 + 500.0 * segment / page.segments,
                    36.5 + k + 9.3 * (segment % 2));
    }
    cairo_stroke(target);
  }
  cairo_show_page(target);
}

void finish(cairo_t* target) {
  cairo_surface_finish(cairo_get_target(target));
  if (cairo_status(target) != CAIRO_STATUS_SUCCESS) std::exit(1);
  cairo_destroy(target);
}

}  // namespace

int main(int argc, char** argv) {
  if (argc == 2 && std::string(argv[1]) == "start") {
    // Named, or the linker would leave a library out.
    return cairo_version() > 0 && pango_version() > 0 && FcGetVersion() > 0 &&
                   qpdf_get_qpdf_version() != nullptr
               ? 0
               : 1;
  }
  if (argc != 16 || std::string(argv[1]) != "draw") return 2;
  const std::string folder = argv[2];
  PangoLayout* layout = pango_layout_new(pinned_fonts(argv[4], argv[5]));
  const Contents pdf = contents(argv + 6);
  cairo_t* target =
      cairo_create(cairo_pdf_surface_create((folder + "/bare.pdf").c_str(), kWidth, kHeight));
  for (int k = 0; k < pdf.pages; ++k) draw(target, pdf, k, layout, argv[3]);
  finish(target);
  const Contents svg = contents(argv + 11);
  for (int k = 0; k < svg.pages; ++k) {
    const std::string file = folder + "/bare-" + std::to_string(k) + ".svg";
    target = cairo_create(cairo_svg_surface_create(file.c_str(), kWidth, kHeight));
    draw(target, svg, k, layout, argv[3]);
    finish(target);
  }
}
