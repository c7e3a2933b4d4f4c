#include "batch/work/joined.h"

#include <algorithm>
#include <map>
#include <utility>

namespace pouchwright::batch {

namespace {

/// One job's step, or several jobs' that are done once for all.
struct Row {
  std::size_t job = 0, step = 0;
};

/// The same work at the same place.
bool are_like(const Step& a, const Step& b) {
  return a.station == b.station && a.once == b.once &&
         a.firsts.has_value() == b.firsts.has_value() &&
         std::equal(a.operations.begin(), a.operations.end(), b.operations.begin(),
                    b.operations.end(), [](const StepOperation& one, const StepOperation& other) {
                      return one.kind == other.kind && one.id == other.id;
                    });
}

class Joiner {
 public:
  explicit Joiner(const std::vector<OwnLine>& lines) : lines_(lines) {
    for (std::size_t job = 0; job < lines.size(); ++job) insert(job);
  }

  JoinedLines made() {
    JoinedLines made;
    std::size_t bundles = 0;
    for (const OwnLine& line : lines_) {
      made.first_of.push_back(bundles);
      made.bundles.insert(made.bundles.end(), line.bundles.begin(), line.bundles.end());
      bundles += line.bundles.size();
    }
    number_rows();
    for (std::size_t i = 0; i < rows_.size(); ++i) {
      const auto [job, index] = rows_[i];
      Step step = lines_[job].steps[index];
      step.needs = needs_of(i);
      if (!step.once) {
        step.from = made.first_of[job];
        step.to = step.from + lines_[job].bundles.size();
      }
      if (i > 0 && rows_[i - 1].job != job &&
          are_like(step, lines_[rows_[i - 1].job].steps[rows_[i - 1].step])) {
        step.like = made.steps[i - 1].like.value_or(i - 1);
        made.steps[i - 1].like = *step.like;
      }
      made.steps.push_back(std::move(step));
      made.job_of.push_back(job);
      made.step_of.push_back(index);
    }
    return made;
  }

 private:
  /// Each of its steps behind the like one of a job before it, else behind its own last one.
  void insert(std::size_t job) {
    const OwnLine& line = lines_[job];
    std::size_t from = 0;  // row before which none of its steps may stand any more
    for (std::size_t step = 0; step < line.steps.size(); ++step) {
      if (const Row* shared = serving_row(line, step)) {
        const auto at = static_cast<std::size_t>(shared - rows_.data());
        serves_also_[{shared->job, shared->step}].push_back({job, step});
        from = std::max(from, at + 1);
        continue;
      }
      std::size_t at = from;
      for (std::size_t i = from; i < rows_.size(); ++i) {
        if (are_like(lines_[rows_[i].job].steps[rows_[i].step], line.steps[step])) at = i + 1;
      }
      rows_.insert(rows_.begin() + static_cast<std::ptrdiff_t>(at), Row{job, step});
      from = at + 1;
    }
  }

  /// The row of another job that makes ready what this step would, once for both.
  [[nodiscard]] const Row* serving_row(const OwnLine& line, std::size_t step) const {
    if (step >= line.serves.size() || line.serves[step].empty()) return nullptr;
    for (const Row& row : rows_) {
      const OwnLine& other = lines_[row.job];
      if (row.step < other.serves.size() && other.serves[row.step] == line.serves[step])
        return &row;
    }
    return nullptr;
  }

  void number_rows() {
    for (std::size_t i = 0; i < rows_.size(); ++i) {
      row_of_[{rows_[i].job, rows_[i].step}] = i;
      for (const Row& also : served_by(i)) row_of_[{also.job, also.step}] = i;
    }
  }

  [[nodiscard]] std::vector<Row> served_by(std::size_t row) const {
    const auto found = serves_also_.find({rows_[row].job, rows_[row].step});
    return found == serves_also_.end() ? std::vector<Row>() : found->second;
  }

  /// Its own, and those of the steps that it serves for.
  [[nodiscard]] std::vector<std::size_t> needs_of(std::size_t row) const {
    std::vector<std::size_t> needs;
    const auto take = [&](const Row& one) {
      for (const std::size_t need : lines_[one.job].steps[one.step].needs) {
        needs.push_back(row_of_.at({one.job, need}));
      }
    };
    take(rows_[row]);
    for (const Row& also : served_by(row)) take(also);
    std::sort(needs.begin(), needs.end());
    needs.erase(std::unique(needs.begin(), needs.end()), needs.end());
    // What serves an earlier job cannot wait for what a later one alone makes ready.
    std::erase_if(needs, [row](std::size_t need) { return need >= row; });
    return needs;
  }

  using Key = std::pair<std::size_t, std::size_t>;  ///< a job and its step

  const std::vector<OwnLine>& lines_;
  std::vector<Row> rows_;
  std::map<Key, std::vector<Row>> serves_also_;
  std::map<Key, std::size_t> row_of_;
};

}  // namespace

JoinedLines joined(const std::vector<OwnLine>& lines) { return Joiner(lines).made(); }

}  // namespace pouchwright::batch
