#include "batch/work/post_pool.h"

#include <algorithm>
#include <iterator>

namespace pouchwright::batch {

Pool::Pool(const Line& line, const PostLoads& loads, const Candidates& candidates, std::size_t most,
           std::int64_t looks)
    : loads_(loads),
      candidates_(candidates),
      all_alike_(line.people.empty()),
      most_(most),
      looks_(looks) {}

void Pool::descend(Posts posts) {
  PostLoad load = look(posts);
  while (looks_ > 0 && (exchange_one(posts, load) || exchange_two(posts, load))) {
  }
}

PostLoad Pool::look(const Posts& posts) {
  --looks_;
  PostLoad load = loads_.of(posts);
  Posts kept = posts;
  if (all_alike_) std::sort(kept.begin(), kept.end());
  best_.try_emplace({load, std::move(kept)}, true);
  if (best_.size() > most_) best_.erase(std::prev(best_.end()));
  return load;
}

bool Pool::exchange_one(Posts& posts, PostLoad& load) {
  const Posts before = posts;
  Posts better = posts;
  for (std::size_t i = 0; i < posts.size(); ++i) {
    Posts other = before;
    for (const BlockSet post : candidates_[i]) {
      if (looks_ <= 0) break;
      other[i] = post;
      const PostLoad found = look(other);
      if (found >= load) continue;
      load = found;
      better = other;
    }
  }
  const bool is_better = better != before;
  posts = better;
  return is_better;
}

/// Two at once, where one alone cannot leave.
bool Pool::exchange_two(Posts& posts, PostLoad& load) {
  for (std::size_t i = 0; i < posts.size(); ++i) {
    for (std::size_t k = i + 1; k < posts.size(); ++k) {
      Posts other = posts;
      for (const BlockSet a : candidates_[i]) {
        other[i] = a;
        for (const BlockSet b : candidates_[k]) {
          if (looks_ <= 0) return false;
          other[k] = b;
          const PostLoad found = look(other);
          if (found >= load) continue;
          load = found;
          posts = other;
          return true;
        }
      }
    }
  }
  return false;
}

}  // namespace pouchwright::batch
