#include "desk/zip.h"

#include <dlfcn.h>

#include "base/diagnostic.h"
#include "desk/zip_module.h"

namespace pouchwright::desk {

namespace fs = std::filesystem;

namespace {

[[noreturn]] void fail(const std::string& why) {
  throw base::Failure("", {"desk-zip", {{"why", why}}});
}

/// Where the program is installed, else where it was built.
fs::path module_file() {
  std::error_code ignored;
  const fs::path program = fs::read_symlink("/proc/self/exe", ignored);
  fs::path installed = program.parent_path() / POUCHWRIGHT_ZIP_FROM_PROGRAM;
  return fs::exists(installed, ignored) ? installed : fs::path(POUCHWRIGHT_ZIP_BUILT);
}

decltype(&pouchwright_zip) opened() {
  void* module = ::dlopen(module_file().c_str(), RTLD_NOW | RTLD_LOCAL);
  void* function = module == nullptr ? nullptr : ::dlsym(module, "pouchwright_zip");
  if (function == nullptr) fail(::dlerror());
  return reinterpret_cast<decltype(&pouchwright_zip)>(function);
}

}  // namespace

std::string zipped(const std::vector<job::MadeFile>& files) {
  static const auto kZip = opened();
  std::vector<ZipEntry> entries;
  for (const job::MadeFile& file : files) {
    entries.push_back({file.path.filename().string(), file.bytes});
  }
  std::string archive;
  if (!kZip(entries, archive)) fail(archive);
  return archive;
}

}  // namespace pouchwright::desk
