#include "batch/work/crew.h"

#include <algorithm>
#include <tuple>

namespace pouchwright::batch {
namespace {

constexpr std::size_t kNoStep = static_cast<std::size_t>(-1);

}  // namespace

Crew::Crew(const Line& line, const Assignment* posts)
    : line_(line),
      posts_(posts),
      members_(static_cast<std::size_t>(line.helpers)),
      may_(line.steps.size()),
      from_(line.steps.size()) {
  for (const Step& step : line.steps) {
    left_.push_back(static_cast<std::int64_t>(step.done_to(line.bundles.size())));
  }
  for (std::size_t i = 0; i < members_.size(); ++i) {
    members_[i].last_step = kNoStep;
    free_.set(i);
    if (posts_ != nullptr) {
      take_post(i, 0);
    } else {
      for (std::size_t step = 0; step < line.steps.size(); ++step) {
        may_[step].set(i, line.can_do(i, step));
      }
    }
  }
}

bool Crew::is_done(const std::vector<std::size_t>& steps) const {
  return std::all_of(steps.begin(), steps.end(),
                     [&](std::size_t step) { return left_[step] == 0; });
}

/// The first from `post` on with something left that she can do.
void Crew::take_post(std::size_t helper, std::size_t post) {
  Member& member = members_[helper];
  const auto& own = (*posts_)[helper];
  std::vector<std::size_t> steps;
  for (member.post = post; member.post < own.size(); ++member.post) {
    steps.clear();
    for (const std::size_t step : own[member.post]) {
      if (line_.can_do(helper, step)) steps.push_back(step);
    }
    if (!is_done(steps)) break;
  }
  if (member.post >= own.size()) return;
  member.holds = steps.size();
  for (const std::size_t step : steps) may_[step].set(helper);
}

std::size_t Crew::who(std::size_t step) const {
  const auto rank = [step](const Member& member) {
    return std::tuple(member.last_step != step, member.holds, !member.has_worked, member.load);
  };
  const Member* best = nullptr;
  const Crowd crowd = may_[step] & free_;
  for (std::size_t i = 0; i < members_.size(); ++i) {
    if (!crowd.test(i)) continue;
    const Member& member = members_[i];
    if (best == nullptr || rank(member) < rank(*best)) best = &member;
  }
  return static_cast<std::size_t>(best - members_.data());
}

Time Crew::set_up(std::size_t helper, std::size_t step) const {
  const std::size_t last = members_[helper].last_step;
  if (last == step || last == kNoStep || line_.steps[last].once) return {};
  return line_.steps[step].set_up;
}

void Crew::begins(std::size_t helper, std::size_t step, Time takes) {
  Member& member = members_[helper];
  free_.reset(helper);
  if (member.last_step != kNoStep && member.last_step != step) ++moves_;
  if (!member.has_worked) ++most_helpers_;
  if (member.last_step != kNoStep) from_[member.last_step].reset(helper);
  from_[step].set(helper);
  member.has_worked = true;
  member.last_step = step;
  member.load += takes;
  if (--left_[step] == 0 && posts_ != nullptr) leave_posts_with(step);
}

/// Whoever has begun the last of her post is at the next one.
void Crew::leave_posts_with(std::size_t step) {
  for (std::size_t i = 0; i < members_.size(); ++i) {
    if (!may_[step].test(i)) continue;
    const Post& post = (*posts_)[i][members_[i].post];
    if (std::any_of(post.begin(), post.end(),
                    [&](std::size_t one) { return may_[one].test(i) && left_[one] > 0; })) {
      continue;
    }
    for (const std::size_t one : post) may_[one].reset(i);
    take_post(i, members_[i].post + 1);
  }
}

void Crew::is_freed(std::size_t helper) { free_.set(helper); }

}  // namespace pouchwright::batch
