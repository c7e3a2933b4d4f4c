#include "render/pinned.h"

#include <algorithm>
#include <array>
#include <fstream>
#include <optional>
#include <sstream>
#include <string_view>
#include <utility>

#include "base/diagnostic.h"
#include "base/text.h"

namespace pouchwright::render {
namespace {

using ink::Weight;

constexpr std::array<std::pair<Weight, std::string_view>, 3> kWeights = {
    {{Weight::regular, "regular"}, {Weight::bold, "bold"}, {Weight::italic, "italic"}}};

std::optional<PinnedFont> pinned_font(const std::string& line) {
  std::istringstream parts(line);
  std::array<std::string, 4> field;
  for (std::string& part : field) {
    if (!std::getline(parts, part, '|')) return std::nullopt;
    part = std::string(base::trimmed(part));
    if (part.empty()) return std::nullopt;
  }
  const auto weight = std::find_if(kWeights.begin(), kWeights.end(), [&field](const auto& known) {
    return known.second == field[0];
  });
  if (weight == kWeights.end()) return std::nullopt;
  return PinnedFont{
      .weight = weight->first, .family = field[1], .file = field[2], .package = field[3]};
}

}  // namespace

std::vector<PinnedFont> pinned_fonts(const std::filesystem::path& list) {
  std::ifstream in(list);
  if (!in) throw base::Failure(list.string(), "font-list-unreadable", {{"data-missing-hint"}});
  std::vector<PinnedFont> fonts;
  std::string line;
  for (int number = 1; std::getline(in, line); ++number) {
    line = std::string(base::trimmed(line));
    if (line.empty() || line.front() == '#') continue;
    auto font = pinned_font(line);
    if (!font) {
      throw base::Failure(base::Diagnostic{
          .severity = base::Severity::error,
          .place = {.file = list.string(), .line = number, .column = 1, .end_column = 1},
          .message = "font-list-line",
          .hints = {"font-list-line-hint"}});
    }
    fonts.push_back(std::move(*font));
  }
  return fonts;
}

void refuse(const PinnedFont& font, const char* key) {
  throw base::Failure(font.file, {key, {{"package", font.package}}},
                      {{"font-hint", {{"package", font.package}}}});
}

}  // namespace pouchwright::render
