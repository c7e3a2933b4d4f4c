/// What a group has in a file of its own, for all of its jobs: `group = "./group.toml"`.
///
///     const std::vector<GroupValue> taken = take_group(root, library, diagnostics);
///
/// Inside `input` only. Not for the table [group] itself (group.h).
#pragma once

#include <vector>

#include "base/diagnostic.h"
#include "input/job.h"
#include "input/node.h"

namespace pouchwright::input {

/// Lays the job over its group's file, or where it names none over the library's, as lay_under() does.
/// Bare lengths of the file are in the units that it states itself. Afterwards `root` has no
/// key `group` but a table. Returns what was taken.
/// Fails: reports a file that cannot be read, and what no group has for all of its jobs.
std::vector<GroupValue> take_group(Node& root, const Library& library,
                                   base::Diagnostics& diagnostics);

}  // namespace pouchwright::input
