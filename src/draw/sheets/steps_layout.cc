#include "draw/sheets/steps_layout.h"

#include <algorithm>
#include <array>
#include <optional>
#include <utility>

#include "draw/sheets/steps.h"

namespace pouchwright::draw {
namespace {

constexpr double kColumnGap = 6;
/// Between a step's words and its picture.
constexpr double kUnderWords = 2.5;
/// The highest picture is drawn between these, mm of paper.
constexpr double kLowestPicture = 34;
constexpr double kHighestPicture = 88;
/// How many pages more than planned are tried before pictures shrink.
constexpr std::size_t kMorePages = 2;
constexpr int kHeightRounds = 12;
/// Pictures less wide than this, or on small paper than this share of it, take one page more if that
/// makes them so much larger.
constexpr double kSmallPicture = 55;
constexpr double kSmallShare = 0.3;
constexpr double kWorthAPage = 1.2;
/// So much larger than the others a picture may be, so that none looks like another pouch.
constexpr std::array kGrowth = {1.35, 1.2, 1.1};
/// Where even the lowest pictures find no room they shrink by this, again and again.
constexpr double kShrinks = 0.8;
/// As wide as a column or wider.
constexpr double kAnyWidth = 1e6;

/// The pictures of all steps, the highest so high.
struct Pictures {
  double highest = 0;
  std::vector<Drawing> drawn;
};

/// A row of steps: where its pictures begin, and how high all of it is.
struct StepsRow {
  double picture_top = 0;
  double height = 0;
};
using StepsRows = std::vector<StepsRow>;

/// How large pictures come out at a height, by the straight line through their sizes at two others.
/// They grow evenly with it, but where names and icons, which keep their size, stand out beyond
/// small ones they grow slower at first: so they are no larger than that between the two, and no
/// smaller beyond them.
std::vector<Point> sizes_by(const Pictures& small, const Pictures& large, double highest) {
  const double way = large.highest - small.highest;
  const double part = way > 0 ? (highest - small.highest) / way : 0;
  std::vector<Point> sizes;
  for (std::size_t i = 0; i < small.drawn.size(); ++i) {
    const Box& a = small.drawn[i].extent;
    const Box& b = large.drawn[i].extent;
    sizes.push_back({a.width() + part * (b.width() - a.width()),
                     a.height() + part * (b.height() - a.height())});
  }
  return sizes;
}

std::vector<Point> sizes_of(const Pictures& pictures) {
  return sizes_by(pictures, pictures, pictures.highest);
}

/// Empty where a picture is wider than its room.
std::optional<StepsRows> rows_of(const StepColumns& columns, const std::vector<Point>& sizes) {
  StepsRows rows;
  for (std::size_t from = 0; from < sizes.size(); from += columns.count) {
    double head = 0;
    double picture = 0;
    for (std::size_t i = from; i < std::min(sizes.size(), from + columns.count); ++i) {
      if (sizes[i].x > columns.picture_room) return std::nullopt;
      head = std::max(head, columns.heads[i].box.y1);
      picture = std::max(picture, sizes[i].y);
    }
    const double top = columns.has_words_beside ? 0 : head + kUnderWords;
    rows.push_back({top, std::max(head, top + picture)});
  }
  return rows;
}

class StepsLayout {
 public:
  StepsLayout(const ink::SheetRoom& sheet, const ink::FlowLook& look,
              const std::vector<std::string>& shown, const StepPictures& pictures)
      : sheet_(sheet), look_(look), shown_(shown), pictures_(pictures) {}

  std::vector<Drawing> drawn(const std::vector<StepColumns>& arrangements) {
    const std::size_t steps = arrangements.front().heads.size();
    const std::size_t least = (steps + kStepsOnPage - 1) / kStepsOnPage;
    for (most_pages_ = least; most_pages_ <= least + kMorePages; ++most_pages_) {
      std::optional<Arranged> best = best_of(arrangements);
      if (!best) continue;
      if (is_small(best->pictures) && most_pages_ < least + kMorePages) {
        ++most_pages_;
        std::optional<Arranged> larger = best_of(arrangements);
        if (larger && larger->pictures.highest >= kWorthAPage * best->pictures.highest) {
          best = std::move(larger);
        }
      }
      return on_pages(*best->columns, grown(*best->columns, std::move(best->pictures)));
    }
    return longer(arrangements);
  }

