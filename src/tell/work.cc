#include "tell/work.h"

#include <algorithm>
#include <map>
#include <string_view>

#include "base/number.h"
#include "base/text.h"

namespace pouchwright::tell {

bool is_the_operation(const batch::StepOperation& operation, const pouch::Pouch& pouch) {
  const std::string pass = operation.pass == 1 ? "" : "-pass-" + std::to_string(operation.pass);
  return operation.about && operation.id == pouch.operation(*operation.about).id + pass;
}

namespace {

/// The construction's own operation, a cut through a cloth, or what follows another operation; that
/// is told by the other's name, unless it is the only one of its kind.
std::string name_of(const batch::StepOperation& operation, bool only_one, const pouch::Pouch& pouch,
                    const OperationWords& said, const base::Voice& words) {
  if (!operation.about && !operation.cloth.empty()) {
    const bool is_cut = operation.kind == batch::kCutting;
    const std::string key = (is_cut ? "work-cut-" : "work-open-") + operation.cloth;
    if (words.has(key)) return words.say(key);
    return words.say({is_cut ? "work-cut" : "work-open", {{"cloth", operation.cloth}}});
  }
  if (!operation.about) {
    const std::string key = "work-" + base::slug(operation.kind);
    return words.has(key) ? words.say(key) : operation.kind;
  }
  const auto named = [&] {
    std::string name = said.name(*operation.about);
    if (operation.pass == 1) return name;
    return words.say({"work-pass", {{"operation", name}, {"number", operation.pass}}});
  };
  if (is_the_operation(operation, pouch)) return named();
  const std::string key = "work-" + base::slug(operation.kind);
  std::string kind = words.has(key) ? words.say(key) : operation.kind;
  if (only_one) return kind;
  return words.say({"work-after", {{"kind", kind}, {"operation", named()}}});
}

/// `step 3`, `steps 4-7`; sorted, and steps that do not follow each other one by one.
std::string steps_of(const std::vector<StepName>& names, const base::Voice& words) {
  std::vector<std::size_t> numbers;
  for (const StepName& one : names) {
    if (one.step) numbers.push_back(*one.step);
  }
  std::sort(numbers.begin(), numbers.end());
  numbers.erase(std::unique(numbers.begin(), numbers.end()), numbers.end());
  if (numbers.empty()) return "";
  std::string text;
  for (std::size_t i = 0; i < numbers.size(); ++i) {
    std::size_t last = i;
    while (last + 1 < numbers.size() && numbers[last + 1] == numbers[last] + 1) ++last;
    text += (text.empty() ? "" : ", ") + std::to_string(numbers[i]);
    if (last > i) text += "-" + std::to_string(numbers[last]);
    i = last;
  }
  return words.say({numbers.size() == 1 ? "work-step" : "work-steps", {{"numbers", text}}});
}

}  // namespace

std::vector<WorkName> work_names(const std::vector<batch::Step>& steps, const pouch::Pouch& pouch,
                                 const base::Voice& words) {
  const OperationWords said(pouch, words);
  std::map<std::string, int> count;
  for (const batch::Step& step : steps) {
    for (const batch::StepOperation& operation : step.operations) ++count[operation.kind];
  }
  std::vector<WorkName> all;
  for (const batch::Step& step : steps) {
    // What the work table adds is shown with the operation that it follows.
    std::vector<StepName> names;
    WorkName work;
    for (const batch::StepOperation& operation : step.operations) {
      names.push_back({name_of(operation, count[operation.kind] == 1, pouch, said, words),
                       operation.about ? said.step(*operation.about) : std::nullopt});
    }
    names = each_once(std::move(names));
    work.name = base::list_text(names, ", ", &StepName::name);
    work.with_steps = with_steps(names, words);
    work.steps = steps_of(names, words);
    all.push_back(std::move(work));
  }
  return all;
}

// Sheets are called by the first letters of the alphabet, which they never use up on common paper.
std::string step_letter(std::size_t step) {
  constexpr std::string_view kLetters = "KLMNPQRSTUVWXYZ";
  const std::size_t round = step / kLetters.size() + 1;
  const std::string letter(1, kLetters[step % kLetters.size()]);
  return round == 1 ? letter : std::to_string(round) + letter;
}

std::string step_letter(const batch::Line& line, std::size_t step) {
  std::size_t number = 0;
  for (std::size_t i = 0; i < step; ++i) {
    if (line.steps[i].like.value_or(i) == i) ++number;
  }
  return step_letter(line.steps[step].like.value_or(step) == step ? number : number - 1);
}

std::string make_mark(std::size_t make) {
  return std::string(1, static_cast<char>('A' + static_cast<char>(make % 26)));
}

std::string helper_called(const batch::Line& line, std::size_t helper, const base::Voice& words) {
  if (helper < line.people.size() && !line.people[helper].name.empty()) {
    return line.people[helper].name;
  }
  return words.say({"schedule-helper", {{"number", helper + 1}}});
}

namespace {

/// `bundles 1 to 20`, `bundle 3`: which bundles of its steps that are done to bundles somebody does;
/// of a day each job's, by its name.
std::string bundles_of(const batch::Kept& kept, const batch::Line& line,
                       const batch::Schedule& plan, const std::vector<WorkName>& names,
                       const base::Voice& words) {
  struct Numbers {
    std::string make;
    std::size_t first = 0, last = 0;
  };
  std::vector<Numbers> all;
  for (const batch::Task& task : plan.tasks) {
    const batch::Step& step = line.steps[task.step];
    if (task.helper != kept.helper || step.firsts) continue;
    if (task.start < kept.from || task.end > kept.to) continue;
    const std::string& make = names[task.step].make;
    const std::size_t number = step.number_of(task.bundle);
    const auto same =
        std::find_if(all.begin(), all.end(), [&](const Numbers& one) { return one.make == make; });
    if (same == all.end()) {
      all.push_back({make, number, number});
      continue;
    }
    same->first = std::min(same->first, number);
    same->last = std::max(same->last, number);
  }
  return base::list_text(all, "; ", [&](const Numbers& one) {
    const std::string said = words.say({one.first == one.last ? "post-bundle" : "post-bundles",
                                        {{"first", one.first}, {"last", one.last}}});
    if (one.make.empty()) return said;
    return words.say({"post-of-make", {{"make", one.make}, {"bundles", said}}});
  });
}

/// Who else does any of these steps.
std::vector<std::string> others_at(const batch::Kept& kept, const batch::Line& line,
                                   const batch::Schedule& plan, const base::Voice& words) {
  std::vector<std::string> names;
  for (const batch::Kept& other : plan.kept) {
    if (other.helper == kept.helper) continue;
    const bool shares = std::any_of(other.steps.begin(), other.steps.end(), [&](std::size_t step) {
      return !line.steps[step].once &&
             std::binary_search(kept.steps.begin(), kept.steps.end(), step);
    });
    const std::string name = helper_called(line, static_cast<std::size_t>(other.helper), words);
    if (shares && std::find(names.begin(), names.end(), name) == names.end()) names.push_back(name);
  }
  return names;
}

}  // namespace

namespace {

/// In a word where there is one, by what of the step takes longest: `fuse`.
std::string brief_name(const batch::Step& step, const WorkName& name, const base::Voice& words) {
  const auto longest =
      std::max_element(step.operations.begin(), step.operations.end(),
                       [](const auto& a, const auto& b) { return a.each < b.each; });
  const std::string key = "work-brief-" + base::slug(longest->kind);
  if (words.has(key)) return words.say(key);
  return name.name;
}

}  // namespace

std::string list_with_and(std::vector<std::string> parts, const base::Voice& words) {
  if (parts.size() < 2) return base::list_text(parts);
  const std::string last = std::move(parts.back());
  parts.pop_back();
  return words.say({"post-list", {{"first", base::list_text(parts)}, {"last", last}}});
}

PostWork post_work(const std::vector<std::size_t>& steps, const batch::Line& line,
                   const std::vector<WorkName>& names, const base::Voice& words) {
  std::vector<std::string> first, work;
  for (const std::size_t step : steps) {
    const bool once = line.steps[step].once;
    const std::string name =
        once ? names[step].name : brief_name(line.steps[step], names[step], words);
    auto& said = once ? first : work;
    if (std::find(said.begin(), said.end(), name) == said.end()) said.push_back(name);
  }
  if (work.empty()) return {"", list_with_and(std::move(first), words)};
  return {list_with_and(std::move(first), words), list_with_and(std::move(work), words)};
}

std::vector<PostSaid> posts_said(const batch::Line& line, const batch::Schedule& plan,
                                 const std::vector<WorkName>& names, const base::Voice& words) {
  std::vector<PostSaid> all;
  for (const batch::Kept& kept : plan.kept) {
    PostSaid post;
    post.kept = kept;
    post.who = helper_called(line, static_cast<std::size_t>(kept.helper), words);
    const PostWork said = post_work(kept.steps, line, names, words);
    post.work = said.work;
    post.first = said.first;
    post.bundles = bundles_of(kept, line, plan, names, words);
    post.others = list_with_and(others_at(kept, line, plan, words), words);
    post.from = clock_time(kept.from, words);
    post.to = clock_time(kept.to, words);
    all.push_back(std::move(post));
  }
  return all;
}

std::string post_line(const PostSaid& post, const base::Voice& words) {
  std::string text =
      post.bundles.empty()
          ? post.work
          : words.say({"post-work", {{"work", post.work}, {"bundles", post.bundles}}});
  if (!post.first.empty())
    text = words.say({"post-first", {{"first", post.first}, {"work", text}}});
  if (!post.others.empty())
    text = words.say({"post-with", {{"work", text}, {"others", post.others}}});
  return text;
}

std::string clock_time(base::Time time, const base::Voice& words) {
  constexpr std::int64_t kMinute = 60'000;
  constexpr std::int64_t kHour = 60;
  const std::int64_t minutes = time.in_ms() / kMinute;
  const std::string rest = std::to_string(minutes % kHour);
  return words.say(
      {"schedule-clock",
       {{"hours", minutes / kHour}, {"minutes", rest.size() < 2 ? "0" + rest : rest}}});
}

std::string step_text(const batch::Step& step, const StepCalled& called, const base::Voice& words) {
  base::Message::Values values = {{"letter", called.letter},
                                  {"name", called.name},
                                  {"station", called.station},
                                  {"minutes", base::shortened(step.takes(1).in_minutes(), 2)}};
  // What is done once is no minute of any pouch.
  if (step.once) values.back().second = base::shortened(step.takes(1).in_minutes(), 1);
  if (step.waits == base::Time()) {
    return words.say({step.once ? "schedule-step-once" : "schedule-step", values});
  }
  values.emplace_back("waits", base::shortened(step.waits.in_minutes(), 1));
  return words.say({step.once ? "schedule-step-once-waits" : "schedule-step-waits", values});
}

}  // namespace pouchwright::tell
