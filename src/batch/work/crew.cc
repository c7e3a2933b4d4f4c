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
      free_able_(line.steps.size(), 0),
      free_from_(line.steps.size(), 0) {
  const auto bundles = static_cast<std::int64_t>(line.bundles.size());
  for (const Step& step : line.steps) {
    left_.push_back(step.firsts ? std::min<std::int64_t>(bundles, *step.firsts) : bundles);
  }
  for (std::size_t i = 0; i < members_.size(); ++i) {
    Member& member = members_[i];
    member.last_step = kNoStep;
    member.may.assign(line.steps.size(), false);
    if (posts_ != nullptr) {
      take_post(i, 0);
    } else {
      for (std::size_t step = 0; step < line.steps.size(); ++step) {
        member.may[step] = line.can_do(i, step);
      }
    }
    count_free(member, 1);
  }
}

void Crew::take_post(std::size_t helper, std::size_t post) {
  Member& member = members_[helper];
  const auto& own = (*posts_)[helper];
  member.may.assign(line_.steps.size(), false);
  for (member.post = post; member.post < own.size(); ++member.post) {
    member.left = 0;
    member.holds = 0;
    for (const std::size_t step : own[member.post]) {
      if (!line_.can_do(helper, step)) continue;
      member.left += left_[step];
      ++member.holds;
    }
    if (member.left > 0) break;
  }
  if (member.post >= own.size()) return;
  for (const std::size_t step : own[member.post]) member.may[step] = line_.can_do(helper, step);
}

void Crew::count_free(const Member& member, int change) {
  for (std::size_t step = 0; step < member.may.size(); ++step) {
    if (member.may[step]) free_able_[step] += change;
  }
  if (member.last_step != kNoStep) free_from_[member.last_step] += change;
}

std::size_t Crew::who(std::size_t step) const {
  const auto rank = [step](const Member& member) {
    return std::tuple(member.last_step != step, member.holds, !member.has_worked, member.load);
  };
  const Member* best = nullptr;
  for (const Member& member : members_) {
    if (member.busy || !member.may[step]) continue;
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
  count_free(member, -1);
  if (member.last_step != kNoStep && member.last_step != step) ++moves_;
  if (!member.has_worked) ++most_helpers_;
  member.busy = true;
  member.has_worked = true;
  member.last_step = step;
  member.load += takes;
  --left_[step];
  if (posts_ == nullptr) return;
  for (Member& other : members_) {
    if (other.may[step]) --other.left;
  }
  leave_done_posts();
}

void Crew::leave_done_posts() {
  for (std::size_t i = 0; i < members_.size(); ++i) {
    Member& member = members_[i];
    const std::size_t posts = (*posts_)[i].size();
    if (member.left > 0 || member.post >= posts) continue;
    if (!member.busy) count_free(member, -1);
    take_post(i, member.post + 1);
    if (!member.busy) count_free(member, 1);
  }
}

void Crew::is_freed(std::size_t helper) {
  members_[helper].busy = false;
  count_free(members_[helper], 1);
}

}  // namespace pouchwright::batch
