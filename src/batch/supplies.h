/// The shopping list of a batch: cloth, thread, closures, card, paper and small things, with what
/// they cost where the job has prices.
///
///     Supplies list = supplies(order, pouch, data, settings, prices);
///     for (const Supply& line : list.lines) print(line.shown, line.amount, line.cost);
///
/// What is not known stays empty and is named; nothing is guessed. Not for where things are bought.
#pragma once

#include <algorithm>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/message.h"
#include "base/named.h"
#include "batch/settings.h"
#include "batch/thread.h"
#include "batch/work/clips.h"
#include "pouch/pouch.h"

namespace pouchwright::batch {

/// Why more of a cloth is bought than the pouches take.
enum class More { squaring, trial, first_pouches, spoiled };
inline constexpr base::Named<More> kMoreWords[] = {{More::squaring, "squaring"},
                                                   {More::trial, "trial"},
                                                   {More::first_pouches, "first_pouches"},
                                                   {More::spoiled, "spoiled"}};
struct ClothExtra {
  More what{};
  Length length;    ///< on the table: after the wash
  int pouches = 0;  ///< whose pieces it yields
};
/// What the shop's crooked cut takes of an end, in lengths that a ruler has in that unit: common
/// practice, no source.
[[nodiscard]] constexpr Length to_square(base::Unit unit) {
  return unit == base::Unit::inch ? Length::inches(2) : Length::whole_mm(50);
}

/// Pieces cut beyond the batch: none where a single pouch is made, which is its own first one.
struct Spares {
  int first = 0;    ///< for the first pouches
  int spoiled = 0;  ///< the job's share, to the nearest whole pouch

  [[nodiscard]] int all() const { return first + spoiled; }
};
[[nodiscard]] Spares spares_of(const Settings& settings);

/// A cloth as a cut plan says.
struct ClothToBuy {
  std::string material;  ///< "laminate" or "outer": its name among the prices
  std::string name;      ///< what a person calls it, as "pul-150"
  Length width;          ///< selvedges included, as it is sold
  Length length;         ///< to buy, in the shop's steps
  std::optional<double> price;
  std::string price_per;  ///< "m" or "yd"; empty without a price
  Length pieces{};        ///< of `length`: what the pouches' pieces take, after the wash
  std::vector<ClothExtra> extra{};
  bool is_washed_first = false;
  Length needed{};  ///< of `length`, before it is rounded up; 0: all of it
  /// Of the width between the selvedges, after the wash: what the cut plan takes, and what it leaves.
  Length across{};
  Length spare_across{};
  std::string print{};  ///< which of the cloth's prints; empty: it has one alone
};

/// A closure or other attachment. What has two halves that meet is bought as one: a snap as a set,
/// tape as a length of both its halves.
struct Attachment {
  pouch::AttachmentKind kind{};
  std::string name;        ///< of the first of its kind, or of what has a name of its own
  int per_pouch = 1;       ///< sets, lengths or pieces
  Length tape_height;      ///< hook-and-loop: as it is sold
  Length tape_length{};    ///< hook-and-loop: of each of `per_pouch`; 0: not stated
  std::string price_name;  ///< among the job's prices
};

/// A sheet of card as it is sold, held upright.
struct CardSheet {
  std::string name;
  Length width, height;
};

/// Card as shops have it where this paper, or paper of this unit, is used.
struct CardFamily {
  base::Unit unit = base::Unit::mm;
  std::vector<std::string> papers;  ///< by name
  std::vector<CardSheet> sheets;    ///< smallest first
};
/// Those of the family of `paper`, of another paper's unit where no family has it.
[[nodiscard]] std::vector<CardSheet> card_sheets(const std::vector<CardFamily>& families,
                                                 std::string_view paper, base::Unit unit);

/// What a small thing is counted by. Clips are those in use at once, as the work plan has it.
enum class Counted { batch, clip, helper, iron, machine, page, pouch, tag };
inline constexpr base::Named<Counted> kCountedWords[] = {
    {Counted::batch, "batch"}, {Counted::clip, "clip"},       {Counted::helper, "helper"},
    {Counted::iron, "iron"},   {Counted::machine, "machine"}, {Counted::page, "page"},
    {Counted::pouch, "pouch"}, {Counted::tag, "tag"}};
/// `count` pieces for every `each` of what `per` names.
struct Sundry {
  std::string name;
  int count = 1;
  int each = 1;
  Counted per = Counted::batch;

