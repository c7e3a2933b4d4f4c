#include "job/commands/answered.h"

#include <algorithm>
#include <utility>
#include <variant>

#include "job/job_text/edited.h"

namespace pouchwright::job {

void Answered::state(const std::string& path, std::string text) {
  // A person's control characters would be at fault.
  std::replace_if(
      text.begin(), text.end(),
      [](char c) { return static_cast<unsigned char>(c) < 0x20U || c == 0x7F; }, ' ');
  made.stated[path] = toml_text(text);
}

void Answered::show(const std::string& path, const std::string& text) {
  made.shown[path] = toml_text(text);
}

std::optional<base::Length> Answered::length(const std::string& text) const {
  const auto reading = base::read_length(text, units);
  const auto* read = std::get_if<base::Length>(&reading);
  if (!read || *read <= base::Length()) return std::nullopt;
  return *read;
}

}  // namespace pouchwright::job
