/// Cutting questions as models in whole numbers, solved by CBC (Debian package coinor-cbc): an
/// opinion from outside on what our solvers call the least, and how long the general way takes.
///
///     const Model model = strip_model({"11", ...}, most_length);
///     const auto answer = solved_by_cbc(model, 60);
///
/// Nothing here uses the planner's own code but its plain question types. Not for large questions:
/// the models grow with every sum of sides.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "lay/solve/solvers.h"

namespace pouchwright::test {

/// Variables are whole and not negative; the sum of cost times variable is to be least.
class Model {
 public:
  struct Term {
    int variable = 0;
    std::int64_t times = 0;
  };
  struct Row {
    std::vector<Term> terms;
    bool at_least = true;  ///< else at most
    std::int64_t right = 0;
  };

  int add_variable(std::int64_t cost);
  int add_row(bool at_least, std::int64_t right);
  void add_term(int row, int variable, std::int64_t times);
  [[nodiscard]] std::size_t variables() const { return costs_.size(); }
  [[nodiscard]] std::size_t rows() const { return rows_.size(); }
  enum class Numbers { whole, any };
  /// In the LP format; with `any` the variables need not be whole.
  [[nodiscard]] std::string text(Numbers numbers = Numbers::whole) const;

 private:
  std::vector<std::int64_t> costs_;
  std::vector<Row> rows_;
};

/// The least length of a strip by edge-to-edge cuts of any depth, one kind or several, turned as
/// the shapes allow: one variable for every cut of every rectangle that sums of sides can make, one
/// for every piece kept from such a rectangle (what is over is waste), one for every length cut off
/// the roll. A rectangle may be cut as often as it was made. Exact: pushing the parts of a plan
/// towards the corner moves each cut to a sum of sides, and what is left over is no longer useful
/// than the next smaller sum. No length above `most_length` is cut off.
[[nodiscard]] Model strip_model(const lay::RollQuestion& question, lay::Whole most_length);

/// The most value from one plate by edge-to-edge cuts, each kind at most `demand` times; the least
/// cost is minus that value. Exact likewise.
[[nodiscard]] Model plate_model(lay::Whole width, lay::Whole length,
                                const std::vector<lay::Shape>& shapes);

/// The most pieces of one shape in a plate, cut free: one variable for every place and direction
/// (J. E. Beasley, Operations Research 33, 1985); the least cost is minus that count. Exact.
[[nodiscard]] Model places_model(lay::Whole width, lay::Whole length, const lay::Shape& shape);

/// How long slices of every sort must last to yield all pieces: one variable for every set of pieces
/// that lie side by side in the width, one row a kind. The least cost, with variables of any numbers,
/// is the bound by slices. Only for a few wide pieces: the sets are all listed.
[[nodiscard]] Model slices_model(const lay::RollQuestion& question);

/// The least cost where variables need not be whole, by CBC or by GLPK (Debian package glpk-utils).
/// Empty where that program is not installed. Fails: throws std::runtime_error where its answer
/// cannot be read.
enum class LinearSolver { cbc, glpk };
[[nodiscard]] std::optional<double> least_linear(const Model& model, LinearSolver solver);

struct Solved {
  bool closed = false;                ///< `least` is proved
  std::optional<std::int64_t> least;  ///< the best found, if any
  std::int64_t bound = 0;             ///< nothing is less
  double seconds = 0;
};

/// Whether `cbc` can be run.
[[nodiscard]] bool cbc_is_installed();

/// Fails: throws std::runtime_error where cbc cannot be run or its answer not be read.
[[nodiscard]] Solved solved_by_cbc(const Model& model, int seconds);

}  // namespace pouchwright::test
