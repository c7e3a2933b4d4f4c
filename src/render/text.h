/// Text in real fonts: how wide it comes out, and its outlines for files that must not depend on
/// the fonts of the machine that opens them.
///
///     const FontMeasure measure(fonts);
///     double width = measure.measure("Slip card", ink::kTitleSize, Weight::bold).width;
///     for (const Letter& letter : TextOutliner(fonts).letters(text)) ...
///
/// Not for text in PDF, which stays text (see pdf.h).
#pragma once

#include <memory>
#include <string_view>
#include <vector>

#include "ink/scene.h"
#include "render/fonts.h"

namespace pouchwright::render {

/// Measures with the pinned fonts, without hinting: widths grow in step with the size. Outlines
/// agree within 0.0005 of the em; in PDF a line comes out up to 0.001 em a letter narrower, since
/// Cairo cuts letter widths off to whole thousandths. `fonts` must outlive it.
class FontMeasure final : public ink::TextMeasure {
 public:
  explicit FontMeasure(const Fonts& fonts) : fonts_(&fonts) {}
  [[nodiscard]] ink::TextSize measure(std::string_view words, double size,
                                      ink::Weight weight) const override;

 private:
  const Fonts* fonts_;
};

/// Where a line of `width` begins, seen from its anchor: 0, -width / 2 or -width.
[[nodiscard]] double start_of(ink::Anchor anchor, double width);

/// One letter of a text. Its outline is in kUnitsPerEm from its own beginning on the baseline, y
/// down, not turned: closed subpaths, to be filled by the non-zero rule.
struct Letter {
  const ink::Path* outline = nullptr;  ///< the same for the same letter; lives with the outliner
  ink::Point at;                       ///< where it begins, on the drawing, mm
};

/// `p`, from the beginning of a letter of `text` in kUnitsPerEm, turned and scaled as the text is: mm
/// from the letter's place.
[[nodiscard]] ink::Point set_in(const ink::Text& text, ink::Point p);

/// Turns text into filled outlines. `fonts` must outlive it.
class TextOutliner {
 public:
  explicit TextOutliner(const Fonts& fonts);
  ~TextOutliner();
  TextOutliner(TextOutliner&&) noexcept;
  TextOutliner& operator=(TextOutliner&&) noexcept;

  /// The letters that leave ink, in order. Within 0.0005 of the em.
  [[nodiscard]] std::vector<Letter> letters(const ink::Text& text) const;

 private:
  struct Pen;
  const Fonts* fonts_;
  std::unique_ptr<Pen> pen_;
};

}  // namespace pouchwright::render
