/// The job that is open in the page: its text after changes, what stands in each field, and what
/// `check` says of it.
///
///     Answer answer = edited_job({{"pouch.width", "200 mm"}}, job_text, data, goes_on);
///
/// JSON, `told`: `job`, the text; `values`, by path, what a person typed (null where it is more than one
/// value) and its lines; `tables`; `report`, that of `check`; without errors also `numbers`, a name
/// and a value each, and `usual`, what fields show that were left out. `values` and `tables` are
/// absent, and nothing is changed, where the text is no TOML. Without errors it is a part of a form,
/// and beside it the pictures `folded` and `panel`, so that all is of one job.
#pragma once

#include "desk/answer.h"
#include "desk/target.h"

namespace pouchwright::desk {

/// `changes` by path, in order, as typed; an empty one takes the value out. One that would leave no
/// TOML is not made. The answer's status is that of `check`.
[[nodiscard]] Answer edited_job(const Fields& changes, const std::string& text,
                                const job::Data& data, const std::function<bool()>& goes_on);

}  // namespace pouchwright::desk
