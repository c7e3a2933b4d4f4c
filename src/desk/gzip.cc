#include "desk/gzip.h"

#include <zlib.h>

#include <new>

namespace pouchwright::desk {

namespace {

/// SVG comes to a quarter at once; what more effort would save costs more than it is worth so near.
constexpr int kEffort = 2;
/// The largest window, and a header of gzip instead of zlib's own.
constexpr int kWindowBits = 15 + 16;
constexpr int kMemory = 8;
/// Less than this goes in one packet anyway.
constexpr std::size_t kLeast = 1024;

}  // namespace

std::string gzipped(std::string_view bytes) {
  z_stream stream{};
  if (deflateInit2(&stream, kEffort, Z_DEFLATED, kWindowBits, kMemory, Z_DEFAULT_STRATEGY) !=
      Z_OK) {
    throw std::bad_alloc();
  }
  std::string made(deflateBound(&stream, bytes.size()), '\0');
  // zlib reads through this pointer and never writes.
  stream.next_in = reinterpret_cast<Bytef*>(const_cast<char*>(bytes.data()));  // NOLINT
  stream.avail_in = static_cast<uInt>(bytes.size());
  stream.next_out = reinterpret_cast<Bytef*>(made.data());  // NOLINT
  stream.avail_out = static_cast<uInt>(made.size());
  deflate(&stream, Z_FINISH);
  made.resize(stream.total_out);
  deflateEnd(&stream);
  return made;
}

void shrink(Answer& answer) {
  const bool is_packed = answer.type == "application/pdf" || answer.type == "application/zip" ||
                         answer.type == "image/png";
  if (is_packed || answer.body.size() < kLeast || !answer.encoding.empty()) return;
  answer.body = gzipped(answer.body);
  answer.encoding = "gzip";
}

}  // namespace pouchwright::desk
