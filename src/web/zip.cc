// desk/zip.h where no module can be opened: what is in it is built in.
#include "desk/zip.h"

#include "base/diagnostic.h"
#include "desk/zip_module.h"

namespace pouchwright::desk {

std::string zipped(const std::vector<job::MadeFile>& files) {
  std::vector<ZipEntry> entries;
  for (const job::MadeFile& file : files) {
    entries.push_back({file.path.filename().string(), file.bytes});
  }
  std::string archive;
  if (!pouchwright_zip(entries, archive)) {
    throw base::Failure("", {"desk-zip", {{"why", archive}}});
  }
  return archive;
}

}  // namespace pouchwright::desk
