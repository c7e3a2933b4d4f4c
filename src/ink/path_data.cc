#include "ink/path_data.h"

#include <array>
#include <cstddef>

#include "base/number_read.h"

namespace pouchwright::ink {
namespace {

/// Data that are being read: what was read is cut off in front.
struct Rest {
  std::string_view text;

  void skip_blanks() {
    const std::size_t at = text.find_first_not_of(" \t\r\n");
    text.remove_prefix(at == std::string_view::npos ? text.size() : at);
  }
  bool skip(std::string_view letters) {
    if (text.empty() || letters.find(text.front()) == std::string_view::npos) return false;
    text.remove_prefix(1);
    return true;
  }
  [[nodiscard]] bool begins_with(std::string_view letters) const {
    return !text.empty() && letters.find(text.front()) != std::string_view::npos;
  }
  /// As many letters as make a number; the grammar reads `0.6.5` as 0.6 and .5.
  std::optional<double> number() {
    const bool is_negative = begins_with("-");
    skip("+-");
    const auto read = base::number_at_front(text);
    if (!read) return std::nullopt;
    text.remove_prefix(read->size);
    return is_negative ? -read->value : read->value;
  }
};

std::size_t numbers_of(char command) {
  switch (command) {
    case 'M':
    case 'L':
      return 2;
    case 'H':
    case 'V':
      return 1;
    case 'C':
      return 6;
    default:
      return 0;
  }
}

/// The step to which `n` lead from `here`; `from` is what they count from.
Step step_of(char command, const std::array<double, 6>& n, Point from, Point here) {
  const auto at = [&](std::size_t i) { return Point{from.x + n[i], from.y + n[i + 1]}; };
  switch (command) {
    case 'M':
      return {Verb::move, at(0), {}, {}};
    case 'H':
      return {Verb::line, {from.x + n[0], here.y}, {}, {}};
    case 'V':
      return {Verb::line, {here.x, from.y + n[0]}, {}, {}};
    case 'C':
      return {Verb::curve, at(4), at(0), at(2)};
    default:
      return {Verb::line, at(0), {}, {}};
  }
}

}  // namespace

std::optional<Path> path_of(std::string_view data) {
  Path path;
  Point begin;
  Rest rest{data};
  for (rest.skip_blanks(); !rest.text.empty(); rest.skip_blanks()) {
    const char letter = rest.text.front();
    const bool is_relative = letter >= 'a' && letter <= 'z';
    char command = is_relative ? static_cast<char>(letter - 'a' + 'A') : letter;
    rest.text.remove_prefix(1);
    if (path.empty() && command != 'M') return std::nullopt;
    if (command == 'Z') {
      path.push_back({Verb::close, begin, {}, {}});
      continue;
    }
    const std::size_t count = numbers_of(command);
    if (count == 0) return std::nullopt;
    if (command != 'M' && path.back().verb == Verb::close) {
      path.push_back({Verb::move, begin, {}, {}});
    }
    bool is_first = true;
    do {
      std::array<double, 6> numbers{};
      for (std::size_t i = 0; i < count; ++i) {
        rest.skip_blanks();
        if (!is_first && rest.skip(",")) rest.skip_blanks();
        is_first = false;
        const auto number = rest.number();
        if (!number) return std::nullopt;
        numbers[i] = *number;
      }
      const Point here = path.empty() ? Point() : path.back().to;
      path.push_back(step_of(command, numbers, is_relative ? here : Point(), here));
      if (command == 'M') {
        begin = path.back().to;
        command = 'L';  // further pairs behind a move are lines
      }
      rest.skip_blanks();
    } while (rest.begins_with(",+-.0123456789"));
  }
  return path;
}

}  // namespace pouchwright::ink
