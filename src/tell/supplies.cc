#include "tell/supplies.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "base/number.h"
#include "base/text.h"
#include "tell/cut_plan.h"
#include "tell/operations.h"

namespace pouchwright::tell {
namespace {

using batch::Supply;
using batch::SupplyUnit;

std::string money(double amount, const base::Voice& words) {
  return words.text(base::fixed(amount, 2));
}

/// `2 5/8`, as a shop that cuts eighths of a yard reads it; whole ones without a fraction. Written as
/// inches are.
std::string in_eighths(double amount, base::Fractions fractions) {
  const base::Length eighths = base::Length::inches(std::llround(amount * 8), 8);
  const std::string text = base::ruler_text(eighths, base::Unit::inch, fractions);
  return text.substr(0, text.rfind(' '));
}

bool is_in_eighths(double amount) { return std::abs(amount * 8 - std::round(amount * 8)) < 1e-6; }

std::string amount_of(const Supply& line, const base::Voice& words) {
  if (!line.amount) return words.say("supply-amount-unknown");
  if (*line.amount == 0) return words.say("supply-nothing-to-buy");
  if (line.unit == SupplyUnit::yard && is_in_eighths(*line.amount)) {
    return words.say(
        {"supply-yards", {{"amount", in_eighths(*line.amount, words.style().fractions)}}});
  }
  // Pieces are whole; cloth was rounded up to the shop's step, which may be no decimal of a yard.
  const std::string amount =
      words.text(base::shortened(std::ceil(*line.amount * 100 - 1e-6) / 100, 2));
  switch (line.unit) {
    case SupplyUnit::metre:
      return words.say({"supply-metres", {{"amount", amount}}});
    case SupplyUnit::yard:
      return words.say({"supply-yards", {{"amount", amount}}});
    case SupplyUnit::piece:
    case SupplyUnit::sheet:
    case SupplyUnit::page:
      return amount;
  }
  return amount;
}

/// Of thread a length, of all else in the unit that it is sold in; nothing where it is not known.
std::string used_of(const Supply& line, int pouches, const base::Voice& words) {
  if (line.is_bought_once) return words.say("supply-bought-once");
  const auto used = line.used_per_pouch(pouches);
  if (!used) return "";
  if (line.package_metres > 0) {
    return words.say(batch::thread_amount(*used * line.package_metres, words.unit()));
  }
  // To hundredths, or to the first figure of what is less.
  constexpr double kFew = 0.1;
  const base::Value amount =
      *used < kFew ? base::Value(base::figures(*used, 1))
                   : base::Value(base::shortened(std::ceil(*used * 100 - 1e-6) / 100, 2));
  if (line.unit == SupplyUnit::metre) return words.say({"supply-metres", {{"amount", amount}}});
  if (line.unit == SupplyUnit::yard) return words.say({"supply-yards", {{"amount", amount}}});
  return words.text(amount);
}

/// What a shop calls the cloth, for its code among the materials.
void name_cloth(base::Message& shown, const base::Voice& words) {
  std::string print;
  for (const auto& [hole, value] : shown.values) {
    if (hole == "print") print = words.text(value);
  }
  for (auto& [hole, value] : shown.values) {
    if (hole == "name") value = cloth_name(words.text(value), print, words);
  }
}

/// How thick it may be, as whoever asks for it in a shop measures.
void tell_thickness(base::Message& shown, const base::Voice& words) {
  shown.values.emplace_back("thickness", base::exact(pouch::kCardThickness.of(words.unit())));
}

/// A group's own sundry may have no words: then it is called by its name.
std::string what_of(const base::Message& shown, const std::string& name, const base::Voice& words) {
  return words.has(shown.key) ? words.say(shown) : name;
}

/// `504, three-thread overedge`: the number of ISO 4915, and what people call it.
std::string stitch_name(const std::string& code, const base::Voice& words) {
  const std::string key = "stitch-" + code;
  if (!words.has(key)) return code;
  return words.say({"supply-stitch-named", {{"code", code}, {"name", words.say(key)}}});
}

/// The operations that a stitch sews.
std::string seams_with(const std::string& stitch, const batch::Supplies& list,
                       const OperationWords& said) {
  std::vector<std::size_t> operations;
  for (const batch::Seam& seam : list.seams) {
    if (seam.stitch != stitch) continue;
    if (operations.empty() || operations.back() != seam.operation) {
      operations.push_back(seam.operation);
    }
  }
  return said.listed(operations);
}

std::string thread_note(const batch::ThreadNeed& need, const batch::Supplies& list,
                        const batch::ThreadRules& rules, const OperationWords& said,
                        const base::Voice& words) {
  const batch::Stitch& stitch = *rules.stitch(need.stitch);
  base::Message::Values values = {{"stitch", stitch_name(need.stitch, words)},
                                  {"seams", seams_with(need.stitch, list, said)},
                                  {"seam", batch::thread_amount(need.seam_metres, words.unit())},
                                  {"thread", batch::thread_amount(need.metres, words.unit())},
                                  {"ratio", base::shortened(stitch.ratio, 3)},
                                  {"count", stitch.threads},
                                  {"source", words.say({"thread-source-" + stitch.source})}};
  const bool has_chains = stitch.ends == batch::SeamEnds::chain;
  std::string note =
      words.say({has_chains ? "supply-thread-note" : "supply-thread-note-locked", values});
  if (stitch.other_ratio) {
    note += " " + words.say({"supply-thread-other",
                             {{"ratio", base::shortened(*stitch.other_ratio, 3)}}});
  }
  for (const batch::ThreadPart& part : need.parts) {
    note += " " + words.say({"thread-part-" + part.part,
                             {{"thread", batch::thread_amount(part.metres, words.unit())}}});
  }
  return note;
}

/// Seams so thick that geometry asks for more than the table's ratio and the waste.
std::vector<std::string> thick_seam_notes(const batch::Supplies& list,
                                          const batch::ThreadRules& rules,
                                          const OperationWords& said, const base::Voice& words) {
  std::vector<std::string> notes;
  for (const batch::Seam& seam : list.seams) {
    const batch::Stitch* stitch = rules.stitch(seam.stitch);
    if (stitch == nullptr) continue;
    const auto ratio = batch::ratio_by_geometry(*stitch, seam.thickness);
    if (!ratio || *ratio <= stitch->ratio * (1 + rules.waste)) continue;
    notes.push_back(words.say({"supply-thick-seam",
                               {{"operation", said.listed({seam.operation})},
                                {"stitch", seam.stitch},
                                {"ratio", base::fixed(*ratio, 1)},
                                {"usual", base::shortened(stitch->ratio, 3)}}}));
  }
  return notes;
}

/// What each cloth holds beyond the pouches' pieces.
std::vector<std::string> cloth_notes(const batch::Supplies& list, const base::Voice& words) {
  std::vector<std::string> notes;
  for (const batch::ClothToBuy& cloth : list.cloths) {
    if (cloth.extra.empty()) continue;
    base::Value::List more;
    for (const batch::ClothExtra& one : cloth.extra) more.emplace_back(extra_said(one));
    base::Message name("cloth-" + cloth.material);
    if (!cloth.print.empty()) {
      name = {"lay-cloth-print", {{"cloth", std::move(name)}, {"print", cloth.print}}};
    }
    notes.push_back(words.say({"supply-cloth-extra",
                               {{"cloth", std::move(name)},
                                {"across", across_said(cloth.across, cloth.spare_across)},
                                {"pieces", base::at_least(cloth.pieces)},
                                {"more", std::move(more)}}}));
    if (cloth.is_washed_first) {
      notes.back() += " " + words.say("supply-cloth-washed");
    }
  }
  const batch::Spares& spares = list.spares;
  if (spares.all() > 0) {
    const bool has_closures =
        std::any_of(list.lines.begin(), list.lines.end(),
                    [](const auto& line) { return line.kind == "attachment"; });
    notes.push_back(words.say({has_closures ? "supply-spares" : "supply-spares-cloth",
                               {{"first", spares.first}, {"spoiled", spares.spoiled}}}));
  }
  return notes;
}

}  // namespace

base::Message extra_said(const batch::ClothExtra& extra) {
  using batch::More;
  const bool counts = extra.what == More::first_pouches || extra.what == More::spoiled;
  return {
      key_of("more-", batch::kMoreWords, extra.what) + (counts && extra.pouches == 1 ? "-one" : ""),
      {{"length", base::at_least(extra.length)}, {"pouches", extra.pouches}}};
}

std::vector<SupplyRow> supply_rows(const batch::Supplies& list, const base::Voice& words) {
  std::vector<SupplyRow> rows;
  for (const Supply& line : list.lines) {
    base::Message shown = line.shown;
    if (line.kind == "cloth") name_cloth(shown, words);
    if (line.kind == "card") tell_thickness(shown, words);
    SupplyRow row{what_of(shown, line.name, words), amount_of(line, words),
                  used_of(line, list.pouches, words), "", ""};
    if (line.in_stock > 0) {
      row.what += " " + words.say({"supply-in-stock",
                                   {{"stock", base::shortened(line.in_stock, 2)},
                                    {"needed", base::shortened(*line.needed, 2)}}});
    }
    if (line.basis == batch::Basis::assumed) row.what += " *";
    if (line.unit_price) row.price = money(*line.unit_price, words);
    if (line.cost) row.cost = money(*line.cost, words);
    rows.push_back(std::move(row));
  }
  return rows;
}

std::vector<std::string> supply_notes(const batch::Supplies& list, const batch::ThreadRules& rules,
                                      const std::string& currency, const base::Voice& words) {
  std::vector<std::string> notes;
  const std::string unit = currency.empty() ? "" : " " + currency;
  if (list.known_cost > 0) {
    notes.push_back(words.say({list.pouches == 1 ? "supply-sum-one" : "supply-sum",
                               {{"cost", money(list.known_cost, words) + unit},
                                {"pouches", list.pouches},
                                {"each", money(list.known_cost_per_pouch(), words) + unit}}}));
    notes.push_back(words.say({"supply-used",
                               {{"used", money(list.known_used, words) + unit},
                                {"each", money(list.known_used_per_pouch(), words) + unit}}}));
  }
  for (std::string& note : cloth_notes(list, words)) notes.push_back(std::move(note));
  if (!list.thread.empty()) {
    const bool has_chains =
        std::any_of(list.thread.begin(), list.thread.end(), [&](const batch::ThreadNeed& need) {
          return rules.stitch(need.stitch)->ends == batch::SeamEnds::chain;
        });
    notes.push_back(words.say({has_chains ? "supply-thread-waste" : "supply-thread-waste-only",
                               {{"percent", base::shortened(rules.waste * 100, 1)},
                                {"chain", rules.chain},
                                {"tack", rules.back_tack}}}));
  }
  if (!list.cards.empty()) {
    notes.push_back(words.say({list.card_sets == 1 ? "supply-card-set" : "supply-card-sets",
                               {{"sets", list.card_sets}}}));
  }
  notes.push_back(words.say("supply-assumed"));
  return notes;
}

namespace {

/// What has no price, by the key of its price or as people call it.
std::string called(const std::string& name, const base::Voice& words) {
  const std::string key = "called-prices-" + name;
  const bool as_people_do = words.field_names() == base::FieldNames::words && words.has(key);
  return as_people_do ? words.say(key) : name;
}

}  // namespace

std::vector<std::string> supply_choices(const batch::Supplies& list,
                                        const batch::ThreadRules& rules, const base::Voice& words) {
  std::vector<std::string> choices;
  if (!list.without.empty()) {
    choices.push_back(
        words.say({list.known_cost > 0 ? "supply-without" : "supply-no-prices",
                   {{"names", base::list_text(list.without, ", ", [&](const auto& name) {
                       return called(name, words);
                     })}}}));
  }
  if (!list.thread.empty() && list.stitches_assumed) {
    choices.push_back(words.say(
        {"supply-stitches-assumed", {{"sides", rules.sew}, {"tails", rules.secure_tails}}}));
  }
  if (!list.uncounted.empty()) {
    choices.push_back(
        words.say({"supply-thread-uncounted", {{"names", base::list_text(list.uncounted)}}}));
  }
  return choices;
}

std::vector<std::string> thread_sources(const pouch::Pouch& pouch, const batch::Supplies& list,
                                        const batch::ThreadRules& rules, const base::Voice& words) {
  const OperationWords said(pouch, words);
  std::vector<std::string> notes;
  for (const batch::ThreadNeed& need : list.thread) {
    notes.push_back(thread_note(need, list, rules, said, words));
  }
  for (std::string& note : thick_seam_notes(list, rules, said, words)) {
    notes.push_back(std::move(note));
  }
  return notes;
}

std::vector<std::string> left_for_more(const batch::Supplies& list, const base::Voice& words) {
  std::vector<std::string> all;
  const std::vector<SupplyRow> rows = supply_rows(list, words);
  for (std::size_t i = 0; i < rows.size(); ++i) {
    const auto more = list.lines[i].serves_more(list.pouches);
    // Cloth is left in pieces, of which the cut plans tell.
    if (!more || *more == 0 || list.lines[i].kind == "cloth") continue;
    all.push_back(words.say({"supply-left-for", {{"what", rows[i].what}, {"pouches", *more}}}));
  }
  return all;
}

std::vector<std::string> things_to_lay_ready(const pouch::Pouch& pouch, const batch::Supplies& list,
                                             int irons, const base::Voice& words) {
  std::vector<std::string> all{words.say("supplies-ready-cut")};
  if (!pouch.seal_zones.empty()) {
    all.push_back(words.say({"supplies-ready-press", {{"irons", irons}}}));
  }
  const std::string stitches = base::list_text(
      list.thread, "; ",
      [&](const batch::ThreadNeed& need) { return stitch_name(need.stitch, words); });
  if (!stitches.empty()) {
    all.push_back(words.say({"supplies-ready-sew", {{"stitches", stitches}}}));
    if (pouch.request.chains) all.push_back(words.say("supplies-ready-tails"));
  }
  const bool has_snaps = std::any_of(pouch.fixed.begin(), pouch.fixed.end(), [&](const auto& one) {
    return pouch.rule(one).kind == pouch::AttachmentKind::snap;
  });
  if (has_snaps) all.push_back(words.say("supplies-ready-snap"));
  all.push_back(words.say("supplies-ready-test"));
  return all;
}

}  // namespace pouchwright::tell
