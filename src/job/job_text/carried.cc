#include "job/job_text/carried.h"

#include <fmt/format.h>
#include <zlib.h>

#include <cstdint>
#include <new>

namespace pouchwright::job {

namespace {

constexpr std::string_view kLetters =
    "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_";
/// Three bytes are four letters of six bits.
constexpr std::size_t kBytes = 3;
constexpr unsigned int kLetterBits = 6;
constexpr unsigned int kByteBits = 8;

std::string base64url(std::string_view bytes) {
  std::string made;
  for (std::size_t i = 0; i < bytes.size(); i += kBytes) {
    const std::string_view some = bytes.substr(i, kBytes);
    std::uint32_t bits = 0;
    for (std::size_t k = 0; k < kBytes; ++k) {
      bits = (bits << kByteBits) | (k < some.size() ? static_cast<unsigned char>(some[k]) : 0U);
    }
    for (std::size_t k = 0; k <= some.size(); ++k) {
      const std::uint32_t six = bits >> (kLetterBits * static_cast<unsigned int>(kBytes - k));
      made += kLetters[six % kLetters.size()];
    }
  }
  return made;
}

std::string deflated(std::string_view bytes) {
  uLongf size = compressBound(bytes.size());
  std::string made(size, '\0');
  // zlib reads bytes where C++ has letters.
  const auto* from = reinterpret_cast<const Bytef*>(bytes.data());  // NOLINT
  auto* to = reinterpret_cast<Bytef*>(made.data());                 // NOLINT
  if (compress2(to, &size, from, bytes.size(), Z_BEST_COMPRESSION) != Z_OK) throw std::bad_alloc();
  made.resize(size);
  return made;
}

std::uint32_t mark_of(std::string_view letters) {
  const auto* bytes = reinterpret_cast<const Bytef*>(letters.data());  // NOLINT
  return static_cast<std::uint32_t>(crc32_z(0, bytes, letters.size()));
}

}  // namespace

std::string packed_job(std::string_view text) { return "#jobz=" + base64url(deflated(text)); }

std::string linked_job(const std::string& page, std::string_view text) {
  const std::string plain = "#job=" + base64url(text);
  const std::string packed = packed_job(text);
  return page + (packed.size() < plain.size() ? packed : plain);
}

std::vector<std::string> in_parts(std::string_view letters, int count) {
  std::vector<std::string> parts;
  const auto all = static_cast<std::size_t>(count);
  for (std::size_t i = 0; i < all; ++i) {
    const std::size_t from = letters.size() * i / all;
    const std::size_t to = letters.size() * (i + 1) / all;
    parts.push_back(fmt::format("# {}/{} {:08x}\n{}", i + 1, all, mark_of(letters),
                                letters.substr(from, to - from)));
  }
  return parts;
}

}  // namespace pouchwright::job
