/// Where the program was built: its data are looked for there at last.
///
/// Inside `job` only; see data_folder() in files.h.
#pragma once

namespace pouchwright::job {

/// As a text that stands whole in the program.
[[nodiscard]] const char* source_folder();

}  // namespace pouchwright::job
