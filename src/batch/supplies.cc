#include "batch/supplies.h"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <set>
#include <string_view>
#include <utility>

#include "base/message.h"

namespace pouchwright::batch {
namespace {

constexpr double kMmPerMetre = 1000;
constexpr double kMmPerYard = 914.4;  // yard and pound agreement, 1959
/// Shops cut yards in eighths: common practice, no source.
constexpr double kEighths = 8;
/// Numbered tags, among the prices and in stock.
constexpr const char* kTags = "tags";

int rounded_up(int count, int each) { return (count + each - 1) / each; }

/// How many of `card` come out of one sheet, all lying the same way.
int per_sheet(const CardNeed& card, const CardSheet& sheet) {
  const auto rows = [](Length whole, Length part) {
    return static_cast<int>(whole.in_nm() / std::max<std::int64_t>(1, part.in_nm()));
  };
  return std::max(rows(sheet.width, card.width) * rows(sheet.height, card.height),
                  rows(sheet.width, card.height) * rows(sheet.height, card.width));
}

CardNeed card_need(const pouch::NamedCard& named) {
  const pouch::Card& card = named.card;
  CardNeed need;
  need.card = card.is_own                                  ? "top_bar"
              : named.use == pouch::NamedCard::Use::shield ? "shield"
                                                           : "slip_card";
  if (card.is_own) {  // the rectangle below it is there already
    need.width = card.bar_width;
    need.height = card.top - card.shoulder;
    return need;
  }
  const auto [left, right] =
      std::minmax_element(card.outline.begin(), card.outline.end(),
                          [](const pouch::Corner& a, const pouch::Corner& b) { return a.x < b.x; });
  const auto [low, high] =
      std::minmax_element(card.outline.begin(), card.outline.end(),
                          [](const pouch::Corner& a, const pouch::Corner& b) { return a.y < b.y; });
  need.width = right->x - left->x;
  need.height = high->y - low->y;
  return need;
}

/// `sets` of the card, out of the smallest sheet that it fits.
void cut_from(const std::vector<CardSheet>& sheets, int sets, CardNeed& need) {
  need.count = sets * need.each;
  for (const CardSheet& sheet : sheets) {
    const int fit = per_sheet(need, sheet);
    if (fit == 0) continue;
    need.sheet = sheet;
    need.sheets = rounded_up(need.count, fit);
    break;
  }
}

bool is_cut(const pouch::Pouch& pouch, const pouch::Attachment& rule) {
  const auto& parts = pouch.sizes.parts;
  const auto piece = std::find_if(parts.begin(), parts.end(), [&](const pouch::CutPart& part) {
    return part.piece && part.piece == rule.made_of;
  });
  return piece != parts.end() && piece->cloth != pouch::ClothKind::bought;
}

/// One price and one line for all of a kind of closure; straps, labels and loops have their names.
bool is_one_line(const Attachment& a, const Attachment& b) {
  if (a.kind != b.kind) return false;
  if (a.kind == pouch::AttachmentKind::snap) return true;
  if (a.kind != pouch::AttachmentKind::hook_and_loop) return a.name == b.name;
  return a.tape_height == b.tape_height && a.tape_length == b.tape_length;
}

/// The lines of a list with their prices, less what is in stock.
class Purchases {
 public:
  Purchases(const Order& order, const Settings& settings, const Prices& prices, Supplies& into)
      : shop_step_(order.shop_step), prices_(prices), made_(into) {
    for (const auto& [name, count] : settings.stock) stock_[name] = count.value;
  }

  void add(Supply line) {
    if (!line.unit_price) line.unit_price = price_of(line.name);
    take_from_stock(line);
    if (line.is_bought_once) line.used_share = 0;
    if (line.amount && line.unit_price) {
      line.cost = *line.amount * *line.unit_price;
      made_.known_cost += *line.cost;
      made_.known_used += *line.needed * *line.unit_price * line.used_share;
    } else if (std::find(made_.without.begin(), made_.without.end(), line.name) ==
               made_.without.end()) {
      made_.without.push_back(line.name);
    }
    made_.lines.push_back(std::move(line));
  }

  /// Whoever asks for a price uses it.
  std::optional<double> price_of(const std::string& name) {
    asked_.insert(name);
    const auto found = prices_.find(name);
    return found == prices_.end() ? std::nullopt : std::optional(found->second.value);
  }

