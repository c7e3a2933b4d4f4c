// A group's own minutes as a work table, and its own setting and tolerances in its job.
#include <algorithm>
#include <cmath>
#include <utility>

#include "base/number.h"
#include "base/text.h"
#include "job/commands/record.h"
#include "job/job_text/edited.h"
#include "job/step_facts.h"

namespace pouchwright::job {

namespace {

using TextLines = std::vector<std::string>;

TextLines lines_of(const std::string& text) {
  TextLines lines;
  std::size_t at = 0;
  while (at < text.size()) {
    const std::size_t end = std::min(text.find('\n', at), text.size());
    lines.push_back(text.substr(at, end - at));
    at = end + 1;
  }
  return lines;
}

/// What one kind of work took, and what the plan has for the same.
struct KindMinutes {
  int pieces = 0;
  double recorded = 0;
  double planned = 0;
};

std::map<std::string, KindMinutes> by_kind(const Recorded& made) {
  std::map<std::string, KindMinutes> all;
  for (const batch::OperationMinutes& one : made.found.minutes) {
    const auto planned = made.planned.find(one.operation);
    if (planned == made.planned.end()) continue;
    KindMinutes& sum = all[planned->second.kind];
    sum.pieces += one.pieces;
    sum.recorded += one.minutes;
    sum.planned += one.pieces * planned->second.a_piece;
  }
  return all;
}

/// A kind's rating and allowance by which it takes `factor` times as long. What a rating cannot hold
/// goes into the allowance, both within what the reader takes.
struct Pace {
  double rating = 100;
  double allowance = 0;
};
Pace paced(const batch::WorkKind& kind, double factor) {
  constexpr double kLeastRating = 10;
  constexpr double kMost = 200;
  const double whole = kind.rating * factor;
  const double rating = std::clamp(whole, kLeastRating, kMost);
  const double left = whole > kMost ? whole / kMost : 1;
  return {rating, std::min(kMost, (100 + kind.allowance) * left - 100)};
}

bool is_header(const std::string& line) { return base::trimmed(line).starts_with('['); }

bool states(const std::string& line, const std::string& key) {
  const std::string_view text = base::trimmed(line);
  const std::size_t equals = text.find('=');
  return equals != std::string_view::npos && base::trimmed(text.substr(0, equals)) == key;
}

/// Sets a number of the table whose header is line `header`, from 0.
void set_number(TextLines& lines, std::size_t header, const std::string& key, double value,
                const std::string& why) {
  const std::string line = key + " = " + base::shortest(value, 2) + why;
  std::size_t at = header + 1;
  while (at < lines.size() && !is_header(lines[at]) && !states(lines[at], key)) ++at;
  if (at < lines.size() && states(lines[at], key)) {
    lines[at] = line;
  } else {
    lines.insert(lines.begin() + static_cast<std::ptrdiff_t>(header) + 1, line);
  }
}

std::string told_minutes(const Run& run, const KindMinutes& one) {
  return "  # " + run.say({"record-work-comment",
                           {{"pieces", one.pieces},
                            {"minutes", base::fixed(one.recorded / one.pieces, 2)},
                            {"planned", base::fixed(one.planned / one.pieces, 2)}}});
}

/// All three by one factor, so that they make up what the seals show, and no finer than a tenth.
base::Length scaled(base::Length tolerance, double factor) {
  constexpr double kStep = 10;
  const double tenths = std::ceil(tolerance.in_mm() * factor * kStep - 1e-6);
  return base::Length::mm(tenths / kStep);
}

}  // namespace

std::optional<std::string> recorded_work(Run& run, const Recorded& made) {
  const auto table = work_table(run);
  const std::string file = table->place.file;
  TextLines lines =
      lines_of(run.source_of(file).value_or(run.data().file("shared/work.toml").text));
  auto kinds = table->kinds;
  const auto minutes = by_kind(made);
  // From the end, so that lines put in move none that is still to be found.
  std::sort(kinds.begin(), kinds.end(),
            [](const auto& a, const auto& b) { return a.place.line > b.place.line; });
  for (const batch::WorkKind& kind : kinds) {
    const auto found = minutes.find(kind.name);
    if (found == minutes.end() || found->second.planned <= 0 || found->second.recorded <= 0)
      continue;
    const auto header = static_cast<std::size_t>(kind.place.line - 1);
    if (header >= lines.size() || !is_header(lines[header])) {
      run.diagnostics().error(kind.place, {"record-work-written", {{"name", kind.name}}},
                              {{"record-work-written-hint", {{"name", kind.name}}}});
      return std::nullopt;
    }
    const Pace pace = paced(kind, found->second.recorded / found->second.planned);
    if (pace.allowance != kind.allowance)
      set_number(lines, header, "allowance", pace.allowance, "");
    set_number(lines, header, "rating", pace.rating, told_minutes(run, found->second));
  }
  return base::list_text(lines, "\n") + "\n";
}

std::string recorded_job(const Run& run, const Recorded& made) {
  std::string text = run.job_text();
  const auto set = [&text](const char* path, const std::string& value) {
    text = edited(text, path, value).value_or(text);
  };
  if (const auto& setting = made.found.setting) {
    set("iron.dots", std::to_string(setting->dots));
    set("iron.steam", setting->steam ? "true" : "false");
    set("iron.seconds", base::shortest(setting->seconds, 2));
  }
  const auto& seals = made.found.clear_seals;
  if (!seals || seals->measured < batch::kFewMeasured) return text;
  const pouch::Tolerances& stated = run.pouch().request.tolerance;
  // Nearly all seals lie within three standard deviations of their mean.
  const double shown = run.pouch().clear_seal.in_mm() - (seals->mean_mm - 3 * seals->spread_mm);
  if (shown <= 0 || stated.sum() <= base::Length()) return text;
  const double factor = shown / stated.sum().in_mm();
  const auto unit = run.pouch().request.units;
  const auto length = [&](base::Length one) {
    return toml_text(base::exact_text(scaled(one, factor), unit));
  };
  set("tolerance.cut", length(stated.cut.value));
  set("tolerance.place", length(stated.place.value));
  set("tolerance.sew", length(stated.sew.value));
  return text;
}

}  // namespace pouchwright::job
