#include "job/commands/new_day.h"

#include <charconv>
#include <filesystem>
#include <string_view>

#include "base/text.h"
#include "batch/settings.h"
#include "job/day.h"
#include "job/job_text/day_text.h"

namespace pouchwright::job {

namespace fs = std::filesystem;

namespace {

constexpr const char* kUsualFile = "new-day.toml";
constexpr const char* kStandardOutput = "-";

[[noreturn]] void refuse(const std::string& text) {
  throw UsageFault{{"usage-option", {{"option", "--day"}, {"text", text.substr(0, 60)}}},
                   {{"new-day-hint", {{"most", batch::kMostPouches}}}}};
}

/// `three-liners.toml * 30`, or without a number.
DayText::Make make_of(const std::string& text) {
  const std::size_t star = text.rfind('*');
  DayText::Make made{std::string(base::trimmed(text.substr(0, star)))};
  if (made.job.empty()) refuse(text);
  if (star == std::string::npos) return made;
  const std::string count(base::trimmed(text.substr(star + 1)));
  int number = 0;
  const auto [end, fault] = std::from_chars(count.data(), count.data() + count.size(), number);
  const bool is_whole = fault == std::errc() && end == count.data() + count.size();
  if (!is_whole || number < 1 || number > batch::kMostPouches) refuse(text);
  made.pouches = number;
  return made;
}

/// The new day as `check` reads it.
JobOptions options_to_check(const Run& run, const std::string& out, const std::string& text) {
  JobOptions options;
  options.command = Command::check;
  options.job_file = out == kStandardOutput ? kUsualFile : out;
  options.job_text = text;
  options.form = run.options().form;
  options.talk = run.options().talk;
  options.writing = run.options().writing;
  return options;
}

}  // namespace

std::string path_from(const std::string& file, const std::string& folder_of) {
  const fs::path folder = fs::absolute(folder_of).parent_path();
  const fs::path path = fs::absolute(file).lexically_normal();
  return path.lexically_relative(folder.lexically_normal()).generic_string();
}

Answer new_day(Run& run) {
  const JobOptions& options = run.options();
  const std::string out = options.out.empty() ? kUsualFile : options.out;
  const bool is_shown = out == kStandardOutput;
  if (!is_shown && !options.answers.overwrites) keep_what_is_there(out);
  DayText day{options.answers.title.value_or(""), {}};
  for (const std::string& one : options.answers.days) {
    DayText::Make make = make_of(one);
    make.job = path_from(make.job, is_shown ? kUsualFile : out);
    day.makes.push_back(std::move(make));
  }
  const std::string text = day_text(day, run.words());
  Run inner(options_to_check(run, out, text), run.data());
  const auto read = read_day(inner, {});
  if (!read) return inner.job_wrong();
  Made made{{}, {}, Made::Told::files};
  made.report.field("job", text);
  if (is_shown) made.report.write(text.substr(0, text.find_last_not_of('\n') + 1));
  if (!is_shown) made.files.add(out, text);
  return inner.done(std::move(made));
}

}  // namespace pouchwright::job
