#include "batch/work/skills.h"

#include <algorithm>
#include <set>
#include <string>

#include "base/number.h"
#include "base/text.h"

namespace pouchwright::batch {
namespace {

using Words = std::set<std::string, std::less<>>;

/// Of one step: the words by which somebody can do it.
Words words_of_step(const Step& step, const WorkTable& table) {
  Words words;
  if (step.station != Station::hands) words.insert(word_of(kStationWords, step.station));
  for (const StepOperation& one : step.operations) {
    const WorkKind* kind = table.kind(one.kind);
    const bool is_by_hand = kind == nullptr || kind->station == Station::hands;
    // Folding before an iron is no skill with the iron.
    if (step.station != Station::hands && is_by_hand) continue;
    words.insert(one.kind);
    words.insert(one.id);
  }
  return words;
}

class Skills {
 public:
  Skills(const Settings& settings, const std::vector<Step>& steps, const WorkTable& table,
         base::Diagnostics& diagnostics, const std::vector<std::string>& called)
      : settings_(settings), steps_(steps), called_(called), diagnostics_(diagnostics) {
    for (const WorkKind& kind : table.kinds) known_.insert(kind.name);
    for (const Station station : kStations) {
      if (station != Station::hands) known_.insert(word_of(kStationWords, station));
    }
    for (const Step& step : steps) {
      words_.push_back(words_of_step(step, table));
      for (const StepOperation& one : step.operations) ids_.insert(one.id);
    }
  }

  std::vector<Person> people() {
    std::vector<Person> all;
    for (std::size_t i = 0; i < settings_.people.size(); ++i) all.push_back(person(i));
    all.resize(static_cast<std::size_t>(settings_.helpers.value));
    for (std::size_t step = 0; step < steps_.size(); ++step) {
      const bool somebody =
          std::any_of(all.begin(), all.end(), [step](const Person& one) { return one.does(step); });
      if (somebody || steps_[step].once) continue;
      const base::Place& place = settings_.people.front().place;
      const std::string& name =
          called_.empty() ? steps_[step].operations.front().id : called_[step];
      diagnostics_.error(place, {"helpers-none-can", {{"operation", name}}},
                         {{"helpers-none-can-hint"}});
    }
    return all;
  }

 private:
  Person person(std::size_t number) {
    const HelperStated& stated = settings_.people[number];
    Person made{stated.name, stated.speed, {}};
    if (stated.can.empty()) return made;
    Words can;
    for (const auto& word : stated.can) {
      if (known_.contains(word.value) || ids_.contains(word.value)) {
        can.insert(word.value);
        continue;
      }
      const std::vector<std::string> known(known_.begin(), known_.end());
      diagnostics_.error(word.place, {"helper-can-unknown", {{"text", word.value}}},
                         {{"helper-can-unknown-hint", {{"known", base::list_text(known)}}}});
    }
    made.can.assign(steps_.size(), false);
    for (std::size_t step = steps_.size(); step-- > 0;) {
      if (!steps_[step].once) made.can[step] = shares(words_[step], can);
      if (!made.can[step]) continue;
      for (const std::size_t need : steps_[step].needs) {
        if (steps_[need].once) made.can[need] = true;
      }
    }
    if (std::find(made.can.begin(), made.can.end(), true) == made.can.end()) {
      diagnostics_.error(stated.place, {"helper-can-nothing", {{"number", number + 1}}},
                         {{"helper-can-nothing-hint"}});
    }
    return made;
  }

  [[nodiscard]] static bool shares(const Words& a, const Words& b) {
    return std::any_of(a.begin(), a.end(), [&b](const auto& word) { return b.contains(word); });
  }

  const Settings& settings_;
  const std::vector<Step>& steps_;
  const std::vector<std::string>& called_;  ///< by step; empty: by operations
  base::Diagnostics& diagnostics_;
  Words known_, ids_;
  std::vector<Words> words_;  ///< by step
};

}  // namespace

std::vector<Person> people_of(const Settings& settings, const std::vector<Step>& steps,
                              const WorkTable& table, base::Diagnostics& diagnostics,
                              const std::vector<std::string>& called) {
  if (settings.people.empty()) return {};
  return Skills(settings, steps, table, diagnostics, called).people();
}

std::vector<std::string> words_for(const std::vector<std::size_t>& own,
                                   const std::vector<Step>& steps) {
  const auto is_own = [&own](std::size_t step) {
    return std::find(own.begin(), own.end(), step) != own.end();
  };
  std::set<std::string, std::less<>> elsewhere;
  for (std::size_t step = 0; step < steps.size(); ++step) {
    if (steps[step].once || is_own(step)) continue;
    for (const StepOperation& one : steps[step].operations) elsewhere.insert(one.kind);
  }
  std::vector<std::string> words;
  for (const std::size_t step : own) {
    if (steps[step].once) continue;
    for (const StepOperation& one : steps[step].operations) {
      const std::string& word = elsewhere.contains(one.kind) ? one.id : one.kind;
      if (std::find(words.begin(), words.end(), word) == words.end()) words.push_back(word);
    }
  }
  return words;
}

void take_breaks(const Settings& settings, Line& line, base::Diagnostics& diagnostics) {
  line.breaks = {Time::minutes(settings.break_every.value), Time::minutes(settings.break_lasts)};
  if (!line.breaks.any()) return;
  const Time longest = longest_task(line);
  if (longest <= line.breaks.every) return;
  // A break that nobody stated gives way.
  if (settings.break_every.place.file.empty()) {
    line.breaks = {};
    return;
  }
  diagnostics.error(settings.break_every.place,
                    {"breaks-too-near",
                     {{"every", base::shortened(settings.break_every.value, 1)},
                      {"longest", base::shortened(longest.in_minutes(), 1)}}},
                    {{"breaks-too-near-hint"}});
}

}  // namespace pouchwright::batch