 private:
  struct Arranged {
    const StepColumns* columns = nullptr;
    Pictures pictures;
  };
  /// The arrangement with the largest pictures that find room on `most_pages_`, if any does.
  [[nodiscard]] std::optional<Arranged> best_of(const std::vector<StepColumns>& arrangements) {
    std::optional<Arranged> best;
    for (const StepColumns& columns : arrangements) {
      std::optional<Pictures> found = largest_in(columns);
      if (!found || (best && found->highest <= best->pictures.highest)) continue;
      best = Arranged{&columns, std::move(*found)};
      // One step a row is read best; columns are for sheets where it finds no room.
      if (columns.has_words_beside) break;
    }
    return best;
  }

  /// Pictures beside words, each a little larger where its row has room left.
  [[nodiscard]] Pictures grown(const StepColumns& columns, Pictures pictures) const {
    if (!columns.has_words_beside) return pictures;
    const StepsRows rows = *rows_of(columns, sizes_of(pictures));
    std::vector<bool> is_grown(rows.size());
    for (const double by : kGrowth) {
      std::vector<Drawing> larger = pictures_(by * pictures.highest, columns.picture_room);
      for (std::size_t i = 0; i < rows.size(); ++i) {
        const Box& size = larger[i].extent;
        if (is_grown[i] || size.height() > rows[i].height) continue;
        if (size.width() > columns.picture_room) continue;
        pictures.drawn[i] = std::move(larger[i]);
        is_grown[i] = true;
      }
    }
    return pictures;
  }

  /// Is every other picture too narrow to be worked by?
  [[nodiscard]] bool is_small(const Pictures& pictures) const {
    std::vector<double> widths;
    for (const Drawing& one : pictures.drawn) widths.push_back(one.extent.width());
    const auto middle = widths.begin() + static_cast<std::ptrdiff_t>(widths.size() / 2);
    std::nth_element(widths.begin(), middle, widths.end());
    return *middle < std::min(kSmallPicture, kSmallShare * sheet_.room.x);
  }
  /// Words beside a picture leave it a room of its own, to which it shrinks.
  [[nodiscard]] Pictures pictures(const StepColumns& columns, double highest) {
    const double room = columns.has_words_beside ? columns.picture_room : kAnyWidth;
    for (const auto& [known_room, known] : made_) {
      if (known_room == room && known.highest == highest) return known;
    }
    Pictures made{highest, pictures_(highest, room)};
    if (highest == kLowestPicture || highest == kHighestPicture) made_.emplace_back(room, made);
    return made;
  }

  /// The largest at which all steps find room on `most_pages_`, if the smallest do.
  [[nodiscard]] std::optional<Pictures> largest_in(const StepColumns& columns) {
    Pictures small = pictures(columns, kLowestPicture);
    if (!finds_room(columns, sizes_of(small))) return std::nullopt;
    Pictures large = pictures(columns, kHighestPicture);
    Pictures before = small;
    for (;;) {
      const double at_least = largest_height(columns, small, large);
      if (at_least > small.highest) {
        Pictures larger = pictures(columns, at_least);
        // Pictures that shrink to their room grow unevenly.
        if (!finds_room(columns, sizes_of(larger))) return small;
        before = std::exchange(small, std::move(larger));
      }
      const double at_most = largest_height(columns, before, small);
      if (at_most <= small.highest || at_most >= large.highest) return small;
      large = pictures(columns, at_most);
      if (finds_room(columns, sizes_of(large))) return large;
    }
  }

