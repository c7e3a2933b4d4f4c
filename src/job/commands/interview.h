/// What `new` asks, by what somebody starts from: liners, a pouch, a panel that is cut, a card, or
/// cloth. Only what follows from it is asked.
///
///     const Starter starter = interviewed(run);
///
/// Inside `job` only. Not for the text of the job, checking or writing (see starter.h, new.h).
#pragma once

#include "job/job_text/starter.h"
#include "job/run.h"

namespace pouchwright::job {

/// The answers, all of them checked by themselves.
/// Fails: a UsageFault where an option's text is no answer, nobody can be asked, or the answers end.
[[nodiscard]] Starter interviewed(const Run& run);

}  // namespace pouchwright::job