  /// So much as shops sell it.
  [[nodiscard]] double sold(double amount, SupplyUnit unit) const {
    const bool by_length = unit == SupplyUnit::metre || unit == SupplyUnit::yard;
    if (!by_length) return std::ceil(amount - 1e-9);
    const double mm = unit == SupplyUnit::yard ? kMmPerYard : kMmPerMetre;
    const double step = shop_step_.in_mm() / mm;
    return step > 0 ? std::ceil(amount / step - 1e-6) * step : amount;
  }

  void tell_unused_prices() {
    for (const auto& [name, price] : prices_) {
      if (!asked_.contains(name)) made_.unused_prices.push_back(name);
    }
  }

 private:
  /// What is left to buy once the stock is used; whole pieces, tape in the shop's steps.
  void take_from_stock(Supply& line) {
    line.needed = line.amount;
    const auto found = stock_.find(line.name);
    if (!line.amount || found == stock_.end()) return;
    line.in_stock = std::min(found->second, *line.amount);
    found->second -= line.in_stock;
    line.stock_left = found->second;
    line.amount = sold(*line.amount - line.in_stock, line.unit);
  }

  Length shop_step_;
  const Prices& prices_;
  Supplies& made_;
  std::set<std::string> asked_;
  std::map<std::string, double> stock_;  ///< what no line has taken yet
};

class ListMaker {
 public:
  ListMaker(const Order& order, const std::vector<BatchToMake>& batches, const SupplyData& data,
            const Prices& prices)
      : order_(order),
        batches_(batches),
        data_(data),
        settings_(*batches.front().settings),
        purchases_(order, settings_, prices, made_) {
    made_.pouches = 0;
    for (const BatchToMake& one : batches) {
      const Spares spares = spares_of(*one.settings);
      made_.pouches += one.settings->pouches.value;
      made_.spares.first += spares.first;
      made_.spares.spoiled += spares.spoiled;
    }
    made_.cloths = order.cloths;
  }

  Supplies list() {
    for (const ClothToBuy& cloth : order_.cloths) add_cloth(cloth);
    add_thread();
    add_attachments();
    for (const BatchToMake& one : batches_) add_tags(one);
    add_cards();
    add_pages();
    for (const Sundry& one : data_.sundries) add_sundry(one);
    purchases_.tell_unused_prices();
    return std::move(made_);
  }

 private:
  void add_cloth(const ClothToBuy& cloth) {
    const bool in_yards =
        cloth.price_per.empty() ? order_.unit == base::Unit::inch : cloth.price_per == "yd";
    double amount = cloth.length.in_mm() / (in_yards ? kMmPerYard : kMmPerMetre);
    if (in_yards) amount = std::ceil(amount * kEighths - 1e-6) / kEighths;
    // A price among the prices would be a second one.
    if (!cloth.price) (void)purchases_.price_of(cloth.material);
    Supply line;
    line.kind = "cloth";
    line.name = cloth.material;
    line.shown = {key_of_cloth(cloth), {{"name", cloth.name}, {"width", cloth.width}}};
    if (!cloth.print.empty()) line.shown.values.emplace_back("print", cloth.print);
    line.amount = amount;
    line.unit = in_yards ? SupplyUnit::yard : SupplyUnit::metre;
    line.unit_price = cloth.price;
    if (cloth.needed > Length() && amount > 0) {
      // What the shop's step adds stays for the next batch.
      line.used_share = cloth.needed.in_mm() / (in_yards ? kMmPerYard : kMmPerMetre) / amount;
    }
    purchases_.add(std::move(line));
  }

  /// Its words, and that its width is before the wash where it has one.
  static std::string key_of_cloth(const ClothToBuy& cloth) {
    std::string key = "supply-laminate";
    if (cloth.material == "outer") key = "supply-outer";
    if (cloth.material == "lining") key = "supply-lining";
    return cloth.is_washed_first ? key + "-washed" : key;
  }

