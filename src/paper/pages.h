/// Pages: windows of drawings at full scale on sheets of paper, with the marks that join them.
///
///     const Document masks{.name = "mask", .drawings = {slip_card, shield}};
///     Pages pages = paged(masks, setup, words, measure, diagnostics);
///
/// Not for how a page is written to a file (see render/pdf.h and render/svg.h).
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "base/diagnostic.h"
#include "base/length.h"
#include "base/voice.h"
#include "ink/scene.h"

namespace pouchwright::paper {

/// As the page is seen, also where the sheet is turned.
struct Margins {
  base::Length top, right, bottom, left;
  bool operator==(const Margins&) const = default;
};

/// What the job says of the paper, resolved. `width` and `height` are of the sheet held upright;
/// each document may turn it. Defaults: A4, margins kMargin, overlap kOverlap, no correction.
struct PageSetup {
  std::string name = "A4";  ///< as a person calls it: a name of shared/papers.toml or its size
  base::Length width = base::Length::whole_mm(210);
  base::Length height = base::Length::whole_mm(297);
  Margins margins;
  base::Length overlap;
  /// What the 50 mm check square measured on this printer, across and down the page as seen.
  base::Length printed_across = base::Length::whole_mm(50);
  base::Length printed_down = base::Length::whole_mm(50);
  base::Place place;  ///< of the paper size, or of the [paper] table, for messages
  base::Place margin_place;
  base::Place overlap_place;
  base::Place printed_square_place;

  bool operator==(const PageSetup&) const = default;
};
/// Whether pages are scaled for a printer whose check square was off.
[[nodiscard]] bool is_corrected(const PageSetup& setup);

inline constexpr base::PerUnit kMargin{base::Length::whole_mm(10), base::Length::inches(3, 8)};
inline constexpr base::Length kOverlap = base::Length::whole_mm(10);
inline constexpr double kCheckSquare = 50;  ///< mm, line centre to line centre
inline constexpr int kMostPages = 400;
/// What margins and overlap must leave of the sheet's shorter side: the check squares with their
/// clearances fit, at a correction of 3 % too.
inline constexpr base::Length kLeastRoom = base::Length::whole_mm(60);
/// PDF's largest page, 14,400 pt a side (ISO 32000-1, annex C).
inline constexpr base::Length kLongestSide = base::Length::whole_mm(5080);

/// Where a window of a drawing stands on a page. The window is in the drawing's millimetres. It is
/// turned by `turn_deg` clockwise, then its top left corner stands at `at` on the paper, then it is
/// scaled about `at` by the page's `scale`. Only what is inside the window is drawn.
struct Placement {
  std::size_t drawing = 0;  ///< index into Pages::drawings
  ink::Box window;
  int turn_deg = 0;  ///< 0 or 90
  ink::Point at;
  std::string cell;  ///< "A1": column letter, row number; unique within the document
  int column = 0;    ///< from 0
  int row = 0;       ///< from 0
};

/// A drawing point on the page's paper.
[[nodiscard]] ink::Point on_paper(const Placement& placement, ink::Point scale, ink::Point canvas);

/// A page: placements of drawings, then the furniture over them (marks, names, check squares, map),
/// in the paper's millimetres from its top left corner, correction already applied to it.
struct Page {
  std::vector<Placement> placements;  ///< empty: a page of instructions only
  std::vector<ink::Item> furniture;
  ink::Box check_square;  ///< before correction: 50 x 50 mm
  /// Boxes on the paper inside which nothing of the drawings is drawn, so that the check squares'
  /// lines stand clear. Only where no place on the page is free; mostly empty. They do not overlap
  /// each other.
  std::vector<ink::Box> gaps;
  std::string label;  ///< unique: the first cell's name, or a word for a page of instructions only
};

/// Drawings at full size are pictures, whatever words stand on them; sheets are read.
enum class Content { full_size, sheets };

/// A finished document. Several drawings may share it, and small ones a page.
struct Pages {
  std::string name;  ///< file stem
  std::string title;
  double width = 0;  ///< of the paper as seen, mm
  double height = 0;
  ink::Point scale{1, 1};  ///< printer correction along the paper's x and y
  std::vector<ink::Drawing> drawings;
  std::vector<Page> pages;
  std::vector<Placement> dropped;  ///< windows without ink, which get no page; `at` means nothing
  int plain_grid_pages = 0;        ///< how many pages a grid without planning would take
  Content content = Content::full_size;
};

/// Does each page say which of the document's it is? Not where it becomes one of a larger whole.
enum class PageNumbers { own, none };

/// Is an outline on the print cut out as it is, or traced on to card? A check square inside what is
/// traced looks like a part of it.
enum class Outlines { cut_out, traced };

/// What is to be printed together.
struct Document {
  std::string name;
  std::string title;
  std::vector<ink::Drawing> drawings;
  /// Of its cells, from 0: where the columns before it belong to another document of the same file.
  std::size_t first_column = 0;
  PageNumbers numbers = PageNumbers::own;
  Outlines outlines = Outlines::cut_out;
};

/// Cuts the drawings into pages at exactly 1 : 1 (times the correction), at the fewest pages, all
/// of one orientation. Neighbouring pages share `overlap` and at least two registration marks.
/// Every page has a check square with no other ink within 1 mm of its lines, outside of outlines
/// that are traced, where the paper is large enough to leave room beside them; the first page tells
/// how to print and join. A correction of 1 to 3 % is a warning.
/// Fails: an error at the setup's place where paper, margins and overlap leave no room, where the
/// correction is over 3 %, or where it would take more than kMostPages, those of
/// instructions among them; then the result has no pages.
[[nodiscard]] Pages paged(const Document& document, const PageSetup& setup,
                          const base::Voice& words, const ink::TextMeasure& measure,
                          base::Diagnostics& diagnostics);

/// As above, but without furniture where `are_settled` says of the windows alone that these pages will
/// not be kept: drawings are drawn again where a join cuts their words.
[[nodiscard]] Pages paged(const Document& document, const PageSetup& setup,
                          const base::Voice& words, const ink::TextMeasure& measure,
                          base::Diagnostics& diagnostics,
                          const std::function<bool(const Pages&)>& are_settled);

/// Whether paged() would make pages, with what it would report, and without making them where they are few.
[[nodiscard]] bool can_be_paged(const Document& document, const PageSetup& setup,
                                const base::Voice& words, const ink::TextMeasure& measure,
                                base::Diagnostics& diagnostics);

/// Where the pages of the drawing `drawing` are joined: strips in its millimetres on which words would be cut in
/// two.
[[nodiscard]] std::vector<ink::Box> joins_of(const Pages& pages, std::size_t drawing);
/// How many words of drawings a join runs through.
[[nodiscard]] int words_cut(const Pages& pages, const ink::TextMeasure& measure);
/// How many shafts and heads of arrows along the cloth a join runs through, or so near by that both pages show some of
/// one.
[[nodiscard]] int arrows_cut(const Pages& pages);

/// How many columns its cells take, the dropped ones too.
[[nodiscard]] std::size_t columns_of(const Pages& pages);

}  // namespace pouchwright::paper
