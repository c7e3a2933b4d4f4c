/// Files in one ZIP archive, the same bytes for the same files: every entry has a fixed time.
#pragma once

#include <string>
#include <vector>

#include "job/files.h"

namespace pouchwright::desk {

/// The archive of `files` in their order, by their names without folders.
/// Requires: there is at least one. Fails: throws base::Failure where the library refuses.
[[nodiscard]] std::string zipped(const std::vector<job::MadeFile>& files);

}  // namespace pouchwright::desk
