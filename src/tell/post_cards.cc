#include "tell/post_cards.h"

#include <algorithm>
#include <map>

#include "base/text.h"
#include "tell/steps.h"

namespace pouchwright::tell {
namespace {

std::string as_title(std::string words) {
  if (!words.empty() && words[0] >= 'a' && words[0] <= 'z') {
    words[0] = static_cast<char>(words[0] - 'a' + 'A');
  }
  return words;
}

class Cards {
 public:
  Cards(const batch::Line& line, const std::vector<WorkName>& names, const pouch::Pouch& pouch,
        const StepFacts& facts, const base::Voice& words)
      : line_(line),
        names_(names),
        pouch_(pouch),
        facts_(facts),
        words_(words),
        steps_(assembly_steps(pouch)) {}

  [[nodiscard]] PostCardSaid card(const std::vector<std::size_t>& post,
                                  const std::string& who) const {
    PostCardSaid made;
    made.who = who;
    const batch::StepOperation* longest = nullptr;
    bool is_for_all = false;
    std::vector<std::size_t> bundled;
    for (const std::size_t index : post) {
      const batch::Step& step = line_.steps[index];
      if (step.once) continue;
      bundled.push_back(index);
      if (!step.firsts) made.bundles = line_.bundles.size();
      // What is done to the first pouches alone is not what the day goes by.
      if (step.firsts && is_for_all) continue;
      if (!step.firsts && !is_for_all) longest = nullptr;
      is_for_all = !step.firsts;
      for (const batch::StepOperation& one : step.operations) {
        if (longest == nullptr || one.each > longest->each) longest = &one;
      }
    }
    PostWork said = post_work(post, line_, names_, words_);
    made.title = as_title(std::move(said.work));
    made.first = std::move(said.first);
    if (longest == nullptr) return made;
    made.picture = assembly_step_of(*longest);
    made.does = what_to_do(bundled);
    add_what_to_look_for(made, *longest);
    return made;
  }

 private:
  /// Marking is the step that has no operation.
  [[nodiscard]] std::optional<std::size_t> assembly_step_of(const batch::StepOperation& one) const {
    for (std::size_t i = 0; i < steps_.size(); ++i) {
      const auto& operations = steps_[i].moment.operations;
      if (one.kind == batch::kMarking ? steps_[i].moment.to_be_marked
                                      : one.about && std::find(operations.begin(), operations.end(),
                                                               *one.about) != operations.end()) {
        return i;
      }
    }
    return std::nullopt;
  }

  struct Doing {
    batch::Time takes{};
    Said said;
  };

  /// By step, each picture's words once.
  [[nodiscard]] std::vector<Doing> all_there_is_to_do(const std::vector<std::size_t>& post) const {
    std::vector<Doing> all;
    std::vector<std::size_t> told;
    for (const std::size_t index : post) {
      for (const batch::StepOperation& one : line_.steps[index].operations) {
        const auto at = assembly_step_of(one);
        if (!at || (one.about && !is_the_operation(one, pouch_))) continue;
        if (std::find(told.begin(), told.end(), *at) != told.end()) continue;
        told.push_back(*at);
        for (Said& said : step_words(pouch_, steps_[*at], facts_, words_)) {
          // Of the first pouches alone is told last.
          all.push_back({line_.steps[index].firsts ? batch::Time() : one.each, std::move(said)});
        }
      }
    }
    return all;
  }

  /// A sentence for each of the three that take longest, or three for one: who stands there has the
  /// steps as well.
  [[nodiscard]] std::vector<PostDoes> what_to_do(const std::vector<std::size_t>& post) const {
    std::vector<Doing> all = all_there_is_to_do(post);
    while (all.size() > kPostSentences) {
      auto least = all.begin();
      for (auto one = all.begin(); one != all.end(); ++one) {
        if (one->takes <= least->takes) least = one;
      }
      all.erase(least);
    }
    std::vector<PostDoes> does;
    for (const Doing& one : all) {
      const std::size_t each = std::min(one.said.sentences.size(), kPostSentences / all.size());
      std::string how;
      for (std::size_t k = 0; k < each; ++k) {
        how += (how.empty() ? "" : " ") + words_.say(one.said.sentences[k]);
      }
      does.push_back({words_.say(one.said.head), std::move(how)});
    }
    return does;
  }

  void add_what_to_look_for(PostCardSaid& card, const batch::StepOperation& work) const {
    const std::string kind = base::slug(work.kind);
    const std::string good = "post-good-" + kind;
    if (words_.has(good)) card.good = words_.say(good);
    for (const std::string& key : {"post-fault-" + kind, "post-fault-" + kind + "-2"}) {
      if (words_.has(key)) card.faults.push_back(words_.say(key));
    }
  }

  const batch::Line& line_;
  const std::vector<WorkName>& names_;
  const pouch::Pouch& pouch_;
  const StepFacts& facts_;
  const base::Voice& words_;
  std::vector<AssemblyStep> steps_;
};

}  // namespace

std::vector<PostCardSaid> post_cards_said(const batch::Line& line, const batch::Schedule& plan,
                                          const std::vector<WorkName>& names,
                                          const pouch::Pouch& pouch, const StepFacts& facts,
                                          const base::Voice& words) {
  // What is done once is done by one of them; the station is the same.
  std::map<std::vector<std::size_t>, std::vector<std::size_t>> posts;  // bundles' steps: all steps
  std::map<std::vector<std::size_t>, std::vector<std::string>> people;
  for (const batch::Kept& kept : plan.kept) {
    std::vector<std::size_t> own;
    for (const std::size_t step : kept.steps) {
      if (!line.steps[step].once) own.push_back(step);
    }
    if (own.empty()) own = kept.steps;
    auto& all = posts[own];
    all.insert(all.end(), kept.steps.begin(), kept.steps.end());
    std::sort(all.begin(), all.end());
    all.erase(std::unique(all.begin(), all.end()), all.end());
    people[own].push_back(helper_called(line, static_cast<std::size_t>(kept.helper), words));
  }
  const Cards cards(line, names, pouch, facts, words);
  std::vector<PostCardSaid> made;
  for (const auto& [own, steps] : posts) {
    made.push_back(cards.card(steps, list_with_and(people[own], words)));
  }
  return made;
}

}  // namespace pouchwright::tell
