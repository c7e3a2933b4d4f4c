/// Pages of running words with pictures among them: headings, steps, points, laid out from the top,
/// a new page where one is full.
///
///     TextPages pages("cautions", title, room, TextPages::Columns::two, measure);
///     pages.add({heading(heat), point(hot_iron), point(steam)});
///     pages.add_beside({step(first), step(second)}, picture);
///     return pages.finished();
///
/// All lengths are measured, so that longer languages only take more room. Not for drawings at full
/// size, whose words go where the lines leave room (see canvas.h).
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "ink/frame.h"
#include "ink/labels.h"
#include "ink/scene.h"
#include "ink/table.h"

namespace pouchwright::ink {

/// Where an item stands among finished pages: for words that are known only when all pages are.
struct ItemIndex {
  std::size_t page = 0;
  std::size_t item = 0;
};

/// Does a sheet go on on further pages, or grow downwards?
enum class Breaks { pages, none };
/// Is a page as high as the room, or as what stands on it?
enum class PageHeight { room, taken };

/// What all drawings of one sheet share; `room` is what fits on a page.
struct SheetRoom {
  std::string name;
  std::string title;
  Point room;
};

/// What is the same on all pages: what stands over their frames, in how many columns these stand,
/// and what is between two frames of a column.
struct FlowLook {
  Frame first_head{};
  Frame later_head{};  ///< of all pages but the first
  int columns = 1;
  double gap = 0;
  std::optional<Stroke> rule{};  ///< in the middle of the gap, as wide as the column
  Breaks breaks = Breaks::pages;
  PageHeight height = PageHeight::room;
};

/// A sheet's title over a page. Later pages say it again, smaller; read aloud, once is enough.
[[nodiscard]] Frame title_head(const std::string& title, double size, Point room,
                               const TextMeasure& measure);

/// Frames one below the other, in columns, on as many pages as it takes.
class Flow {
 public:
  explicit Flow(SheetRoom sheet, FlowLook look = {});

  /// Below what is there, or at the top of the next column or page where it finds no room. Returns
  /// where its first item stands.
  ItemIndex add(const Frame& frame);
  /// A heading stays with what follows it.
  std::vector<ItemIndex> add(const std::vector<Frame>& frames);
  /// One matter, whose `head` stands over what of it comes on further pages.
  void add_under(const Frame& head, const std::vector<Frame>& frames);
  void add_gap(double height) { y_ += height; }
  /// Begins a new column or page where less than `height` is left.
  void make_room(double height);

  /// Of one column.
  [[nodiscard]] double width() const { return width_; }
  /// What is left below in this column. Frames of that height or less stay on this page.
  [[nodiscard]] double height_left() const { return sheet_.room.y - y_; }
  /// What a whole column of a later page holds.
  [[nodiscard]] double height_of_page() const { return sheet_.room.y - look_.later_head.box.y1; }

  [[nodiscard]] const std::vector<Drawing>& pages() const { return pages_; }

 private:
  void begin_page();
  void begin_column();

  SheetRoom sheet_;
  FlowLook look_;
  double width_ = 0;
  double top_ = 0;  ///< of the columns of this page
  double y_ = 0;
  int column_ = 0;
  bool is_empty_ = true;  ///< this column
  std::vector<Drawing> pages_;
};

/// One paragraph. Steps have their number to the left of them, points a mark.
struct Paragraph {
  enum class Look { heading, text, strong, aside, step, point };
  Look look = Look::text;
  std::string words;
  std::string mark{};  ///< of a point
};
using Paragraphs = std::vector<Paragraph>;

[[nodiscard]] Paragraph heading(std::string words);
[[nodiscard]] Paragraph text_paragraph(std::string words);
[[nodiscard]] Paragraph strong(std::string words);
/// What is no instruction: where a number comes from, an example.
[[nodiscard]] Paragraph aside(std::string words);
/// Numbered from 1 behind each heading.
[[nodiscard]] Paragraph step(std::string words);
[[nodiscard]] Paragraph point(std::string words, std::string mark = "–");

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
  /// Returns where the words of each row's last column stand.
  std::vector<ItemIndex> add(const Table& table);
  /// Returns where the picture's first item stands. Default: kPictureGap.
  ItemIndex add(const Frame& picture, double gap = kPictureGap);
  /// The words left of the picture where both are wide enough, else above it.
  void add_beside(const Paragraphs& paragraphs, const Frame& picture);
  /// In two columns of about one height where they are wide enough, else as add().
  void add_in_columns(const Paragraphs& paragraphs);
  void add_gap(double height) { flow_.add_gap(height); }
  void make_room(double height) { flow_.make_room(height); }

  [[nodiscard]] double width() const { return flow_.width(); }
  [[nodiscard]] double height_left() const { return flow_.height_left(); }
  [[nodiscard]] double height_of_page() const { return flow_.height_of_page(); }

  /// The pages, all with the extent of the room.
  [[nodiscard]] std::vector<Drawing> finished() const { return flow_.pages(); }

 private:
  [[nodiscard]] std::vector<Frame> laid(const Paragraphs& paragraphs, double width);
  [[nodiscard]] Frame laid(const Paragraph& paragraph, double width) const;

  const TextMeasure* measure_;
  int step_ = 0;  ///< the last one's number
  Flow flow_;
};

}  // namespace pouchwright::ink
