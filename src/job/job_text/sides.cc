#include "job/job_text/sides.h"

#include "input/reader.h"

namespace pouchwright::job {

std::optional<Sides> three_sides(const std::string& text, base::Unit bare) {
  const auto parts = input::between_crosses(text);
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
