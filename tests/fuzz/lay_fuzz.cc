/// The quick form of `lay`: fields between bars, the first the cloth, then pieces and options as
/// `110 cm | panel = 204 x 360 mm * 40 | --turn along`. What can be planned stands the verifier.

#include <string>
#include <vector>

#include "fuzz/fuzz.h"
#include "job/commands/cloth_plans.h"
#include "job/commands/quick_lay.h"
#include "lay/lay.h"
#include "support/lay_verifier.h"

namespace {

using namespace pouchwright;

/// Enough for a plan, little enough for many.
constexpr std::int64_t kWork = 20'000;
/// The verifier's time grows with the square of the pieces.
constexpr int kMostPieces = 150;

std::vector<std::string> fields_of(const std::string& text) {
  std::vector<std::string> fields;
  std::istringstream parts(text);
  for (std::string part; std::getline(parts, part, '|');) {
    const std::size_t begin = part.find_first_not_of(" \n");
    const std::size_t end = part.find_last_not_of(" \n");
    fields.push_back(begin == std::string::npos ? "" : part.substr(begin, end + 1 - begin));
  }
  return fields;
}

/// Options of fixed words are held to them by the command line.
bool put_option(const std::string& field, job::QuickLay& quick) {
  const auto value_after = [&field](std::string_view name) -> std::optional<std::string> {
    if (!field.starts_with(name)) return std::nullopt;
    return field.substr(name.size());
  };
  if (auto plies = value_after("--plies ")) return quick.plies = *plies, true;
  if (auto length = value_after("--table-length ")) return quick.table_length = length, true;
  if (auto selvedge = value_after("--selvedge ")) return quick.selvedge = selvedge, true;
  for (const char* turn : {"either", "along", "across"}) {
    if (field == std::string("--turn ") + turn) return quick.turn = turn, true;
  }
  if (field == "--cuts free") return quick.cuts = "free", true;
  return false;
}

int pieces_of(const lay::Request& request) {
  int pieces = 0;
  for (const lay::Kind& kind : request.kinds) pieces += kind.demand;
  return pieces;
}

void hold_to_rules(lay::Request& request) {
  if (!lay::faults(request).empty() || pieces_of(request) > kMostPieces) return;
  request.work = kWork;
  const lay::Plan plan = lay::plan(request);
  for (const std::string& wrong : test::wrong_with(request, plan)) fuzz::hold(false, wrong);
}

}  // namespace

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  job::QuickLay quick;
  for (const std::string& field : fields_of(fuzz::text_of(data, size))) {
    if (put_option(field, quick)) continue;
    if (quick.cloth.empty()) {
      quick.cloth = field;
    } else {
      quick.pieces.push_back(field);
    }
  }
  base::LengthStyle style;
  auto made = job::quick_request(quick, style);
  if (auto* cloth = std::get_if<job::ClothPlan>(&made)) hold_to_rules(cloth->request);
  return 0;
}
