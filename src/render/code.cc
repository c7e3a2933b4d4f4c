#include "render/code.h"

#include <qrencode.h>

#include <algorithm>
#include <cerrno>
#include <memory>
#include <new>

namespace pouchwright::render {

namespace {

struct FreeInput {
  void operator()(QRinput* input) const { QRinput_free(input); }
};
struct FreeCode {
  void operator()(QRcode* code) const { QRcode_free(code); }
};

/// Of the assignments that AIM's registry of interpretations has.
constexpr unsigned int kUtf8 = 26;

/// The library tells of what it cannot do by errno alone.
void check_memory() {
  if (errno == ENOMEM) throw std::bad_alloc();
}

}  // namespace

std::optional<ink::CodeSquare> code_of(std::string_view text, int largest) {
  const std::unique_ptr<QRinput, FreeInput> input(QRinput_new2(0, QR_ECLEVEL_M));
  if (!input) throw std::bad_alloc();
  const bool is_ascii = std::all_of(text.begin(), text.end(), [](char c) {
    return (static_cast<unsigned char>(c) & 0x80U) == 0;
  });
  errno = 0;
  if (!is_ascii && QRinput_appendECIheader(input.get(), kUtf8) != 0) check_memory();
  const auto* bytes = reinterpret_cast<const unsigned char*>(text.data());  // NOLINT
  if (QRinput_append(input.get(), QR_MODE_8, static_cast<int>(text.size()), bytes) != 0) {
    check_memory();
    return std::nullopt;
  }
  const std::unique_ptr<QRcode, FreeCode> code(QRcode_encodeInput(input.get()));
  if (!code) check_memory();
  if (!code || code->version > largest) return std::nullopt;
  ink::CodeSquare made{code->width, {}};
  const auto modules = static_cast<std::size_t>(code->width);
  for (std::size_t i = 0; i < modules * modules; ++i) {
    made.dark.push_back((code->data[i] & 1U) != 0);
  }
  return made;
}

}  // namespace pouchwright::render
