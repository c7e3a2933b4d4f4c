#include "batch/work/kept.h"

#include <algorithm>
#include <functional>

namespace pouchwright::batch {
namespace {

/// Is the second step done in the same stretch as the first?
using GoesOn = std::function<bool(const Task& last, const Task& next)>;

std::vector<Kept> stretches_of(const std::vector<Task>& tasks, const GoesOn& goes_on) {
  std::vector<Kept> all;
  std::vector<const Task*> own;
  for (const Task& task : tasks) own.push_back(&task);
  std::stable_sort(own.begin(), own.end(),
                   [](const Task* a, const Task* b) { return a->helper < b->helper; });
  const Task* last = nullptr;
  for (const Task* task : own) {
    if (last == nullptr || last->helper != task->helper || !goes_on(*last, *task)) {
      all.push_back({task->helper, {}, task->start, task->end});
    }
    last = task;
    Kept& kept = all.back();
    kept.to = task->end;
    const auto at = std::lower_bound(kept.steps.begin(), kept.steps.end(), task->step);
    if (at == kept.steps.end() || *at != task->step) kept.steps.insert(at, task->step);
  }
  return all;
}

/// Of a post that others share somebody may happen to do parts that do not follow each other; hers is
/// all of it then.
class PostNames {
 public:
  explicit PostNames(const Line& line) : line_(line), blocks_(blocks_of(line)) {
    std::erase_if(blocks_, [&line](const Block& one) { return line.steps[one.main].once; });
  }

  void tell(Kept& kept, const Post& post) const {
    if (!follows(kept.steps)) {
      std::vector<std::size_t> whole;
      for (const std::size_t step : post) {
        if (!line_.steps[step].once || has(kept.steps, step)) whole.push_back(step);
      }
      if (follows(whole)) kept.steps = std::move(whole);
    }
    kept.has_gaps = !follows(kept.steps);
    const auto any = [&](const auto& is) {
      return std::any_of(kept.steps.begin(), kept.steps.end(),
                         [&](std::size_t step) { return is(line_.steps[step]); });
    };
    kept.wet_and_hot = any([](const Step& step) { return step.wet; }) &&
                       any([](const Step& step) { return step.station == Station::iron; });
  }

 private:
  [[nodiscard]] static bool has(const std::vector<std::size_t>& steps, std::size_t step) {
    return std::binary_search(steps.begin(), steps.end(), step);
  }

  [[nodiscard]] bool follows(const std::vector<std::size_t>& steps) const {
    std::vector<std::size_t> own;
    for (std::size_t i = 0; i < blocks_.size(); ++i) {
      // Of a day's like steps she may do one job's alone.
      const auto& of = blocks_[i].steps;
      const bool is_own = std::any_of(of.begin(), of.end(), [&](std::size_t step) {
        return !line_.steps[step].once && has(steps, step);
      });
      if (is_own) own.push_back(i);
    }
    return own.empty() || follows_each_other(own, blocks_);
  }

  const Line& line_;
  std::vector<Block> blocks_;
};

}  // namespace

std::vector<Kept> kept_posts(const Line& line, const Assignment& posts,
                             const std::vector<Task>& tasks) {
  std::vector<std::size_t> now(posts.size(), 0);  // by helper
  std::vector<std::size_t> post_of;               // by task
  for (const Task& task : tasks) {
    const auto helper = static_cast<std::size_t>(task.helper);
    const auto holds = [&](const Post& post) {
      return std::binary_search(post.begin(), post.end(), task.step);
    };
    while (!holds(posts[helper][now[helper]])) ++now[helper];
    post_of.push_back(now[helper]);
  }
  const auto post = [&](const Task& task) {
    return post_of[static_cast<std::size_t>(&task - tasks.data())];
  };
  std::vector<Kept> all = stretches_of(
      tasks, [&](const Task& last, const Task& next) { return post(last) == post(next); });
  const PostNames names(line);
  for (Kept& kept : all) {
    const Task* first = &*std::find_if(tasks.begin(), tasks.end(), [&kept](const Task& task) {
      return task.helper == kept.helper && task.start == kept.from;
    });
    names.tell(kept, posts[static_cast<std::size_t>(kept.helper)][post(*first)]);
  }
  return all;
}

std::vector<Kept> kept_as_done(const Line& line, const std::vector<Task>& tasks) {
  return stretches_of(tasks, [&line](const Task& last, const Task& next) {
    const Station station = line.steps[next.step].station;
    return last.step == next.step ||
           (station != Station::hands && line.steps[last.step].station == station);
  });
}

int most_changes(const std::vector<Kept>& kept) {
  int most = 0;
  int own = 0;
  for (std::size_t i = 1; i < kept.size(); ++i) {
    own = kept[i].helper == kept[i - 1].helper ? own + 1 : 0;
    most = std::max(most, own);
  }
  return most;
}

}  // namespace pouchwright::batch
