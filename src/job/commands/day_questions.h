/// Cloth, machines, people and paper: what is asked once the sizes are known.
///
///     ask_day(with);
///
/// Inside `job` only.
#pragma once

#include "job/commands/answered.h"

namespace pouchwright::job {

/// Requires: the construction, the units and the sizes are answered.
/// Fails: a UsageFault where an option's text is no answer, the answers end, or cloth is stated that
/// the pouch has not.
void ask_day(Answered& with);
/// The paper as the job says it: a name, or its size in millimetres. Fails: as above.
[[nodiscard]] std::string asked_paper(const Answered& with);

}  // namespace pouchwright::job
