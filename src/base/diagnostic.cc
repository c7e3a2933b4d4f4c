#include "base/diagnostic.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cstddef>
#include <tuple>
#include <utility>

#include "base/text.h"

namespace pouchwright::base {

// ---- Collecting --------------------------------------------------------------------------------

namespace {

/// Files first, then the command line's own places, then faults without a place.
int rank(const Place& place) {
  if (place.file.empty()) return 2;
  return place.file.starts_with("--") ? 1 : 0;
}

bool comes_before(const Diagnostic& a, const Diagnostic& b) {
  const auto key = [](const Place& place) {
    return std::make_tuple(rank(place), std::string_view(place.file), place.line, place.column);
  };
  return key(a.place) < key(b.place);
}

}  // namespace

void Diagnostics::add(Diagnostic diagnostic) {
  if (diagnostic.severity == Severity::error && ++errors_ > kMost) return;
  kept_.push_back(std::move(diagnostic));
}

void Diagnostics::add_all(const Diagnostics& others) {
  for (const Diagnostic& diagnostic : others.kept_) add(diagnostic);
  errors_ += others.not_kept();
}

void Diagnostics::error(Place place, Message message, std::vector<Message> hints) {
  add({Severity::error, std::move(place), std::move(message), std::move(hints)});
}

void Diagnostics::warning(Place place, Message message, std::vector<Message> hints) {
  add({Severity::warning, std::move(place), std::move(message), std::move(hints)});
}

void Diagnostics::note(Place place, Message message, std::vector<Message> hints) {
  add({Severity::note, std::move(place), std::move(message), std::move(hints)});
}

int Diagnostics::not_kept() const { return std::max(errors_ - kMost, 0); }

std::vector<Diagnostic> Diagnostics::sorted() const {
  std::vector<Diagnostic> result = kept_;
  std::stable_sort(result.begin(), result.end(), comes_before);
  return result;
}

std::vector<Diagnostic> Diagnostics::sorted(Severity only) const {
  std::vector<Diagnostic> result = sorted();
  std::erase_if(result, [&](const Diagnostic& found) { return found.severity != only; });
  if (only == Severity::warning) {
    std::stable_partition(result.begin(), result.end(),
                          [](const Diagnostic& found) { return found.leaks; });
  }
  return result;
}

std::string typed(const Remedy& remedy, const Voice& voice) {
  if (!remedy.value) return {};
  const auto* measure = std::get_if<Measure>(&remedy.value->held());
  return measure ? exact_text(measure->length, voice.unit()) : voice.text(*remedy.value);
}

Message told(const Remedy& remedy) {
  if (!remedy.words.key.empty()) return remedy.words;
  Message::Values values = {{"field", FieldName{remedy.path}}};
  if (!remedy.value) return {"remedy-leave-out", std::move(values)};
  values.emplace_back("value", *remedy.value);
  return {"remedy-set", std::move(values)};
}

Failure::Failure(std::string file, Message message, std::vector<Message> hints)
    : Failure(Diagnostic{Severity::error, Place{std::move(file), 0, 0, 0}, std::move(message),
                         std::move(hints)}) {}

// ---- Characters --------------------------------------------------------------------------------

namespace {

/// True for what could drive a terminal or disguise a line: controls but the tab, bytes that are
/// no UTF-8, line separators and marks that turn the writing direction.
bool is_harmful(std::string_view letter) {
  const auto first = static_cast<unsigned char>(letter.front());
  if (letter.size() == 1) return (first < 0x20 && first != '\t') || first >= 0x7F;
  if (letter.size() == 2) return letter >= "\u0080" && letter <= "\u009F";
  return (letter >= "\u200E" && letter <= "\u200F") || (letter >= "\u2028" && letter <= "\u202E") ||
         (letter >= "\u2066" && letter <= "\u2069");
}

/// `text` with a question mark for each harmful character, so that columns stay as they are.
std::string harmless(std::string_view text) {
  std::string result;
  for (const std::string_view letter : letters(text)) {
    result += is_harmful(letter) ? std::string_view("?") : letter;
  }
  return result;
}

// ---- Showing -----------------------------------------------------------------------------------

/// A longer line would fill the screen; it is left out.
constexpr std::size_t kLongestShownLine = 200;

std::string_view severity_key(Severity severity) {
  switch (severity) {
    case Severity::error:
      return "severity-error";
    case Severity::warning:
      return "severity-warning";
    case Severity::note:
      return "severity-note";
  }
  return {};
}

/// `FILE:LINE:COLUMN: `, or as much of it as is known.
std::string place_text(const Place& place) {
  if (place.file.empty()) return {};
  const std::string file = harmless(place.file);
  if (place.line < 1) return file + ": ";
  if (place.column < 1) return fmt::format("{}:{}: ", file, place.line);
  return fmt::format("{}:{}:{}: ", file, place.line, place.column);
}

/// Line `number` of `text` without its end, counted from 1; empty if there is none.
std::string_view line_of(std::string_view text, int number) {
  for (int i = 1; i < number; ++i) {
    const std::size_t end = text.find('\n');
    if (end == std::string_view::npos) return {};
    text.remove_prefix(end + 1);
  }
  text = text.substr(0, text.find('\n'));
  if (text.ends_with('\r')) text.remove_suffix(1);
  return text;
}

/// Blanks up to the place's column, then `^~~~` below it. Tabs stay tabs, so that the caret meets
/// its column however wide a tab is shown. A stretch that goes on past the line ends with it.
std::string caret_under(const std::vector<std::string_view>& line, const Place& place) {
  const auto begin = std::min(static_cast<std::size_t>(place.column - 1), line.size());
  std::string caret;
  for (std::size_t i = 0; i < begin; ++i) caret += line[i] == "\t" ? '\t' : ' ';
  caret += '^';
  const auto end =
      std::min(static_cast<std::size_t>(std::max(place.end_column - 1, 0)), line.size());
  if (end > begin + 1) caret.append(end - begin - 1, '~');
  return caret;
}

/// The line at fault and the caret line; empty where there is nothing to show.
std::string source_text(const Place& place, const Sources& sources) {
  const auto source = sources.find(place.file);
  if (source == sources.end() || place.line < 1 || place.column < 1) return {};
  const std::string_view line = line_of(source->second, place.line);
  // A code point has at most four bytes; this keeps a huge line from being taken apart.
  if (line.size() > 4 * kLongestShownLine) return {};
  const std::vector<std::string_view> shown = letters(line);
  if (shown.empty() || shown.size() > kLongestShownLine) return {};
  return fmt::format("{:>5} | {}\n{:>5} | {}\n", place.line, harmless(line), "",
                     caret_under(shown, place));
}

}  // namespace

std::string to_text(const Diagnostic& diagnostic, const Voice& voice, const Sources& sources) {
  const std::string severity = voice.say(std::string(severity_key(diagnostic.severity)));
  std::string result = fmt::format("{}{}: {}\n", place_text(diagnostic.place), severity,
                                   harmless(voice.say(diagnostic.message)));
  result += source_text(diagnostic.place, sources);
  for (const Message& hint : diagnostic.hints) {
    result += fmt::format("{}: {}\n", voice.say("severity-hint"), harmless(voice.say(hint)));
  }
  return result;
}

// ---- Nearest word ------------------------------------------------------------------------------

namespace {

using Letters = std::vector<std::string_view>;

/// How many letters must be put in, left out, replaced or swapped with their neighbour.
std::size_t edit_distance(const Letters& a, const Letters& b) {
  // Rows of the usual table: for the letters of `a` up to i - 2, i - 1 and i.
  std::array<std::vector<std::size_t>, 3> rows;
  rows.fill(std::vector<std::size_t>(b.size() + 1));
  for (std::size_t j = 0; j <= b.size(); ++j) rows[2][j] = j;
  for (std::size_t i = 1; i <= a.size(); ++i) {
    std::rotate(rows.begin(), rows.begin() + 1, rows.end());
    rows[2][0] = i;
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const std::size_t replaced = rows[1][j - 1] + (a[i - 1] == b[j - 1] ? 0 : 1);
      rows[2][j] = std::min({replaced, rows[1][j] + 1, rows[2][j - 1] + 1});
      const bool swapped = i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1];
      if (swapped) rows[2][j] = std::min(rows[2][j], rows[0][j - 2] + 1);
    }
  }
  return rows[2][b.size()];
}

std::size_t difference(std::size_t a, std::size_t b) { return a > b ? a - b : b - a; }

}  // namespace

std::string nearest(std::string_view word, const std::vector<std::string>& known) {
  const Letters asked = letters(word);
  std::size_t allowed = std::max<std::size_t>(asked.size() / 3, 1);
  std::string best;
  for (const std::string& candidate : known) {
    const Letters others = letters(candidate);
    // This also keeps a word of a hundred thousand letters from a table of that size.
    if (difference(asked.size(), others.size()) > allowed) continue;
    const std::size_t distance = edit_distance(asked, others);
    const bool has_nothing_in_common = distance >= std::max(asked.size(), others.size());
    if (distance > allowed || has_nothing_in_common) continue;
    if (distance == 0) return candidate;
    best = candidate;
    allowed = distance - 1;
  }
  return best;
}

}  // namespace pouchwright::base
