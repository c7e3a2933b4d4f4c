/// Pages of running words with pictures among them: headings, steps, points, laid out from the top,
/// a new page where one is full.
///
///     TextPages pages("cautions", words.say("cautions-title"), room, measure);
///     pages.add({heading(words.say("cautions-heat")), point(words.say("cautions-hot"))});
///     pages.add_beside({step(...), step(...)}, picture);
///     return pages.finished();
///
/// All lengths are measured, so that longer languages only take more room. Not for drawings at full
/// size, whose words go where the lines leave room (see sheet.h).
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "ink/frame.h"
#include "ink/labels.h"
#include "ink/scene.h"

namespace pouchwright::ink {

/// One paragraph. Steps have their number to the left of them, points a mark.
struct Paragraph {
  enum class Look { heading, text, strong, step, point };
  Look look = Look::text;
  std::string words;
  std::string mark{};  ///< of a point
};
using Paragraphs = std::vector<Paragraph>;

[[nodiscard]] Paragraph heading(std::string words);
[[nodiscard]] Paragraph text_paragraph(std::string words);
[[nodiscard]] Paragraph strong(std::string words);
/// Numbered from 1 behind each heading.
[[nodiscard]] Paragraph step(std::string words);
[[nodiscard]] Paragraph point(std::string words, std::string mark = "–");

/// Where an item stands among finished pages: for words that are known only when all pages are.
struct ItemIndex {
  std::size_t page = 0;
  std::size_t item = 0;
};

/// White above a picture.
inline constexpr double kPictureGap = 3;

/// Words beside and among pictures on as many pages as it takes, each `room` wide and high.
class TextPages {
 public:
  /// How the pages are divided where they are wide enough for two columns.
  enum class Columns { one, two };

  /// `measure` must outlive this.
  TextPages(std::string name, std::string title, Point room, Columns columns,
            const TextMeasure& measure);

  void add(const Paragraphs& paragraphs);
  /// Returns where the picture's first item stands. Default: kPictureGap.
  ItemIndex add(const Frame& picture, double gap = kPictureGap);
  /// The words left of the picture where both are wide enough, else above it.
  void add_beside(const Paragraphs& paragraphs, const Frame& picture);
  void add_gap(double height) { y_ += height; }
  /// Begins a new column or page where less than `height` is left.
  void make_room(double height);

  /// Of one column.
  [[nodiscard]] double width() const { return width_; }
  /// What is left below in this column. Pictures of that height or less stay on this page.
  [[nodiscard]] double height_left() const { return room_.y - y_; }
  /// What a whole column holds, below the title.
  [[nodiscard]] double height_of_page() const;

  /// The pages, all with the extent of the room.
  [[nodiscard]] std::vector<Drawing> finished() const { return pages_; }

 private:
  [[nodiscard]] Frame laid(const Paragraph& paragraph, double width) const;
  void count(const Paragraph& paragraph);
  void begin_page();
  void begin_column();
  void put(const Frame& frame, Point at);

  std::string name_;
  std::string title_;
  Point room_;
  int columns_ = 1;
  const TextMeasure* measure_;
  double body_;       ///< size of running words
  double width_ = 0;  ///< of one column
  double top_ = 0;    ///< of the columns of this page
  double y_ = 0;
  int column_ = 0;
  int step_ = 0;
  std::vector<Drawing> pages_;
};

/// Does a sheet go on on further pages, or grow downwards?
enum class Breaks { pages, none };

/// What all drawings of one sheet share; `room` is what fits on a page.
struct SheetRoom {
  std::string name;
  std::string title;
  Point room;
};

/// The frames one below the other, at least one drawing. With Breaks::pages each drawing is as high
/// as the room and a frame that finds no room begins the next; else one drawing holds all.
[[nodiscard]] std::vector<Drawing> stacked(const std::vector<Frame>& frames, const SheetRoom& sheet,
                                           Breaks breaks);

}  // namespace pouchwright::ink
