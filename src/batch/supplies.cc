#include "batch/supplies.h"

#include <algorithm>
#include <cmath>
#include <set>
#include <utility>

#include "units/number.h"

namespace pouchwright::batch {
namespace {

constexpr double kMmPerMetre = 1000;
constexpr double kMmPerYard = 914.4;  // yard and pound agreement, 1959

int rounded_up(int count, int each) { return (count + each - 1) / each; }

/// How many of `card` come out of one sheet, all lying the same way.
int per_sheet(const CardNeed& card, const CardSheet& sheet) {
  const auto rows = [](Length whole, Length part) {
    return static_cast<int>(whole.in_nm() / std::max<std::int64_t>(1, part.in_nm()));
  };
  return std::max(rows(sheet.width, card.width) * rows(sheet.height, card.height),
                  rows(sheet.width, card.height) * rows(sheet.height, card.width));
}

CardNeed card_need(const char* name, const pouch::Card& card, int count,
                   const std::vector<CardSheet>& sheets) {
  CardNeed need{name, {}, {}, count, std::nullopt, 0};
  const auto [left, right] =
      std::minmax_element(card.outline.begin(), card.outline.end(),
                          [](const pouch::Corner& a, const pouch::Corner& b) { return a.x < b.x; });
  const auto [low, high] =
      std::minmax_element(card.outline.begin(), card.outline.end(),
                          [](const pouch::Corner& a, const pouch::Corner& b) { return a.y < b.y; });
  need.width = right->x - left->x;
  need.height = high->y - low->y;
  for (const CardSheet& sheet : sheets) {
    const int fit = per_sheet(need, sheet);
    if (fit == 0) continue;
    need.sheet = sheet;
    need.sheets = rounded_up(count, fit);
    break;
  }
  return need;
}

class ListMaker {
 public:
  ListMaker(const Order& order, const pouch::Pouch& pouch, const SupplyData& data,
            const Settings& settings, const Prices& prices)
      : order_(order), pouch_(pouch), data_(data), settings_(settings), prices_(prices) {
    made_.pouches = settings.pouches.value;
  }

  Supplies list() {
    for (const ClothToBuy& cloth : order_.cloths) add_cloth(cloth);
    add_thread();
    for (const Attachment& one : order_.attachments) add_attachment(one);
    add_cards();
    add_pages();
    for (const Sundry& one : data_.sundries) add_sundry(one);
    for (const auto& [name, price] : prices_) {
      if (!asked_.contains(name)) made_.unused_prices.push_back(name);
    }
    return std::move(made_);
  }

 private:
  std::optional<double> price_of(const std::string& name) {
    asked_.insert(name);
    const auto found = prices_.find(name);
    return found == prices_.end() ? std::nullopt : std::optional(found->second.value);
  }

  void add(Supply line) {
    if (!line.unit_price) line.unit_price = price_of(line.name);
    if (line.amount && line.unit_price) {
      line.cost = *line.amount * *line.unit_price;
      made_.known_cost += *line.cost;
    } else if (std::find(made_.without.begin(), made_.without.end(), line.name) ==
               made_.without.end()) {
      made_.without.push_back(line.name);
    }
    made_.lines.push_back(std::move(line));
  }

  void add_cloth(const ClothToBuy& cloth) {
    const bool in_yards = cloth.price_per.empty() ? pouch_.request.style.unit == units::Unit::inch
                                                  : cloth.price_per == "yd";
    const double amount = cloth.length.in_mm() / (in_yards ? kMmPerYard : kMmPerMetre);
    // A price among the prices would be a second one.
    if (!cloth.price) (void)price_of(cloth.material);
    add({"cloth",
         cloth.material,
         {cloth.material == "outer"    ? "supply-outer"
          : cloth.material == "lining" ? "supply-lining"
                                       : "supply-laminate",
          {{"name", cloth.name}, {"width", units::text(cloth.width, pouch_.request.style)}}},
         amount,
         in_yards ? SupplyUnit::yard : SupplyUnit::metre,
         Basis::worked_out,
         cloth.price,
         std::nullopt});
  }

