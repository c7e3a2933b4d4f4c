/// What a job says of cutting: the [lay] table, resolved. Plain values; the solver is in lay.h.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/diagnostic.h"
#include "base/length.h"
#include "base/named.h"

namespace pouchwright::lay {

/// Edge-to-edge cuts only (ruler and rotary cutter), or scissors round a template.
enum class Cuts { straight, free };
inline constexpr base::Named<Cuts> kCutsWords[] = {{Cuts::straight, "straight"},
                                                   {Cuts::free, "free"}};

/// How many layers are cut at once: cloth folded lengthwise in two or four, or stacked.
struct Plies {
  enum class Way { single, folded, stacked };
  Way way = Way::single;
  int count = 1;

  bool operator==(const Plies&) const = default;
};
inline constexpr int kMostPlies = 50;

/// What the job says of one cloth alone: laminate or outer.
struct ClothPlies {
  std::string material;
  Plies plies;
};

/// Cloth that is there: a left-over rectangle, or a roll. `material` is laminate, outer or lining.
struct Remnant {
  std::string material;
  std::optional<base::Length>
      width;  ///< usable as it lies; absent: a roll, as wide as the material
  base::Length length;
  int count = 1;
  std::string print{};  ///< of a cloth that has several; it serves no other
  bool washed = false;  ///< one that is not counts what the first wash leaves of it
  base::Place place;
};
/// So many pieces of one size may be there.
inline constexpr int kMostStock = 1000;

/// What becomes of a by-product: nothing that the program knows of, or a tag that is sewn on.
enum class ByProductUse { other, tag };
inline constexpr base::Named<ByProductUse> kByProductUseWords[] = {{ByProductUse::other, "other"},
                                                                   {ByProductUse::tag, "tag"}};

/// A small piece to be cut from what would be wasted.
struct ByProduct {
  std::string name;
  base::Length width, length;
  int count = 1;  ///< of tags, where none is stated: one a pouch
  ByProductUse use = ByProductUse::other;
  base::Place place;
};

/// In whose steps shops cut cloth off the roll: metric ones, and those with yards, which sell eighths
/// (common practice, no source).
inline constexpr base::PerUnit kShopStep{base::Length::whole_mm(100), base::Length::inches(9, 2)};

struct Settings {
  Cuts cuts = Cuts::straight;
  std::optional<base::Placed<base::Length>> table_length;  ///< absent: as long as it takes
  Plies plies;                             ///< of every cloth that has none of its own
  std::vector<ClothPlies> plies_by_cloth;  ///< each cloth at most once
  base::Length shop_step = kShopStep.mm;   ///< the shop cuts lengths in such steps
  std::vector<Remnant> remnants;
  std::vector<ByProduct> by_products;

  [[nodiscard]] Plies plies_of(std::string_view material) const {
    for (const ClothPlies& one : plies_by_cloth) {
      if (one.material == material) return one.plies;
    }
    return plies;
  }
};

}  // namespace pouchwright::lay
