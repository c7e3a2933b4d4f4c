#include "job/commands/quick_lay.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <string_view>
#include <utility>

#include "base/text.h"
#include "input/reader.h"
#include "job/commands/cloth_plans.h"

namespace pouchwright::job {

using base::Length;

namespace {

bool ends_in_a_unit(std::string_view text) {
  return !text.empty() && (text.back() < '0' || text.back() > '9');
}

struct Piece {
  lay::Kind kind;
  std::string typed_demand = "1";
};

/// `[NAME =] LENGTH x LENGTH [* COUNT]`; no unit at all cannot be read.
std::optional<Piece> piece_of(std::string_view text, std::size_t number) {
  Piece piece;
  lay::Kind& kind = piece.kind;
  kind.name = "piece " + std::to_string(number);
  const std::size_t equals = text.find('=');
  if (equals != std::string_view::npos) {
    kind.name = std::string(base::trimmed(text.substr(0, equals)));
    text.remove_prefix(equals + 1);
    if (kind.name.empty()) return std::nullopt;
  }
  const std::size_t star = text.find('*');
  if (star != std::string_view::npos) {
    const std::string_view count = base::trimmed(text.substr(star + 1));
    const auto read = std::from_chars(count.data(), count.data() + count.size(), kind.demand);
    if (read.ptr != count.data() + count.size()) return std::nullopt;
    // No int holds it, so it cannot be planned, and the plan says so.
    if (read.ec == std::errc::result_out_of_range)
      kind.demand = 0;
    else if (read.ec != std::errc())
      return std::nullopt;
    piece.typed_demand = count;
    text = text.substr(0, star);
  }
  text = base::trimmed(text);
  if (!ends_in_a_unit(text)) return std::nullopt;
  const auto sides = input::length_pair_of(text, base::Unit::mm);
  if (!sides) return std::nullopt;
  kind.width = sides->across;
  kind.length = sides->down;
  return piece;
}

std::optional<Length> quick_length(const std::string& text) {
  if (!ends_in_a_unit(base::trimmed(text))) return std::nullopt;
  const auto reading = base::read_length(text, base::Unit::mm);
  const auto* length = std::get_if<Length>(&reading);
  return length ? std::optional(*length) : std::nullopt;
}

std::optional<lay::Plies> plies_of(const std::string& text) {
  if (text == "folded 2") return lay::Plies{lay::Plies::Way::folded, 2};
  if (text == "folded 4") return lay::Plies{lay::Plies::Way::folded, 4};
  int count = 0;
  const auto read = std::from_chars(text.data(), text.data() + text.size(), count);
  if (read.ec != std::errc() || read.ptr != text.data() + text.size()) return std::nullopt;
  return lay::Plies{count == 1 ? lay::Plies::Way::single : lay::Plies::Way::stacked, count};
}

QuickFault unreadable(const char* option, const std::string& text) {
  return {{"usage-option", {{"option", option}, {"text", text.substr(0, 60)}}},
          {std::string("usage-option-hint") + option}};
}

bool in_inches(std::string_view text) {
  constexpr std::array<std::string_view, 10> kMarks = {"in", "IN", "In", "yd", "\"",
                                                       "″",  "”",  "'",  "’",  "′"};
  return std::any_of(kMarks.begin(), kMarks.end(), [&](std::string_view mark) {
    return text.find(mark) != std::string_view::npos;
  });
}

}  // namespace

std::variant<ClothPlan, QuickFault> quick_request(const QuickLay& quick, base::LengthStyle& style) {
  ClothPlan made;
  made.material = "cloth";
  const auto width = quick_length(quick.cloth);
  if (!width) return unreadable("--cloth", quick.cloth);
  style = base::default_style(in_inches(quick.cloth) ? base::Unit::inch : base::Unit::mm);
  Length selvedge;
  if (quick.selvedge) {
    const auto read = quick_length(*quick.selvedge);
    if (!read || *read < Length()) return unreadable("--selvedge", *quick.selvedge);
    selvedge = *read;
  }
  made.terms.bought_width = made.terms.full_width = *width;
  made.terms.selvedge = selvedge;
  made.terms.shop_step = lay::kShopStep.of(style.unit);
  made.request.cloth = {"cloth", *width - 2 * selvedge};
  const auto plies = plies_of(quick.plies);
  if (!plies) return unreadable("--plies", quick.plies);
  made.request.plies = *plies;
  if (quick.table_length) {
    made.request.longest = quick_length(*quick.table_length);
    if (!made.request.longest) return unreadable("--table-length", *quick.table_length);
  }
  made.request.cuts = base::value_of(lay::kCutsWords, quick.cuts).value_or(lay::Cuts::straight);
  for (const std::string& text : quick.pieces) {
    const auto piece = piece_of(text, made.request.kinds.size() + 1);
    if (!piece || !base::is_drawable(text)) return unreadable("--piece", text);
    lay::Kind kind = piece->kind;
    kind.turn = base::value_of(base::kTurnWords, quick.turn).value_or(base::Turn::either);
    for (const lay::Kind& other : made.request.kinds) {
      if (other.name == kind.name)
        return QuickFault{{"usage-piece-twice", {{"name", kind.name}}}, {"usage-piece-twice-hint"}};
    }
    made.request.kinds.push_back(kind);
    made.typed_demands.push_back(piece->typed_demand);
  }
  return made;
}

}  // namespace pouchwright::job
