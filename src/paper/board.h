/// One page's free room: what stands on it so far, and searches for places that are still free.
///
///     Board board(printable, measure);
///     board.add(ink_of_page);
///     board.settle();
///     std::optional<ink::Text> text = board.placed(label, {.within = printable});
///
/// Furniture never touches furniture; it may cross the drawing's lines, and costs as many as it
/// crosses. Not for deciding what a page should say (see furniture.h).
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "ink/scene.h"
#include "paper/ink.h"

namespace pouchwright::paper {

/// Where the search begins: the first of equally good places wins.
enum class Corner { top_left, bottom_right };

/// What is free to choose about a place.
struct Search {
  ink::Box within;
  Corner from = Corner::top_left;
  double step = 2;                 ///< mm between the places tried
  std::optional<ink::Point> near;  ///< if given, of equally good places the nearest wins
  std::optional<ink::Box> off;     ///< if given, no place touches it
};

struct Spot {
  ink::Box box;
  std::int64_t ink = 0;  ///< InkGrid's weight under it
};

class Board {
 public:
  Board(const ink::Box& printable, const ink::TextMeasure& measure)
      : printable_(printable), measure_(&measure), grid_(printable) {}

  void add(const Streak& streak) { grid_.add(streak); }
  void add(const ink::Box& box, int weight) { grid_.add(box, weight); }
  /// Ends the drawing's ink. Requires: called once, before any search.
  void settle() { grid_.settle(); }

  /// Keeps later furniture off `box`.
  void take(const ink::Box& box) { taken_.push_back(box); }
  [[nodiscard]] bool is_taken(const ink::Box& box) const;
  [[nodiscard]] std::int64_t ink_under(const ink::Box& box) const { return grid_.under(box); }
  /// Ink as millimetres of line, roughly.
  [[nodiscard]] double line_length(std::int64_t ink) const {
    return static_cast<double>(ink) * grid_.cell();
  }

  /// The place of `size` not taken, with the least ink. Nothing if all places are taken.
  [[nodiscard]] std::optional<Spot> best_spot(ink::Point size, const Search& search) const;

  /// Puts `text` at the best place, if any, and takes that place.
  [[nodiscard]] std::optional<ink::Text> placed(const ink::Text& text, const Search& search);
  /// The size of the box of `text`, turned as it is.
  [[nodiscard]] ink::Point size_of(const ink::Text& text) const;

  [[nodiscard]] const ink::Box& printable() const { return printable_; }
  [[nodiscard]] const ink::TextMeasure& measure() const { return *measure_; }

  /// For taking back a trial: what was taken after `mark()` is free again.
  [[nodiscard]] std::size_t mark() const { return taken_.size(); }
  void back_to(std::size_t mark) { taken_.resize(mark); }

 private:
  ink::Box printable_;
  const ink::TextMeasure* measure_;
  InkGrid grid_;
  std::vector<ink::Box> taken_;
};

}  // namespace pouchwright::paper
