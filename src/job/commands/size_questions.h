/// Sizes and liners, asked for by what somebody begins with: liners, a pouch, a panel that is cut,
/// a card, or cloth.
///
///     ask_sizes(with);
///
/// Inside `job` only. Not for cloth, machines and people (see day_questions.h).
#pragma once

#include "job/commands/answered.h"

namespace pouchwright::job {

/// Requires: the construction and the units are answered. Asked again, it starts anew.
/// Fails: a UsageFault where an option's text is no answer, or the answers end.
void ask_sizes(Answered& with);

}  // namespace pouchwright::job
