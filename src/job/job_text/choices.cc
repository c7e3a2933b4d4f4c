#include "job/job_text/choices.h"

#include <map>

#include "base/length.h"
#include "lay/settings.h"
#include "pouch/request.h"

namespace pouchwright::job {

const std::vector<std::string>& choices_of(std::string_view path) {
  using Choices = std::vector<std::string>;
  static const Choices kYesOrNo = {"true", "false"};
  static const Choices kPriced = {"m", "yd"};
  static const std::map<std::string, Choices, std::less<>> kChoices = {
      {"units", words_of(base::kUnitWords)},
      {"pouch.start_finish", words_of(pouch::kFinishWords)},
      {"pouch.end_finish", words_of(pouch::kFinishWords)},
      {"pouch.cards", words_of(pouch::kCardUseWords)},
      {"pouch.turn_of_cloth", kYesOrNo},
      {"iron.steam", kYesOrNo},
      {"materials.laminate.per", kPriced},
      {"materials.outer.per", kPriced},
      {"materials.outer.turn", words_of(base::kTurnWords)},
      {"materials.outer.frays", kYesOrNo},
      {"lay.cuts", words_of(lay::kCutsWords)},
      {"paper.half", kYesOrNo},
  };
  static const Choices kNone;
  const auto found = kChoices.find(path);
  return found == kChoices.end() ? kNone : found->second;
}

}  // namespace pouchwright::job
