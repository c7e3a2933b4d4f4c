/// What the module pouchwright-zip has. zip.cc opens it where an archive is wanted: libzip comes with
/// libraries of its own, and to start with those would take every run a fifth longer.
///
/// Includes nothing of ours: the module has no code of the program.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace pouchwright::desk {

struct ZipEntry {
  std::string name;
  std::string_view bytes;
};

}  // namespace pouchwright::desk

/// True with the archive in `archive`, or false with libzip's reason there.
extern "C" [[gnu::visibility("default")]] bool pouchwright_zip(
    const std::vector<pouchwright::desk::ZipEntry>& entries, std::string& archive);
