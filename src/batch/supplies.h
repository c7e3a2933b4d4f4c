/// The shopping list of a batch: cloth, thread, closures, card, paper and small things, with what
/// they cost where the job has prices.
///
///     Supplies list = supplies(order, pouch, data, settings, prices);
///     for (const Supply& line : list.lines) print(line.shown, line.amount, line.cost);
///
/// What is not known stays empty and is named; nothing is guessed. Not for where things are bought.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/message.h"
#include "base/named.h"
#include "batch/settings.h"
#include "batch/thread.h"
#include "pouch/pouch.h"

namespace pouchwright::batch {

/// A cloth as a cut plan says.
struct ClothToBuy {
  std::string material;  ///< "laminate" or "outer": its name among the prices
  std::string name;      ///< what a person calls it, as "pul-150"
  Length width;          ///< selvedges included
  Length length;         ///< to buy
  std::optional<double> price;
  std::string price_per;  ///< "m" or "yd"; empty without a price
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

/// What a small thing is counted by.
enum class Counted { batch, helper, iron, machine, page, pouch };
inline constexpr base::Named<Counted> kCountedWords[] = {
    {Counted::batch, "batch"},     {Counted::helper, "helper"}, {Counted::iron, "iron"},
    {Counted::machine, "machine"}, {Counted::page, "page"},     {Counted::pouch, "pouch"}};
/// `count` pieces for every `each` of what `per` names.
struct Sundry {
  std::string name;
  int count = 1;
  int each = 1;
  Counted per = Counted::batch;
};

/// What shared/stitches.toml holds.
struct SupplyData {
  ThreadRules thread;
  std::vector<CardSheet> card_sheets;  ///< smallest first
  std::vector<Sundry> sundries;
};

/// What is to be made, and what other stages found out about it.
struct Order {
  std::vector<ClothToBuy> cloths;
  std::vector<Attachment> attachments;
  std::vector<Seam> seams;           ///< of seams_of(), by the rules of the data
  std::optional<int> pages;          ///< to print; absent where nobody counted them
  base::Unit unit = base::Unit::mm;  ///< inches: cloth without a price of its own is in yards
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
  std::string name;  ///< among the prices
  base::Message shown;
  std::optional<double> amount;  ///< absent: not known
  SupplyUnit unit = SupplyUnit::piece;
  Basis basis = Basis::worked_out;
  std::optional<double> unit_price;
  std::optional<double> cost;  ///< absent where amount or price is not known
};

/// A card that guides the iron, of one outline.
struct CardNeed {
  const char* card = "";           ///< "slip_card" or "shield"
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
  int card_sets = 1;                       ///< one for each iron that a helper holds
  bool stitches_assumed = false;           ///< the job does not say what its sides are sewn with
  std::vector<std::string> uncounted;      ///< what is sewn on by a length that nothing states
  double known_cost = 0;                   ///< of the lines that have a cost
  std::vector<std::string> without;        ///< names of lines without a cost, each once
  std::vector<std::string> unused_prices;  ///< names among the prices that no line asked for

  [[nodiscard]] double known_cost_per_pouch() const { return known_cost / pouches; }
};

/// The attachments to buy, one line a kind of closure: a half that another names is bought with it,
/// and what is cut from a cloth of the job is on its plan. `price_name` is left to the caller.
[[nodiscard]] std::vector<Attachment> attachments_to_buy(const pouch::Pouch& pouch);

/// Every card of the pouch once an outline, with how many of it are in use at one pressing: two
/// pockets that are pressed together keep two slip cards.
[[nodiscard]] std::vector<CardNeed> cards_of(const pouch::Pouch& pouch);

/// The list, in the order cloth, thread, attachments, card, paper, sundries. Yards where the order is
/// in inches and a cloth has no price of its own. What the settings say of stitches was laid over
/// the rules before, by use(). Each iron that a helper holds gets its cards.
[[nodiscard]] Supplies supplies(const Order& order, const pouch::Pouch& pouch,
                                const SupplyData& data, const Settings& settings,
                                const Prices& prices);

}  // namespace pouchwright::batch
