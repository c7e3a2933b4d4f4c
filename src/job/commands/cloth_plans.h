/// Cut plans of a job: one for each cloth it uses.
///
///     const auto plans = cloth_plans(run);
///     const Report report = lay_report(plans, currency, words);
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/diagnostic.h"
#include "base/voice.h"
#include "batch/supplies.h"
#include "draw/sheets/cut_plan.h"
#include "input/job.h"
#include "lay/lay.h"
#include "pouch/pouch.h"
#include "tell/cut_plan.h"

namespace pouchwright::job {

class Run;
struct Day;

/// What one cloth costs and how it is bought.
struct ClothTerms {
  base::Length bought_width;  ///< selvedges included
  base::Length full_width;    ///< the same as it lies on the table, washed where it shrinks
  base::Length selvedge;
  base::Length shop_step;
  double shrink_length = 0;
  std::optional<double> price;
  std::string price_per;  ///< "m" or "yd"
  bool is_washed_first = false;
  bool is_upright = false;
  std::string print{};  ///< which of the cloth's; empty: it has one alone
};

/// What is in the way of the iron trial: strips that lie in a lay's waste, or that are bought.
struct TrialPlan {
  batch::TrialStrip strip;
  int wanted = 0;                                ///< of each cloth that is pressed
  std::vector<std::vector<lay::Area>> in_waste;  ///< by lay: the remnants, then the cloth
};

/// One job's kinds among those of a cloth. The job must outlive this.
struct ClothShare {
  const pouch::Pouch* pouch = nullptr;
  const input::JobSettings* settings = nullptr;
  std::string material{};  ///< what the cloth is to it
  std::string make{};      ///< its title where several are made in a day; else empty
  std::size_t first = 0, kinds = 0;
};

struct ClothPlan {
  std::string material;
  ClothTerms terms;
  lay::Request request;
  std::vector<ClothShare> shares;          ///< none without a job
  std::vector<std::string> makes;          ///< of a day: by kind, whose it is; else empty
  std::vector<std::string> typed_demands;  ///< of the kinds, on the command line; else empty
  lay::Plan plan;
  std::optional<TrialPlan> trial;        ///< absent: nobody presses this cloth
  std::vector<batch::ClothExtra> extra;  ///< bought beyond the plan's own length
  int spare_pouches = 0;                 ///< of `extra`: beyond those the plan yields
  std::optional<base::Length> on_hand;   ///< so much of the cloth is there, and none is bought
  int bundle = 0;                        ///< pieces that are tied together; 0: not known
  bool is_paired = false;                ///< its pieces are paired with those of another cloth

  /// What the plan's pieces alone take, before the wash.
  [[nodiscard]] base::Length unwashed_length() const;
  /// The same, rounded up to the shop's step.
  [[nodiscard]] base::Length pieces_to_buy() const;
  /// What is needed with `extra`, before the wash.
  [[nodiscard]] base::Length needed() const;
  /// What is bought: the same, rounded up to the shop's step.
  [[nodiscard]] base::Length to_buy() const;
  [[nodiscard]] base::Length extra_for(batch::More what) const;
};

/// All parts of all pouches, on the laminate, the outer and the lining: the main panel's kind is
/// "panel", further panels and pieces have their own names. Remnants are used first; by-products
/// come out of the outer's waste, or the laminate's where there is no outer. `bundle`: as the work
/// table has it.
/// Fails: fewer plans after an error at the job's place (no piece fits, limits).
[[nodiscard]] std::vector<ClothPlan> cloth_plans(const pouch::Pouch& pouch,
                                                 const input::JobSettings& settings, int bundle,
                                                 base::Diagnostics& diagnostics);
/// The same of the run's own job.
[[nodiscard]] std::vector<ClothPlan> cloth_plans(Run& run);

/// Of a day: what its jobs cut from one cloth is planned together, prints apart. Of what they say of
/// cutting differently, the stricter counts.
/// Fails: fewer plans after errors: as above; one cloth that two jobs describe otherwise.
[[nodiscard]] std::vector<ClothPlan> cloth_plans(Run& run, const Day& day);

/// What the cloth is to one of its jobs: "laminate", "outer" or "lining".
[[nodiscard]] std::string role_in(const ClothPlan& cloth, const pouch::Pouch& pouch);

/// What is said of the plan of one cloth (remnants first, then the cloth itself), by its index.
[[nodiscard]] tell::LaySaid said_of(const ClothPlan& cloth, std::size_t lay);
[[nodiscard]] const lay::Lay& lay_of(const ClothPlan& cloth, std::size_t lay);

/// As cloth_plans(), not planned yet.
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
