/// The people of a plan while it is made: who is free, who may do what just now, who did what last.
///
/// Inside `batch` only, for dispatch.cc.
#pragma once

#include <bitset>
#include <cstddef>
#include <cstdint>
#include <vector>

#include "batch/settings.h"
#include "batch/work/plan.h"
#include "batch/work/posts.h"

namespace pouchwright::batch {

class Crew {
 public:
  /// `posts` absent: everybody may do what she can. Both must outlive it. Requires: no more helpers
  /// than kMostPeople and one.
  Crew(const Line& line, const Assignment* posts);

  /// Somebody who may do the step is free.
  [[nodiscard]] bool somebody_for(std::size_t step) const { return (may_[step] & free_).any(); }
  /// Somebody who did it last is free.
  [[nodiscard]] bool somebody_stays(std::size_t step) const { return (from_[step] & free_).any(); }

  /// Tasks of the step that nobody has begun.
  [[nodiscard]] std::int64_t left(std::size_t step) const { return left_[step]; }

  /// Whoever did this step last; else who has least else to do, has worked already, has worked
  /// least. So nobody is brought in while others wait, and more helpers than that change nothing.
  /// Requires: somebody_for(step).
  [[nodiscard]] std::size_t who(std::size_t step) const;
  /// Of what that helper takes for the step, coming from what she did last.
  [[nodiscard]] Time set_up(std::size_t helper, std::size_t step) const;

  void begins(std::size_t helper, std::size_t step, Time takes);
  void is_freed(std::size_t helper);

  [[nodiscard]] int most_helpers() const { return most_helpers_; }
  [[nodiscard]] int moves() const { return moves_; }

 private:
  using Crowd = std::bitset<kMostPeople + 1>;  // one more is asked about

  struct Member {
    bool has_worked = false;
    std::size_t last_step;
    Time load{};
    std::size_t post = 0;   ///< which of hers
    std::size_t holds = 0;  ///< how many steps
  };

  [[nodiscard]] bool is_done(const std::vector<std::size_t>& steps) const;
  void take_post(std::size_t helper, std::size_t post);
  void leave_posts_with(std::size_t step);

  const Line& line_;
  const Assignment* posts_;
  std::vector<Member> members_;
  Crowd free_;
  std::vector<Crowd> may_;          ///< by step: who may do it now
  std::vector<Crowd> from_;         ///< by step: who did it last
  std::vector<std::int64_t> left_;  ///< by step: tasks that nobody has begun
  int most_helpers_ = 0;
  int moves_ = 0;
};

}  // namespace pouchwright::batch