  void add_thread() {
    made_.seams = batches_.front().seams;
    std::vector<BatchSeams> sewn;
    for (const BatchToMake& one : batches_) {
      sewn.push_back({&one.seams, one.settings->pouches.value});
      const bool is_stated = one.settings->stitches.sides || !one.pouch->request.passes.empty();
      made_.stitches_assumed = made_.stitches_assumed || !is_stated;
      for (std::string& name : uncounted_seams(*one.pouch)) {
        auto& all = made_.uncounted;
        if (std::find(all.begin(), all.end(), name) == all.end()) all.push_back(std::move(name));
      }
    }
    made_.thread = thread_needs(sewn, data_.thread);
    // Stitches that are bought in one kind of package share a line: one colour does for all.
    for (const PackageNeed& need : packages_needed(made_.thread, data_.thread)) {
      Supply line;
      line.kind = "thread";
      line.name = need.package.name;
      line.used_share = std::min(1.0, need.metres / (need.count * need.package.metres));
      const double percent = std::ceil(line.used_share * 100 - 1e-9);
      line.shown = {"supply-" + need.package.name,
                    {{"each", thread_amount(need.package.metres, order_.unit)},
                     {"takes", thread_amount(need.metres, order_.unit)},
                     {"percent", base::fixed(percent, 0)},
                     {"threads", need.threads}}};
      line.amount = need.count;
      line.package_metres = need.package.metres;
      purchases_.add(std::move(line));
    }
  }

  /// What all batches need of one, the spares' as well.
  struct NeededAttachment {
    Attachment one;
    double count = 0;
  };

  void add_attachments() {
    std::vector<NeededAttachment> needed;
    for (const BatchToMake& made : batches_) {
      const int pouches = made.settings->pouches.value + spares_of(*made.settings).all();
      for (const Attachment& one : made.attachments) {
        const auto same = std::find_if(needed.begin(), needed.end(), [&](const auto& other) {
          return is_one_line(other.one, one) && other.one.per_pouch == one.per_pouch;
        });
        const double count = static_cast<double>(one.per_pouch) * pouches;
        if (same == needed.end()) {
          needed.push_back({one, count});
        } else {
          same->count += count;
        }
      }
    }
    for (const NeededAttachment& one : needed) add_attachment(one.one, one.count);
  }

  void add_attachment(const Attachment& one, double count) {
    const bool is_tape = one.kind == pouch::AttachmentKind::hook_and_loop;
    const bool in_yards = order_.unit == base::Unit::inch;
    Supply line;
    line.kind = "attachment";
    line.name = one.price_name;
    line.shown = {one.kind == pouch::AttachmentKind::snap ? "supply-snap" : "supply-attachment",
                  {{"name", one.name}, {"each", one.per_pouch}}};
    line.amount = count;
    if (is_tape) {
      line.unit = in_yards ? SupplyUnit::yard : SupplyUnit::metre;
      line.shown = tape_words(one);
      line.amount.reset();
      if (one.tape_length > Length()) {
        const double exact =
            count * one.tape_length.in_mm() / (in_yards ? kMmPerYard : kMmPerMetre);
        line.amount = purchases_.sold(exact, line.unit);
        line.used_share = exact / *line.amount;
      }
    }
    purchases_.add(std::move(line));
  }

  [[nodiscard]] base::Message tape_words(const Attachment& one) const {
    if (one.tape_length == Length()) return {"supply-tape-unknown", {{"name", one.name}}};
    return {"supply-tape",
            {{"high", one.tape_height}, {"count", one.per_pouch}, {"length", one.tape_length}}};
  }

  void add_cards() {
    for (const BatchToMake& one : batches_) {
      // Two batches of one pouch have the same cards.
      for (CardNeed& card : cards_of(*one.pouch)) {
        const bool is_there =
            std::any_of(made_.cards.begin(), made_.cards.end(), [&](const CardNeed& other) {
              return std::string_view(other.card) == card.card && other.width == card.width &&
                     other.height == card.height && other.each == card.each;
            });
        if (!is_there || &one == &batches_.front()) made_.cards.push_back(std::move(card));
      }
    }
    made_.card_sets = std::max(1, std::min(settings_.irons.value, settings_.helpers.value));
    for (CardNeed& card : made_.cards) {
      cut_from(data_.card_sheets, made_.card_sets, card);
    }
    // Slip cards of several pockets that come out of sheets of one size are bought alike.
    std::vector<CardNeed> bought;
    for (const CardNeed& card : made_.cards) {
      const auto same = std::find_if(bought.begin(), bought.end(), [&](const CardNeed& other) {
        return card.sheet && other.sheet && std::string_view(card.card) == other.card &&
               card.sheet->name == other.sheet->name;
      });
      if (same == bought.end()) {
        bought.push_back(card);
      } else {
        same->count += card.count;
        same->sheets += card.sheets;
      }
    }
    for (const CardNeed& card : bought) add_card_line(card);
  }

