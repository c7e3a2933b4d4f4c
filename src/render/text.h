/// Text in real fonts: how wide it comes out, and its outlines for files that must not depend on
/// the fonts of the machine that opens them.
///
///     const PangoMeasure measure(fonts);
///     double width = measure.measure("Slip card", ink::kTitleSize, Weight::bold).width;
///     ink::Path letters = TextOutliner(fonts).outlines(text);
///
/// Not for text in PDF, which stays text (see pdf.h).
#pragma once

#include <memory>
#include <string_view>

#include "ink/scene.h"
#include "render/fonts.h"

namespace pouchwright::render {

/// Measures with the pinned fonts, without hinting: widths grow in step with the size. Outlines
/// agree within 0.0005 of the em; in PDF a line comes out up to 0.001 em a letter narrower, since
/// Cairo cuts letter widths off to whole thousandths. `fonts` must outlive it.
class PangoMeasure final : public ink::TextMeasure {
 public:
  explicit PangoMeasure(const Fonts& fonts) : fonts_(&fonts) {}
  [[nodiscard]] ink::TextSize measure(std::string_view words, double size,
                                      ink::Weight weight) const override;

 private:
  const Fonts* fonts_;
};

/// Where a line of `width` begins, seen from its anchor: 0, -width / 2 or -width.
[[nodiscard]] double start_of(ink::Anchor anchor, double width);

/// Turns text into filled outlines. `fonts` must outlive it.
class TextOutliner {
 public:
  explicit TextOutliner(const Fonts& fonts);
  ~TextOutliner();
  TextOutliner(TextOutliner&&) noexcept;
  TextOutliner& operator=(TextOutliner&&) noexcept;

  /// The letters at their places on the drawing, in mm, turned as the text is; closed subpaths, to
  /// be filled by the non-zero rule. Empty for blanks. Within 0.0005 of the em.
  [[nodiscard]] ink::Path outlines(const ink::Text& text) const;

 private:
  struct Pen;
  const Fonts* fonts_;
  std::unique_ptr<Pen> pen_;
};

}  // namespace pouchwright::render
