#include "job/job_text/sides.h"

#include <string_view>
#include <vector>

#include "input/reader.h"

namespace pouchwright::job {

namespace {

/// The text between the crosses of `text`.
std::vector<std::string> between_crosses(std::string text) {
  constexpr std::string_view kTimes = "×";
  for (auto at = text.find(kTimes); at != std::string::npos; at = text.find(kTimes)) {
    text.replace(at, kTimes.size(), "x");
  }
  std::vector<std::string> parts;
  std::size_t from = 0;
  for (auto at = text.find_first_of("xX"); at != std::string::npos;
       at = text.find_first_of("xX", from)) {
    parts.push_back(text.substr(from, at - from));
    from = at + 1;
  }
  parts.push_back(text.substr(from));
  return parts;
}

}  // namespace

std::optional<Sides> three_sides(const std::string& text, base::Unit bare) {
  const auto parts = between_crosses(text);
  if (parts.size() != 3) return std::nullopt;
  const auto across = input::length_pair_of(parts[0] + "x" + parts[2], bare);
  const auto along = input::length_pair_of(parts[1] + "x" + parts[2], bare);
  if (!across || !along) return std::nullopt;
  const Sides sides{across->across, along->across, across->down};
  for (const base::Length side : {sides.width, sides.length, sides.thickness}) {
    if (side <= base::Length()) return std::nullopt;
  }
  return sides;
}

}  // namespace pouchwright::job
