#include "support/integer_model.h"

#include <stdlib.h>  // mkdtemp is POSIX, not in <cstdlib>

#include <array>
#include <charconv>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <locale>
#include <map>
#include <set>
#include <sstream>
#include <stdexcept>
#include <utility>

namespace pouchwright::test {

using lay::Shape;
using lay::Whole;

int Model::add_variable(std::int64_t cost) {
  costs_.push_back(cost);
  return static_cast<int>(costs_.size()) - 1;
}

int Model::add_row(bool at_least, std::int64_t right) {
  rows_.push_back({{}, at_least, right});
  return static_cast<int>(rows_.size()) - 1;
}

void Model::add_term(int row, int variable, std::int64_t times) {
  rows_[static_cast<std::size_t>(row)].terms.push_back({variable, times});
}

namespace {

/// One term a line: the format limits the length of lines.
std::string term_text(std::int64_t times, int variable) {
  return std::string(times < 0 ? " - " : " + ") + std::to_string(std::abs(times)) + " v" +
         std::to_string(variable) + "\n";
}

}  // namespace

std::string Model::text(Numbers numbers) const {
  std::string lp = "Minimize\n cost:\n";
  for (std::size_t v = 0; v < costs_.size(); ++v) {
    if (costs_[v] != 0) lp += term_text(costs_[v], static_cast<int>(v));
  }
  lp += "Subject To\n";
  for (std::size_t r = 0; r < rows_.size(); ++r) {
    if (rows_[r].terms.empty()) continue;
    lp += " r" + std::to_string(r) + ":\n";
    std::map<int, std::int64_t> sums;
    for (const Term& term : rows_[r].terms) sums[term.variable] += term.times;
    for (const auto& [variable, times] : sums) lp += term_text(times, variable);
    lp += (rows_[r].at_least ? " >= " : " <= ") + std::to_string(rows_[r].right) + "\n";
  }
  if (numbers == Numbers::any) return lp + "End\n";
  lp += "Integers\n";
  for (std::size_t v = 0; v < costs_.size(); ++v) lp += " v" + std::to_string(v) + "\n";
  return lp + "End\n";
}

namespace {

struct Laid {
  std::size_t kind = 0;
  Whole width = 0, length = 0;
};

std::vector<Laid> ways_to_lie(const std::vector<Shape>& shapes) {
  std::vector<Laid> ways;
  for (std::size_t k = 0; k < shapes.size(); ++k) {
    const Shape& shape = shapes[k];
    if (shape.upright) ways.push_back({k, shape.width, shape.length});
    const bool same = shape.upright && shape.width == shape.length;
    if (shape.turned && !same) ways.push_back({k, shape.length, shape.width});
  }
  return ways;
}

std::set<Whole> sums(const std::vector<Whole>& sides, Whole most) {
  std::set<Whole> found{0};
  for (const Whole sum : found) {  // grows while it is walked: new sums are larger
    for (const Whole side : sides) {
      if (sum + side <= most) found.insert(sum + side);
    }
  }
  return found;
}

/// Rectangles, each a row of the model: made at least as often as used.
class CutModel {
 public:
  CutModel(const std::vector<Shape>& shapes, Whole width, Whole length, bool at_least)
      : ways_(ways_to_lie(shapes)) {
    std::vector<Whole> across;
    std::vector<Whole> along;
    for (const Laid& way : ways_) {
      across.push_back(way.width);
      along.push_back(way.length);
    }
    xs_ = sums(across, width);
    ys_ = sums(along, length);
    for (const Shape& shape : shapes) {
      demand_rows_.push_back(model_.add_row(at_least, shape.demand));
      values_.push_back(at_least ? 0 : -shape.value);
    }
  }

  [[nodiscard]] const std::set<Whole>& lengths() const { return ys_; }

  /// A variable of `cost` that makes one rectangle each time; -1 where no piece fits it.
  int make(Whole width, Whole length, std::int64_t cost) {
    const int row = row_of(width, length);
    if (row < 0) return -1;
    const int variable = model_.add_variable(cost);
    model_.add_term(row, variable, 1);
    return variable;
  }

  void limit(int variable, std::int64_t most) {
    model_.add_term(model_.add_row(false, most), variable, 1);
  }

  Model take() {
    while (!open_.empty()) {
      const auto [width, length] = open_.back();
      open_.pop_back();
      use(width, length, rows_.at({width, length}));
    }
    return std::move(model_);
  }

 private:
  /// The row of the rectangle once its sides are rounded down to sums.
  int row_of(Whole width, Whole length) {
    width = *std::prev(xs_.upper_bound(width));
    length = *std::prev(ys_.upper_bound(length));
    if (!holds_a_piece(width, length)) return -1;
    const auto known = rows_.find({width, length});
    if (known != rows_.end()) return known->second;
    open_.emplace_back(width, length);
    return rows_[{width, length}] = model_.add_row(true, 0);
  }

