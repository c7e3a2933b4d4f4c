#include "desk/zip_module.h"

#include <zip.h>

#include <stdexcept>

namespace pouchwright::desk {

namespace {

/// 1 January 1980, the first day that the format can state. As a DOS date, since a time in seconds
/// would be turned into local time and differ from place to place.
constexpr zip_uint16_t kDosDate = (1U << 5U) | 1U;

[[noreturn]] void fail(const char* why) { throw std::runtime_error(why); }

/// An archive in memory, with the buffer that it is written to.
class Archive {
 public:
  Archive() {
    zip_error_t error;
    zip_error_init(&error);
    buffer_ = zip_source_buffer_create(nullptr, 0, 0, &error);
    if (buffer_ == nullptr) fail(zip_error_strerror(&error));
    // The buffer is read after the archive is closed, so it is held once more.
    zip_source_keep(buffer_);
    archive_ = zip_open_from_source(buffer_, ZIP_TRUNCATE, &error);
    if (archive_ == nullptr) {
      zip_source_free(buffer_);
      fail(zip_error_strerror(&error));
    }
  }
  Archive(const Archive&) = delete;
  Archive& operator=(const Archive&) = delete;
  ~Archive() {
    if (archive_ != nullptr) zip_discard(archive_);
    zip_source_free(buffer_);
  }

  /// `bytes` must stay until bytes() was called.
  void add(const std::string& name, std::string_view bytes) {
    zip_source_t* source = zip_source_buffer(archive_, bytes.data(), bytes.size(), 0);
    if (source == nullptr) fail(zip_strerror(archive_));
    const zip_int64_t index = zip_file_add(archive_, name.c_str(), source, ZIP_FL_ENC_UTF_8);
    if (index < 0) {
      zip_source_free(source);
      fail(zip_strerror(archive_));
    }
    zip_file_set_dostime(archive_, static_cast<zip_uint64_t>(index), 0, kDosDate, 0);
  }

  [[nodiscard]] std::string bytes() {
    if (zip_close(archive_) != 0) fail(zip_strerror(archive_));
    archive_ = nullptr;
    zip_stat_t stat;
    if (zip_source_stat(buffer_, &stat) != 0 || zip_source_open(buffer_) != 0) fail("");
    std::string all(stat.size, '\0');
    const zip_int64_t count = zip_source_read(buffer_, all.data(), all.size());
    zip_source_close(buffer_);
    if (count != static_cast<zip_int64_t>(all.size())) fail("");
    return all;
  }

 private:
  zip_source_t* buffer_ = nullptr;
  zip_t* archive_ = nullptr;
};

}  // namespace

}  // namespace pouchwright::desk

bool pouchwright_zip(const std::vector<pouchwright::desk::ZipEntry>& entries,
                     std::string& archive) {
  try {
    pouchwright::desk::Archive made;
    for (const auto& entry : entries) made.add(entry.name, entry.bytes);
    archive = made.bytes();
    return true;
  } catch (const std::exception& failure) {
    archive = failure.what();
    return false;
  }
}