  /// Is it bought once? What goes by pouch or page is used up.
  [[nodiscard]] bool is_tool() const { return per != Counted::pouch && per != Counted::page; }
};

/// What shared/stitches.toml holds.
struct SupplyData {
  ThreadRules thread;
  std::vector<CardSheet> card_sheets;  ///< those taken, smallest first
  std::vector<Sundry> sundries;
  std::vector<CardFamily> card_families{};
};

/// What is to be made, and what other stages found out about it.
struct Order {
  std::vector<ClothToBuy> cloths;
  std::vector<Attachment> attachments;
  std::vector<Seam> seams;           ///< of seams_of(), by the rules of the data
  std::optional<int> pages;          ///< to print; absent where nobody counted them
  base::Unit unit = base::Unit::mm;  ///< inches: cloth without a price of its own is in yards
  ClipNeed clips{};
  Length shop_step{};  ///< in whose steps tape is sold; 0: by any length
  int tags_cut = 0;    ///< of the job's tags, those that the cut plans yield
};

/// Where an amount comes from.
enum class Basis {
  worked_out,  ///< from the pouch, its lay, its drawings
  assumed,     ///< by a rule of thumb: common practice, no source
};

enum class SupplyUnit { metre, yard, piece, sheet, page };
inline constexpr base::Named<SupplyUnit> kSupplyUnitWords[] = {{SupplyUnit::metre, "m"},
                                                               {SupplyUnit::yard, "yd"},
                                                               {SupplyUnit::piece, "piece"},
                                                               {SupplyUnit::sheet, "sheet"},
                                                               {SupplyUnit::page, "page"}};

struct Supply {
  std::string kind;  ///< "cloth", "thread", "attachment", "card", "paper", "sundry"
  std::string name;  ///< among the prices, and among the things in stock
  base::Message shown;
  std::optional<double> amount;  ///< to buy now: what the stock leaves; absent: not known
  SupplyUnit unit = SupplyUnit::piece;
  Basis basis = Basis::worked_out;
  std::optional<double> unit_price;
  std::optional<double> cost;  ///< absent where amount or price is not known
  /// Of what a batch without any stock would buy, what it uses up; the rest serves the next.
  double used_share = 1;
  bool is_bought_once = false;     ///< a tool: it serves batch after batch
  std::optional<double> needed{};  ///< the amount without any stock
  double in_stock = 0;             ///< of `needed`, taken off
  double stock_left = 0;           ///< that is in stock still
  double package_metres = 0;       ///< of thread in each piece; else 0

  /// Of a batch of so many; absent where the amount is not known, or the thing stays.
  [[nodiscard]] std::optional<double> used_per_pouch(int pouches) const {
    if (!needed || is_bought_once) return std::nullopt;
    return *needed * used_share / pouches;
  }
  /// How many more like a batch of so many what is left of it serves; absent where that is not known.
  [[nodiscard]] std::optional<int> serves_more(int pouches) const {
    const auto each = used_per_pouch(pouches);
    if (!each || !amount || *each <= 0) return std::nullopt;
    const double left = stock_left + in_stock + *amount - *needed * used_share;
    return std::max(0, static_cast<int>(left / *each + 1e-9));
  }
};

/// What [stock.things] may count: packages of thread, attachments, card, pages, sundries.
[[nodiscard]] std::vector<std::string> names_of_things(const SupplyData& data);

/// A card that guides the iron, of one outline.
struct CardNeed {
  const char* card = "";           ///< "slip_card", "shield" or "top_bar"
  Length width, height;            ///< of the smallest box around it
  int each = 1;                    ///< in one set: as many as lie in or on a pouch at once
  int count = 0;                   ///< over all sets
  std::optional<CardSheet> sheet;  ///< absent: larger than all sheets
  int sheets = 0;
};

struct Supplies {
  int pouches = 1;
  std::vector<Supply> lines;
  std::vector<Seam> seams;
  std::vector<ThreadNeed> thread;
  std::vector<CardNeed> cards;
  int card_sets = 1;                   ///< one for each iron that a helper holds
  bool stitches_assumed = false;       ///< the job does not say what its sides are sewn with
  std::vector<std::string> uncounted;  ///< what is sewn on by a length that nothing states
  std::vector<ClothToBuy> cloths;
  Spares spares;
  double known_cost = 0;                   ///< of the lines that have a cost
  double known_used = 0;                   ///< of these, what is used up
  std::vector<std::string> without;        ///< names of lines without a cost, each once
  std::vector<std::string> unused_prices;  ///< names among the prices that no line asked for

  [[nodiscard]] double known_cost_per_pouch() const { return known_cost / pouches; }
  [[nodiscard]] double known_used_per_pouch() const { return known_used / pouches; }
};

/// The attachments to buy, one line a kind of closure: a half that another names is bought with it,
/// and what is cut from a cloth of the job is on its plan. `price_name` is left to the caller.
[[nodiscard]] std::vector<Attachment> attachments_to_buy(const pouch::Pouch& pouch);

/// Every card of the pouch once an outline, with how many of it are in use at one pressing: two
/// pockets that are pressed together keep two slip cards.
[[nodiscard]] std::vector<CardNeed> cards_of(const pouch::Pouch& pouch);

/// So much thread in words: yards where people count in inches. Rounded up to whole ones.
[[nodiscard]] base::Message thread_amount(double metres, base::Unit unit);

/// One of the batches of a day. What it points to must outlive it.
struct BatchToMake {
  const pouch::Pouch* pouch = nullptr;
  const Settings* settings = nullptr;
  std::vector<Attachment> attachments{};
  std::vector<Seam> seams{};  ///< by the rules of the data
  int tags_cut = 0;           ///< of its tags, those that the cut plans yield
};

/// The list, in the order cloth, thread, attachments, card, paper, sundries. Yards where the order is
/// in inches and a cloth has no price of its own. What the settings say of stitches was laid over
/// the rules before, by use(). Each iron that a helper holds gets its cards. Attachments are bought
/// for the spares as well; of thread, the rules' waste stands for them.
[[nodiscard]] Supplies supplies(const Order& order, const pouch::Pouch& pouch,
                                const SupplyData& data, const Settings& settings,
                                const Prices& prices);

/// The same for all batches of a day: added up, then less what is in stock. The order's own seams,
/// attachments and tags are not looked at. Who works and what is in stock are those of the first, which
/// all have in common; `seams` of the result are the first's.
/// Requires: at least one batch.
[[nodiscard]] Supplies supplies(const Order& order, const std::vector<BatchToMake>& batches,
                                const SupplyData& data, const Prices& prices);

}  // namespace pouchwright::batch
