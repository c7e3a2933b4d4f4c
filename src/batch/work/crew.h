/// The people of a plan while it is made: who is free, who may do what just now, who did what last.
///
/// Inside `batch` only, for dispatch.cc.
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "batch/work/plan.h"
#include "batch/work/posts.h"

namespace pouchwright::batch {

class Crew {
 public:
  /// `posts` absent: everybody may do what she can. Both must outlive it.
  Crew(const Line& line, const Assignment* posts);

  /// Somebody who may do the step is free.
  [[nodiscard]] bool somebody_for(std::size_t step) const { return free_able_[step] > 0; }
  /// Somebody who did it last is free.
  [[nodiscard]] bool somebody_stays(std::size_t step) const { return free_from_[step] > 0; }

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
  struct Member {
    bool busy = false;
    bool has_worked = false;
    std::size_t last_step;
    Time load{};
    std::size_t post = 0;   ///< which of hers
    std::vector<bool> may;  ///< by step, now
    std::size_t holds = 0;  ///< how many steps
    std::int64_t left = 0;  ///< tasks of them that nobody has begun
  };

  void take_post(std::size_t helper, std::size_t post);
  void leave_done_posts();
  void count_free(const Member& member, int change);

  const Line& line_;
  const Assignment* posts_;
  std::vector<Member> members_;
  std::vector<std::int64_t> left_;  ///< by step: tasks that nobody has begun
  std::vector<int> free_able_;
  std::vector<int> free_from_;  ///< by step: the free helpers who did it last
  int most_helpers_ = 0;
  int moves_ = 0;
};

}  // namespace pouchwright::batch