  void add_card_line(const CardNeed& card) {
    const std::string kind = card.card;
    const std::string what = kind == "shield"    ? "supply-for-shield"
                             : kind == "top_bar" ? "supply-for-top-bar"
                                                 : "supply-for-slip";
    Supply line;
    line.kind = line.name = "card";
    line.shown = {
        card.sheet ? "supply-card" : "supply-card-large",
        {{"size", card.sheet ? card.sheet->name : ""},
         {"what", base::Message(card.count == 1 ? what : what + "s", {{"count", card.count}})},
         {"width", card.width},
         {"height", card.height}}};
    if (card.sheet) line.amount = card.sheets;
    line.unit = SupplyUnit::sheet;
    line.is_bought_once = true;
    purchases_.add(std::move(line));
  }

  /// What the waste yields too few of is cut from other cloth, or bought as tape.
  void add_tags(const BatchToMake& made) {
    const std::optional<pouch::Tag>& tag = made.pouch->request.tag;
    if (!tag || made.tags_cut >= tag->count) return;
    Supply line;
    line.kind = "attachment";
    line.name = kTags;
    line.shown = {"supply-tags",
                  {{"cut", made.tags_cut}, {"width", tag->width}, {"length", tag->length}}};
    line.amount = tag->count - made.tags_cut;
    purchases_.add(std::move(line));
  }

