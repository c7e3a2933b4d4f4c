/// Glyphs, as words are set in them and drawn, and who sets them: Pango, or in a browser, which has
/// none, HarfBuzz and FriBidi by themselves. Both give the same glyphs at the same places.
///
///     auto setter = pango_typesetter(fonts, ink::Weight::regular);
///     for (const GlyphRun& run : setter->set("Slip card", {0})) show(target, text, run);
///
/// Not for whoever wants a line of text: fonts.h knows what was set before.
#pragma once

#include <cstddef>
#include <cstdint>
#include <memory>
#include <string_view>
#include <vector>

#include "render/pinned.h"

// Cairo's own names; its headers stay inside this layer's .cc files.
struct _cairo;              // NOLINT(bugprone-reserved-identifier,readability-identifier-naming)
struct _cairo_scaled_font;  // NOLINT(bugprone-reserved-identifier,readability-identifier-naming)

namespace pouchwright::render {

/// Text is shaped once, without hinting, at this many units to the em, and scaled to its size.
inline constexpr double kUnitsPerEm = 100;
/// Places of glyphs are whole numbers of this part of such a unit.
inline constexpr int kPartsOfUnit = 1024;

/// A glyph that leaves no ink, and is none of the font's.
inline constexpr std::uint32_t kNoGlyph = 0x0FFFFFFF;

/// Lengths are in parts of a unit, y down.
struct Glyph {
  std::uint32_t index = 0;  ///< in its font
  int x_offset = 0;
  int y_offset = 0;
  int advance = 0;
  int cluster = 0;       ///< the byte of the run where its letters begin
  char32_t unknown = 0;  ///< a letter that no font has, which is drawn in place of a glyph
};

/// Glyphs of one font that are read in one direction, from left to right as they stand.
struct GlyphRun {
  _cairo_scaled_font* font = nullptr;  ///< of kUnitsPerEm; belongs to whoever set it
  bool is_backward = false;            ///< read from right to left
  int begin = 0, length = 0;           ///< its bytes of the text
  /// More than none: a box of this width with the glyphs in it, the number of a letter that no font
  /// has, each at its own place.
  int box = 0;
  std::vector<Glyph> glyphs;

  [[nodiscard]] int width() const;  ///< in parts of a unit
};

/// Sets words in some fonts of one weight.
class Typesetter {
 public:
  Typesetter() = default;
  virtual ~Typesetter() = default;
  Typesetter(const Typesetter&) = delete;
  Typesetter& operator=(const Typesetter&) = delete;

  /// Has the font of this number a glyph for `letter`? Fails: throws base::Failure where its file is
  /// damaged.
  [[nodiscard]] virtual bool has(std::size_t font, char32_t letter) = 0;
  /// `text`, which is UTF-8, as one line from left to right. A letter is taken from the first of
  /// `fonts` that has it. Fails: as has().
  [[nodiscard]] virtual std::vector<GlyphRun> set(std::string_view text,
                                                  const std::vector<std::size_t>& fonts) = 0;
};

/// All `fonts` are of `weight`; the first is read at once. Fails: as Typesetter::has().
using TypesetterMaker = std::unique_ptr<Typesetter> (*)(std::vector<PinnedFont> fonts,
                                                        ink::Weight weight);
[[nodiscard]] std::unique_ptr<Typesetter> pango_typesetter(std::vector<PinnedFont> fonts,
                                                           ink::Weight weight);
[[nodiscard]] std::unique_ptr<Typesetter> harfbuzz_typesetter(std::vector<PinnedFont> fonts,
                                                              ink::Weight weight);

/// `runs`, where each letter that no font has is a box with its number, as U+888B is 88 over 8B.
[[nodiscard]] std::vector<GlyphRun> with_boxes(std::vector<GlyphRun> runs, Typesetter& setter);

/// Draws `run` of `text` from the current point on, on a target scaled to kUnitsPerEm.
void show(_cairo& target, std::string_view text, const GlyphRun& run);

/// Appends to the path the outline of a glyph from its own beginning, which is 0, 0.
void append_outline(_cairo& target, _cairo_scaled_font* font, std::uint32_t glyph);

/// The same of a box.
void append_box(_cairo& target, const GlyphRun& box);

}  // namespace pouchwright::render