  [[nodiscard]] bool holds_a_piece(Whole width, Whole length) const {
    for (const Laid& way : ways_) {
      if (way.width <= width && way.length <= length) return true;
    }
    return false;
  }

  void use(Whole width, Whole length, int row) {
    for (const Laid& way : ways_) {
      if (way.width > width || way.length > length) continue;
      const int kept = model_.add_variable(values_[way.kind]);
      model_.add_term(row, kept, -1);
      model_.add_term(demand_rows_[way.kind], kept, 1);
    }
    for (const Whole x : xs_) {
      if (x > 0 && 2 * x <= width) cut(row, row_of(x, length), row_of(width - x, length));
    }
    for (const Whole y : ys_) {
      if (y > 0 && 2 * y <= length) cut(row, row_of(width, y), row_of(width, length - y));
    }
  }

  void cut(int from, int one, int other) {
    if (one < 0 && other < 0) return;
    const int times = model_.add_variable(0);
    model_.add_term(from, times, -1);
    if (one >= 0) model_.add_term(one, times, 1);
    if (other >= 0) model_.add_term(other, times, 1);
  }

  std::vector<Laid> ways_;
  std::set<Whole> xs_, ys_;
  std::map<std::pair<Whole, Whole>, int> rows_;
  std::vector<std::pair<Whole, Whole>> open_;
  std::vector<int> demand_rows_;
  std::vector<std::int64_t> values_;
  Model model_;
};

}  // namespace

Model strip_model(const lay::RollQuestion& question, Whole most_length) {
  const Whole most = std::min(most_length, question.longest);
  CutModel cuts(question.shapes, question.width, most, true);
  for (const Whole length : cuts.lengths()) {
    if (length > 0) cuts.make(question.width, length, length);
  }
  return cuts.take();
}

Model plate_model(Whole width, Whole length, const std::vector<Shape>& shapes) {
  CutModel cuts(shapes, width, length, false);
  const int plate = cuts.make(width, length, 0);
  if (plate >= 0) cuts.limit(plate, 1);
  return cuts.take();
}

Model places_model(Whole width, Whole length, const Shape& shape) {
  Model model;
  const auto ways = ways_to_lie({shape});
  std::vector<Whole> across;
  std::vector<Whole> along;
  for (const Laid& way : ways) {
    across.push_back(way.width);
    along.push_back(way.length);
  }
  const auto xs = sums(across, width);
  const auto ys = sums(along, length);
  // Two pieces that overlap both cover the corner of one of them or of their common part, and that
  // is a pair of sums again: at most one piece a pair is enough.
  std::map<std::pair<Whole, Whole>, int> points;
  for (const Whole y : ys) {
    for (const Whole x : xs) points[{x, y}] = model.add_row(false, 1);
  }
  for (const Laid& way : ways) {
    for (const Whole y : ys) {
      for (const Whole x : xs) {
        if (x + way.width > width || y + way.length > length) continue;
        const int placed = model.add_variable(-1);
        for (auto v = ys.find(y); v != ys.end() && *v < y + way.length; ++v) {
          for (auto u = xs.find(x); u != xs.end() && *u < x + way.width; ++u) {
            model.add_term(points.at({*u, *v}), placed, 1);
          }
        }
      }
    }
  }
  return model;
}

namespace {

/// A folder of its own that is gone in the end.
class TemporaryFolder {
 public:
  TemporaryFolder() {
    std::string name = (std::filesystem::temp_directory_path() / "pouchwright-XXXXXX").string();
    if (mkdtemp(name.data()) == nullptr) throw std::runtime_error("no temporary folder");
    path_ = name;
  }
  TemporaryFolder(const TemporaryFolder&) = delete;
  TemporaryFolder& operator=(const TemporaryFolder&) = delete;
  ~TemporaryFolder() {
    std::error_code ignored;
    std::filesystem::remove_all(path_, ignored);
  }
  [[nodiscard]] std::string file(const char* name) const { return (path_ / name).string(); }