  void add_thread() {
    made_.seams = seams_of(pouch_, data_.thread, order_.stitches);
    made_.thread = thread_needs(made_.seams, made_.pouches, data_.thread);
    // Stitches that are bought in one kind of package share a line: one colour does for all.
    for (const Package& package : data_.thread.packages) {
      int count = 0;
      double metres = 0;
      for (const ThreadNeed& need : made_.thread) {
        if (need.package.name != package.name) continue;
        count += need.packages;
        metres += need.metres;
      }
      if (count == 0) continue;
      add({"thread",
           package.name,
           {"supply-" + package.name,
            {{"metres", units::shortest(package.metres, 0)},
             {"takes", units::decimal(std::ceil(metres), 0)}}},
           static_cast<double>(count),
           SupplyUnit::piece,
           Basis::worked_out,
           std::nullopt,
           std::nullopt});
    }
  }

  void add_attachment(const Attachment& one) {
    add({"attachment",
         one.price_name,
         {"supply-attachment", {{"name", one.name}, {"each", std::to_string(one.per_pouch)}}},
         static_cast<double>(one.per_pouch) * made_.pouches,
         SupplyUnit::piece,
         Basis::worked_out,
         std::nullopt,
         std::nullopt});
  }

  void add_cards() {
    const pouch::CardUse use = pouch_.request.cards;
    const auto add_card = [&](const char* name, const pouch::Card& card) {
      if (card.outline.empty()) return;
      made_.cards.push_back(card_need(name, card, settings_.irons.value, data_.card_sheets));
    };
    if (use != pouch::CardUse::on_top) add_card("slip_card", pouch_.slip_card);
    if (use != pouch::CardUse::inside) add_card("shield", pouch_.shield);
    for (const CardNeed& card : made_.cards) add_card_line(card);
  }

  void add_card_line(const CardNeed& card) {
    const bool is_shield = std::string_view(card.card) == "shield";
    const auto& style = pouch_.request.style;
    const auto size = std::pair(units::text(card.width, style), units::text(card.height, style));
    diag::Message shown{is_shield ? "supply-card-shield" : "supply-card-slip",
                        {{"size", card.sheet ? card.sheet->name : ""},
                         {"width", size.first},
                         {"height", size.second}}};
    std::optional<double> sheets;
    if (card.sheet) sheets = card.sheets;
    if (!card.sheet) shown.key = is_shield ? "supply-card-shield-large" : "supply-card-slip-large";
    add({"card", "card", std::move(shown), sheets, SupplyUnit::sheet, Basis::worked_out,
         std::nullopt, std::nullopt});
  }

  void add_pages() {
    std::optional<double> pages;
    if (order_.pages) pages = *order_.pages;
    add({"paper",
         "page",
         {"supply-pages"},
         pages,
         SupplyUnit::page,
         Basis::worked_out,
         std::nullopt,
         std::nullopt});
  }

  [[nodiscard]] std::optional<int> count_of(Counted what) const {
    switch (what) {
      case Counted::batch:
        return 1;
      case Counted::helper:
        return settings_.helpers.value;
      case Counted::iron:
        return settings_.irons.value;
      case Counted::machine:
        return settings_.machines.value;
      case Counted::page:
        return order_.pages;
      case Counted::pouch:
        return made_.pouches;
    }
    return std::nullopt;
  }

  void add_sundry(const Sundry& one) {
    std::optional<double> amount;
    if (const auto count = count_of(one.per)) amount = one.count * rounded_up(*count, one.each);
    add({"sundry",
         one.name,
         {"supply-" + one.name},
         amount,
         SupplyUnit::piece,
         Basis::assumed,
         std::nullopt,
         std::nullopt});
  }

  const Order& order_;
  const pouch::Pouch& pouch_;
  const SupplyData& data_;
  const Settings& settings_;
  const Prices& prices_;
  std::set<std::string> asked_;
  Supplies made_;
};

}  // namespace

Supplies supplies(const Order& order, const pouch::Pouch& pouch, const SupplyData& data,
                  const Settings& settings, const Prices& prices) {
  return ListMaker(order, pouch, data, settings, prices).list();
}

}  // namespace pouchwright::batch
