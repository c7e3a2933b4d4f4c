/// What is said of a cut plan, in the terminal and on paper alike: what it gives, how the cloth is
/// got ready, what its cuts yield, how the pieces are stacked, what is left.
///
///     for (const base::Message& one : lay_facts(said)) report.say(one);
///     words.say(step_gives(said, step));
///
/// Not for the picture (see draw/sheets/cut_plan.h), nor for what is bought (see supplies.h).
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/message.h"
#include "base/voice.h"
#include "batch/trial.h"
#include "lay/lay.h"

namespace pouchwright::tell {

/// Cloth that shrinks, from the shop and after the wash.
struct WashedWidth {
  base::Length bought, left;
};

/// The width that a plan takes between the selvedges: never said less than it is, and where nothing
/// is to spare as the cloth itself is said, which is as wide.
[[nodiscard]] inline base::Measure across_said(base::Length across, base::Length spare) {
  return spare > base::Length() ? base::at_least(across) : base::Measure{across};
}

/// Strips for the iron trial, of this cloth.
struct TrialStrips {
  batch::TrialStrip strip;
  int wanted = 0;
  std::vector<lay::Area> found{};  ///< in the waste of this lay
  base::Length bought{};           ///< more of the cloth, since its waste yields too few
};

/// One cloth's lay, or a remnant's. `lay`, `kinds` and `by_products` must outlive this.
struct LaySaid {
  const lay::Lay* lay = nullptr;
  const std::vector<lay::Kind>* kinds = nullptr;        ///< by Placed::kind
  const std::vector<lay::Kind>* by_products = nullptr;  ///< likewise
  const std::vector<std::string>* makes = nullptr;      ///< of a day: whose each kind is; else null
  std::string material;  ///< "laminate", "outer", "lining"; else just a cloth
  bool is_remnant = false;
  std::optional<WashedWidth> washed{};
  base::Length to_square{};  ///< of the cut end; 0: nobody buys for it
  std::optional<TrialStrips> trial{};
  int bundle = 0;           ///< pieces that are tied together; 0: not known
  bool is_paired = false;   ///< its pieces are paired with those of another cloth
  bool is_upright = false;  ///< its print must stand upright
  int spare_pouches = 0;    ///< whose pieces the list has cloth for, behind the plan
};

/// In the order in which they are wanted at the table. Requires: the lay has pieces.
[[nodiscard]] std::vector<base::Message> lay_facts(const LaySaid& said, const base::Voice& words);

/// What there is when the step is done: `40 × panel`, `6 lengths`.
[[nodiscard]] base::Message step_gives(const LaySaid& said, const lay::Step& step,
                                       const base::Voice& words);

/// What a piece is called on paper.
[[nodiscard]] std::string piece_name(const LaySaid& said, int kind, bool by_product,
                                     const base::Voice& words);

/// What people ask for in a shop: `150 cm PUL`; a cloth of one's own goes by its name. `print` is which
/// of its prints, or empty.
[[nodiscard]] std::string cloth_name(const std::string& name, const std::string& print,
                                     const base::Voice& words);

}  // namespace pouchwright::tell
