/// The job that is open in the page: its text after changes, what stands in each field, and what
/// `check` says of it.
///
///     Answer answer = edited_job({{{"pouch.width", "200 mm"}}}, job_text, data, goes_on);
///
/// JSON, `told`: `job`, the text; `values`, by path, what a person typed (null where it is more than one
/// value) and its lines; `tables`; `report`, that of `check`. `values` and `tables` are absent, and
/// nothing is changed, where the text is no TOML, or that of a day. Where nothing but values is missing, `needed` has
/// their paths, and all else is of the job without what lacks them. Without other errors also
/// `answer`, the job in a line, by parts with a name and words each; `numbers`, a name and a value
/// each; `usual`, by path what holds in fields that were left out; and `pouch`, where on the
/// picture what is (job::kPouchPlaces) with `dimensions` by the job's paths and `alt`. Then it is a
/// part of a form, and beside it the picture `pouch` and, with `with_panel`, `panel`, so that all
/// is of one job.
#pragma once

#include "desk/answer.h"
#include "desk/target.h"

namespace pouchwright::desk {

struct Edit {
  Fields changes;
  bool with_panel = false;
};
/// `with=panel` is no change.
[[nodiscard]] Edit read_edit(Fields query);

/// `changes` by path, in order, as typed; an empty one takes the value out. One that would leave no
/// TOML is not made. The answer's status is that of `check`.
[[nodiscard]] Answer edited_job(const Edit& edit, const std::string& text, const job::Data& data,
                                const std::function<bool()>& goes_on);

}  // namespace pouchwright::desk
