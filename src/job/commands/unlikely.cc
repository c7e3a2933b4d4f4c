#include "job/commands/unlikely.h"

#include <algorithm>
#include <utility>

#include "base/length.h"
#include "input/likely.h"

namespace pouchwright::job {
namespace {

/// A longer panel of a pouch that is folded once, and a smaller liner, are rarely meant.
constexpr base::Length kLongPanel = base::Length::whole_mm(500);
constexpr std::size_t kSpansOfFoldOver = 3;
constexpr base::Length kSmallLiner = base::Length::whole_mm(20);

}  // namespace

std::optional<base::Message> unlikely_liner(const Sides& liner) {
  const base::Length least = std::min(liner.width, liner.length);
  if (least >= kSmallLiner && liner.thickness <= least) return std::nullopt;
  return base::Message{"new-unlikely-liner",
                       {{"width", base::exact(liner.width)},
                        {"length", base::exact(liner.length)},
                        {"thickness", base::exact(liner.thickness)}}};
}

std::optional<base::Message> unlikely_panel(const pouch::Pouch& pouch) {
  const bool is_folded_over = pouch.construction().panels.front().spans.size() <= kSpansOfFoldOver;
  if (!is_folded_over || pouch.sizes.cut_length <= kLongPanel) return std::nullopt;
  return base::Message{"new-unlikely-panel",
                       {{"width", base::exact(pouch.sizes.cut_width)},
                        {"length", base::exact(pouch.sizes.cut_length)}}};
}

namespace {

/// Has the reader warned of a side of the liner?
bool is_told(const pouch::Liners& liners) {
  const auto is_likely = [](const char* path, base::Length length) {
    return input::likely_lengths(path)->has(length);
  };
  return !is_likely("liners.width", liners.width.value) ||
         !is_likely("liners.length", liners.length.value) ||
         !is_likely("liners.thickness", liners.thickness.value);
}

}  // namespace

std::vector<base::Message> unlikely_sizes(const pouch::Pouch& pouch) {
  std::vector<base::Message> found;
  if (auto odd = unlikely_panel(pouch)) found.push_back(std::move(*odd));
  if (const auto& liners = pouch.request.liners; liners && !is_told(*liners)) {
    auto odd = unlikely_liner({liners->width.value, liners->length.value, liners->thickness.value});
    if (odd) found.push_back(std::move(*odd));
  }
  return found;
}

}  // namespace pouchwright::job
