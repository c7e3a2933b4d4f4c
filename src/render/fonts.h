/// The fonts that everything is measured and drawn with: the files listed in fonts/pinned.txt and
/// no others, so that every machine gives the same pages. The machine's own font settings are
/// never read, nothing is cached on disk and nothing is printed.
///
///     const Fonts fonts(data / "fonts");
///     double ems = fonts.shaped("this side up", ink::Weight::regular).width;
///
/// Not for lengths of text in mm (see text.h).
#pragma once

#include <filesystem>
#include <memory>
#include <span>
#include <string>
#include <string_view>

#include "ink/scene.h"
#include "render/glyphs.h"

namespace pouchwright::render {

/// A line of glyphs from the baseline's start, in kUnitsPerEm, y down. It belongs to the fonts and is
/// good until the next call of `shaped`.
struct ShapedLine {
  std::string_view text;           ///< UTF-8, which the runs tell their letters by
  std::span<const GlyphRun> runs;  ///< from left to right
  double width = 0;                ///< advance width, in ems
};

/// How far a line reaches from the baseline, in ems, both positive. Together 1.2, the usual distance
/// of lines (common practice, no source): the fonts' own 1.36 leaves room for letters with two
/// accents, which no text here has. Each letter of `shared/words/` keeps within it (a test looks).
struct FontHeight {
  double above = 0.95;
  double below = 0.25;
};
inline constexpr FontHeight kFontHeight;
/// Of words with Arabic or Devanagari letters, which reach higher and lower than Latin ones.
[[nodiscard]] FontHeight font_height(std::string_view words);

/// The pinned fonts. The first of each weight is loaded at once, the others when a text has letters
/// that it lacks. Setting up takes about a millisecond: make one and keep it. One thread may use it
/// at a time.
class Fonts {
 public:
  /// Fails: throws base::Failure where `folder`/pinned.txt cannot be read or understood, or a
  /// font file is missing or damaged; the message names the Debian package that holds it.
  explicit Fonts(const std::filesystem::path& folder);
  /// The same, set by another than what this build sets by.
  Fonts(const std::filesystem::path& folder, TypesetterMaker maker);
  ~Fonts();
  Fonts(Fonts&&) noexcept;
  Fonts& operator=(Fonts&&) noexcept;

  /// `words` as one line, whatever breaks it contains; bytes that are not UTF-8 show as U+FFFD.
  [[nodiscard]] ShapedLine shaped(std::string_view words, ink::Weight weight) const;
  /// The width of that line, in ems.
  [[nodiscard]] double width(std::string_view words, ink::Weight weight) const;
  /// The characters of `words` for which no pinned font has a glyph, each once, as UTF-8.
  [[nodiscard]] std::string without_glyph(std::string_view words) const;

 private:
  struct Loaded;
  std::unique_ptr<Loaded> loaded_;
};

/// `words` with every byte that is not part of UTF-8 text replaced by U+FFFD.
[[nodiscard]] std::string valid_utf8(std::string_view words);

}  // namespace pouchwright::render
