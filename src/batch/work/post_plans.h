/// Assignments of posts tried by the plans that they make, and exchanged while the day gets shorter.
///
/// Inside `batch` only, for assignment.cc.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <vector>

#include "batch/work/dispatch.h"
#include "batch/work/post_loads.h"
#include "batch/work/post_pool.h"

namespace pouchwright::batch {

/// Who does what, in blocks.
struct BlockPosts {
  std::vector<std::vector<BlockSet>> of;         ///< by helper: her posts in order of time
  std::vector<std::optional<std::size_t>> once;  ///< by step done once: somebody of her own for it
};

/// What a task placed costs, counted as PostLoads::cost().
inline constexpr std::int64_t kLooks = 20;

struct Tried {
  Assignment posts;
  BlockPosts blocks;  ///< the same
  Dispatched made;
  Time cost = Time::longest();  ///< of one that none could be made of: the longest
  std::size_t urgency = 0;

  [[nodiscard]] bool is_there() const { return cost != Time::longest(); }
};

class PostPlans {
 public:
  /// Nothing is sought below `least`. What is given must outlive it.
  PostPlans(const Line& line, const std::vector<Block>& blocks, const PostLoads& loads, Time least);

  /// Whether somebody may make an iron ready who has water in her first post.
  void let_mix(bool may_mix) { may_mix_ = may_mix; }

  /// So many tasks may be placed from now on; one plan is made in any case.
  void allow(std::int64_t tasks) { tasks_left_ = tasks; }
  [[nodiscard]] bool may_go_on() const { return tasks_left_ > 0 && tasks_left_ >= plan_costs_; }

  enum class Orders { few, all };
  /// By few orders of urgency, or by all.
  void try_posts(const Posts& posts, Orders orders, Tried& best);
  /// One person's post for another one, one block to somebody else, two blocks for each other, what
  /// is done once to somebody else: until nothing is shorter.
  void improve(Tried& best, const Candidates& candidates);
  /// Whoever has fewer than `changes` changes gets another post for afterwards, one person after the
  /// other, as long as it is worth it. Never longer than it was.
  void add_changes(Tried& best, const Candidates& candidates, int changes);

  [[nodiscard]] const std::vector<Urgency>& urgencies() const { return urgencies_; }

 private:
  [[nodiscard]] Assignment assignment_of(const BlockPosts& blocks) const;
  bool try_blocks(const BlockPosts& blocks, Tried& best, const std::vector<std::size_t>& urgencies);
  bool try_if_possible(const BlockPosts& blocks, Tried& best);
  [[nodiscard]] std::int64_t shared_places(const BlockPosts& blocks) const;
  [[nodiscard]] bool mixes(const BlockPosts& blocks) const;
  bool replace_posts(Tried& best, const Candidates& candidates);
  bool move_blocks(Tried& best, const Candidates& candidates);
  bool move_once(Tried& best);
  [[nodiscard]] std::vector<std::size_t> every_urgency() const;

  const Line& line_;
  const std::vector<Block>& blocks_;
  const PostLoads& loads_;
  Time least_;
  std::vector<Urgency> urgencies_;
  Time by_{};             ///< what a plan has to save
  bool by_time_ = false;  ///< in time alone
  bool may_mix_ = false;
  std::int64_t tasks_left_ = 0;
  std::int64_t plan_costs_ = 0;  ///< the last one
};

}  // namespace pouchwright::batch
