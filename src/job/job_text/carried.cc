#include "job/job_text/carried.h"

#include <zlib.h>

#include <charconv>
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

/// Eight digits, from 0 to f.
std::string hexadecimal(std::uint32_t number) {
  constexpr std::size_t kDigits = 8;
  constexpr int kBase = 16;
  std::string digits(kDigits, '0');
  const auto end = std::to_chars(digits.data(), digits.data() + kDigits, number, kBase).ptr;
  digits.resize(static_cast<std::size_t>(end - digits.data()));
  return std::string(kDigits - digits.size(), '0') + digits;
}

/// CRC-32, as zlib has it.
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
  const std::string mark = hexadecimal(mark_of(letters));
  for (std::size_t i = 0; i < all; ++i) {
    const std::size_t from = letters.size() * i / all;
    const std::size_t to = letters.size() * (i + 1) / all;
    parts.push_back("# " + std::to_string(i + 1) + "/" + std::to_string(all) + " " + mark + "\n" +
                    std::string(letters.substr(from, to - from)));
  }
  return parts;
}

}  // namespace pouchwright::job
