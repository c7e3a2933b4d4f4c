/// Cut plans of a job: one for each cloth it uses, or one for pieces given on the command line.
///
///     const auto plans = cloth_plans(pouch, settings, diagnostics);
///     const Report report = lay_report(plans, currency);
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "base/diagnostic.h"
#include "base/voice.h"
#include "draw/sheets/cut_plan.h"
#include "input/job.h"
#include "lay/lay.h"
#include "pouch/pouch.h"

namespace pouchwright::job {

/// What one cloth costs and how it is bought.
struct ClothTerms {
  base::Length full_width;  ///< selvedges included
  base::Length shop_step;
  double shrink_length = 0;
  std::optional<double> price;
  std::string price_per;  ///< "m" or "yd"
};

struct ClothPlan {
  std::string material;
  ClothTerms terms;
  lay::Request request;
  std::vector<std::string> typed_demands;  ///< of the kinds, on the command line; else empty
  lay::Plan plan;

  /// Of the new cloth: what the plan takes before washing, rounded up to the shop's step.
  [[nodiscard]] base::Length to_buy() const;
};

/// All parts of all pouches, on the laminate, the outer and the lining: the main panel's kind is
/// "panel", further panels and pieces have their own names. Remnants are used first; by-products
/// come out of the outer's waste, or the laminate's where there is no outer.
/// Fails: fewer plans after an error at the job's place (no piece fits, limits).
[[nodiscard]] std::vector<ClothPlan> cloth_plans(const pouch::Pouch& pouch,
                                                 const input::JobSettings& settings,
                                                 base::Diagnostics& diagnostics);

/// The quick form: texts as on the command line, `[NAME =] LENGTH x LENGTH [* COUNT]` a piece.
struct QuickLay {
  std::string cloth;
  std::vector<std::string> pieces;
  std::string turn = "either";
  std::string cuts = "straight";
  std::string plies = "1";
  std::optional<std::string> table_length;
  std::optional<std::string> selvedge;
};

/// What is wrong with a text of the command line: exit 2.
struct QuickFault {
  base::Message message;
  base::Message hint;
};

/// The request that the texts make. `style` is set to the unit of the cloth's width.
/// Fails: a fault where a text cannot be read; an error where it can be read but not be cut.
[[nodiscard]] std::variant<ClothPlan, QuickFault> quick_request(const QuickLay& quick,
                                                                base::LengthStyle& style);

/// The same, not planned yet.
[[nodiscard]] std::vector<ClothPlan> cloth_requests(const pouch::Pouch& pouch,
                                                    const input::JobSettings& settings);

/// Else reports why `cloth.request` cannot be cut.
[[nodiscard]] bool can_be_cut(const ClothPlan& cloth, const base::Place& place,
                              base::Diagnostics& diagnostics);
/// Plans `cloth.request`, or reports why it cannot be cut.
[[nodiscard]] bool planned(ClothPlan& cloth, const base::Place& place,
                           base::Diagnostics& diagnostics);

/// The lays with their titles and names, for the picture. Refers to `plans`.
[[nodiscard]] std::vector<draw::LayToDraw> lays_to_draw(const std::vector<ClothPlan>& plans,
                                                        const base::Voice& words);

}  // namespace pouchwright::job
