#include "render/glyphs.h"

#include <cairo.h>

#include <algorithm>
#include <numeric>
#include <string>
#include <utility>

namespace pouchwright::render {
namespace {

// A letter that no font has, in ems: a frame as high as a capital, two lines of digits in it.
constexpr double kBoxHeight = 0.72;
constexpr double kBoxLine = 0.03;
constexpr double kBoxGap = 0.05;  ///< beside the frame, and between it and the digits
constexpr double kDigitSize = 0.36;
constexpr double kDigitHeight = 0.26;  ///< of a digit of that size

int parts(double ems) { return static_cast<int>(ems * kUnitsPerEm * kPartsOfUnit); }

double units(int parts) { return static_cast<double>(parts) / kPartsOfUnit; }

/// `letter` in four hexadecimal digits, or six.
std::string digits_of(char32_t letter) {
  constexpr std::string_view kDigits = "0123456789ABCDEF";
  std::string digits;
  for (int shift = letter > 0xFFFF ? 20 : 12; shift >= 0; shift -= 4) {
    digits += kDigits[(letter >> static_cast<unsigned>(shift)) & 0xFU];
  }
  return digits;
}

/// The box of `letter`: its number in two lines, of two digits each or of three.
GlyphRun box_of(char32_t letter, Typesetter& setter) {
  GlyphRun box = std::move(setter.set(digits_of(letter), {0}).front());
  const std::size_t columns = box.glyphs.size() / 2;
  const int frame = parts(2 * kBoxGap + kBoxLine);
  const auto scaled = [](int length) { return static_cast<int>(length * kDigitSize); };
  int widest = 0;
  for (std::size_t row = 0; row < 2; ++row) {
    int x = frame;
    for (std::size_t k = row * columns; k < (row + 1) * columns; ++k) {
      Glyph& glyph = box.glyphs[k];
      glyph.x_offset = x;
      glyph.y_offset =
          row == 0 ? -parts(2 * kBoxGap + kBoxLine + kDigitHeight) : -parts(kBoxGap + kBoxLine);
      x += scaled(glyph.advance);
    }
    widest = std::max(widest, x);
  }
  box.box = widest + frame;
  return box;
}

/// The bytes of the run that its glyphs [begin, end) are of.
std::pair<int, int> bytes_of(const GlyphRun& run, std::size_t begin, std::size_t end) {
  if (run.is_backward) {
    return {run.glyphs[end - 1].cluster, begin == 0 ? run.length : run.glyphs[begin - 1].cluster};
  }
  return {run.glyphs[begin].cluster,
          end == run.glyphs.size() ? run.length : run.glyphs[end].cluster};
}

/// The glyphs [begin, end) of `run` by themselves.
GlyphRun part_of(const GlyphRun& run, std::size_t begin, std::size_t end) {
  const auto [first, last] = bytes_of(run, begin, end);
  GlyphRun part{.font = run.font,
                .is_backward = run.is_backward,
                .begin = run.begin + first,
                .length = last - first};
  for (std::size_t k = begin; k < end; ++k) {
    part.glyphs.push_back(run.glyphs[k]);
    part.glyphs.back().cluster -= first;
  }
  return part;
}

bool is_known(const Glyph& glyph) { return glyph.unknown == 0; }

/// Which bytes belong to which glyphs, in the order of the text: for whoever searches a PDF or has it
/// read aloud.
std::vector<cairo_text_cluster_t> clusters_of(const GlyphRun& run) {
  std::vector<cairo_text_cluster_t> clusters;
  std::vector<Glyph> glyphs = run.glyphs;
  if (run.is_backward) std::reverse(glyphs.begin(), glyphs.end());
  for (std::size_t k = 0; k < glyphs.size();) {
    std::size_t end = k;
    int drawn = 0;
    for (; end < glyphs.size() && glyphs[end].cluster == glyphs[k].cluster; ++end) {
      if (glyphs[end].index != kNoGlyph) ++drawn;
    }
    const int next = end < glyphs.size() ? glyphs[end].cluster : run.length;
    clusters.push_back({next - glyphs[k].cluster, drawn});
    k = end;
  }
  return clusters;
}

}  // namespace

int GlyphRun::width() const {
  if (box > 0) return box;
  return std::accumulate(glyphs.begin(), glyphs.end(), 0,
                         [](int sum, const Glyph& glyph) { return sum + glyph.advance; });
}

std::vector<GlyphRun> with_boxes(std::vector<GlyphRun> runs, Typesetter& setter) {
  std::vector<GlyphRun> result;
  for (GlyphRun& run : runs) {
    if (std::all_of(run.glyphs.begin(), run.glyphs.end(), is_known)) {
      result.push_back(std::move(run));
      continue;
    }
    for (std::size_t begin = 0; begin < run.glyphs.size();) {
      std::size_t end = begin + 1;
      if (is_known(run.glyphs[begin])) {
        while (end < run.glyphs.size() && is_known(run.glyphs[end])) ++end;
        result.push_back(part_of(run, begin, end));
      } else {
        const auto [first, last] = bytes_of(run, begin, end);
        GlyphRun box = box_of(run.glyphs[begin].unknown, setter);
        box.begin = run.begin + first;
        box.length = last - first;
        result.push_back(std::move(box));
      }
      begin = end;
    }
  }
  return result;
}

void show(_cairo& target, std::string_view text, const GlyphRun& run) {
  // Where Cairo says that it is, which is to 1/256 of its own unit.
  double at_x = 0;
  double at_y = 0;
  cairo_get_current_point(&target, &at_x, &at_y);
  if (run.box > 0) {
    cairo_save(&target);
    cairo_translate(&target, at_x, at_y);
    cairo_new_path(&target);
    append_box(target, run);
    cairo_fill(&target);
    cairo_restore(&target);
    return;
  }
  std::vector<cairo_glyph_t> glyphs;
  int x = 0;
  for (const Glyph& glyph : run.glyphs) {
    if (glyph.index != kNoGlyph) {
      glyphs.push_back(
          {glyph.index, at_x + units(x + glyph.x_offset), at_y + units(glyph.y_offset)});
    }
    x += glyph.advance;
  }
  const int count = static_cast<int>(glyphs.size());
  cairo_set_scaled_font(&target, run.font);
  if (cairo_surface_has_show_text_glyphs(cairo_get_target(&target)) == 0) {
    cairo_show_glyphs(&target, glyphs.data(), count);
    return;
  }
  const auto clusters = clusters_of(run);
  const std::string_view words = text.substr(static_cast<std::size_t>(run.begin));
  cairo_show_text_glyphs(&target, words.data(), run.length, glyphs.data(), count, clusters.data(),
                         static_cast<int>(clusters.size()),
                         run.is_backward ? CAIRO_TEXT_CLUSTER_FLAG_BACKWARD
                                         : static_cast<cairo_text_cluster_flags_t>(0));
}

void append_outline(_cairo& target, _cairo_scaled_font* font, std::uint32_t glyph) {
  const cairo_glyph_t alone{glyph, 0, 0};
  cairo_set_scaled_font(&target, font);
  cairo_glyph_path(&target, &alone, 1);
}

void append_box(_cairo& target, const GlyphRun& box) {
  const double left = kBoxGap * kUnitsPerEm;
  const double width = units(box.box) - 2 * left;
  const double height = kBoxHeight * kUnitsPerEm;
  const double line = kBoxLine * kUnitsPerEm;
  // The inner edge goes the other way about, so that the frame alone is filled.
  cairo_rectangle(&target, left, 0, width, -height);
  cairo_rectangle(&target, left + width - line, -line, 2 * line - width, 2 * line - height);
  for (const Glyph& glyph : box.glyphs) {
    cairo_save(&target);
    cairo_translate(&target, units(glyph.x_offset), units(glyph.y_offset));
    cairo_scale(&target, kDigitSize, kDigitSize);
    append_outline(target, box.font, glyph.index);
    cairo_restore(&target);
  }
}

}  // namespace pouchwright::render