 private:
  std::filesystem::path path_;
};

std::optional<double> number_after(const std::string& text, const std::string& words) {
  auto at = text.find(words);
  if (at == std::string::npos) return std::nullopt;
  at = text.find_first_not_of(' ', at + words.size());
  double number = 0;
  const auto end = text.data() + text.size();
  if (at == std::string::npos) return std::nullopt;
  if (std::from_chars(text.data() + at, end, number).ec != std::errc()) return std::nullopt;
  return number;
}

std::string content_of(const std::string& path) {
  std::ostringstream content;
  content << std::ifstream(path, std::ios::binary).rdbuf();
  return content.str();
}

/// Costs are whole, so the next whole number up bounds them as well.
Solved read_answer(const std::string& said) {
  Solved answer;
  answer.closed = said.find("Result - Optimal solution found") != std::string::npos;
  const auto value = number_after(said, "\nObjective value:");
  const auto bound = number_after(said, "\nLower bound:");
  const auto relaxed = number_after(said, "Continuous objective value is");
  const auto seconds = number_after(said, "Total time (CPU seconds):");
  if (!seconds || (!answer.closed && said.find("Result - Stopped") == std::string::npos)) {
    throw std::runtime_error("cbc said: " + said);
  }
  answer.seconds = *seconds;
  if (value) answer.least = std::llround(*value);
  const double least = answer.closed ? *value : bound.value_or(relaxed.value_or(-1e15));
  answer.bound = static_cast<std::int64_t>(std::ceil(least - 1e-4));
  return answer;
}

}  // namespace

bool cbc_is_installed() { return std::system("command -v cbc >/dev/null 2>&1") == 0; }

Solved solved_by_cbc(const Model& model, int seconds) {
  const TemporaryFolder folder;
  const std::string question = folder.file("model.lp");
  const std::string said = folder.file("said.txt");
  std::ofstream(question) << model.text();
  const std::string command =
      "cbc '" + question + "' sec " + std::to_string(seconds) + " solve >'" + said + "' 2>&1";
  if (std::system(command.c_str()) != 0) throw std::runtime_error("cbc cannot be run");
  return read_answer(content_of(said));
}

namespace {

/// All sets of poses from `at` on that fit `room`, each with what it has of every pose.
void list_slices(const std::vector<lay::Pose>& poses, std::size_t at, Whole room,
                 std::vector<int>& counts, std::vector<std::vector<int>>& found) {
  if (at == poses.size()) {
    found.push_back(counts);
    return;
  }
  for (int n = 0; n * poses[at].width <= room; ++n) {
    counts[at] = n;
    list_slices(poses, at + 1, room - n * poses[at].width, counts, found);
  }
  counts[at] = 0;
}

/// The number behind `words` in a text.
double number_behind(const std::string& text, const std::string& words) {
  const std::size_t at = text.find(words);
  if (at == std::string::npos) throw std::runtime_error("no answer in: " + text.substr(0, 400));
  std::istringstream in(text.substr(at + words.size(), 60));
  in.imbue(std::locale::classic());
  double number = 0;
  in >> number;
  return number;
}

}  // namespace

Model slices_model(const lay::RollQuestion& question) {
  const std::vector<lay::Pose> poses =
      lay::poses(question.shapes, question.width, question.longest);
  // Rows are told in whole numbers: times the lengths of all the kind's poses.
  std::vector<std::int64_t> products(question.shapes.size(), 1);
  for (const lay::Pose& pose : poses) products[static_cast<std::size_t>(pose.kind)] *= pose.length;
  Model model;
  for (std::size_t k = 0; k < question.shapes.size(); ++k) {
    model.add_row(true, products[k] * question.shapes[k].demand);
  }
  std::vector<std::vector<int>> slices;
  std::vector<int> counts(poses.size(), 0);
  list_slices(poses, 0, question.width, counts, slices);
  for (const std::vector<int>& slice : slices) {
    const int variable = model.add_variable(1);
    for (std::size_t p = 0; p < poses.size(); ++p) {
      if (slice[p] == 0) continue;
      model.add_term(
          poses[p].kind, variable,
          slice[p] * (products[static_cast<std::size_t>(poses[p].kind)] / poses[p].length));
    }
  }
  return model;
}

std::optional<double> least_linear(const Model& model, LinearSolver solver) {
  const bool cbc = solver == LinearSolver::cbc;
  const std::string find = std::string("command -v ") + (cbc ? "cbc" : "glpsol");
  if (std::system((find + " >/dev/null 2>&1").c_str()) != 0) return std::nullopt;
  const TemporaryFolder folder;
  const std::string question = folder.file("model.lp");
  const std::string said = folder.file("said.txt");
  std::ofstream(question) << model.text(Model::Numbers::any);
  const std::string command = cbc ? "cbc '" + question + "' solve solution '" + said + "'"
                                  : "glpsol --lp '" + question + "' -o '" + said + "'";
  if (std::system((command + " >/dev/null 2>&1").c_str()) != 0) {
    throw std::runtime_error("cannot be run: " + command);
  }
  return number_behind(content_of(said), cbc ? "objective value" : "cost =");
}

}  // namespace pouchwright::test