  void add_pages() {
    std::optional<double> pages;
    if (order_.pages) pages = *order_.pages;
    purchases_.add({"paper",
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
      case Counted::clip:
        // Beside those that hold seams, one on each pouch keeps its number.
        return std::max(order_.clips.clips, made_.pouches);
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
      case Counted::tag:
        return std::accumulate(
            batches_.begin(), batches_.end(), 0, [](int sum, const BatchToMake& one) {
              return sum + (one.pouch->request.tag ? one.pouch->request.tag->count : 0);
            });
    }
    return std::nullopt;
  }

  void add_sundry(const Sundry& one) {
    Supply line;
    line.kind = "sundry";
    line.name = one.name;
    const bool says_none = one.per == Counted::clip && order_.clips.pouches == 0;
    line.shown = {"supply-" + one.name + (says_none ? "-none" : ""),
                  {{"pouches", order_.clips.pouches}}};
    line.basis = Basis::assumed;
    const auto count = count_of(one.per);
    if (count == 0) return;
    line.is_bought_once = one.is_tool();
    if (count) {
      const int bought = one.count * rounded_up(*count, one.each);
      line.amount = bought;
      line.used_share =
          bought > 0 ? static_cast<double>(one.count) * *count / one.each / bought : 0;
    }
    purchases_.add(std::move(line));
  }

  const Order& order_;
  const std::vector<BatchToMake>& batches_;
  const SupplyData& data_;
  const Settings& settings_;  ///< of the first
  Supplies made_;
  Purchases purchases_;  ///< into `made_`
};

/// How many a pouch takes. On pieces that are there more than once, a closure's halves face each
/// other: two straps share one snap.
int bought_each(const pouch::Pouch& pouch, const pouch::Attachment& rule) {
  if (!rule.on_piece) return rule.across == pouch::Across::sides ? 2 * rule.count : rule.count;
  const int places = rule.count * pouch.construction().pieces[*rule.on_piece].count;
  const bool has_halves =
      rule.kind == pouch::AttachmentKind::snap || rule.kind == pouch::AttachmentKind::hook_and_loop;
  return has_halves ? (places + 1) / 2 : places;
}

}  // namespace

std::vector<std::string> names_of_things(const SupplyData& data) {
  std::vector<std::string> names;
  for (const Package& one : data.thread.packages) names.push_back(one.name);
  for (const auto& one : pouch::kAttachmentWords) names.emplace_back(one.word);
  for (const char* name : {kTags, "card", "page"}) names.emplace_back(name);
  for (const Sundry& one : data.sundries) names.push_back(one.name);
  std::sort(names.begin(), names.end());
  names.erase(std::unique(names.begin(), names.end()), names.end());
  return names;
}

base::Message thread_amount(double metres, base::Unit unit) {
  const bool in_yards = unit == base::Unit::inch;
  const double amount = metres * kMmPerMetre / (in_yards ? kMmPerYard : kMmPerMetre);
  return {in_yards ? "supply-yards" : "supply-metres",
          {{"amount", base::fixed(std::ceil(amount - 1e-6), 0)}}};
}

Spares spares_of(const Settings& settings) {
  const int pouches = settings.pouches.value;
  if (pouches == 1) return {};
  return {first_pouches(settings), static_cast<int>(std::lround(settings.spoiled * pouches))};
}

std::vector<CardSheet> card_sheets(const std::vector<CardFamily>& families, std::string_view paper,
                                   base::Unit unit) {
  const auto has_paper = [&](const CardFamily& one) {
    return std::find(one.papers.begin(), one.papers.end(), paper) != one.papers.end();
  };
  const auto has_unit = [&](const CardFamily& one) { return one.unit == unit; };
  auto found = std::find_if(families.begin(), families.end(), has_paper);
  if (found == families.end()) found = std::find_if(families.begin(), families.end(), has_unit);
  return found == families.end() ? std::vector<CardSheet>() : found->sheets;
}

std::vector<Attachment> attachments_to_buy(const pouch::Pouch& pouch) {
  std::vector<Attachment> bought;
  for (const pouch::Fixed& fixed : pouch.fixed) {
    const pouch::Attachment& rule = pouch.rule(fixed);
    if (is_cut(pouch, rule) || rule.half_of) continue;
    Attachment one;
    one.kind = rule.kind;
    one.name = rule.name;
    one.per_pouch = bought_each(pouch, rule);
    if (rule.kind == pouch::AttachmentKind::hook_and_loop) {
      one.tape_height = fixed.y.size();
      one.tape_length = fixed.width;
    }
    const auto same = std::find_if(bought.begin(), bought.end(), [&](const Attachment& other) {
      return is_one_line(other, one);
    });
    if (same == bought.end()) {
      bought.push_back(std::move(one));
    } else {
      same->per_pouch += one.per_pouch;
    }
  }
  return bought;
}

std::vector<CardNeed> cards_of(const pouch::Pouch& pouch) {
  using Use = pouch::NamedCard::Use;
  const pouch::CardUse use = pouch.request.cards;
  std::vector<CardNeed> needs;
  std::vector<const pouch::NamedCard*> first;
  for (const pouch::NamedCard& one : pouch.cards) {
    const bool is_slip = one.use == Use::slip;
    const auto other_use = is_slip ? pouch::CardUse::on_top : pouch::CardUse::inside;
    if (use == other_use || one.card.outline.empty()) continue;
    if (one.card.is_own && one.card.top == one.card.shoulder) continue;
    const auto is_like = [&](const pouch::NamedCard& other) {
      return other.use == one.use && other.card.outline == one.card.outline;
    };
    const auto at_once =
        std::count_if(pouch.cards.begin(), pouch.cards.end(), [&](const pouch::NamedCard& other) {
          return is_like(other) && other.operation == one.operation;
        });
    const auto index =
        static_cast<std::size_t>(std::find_if(first.begin(), first.end(),
                                              [&](const auto* other) { return is_like(*other); }) -
                                 first.begin());
    if (index == first.size()) {
      first.push_back(&one);
      needs.push_back(card_need(one));
    }
    CardNeed& need = needs[index];
    need.each = std::max(need.each, static_cast<int>(at_once));
  }
  std::stable_sort(needs.begin(), needs.end(), [](const CardNeed& a, const CardNeed& b) {
    return std::string_view(a.card) == "slip_card" && std::string_view(b.card) == "shield";
  });
  return needs;
}

Supplies supplies(const Order& order, const pouch::Pouch& pouch, const SupplyData& data,
                  const Settings& settings, const Prices& prices) {
  return supplies(order, {{&pouch, &settings, order.attachments, order.seams, order.tags_cut}},
                  data, prices);
}

Supplies supplies(const Order& order, const std::vector<BatchToMake>& batches,
                  const SupplyData& data, const Prices& prices) {
  return ListMaker(order, batches, data, prices).list();
}

}  // namespace pouchwright::batch