  /// The largest height at which all steps find room, by their sizes at two.
  [[nodiscard]] double largest_height(const StepColumns& columns, const Pictures& small,
                                      const Pictures& large) const {
    double low = kLowestPicture;
    double high = kHighestPicture;
    for (int round = 0; round < kHeightRounds; ++round) {
      const double height = (low + high) / 2;
      const bool fits =
          height <= small.highest || finds_room(columns, sizes_by(small, large, height));
      (fits ? low : high) = height;
    }
    return low;
  }

  [[nodiscard]] bool finds_room(const StepColumns& columns, const std::vector<Point>& sizes) const {
    const auto rows = rows_of(columns, sizes);
    return rows && pages_for(*rows) <= most_pages_;
  }

  /// How many pages the rows take.
  [[nodiscard]] std::size_t pages_for(const StepsRows& rows) const {
    ink::FlowLook boxes{.gap = look_.gap};
    boxes.first_head.box = look_.first_head.box;
    boxes.later_head.box = look_.later_head.box;
    ink::Flow flow({{}, {}, sheet_.room}, std::move(boxes));
    for (const StepsRow& row : rows) flow.add({.items = {}, .box = {0, 0, 0, row.height}});
    return flow.pages().size();
  }

  /// More pages than planned for: the fewest with the smallest pictures. In a room too narrow for
  /// any, the pictures shrink further, until there is nothing left to shrink.
  [[nodiscard]] std::vector<Drawing> longer(const std::vector<StepColumns>& arrangements) {
    for (double height = kLowestPicture; height > 1; height *= kShrinks) {
      const StepColumns* best = nullptr;
      std::pair<std::size_t, std::size_t> fewest;
      for (const StepColumns& columns : arrangements) {
        const auto rows = rows_of(columns, sizes_of(pictures(columns, height)));
        if (!rows) continue;
        const std::pair pages(pages_for(*rows), columns.count);
        if (best != nullptr && pages > fewest) continue;
        best = &columns;
        fewest = pages;
      }
      if (best != nullptr) return on_pages(*best, pictures(*best, height));
    }
    return {};
  }

  /// Requires: no picture is wider than its room.
  [[nodiscard]] std::vector<Drawing> on_pages(const StepColumns& columns,
                                              const Pictures& pictures) const {
    double indent = columns.picture_from;
    for (const Drawing& picture : pictures.drawn) {
      if (columns.has_words_beside) break;
      indent = std::min(indent, columns.picture_room - picture.extent.width());
    }
    ink::Flow flow(sheet_, look_);
    std::size_t step = 0;
    const StepsRows rows = *rows_of(columns, sizes_of(pictures));
    for (const StepsRow& row : rows) {
      Frame made{.items = {}, .box = {0, 0, sheet_.room.x, row.height}};
      for (std::size_t i = 0; i < columns.count && step < pictures.drawn.size(); ++i, ++step) {
        const double left = static_cast<double>(i) * (columns.width + kColumnGap);
        made.place(columns.heads[step], {left, 0});
        const Drawing& picture = pictures.drawn[step];
        Frame placed{picture.items, picture.extent};
        placed = as_figure(std::move(placed), shown_.empty() ? "" : shown_[step]);
        made.place(placed,
                   {left + indent - picture.extent.x0, row.picture_top - picture.extent.y0});
      }
      flow.add(made);
    }
    return flow.pages();
  }

  const ink::SheetRoom& sheet_;
  const ink::FlowLook& look_;
  const std::vector<std::string>& shown_;
  const StepPictures& pictures_;
  std::size_t most_pages_ = 0;
  std::vector<std::pair<double, Pictures>> made_;  ///< the smallest and largest, by their room
};

}  // namespace

std::vector<Drawing> laid_out_steps(const ink::SheetRoom& sheet, const ink::FlowLook& look,
                                    const std::vector<StepColumns>& arrangements,
                                    const std::vector<std::string>& shown,
                                    const StepPictures& pictures) {
  return StepsLayout(sheet, look, shown, pictures).drawn(arrangements);
}

}  // namespace pouchwright::draw
