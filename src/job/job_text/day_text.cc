#include "job/job_text/day_text.h"

#include "base/text.h"
#include "job/job_text/edited.h"

namespace pouchwright::job {

std::string day_text(const DayText& day, const base::Voice& words) {
  std::string text = "# " + words.say("new-day-head") + "\n\n";
  if (!day.title.empty()) text += "title = " + toml_text(day.title) + "\n";
  for (const DayText::Make& make : day.makes) {
    text += "\n[[make]]\njob = " + toml_text(make.job) + "\n";
    if (!make.title.empty()) text += "title = " + toml_text(make.title) + "\n";
    if (make.pouches) text += "pouches = " + std::to_string(*make.pouches) + "\n";
    if (make.set.empty()) continue;
    text +=
        "set = { " +
        base::list_text(make.set, ", ",
                        [](const auto& one) { return toml_text(one.first) + " = " + one.second; }) +
        " }\n";
  }
  text += "\n# " + words.say("new-day-shared") + "\n";
  text += "# [batch]\n# helpers = 4\n# machines = 1\n# overedge_machines = 1\n# irons = 1\n";
  return text;
}

}  // namespace pouchwright::job
