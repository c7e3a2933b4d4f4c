#include "desk/answer.h"

#include <algorithm>
#include <array>
#include <filesystem>
#include <iterator>
#include <optional>
#include <string_view>
#include <utility>
#include <vector>

#include "desk/edit.h"
#include "desk/target.h"
#include "desk/zip.h"
#include "job/command_table.h"
#include "job/job.h"

namespace pouchwright::desk {

namespace {

using job::CommandRow;
using job::JobOptions;
using job::Outcome;
using job::Status;
using GoesOn = std::function<bool()>;

/// Commands whose SVG files are taken home together.
constexpr std::array<std::string_view, 2> kWithSvgFiles = {"template", "mask"};

/// The desk has what makes something of a job that it is given.
const CommandRow* route_of(std::string_view name) {
  const CommandRow* row = job::command_called(name);
  return row == nullptr || row->needs == job::Needs::nothing ? nullptr : row;
}

std::string type_of(std::string_view file) {
  if (file.ends_with(".pdf")) return "application/pdf";
  if (file.ends_with(".svg")) return "image/svg+xml";
  if (file.ends_with(".csv")) return "text/csv; charset=utf-8";
  if (file.ends_with(".json")) return "application/json";
  return "application/octet-stream";
}

// ---- Options ----

/// Options of every run: nothing is written, nothing is named by its path.
JobOptions options_for(const CommandRow& route, std::string job, const GoesOn& goes_on) {
  JobOptions options;
  options.command = route.command;
  options.job_file = kJobName;
  options.job_text = std::move(job);
  options.writing = job::Writing::kept;
  options.naming = job::Naming::names_only;
  options.form = job::Form::json;
  options.goes_on = goes_on;
  return options;
}

// ---- Outcomes ----

/// What is answered where a run did not end well.
Answer fault(const Outcome& outcome, const base::Voice& words) {
  switch (outcome.status) {
    case Status::job_wrong:
      // Asked for the table, a command says what is wrong in words.
      if (outcome.out.empty()) return {.status = 422, .body = outcome.err};
      return {422, "application/json", outcome.out, "", ""};
    case Status::usage_wrong:
      return {.status = 400, .body = outcome.err};
    case Status::stopped:
      return refusal(503, {"desk-too-long"}, words);
    case Status::done:
    case Status::machine_refused:
    case Status::our_bug:
      break;
  }
  return {.status = 500, .body = outcome.err};
}

/// A file of that name and no other.
std::function<bool(const std::filesystem::path&)> only(const std::string& name) {
  return [name](const std::filesystem::path& path) { return path.filename() == name; };
}

const job::MadeFile* file_of(const Outcome& outcome, std::string_view name) {
  for (const job::MadeFile& made : outcome.files) {
    if (made.path.filename().string() == name) return &made;
  }
  return nullptr;
}

/// A call of one command.
class Call {
 public:
  Call(const Fields& query, const std::string& job, const job::Data& data, const GoesOn& goes_on)
      : query_(query), job_(job), data_(data), goes_on_(goes_on) {}

  /// The report of the command, or the file called `file`.
  [[nodiscard]] Answer answer(const CommandRow& route, const std::string& file) const {
    auto options = options_of(route, file);
    if (!options) return refusal(400, {"desk-query"}, data_.words());
    options->wants = only(file);
    const Outcome outcome = job::run_job(*options, data_);
    if (outcome.status != Status::done) return fault(outcome, data_.words());
    if (file.empty() && options->form == job::Form::text) return {.body = outcome.out};
    if (file.empty()) return {200, "application/json", outcome.out, "", ""};
    const job::MadeFile* made = file_of(outcome, file);
    if (made == nullptr) return refusal(404, {"desk-no-such-file"}, data_.words());
    return {200, type_of(file), made->bytes, "", ""};
  }

  /// The SVG files of several commands in one archive.
  [[nodiscard]] Answer svg_files() const {
    std::vector<job::MadeFile> all;
    for (const std::string_view name : kWithSvgFiles) {
      auto options = options_of(*route_of(name), "");
      if (!options) return refusal(400, {"desk-query"}, data_.words());
      options->wants = [](const auto& path) { return path.extension() == ".svg"; };
      Outcome outcome = job::run_job(*options, data_);
      if (outcome.status != Status::done) return fault(outcome, data_.words());
      // The fold gauge is among both, and the same.
      for (job::MadeFile& file : outcome.files) {
        const bool is_there = std::any_of(all.begin(), all.end(), [&](const job::MadeFile& one) {
          return one.path == file.path;
        });
        if (!is_there) all.push_back(std::move(file));
      }
    }
    return {200, "application/zip", zipped(all), "", ""};
  }

 private:
  [[nodiscard]] std::optional<JobOptions> options_of(const CommandRow& route,
                                                     const std::string& file) const {
    JobOptions options = options_for(route, job_, goes_on_);
    if (route.out == job::Out::file) options.out = file;
    for (const auto& [name, value] : query_) {
      if (!job::take_from_query(options, name, value)) return std::nullopt;
    }
    return options;
  }

  const Fields& query_;
  const std::string& job_;
  const job::Data& data_;
  const GoesOn& goes_on_;
};

Answer called(const Target& target, const std::string& job, const job::Data& data,
              const GoesOn& goes_on) {
  const Call call(target.query, job, data, goes_on);
  const std::string rest = target.path.substr(std::string_view("/api/").size());
  if (rest == "svg.zip") return call.svg_files();
  if (rest == "edit") return edited_job(target.query, job, data, goes_on);
  const std::size_t slash = rest.find('/');
  const CommandRow* route = route_of(std::string_view(rest).substr(0, slash));
  const std::string file = slash == std::string::npos ? "" : rest.substr(slash + 1);
  const bool names_file = slash != std::string::npos;
  if (route == nullptr || (names_file && (file.empty() || route->out == job::Out::nothing)) ||
      file.find('/') != std::string::npos) {
    return refusal(404, {"desk-not-found"}, data.words());
  }
  return call.answer(*route, file);
}

// ---- Without scripts ----

/// A whole page of one text, shown as it is.
Answer text_page(int status, const std::string& text, const base::Voice& words) {
  const std::string title = html_text(words.say({"desk-print-wrong"}));
  return {status, "text/html; charset=utf-8",
          "<!doctype html><html lang=\"" + html_text(words.say({"desk-language"})) +
              "\"><meta charset=\"utf-8\"><title>" + title +
              "</title><meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">"
              "<link rel=\"icon\" href=\"/icon.svg\"><link rel=\"stylesheet\" "
              "href=\"/desk.css\"><main class=\"plain\"><h1>" +
              title + "</h1><pre>" + html_text(text) + "</pre><p>" +
              html_text(words.say({"desk-print-back"})) + "</p></main></html>\n",
          "", ""};
}

/// Every field of the form that was filled in stands for a value of the job, by its path; `make`
/// names the command.
Answer printed(const std::string& body, const job::Data& data, const GoesOn& goes_on) {
  const auto fields = read_form(body);
  if (!fields) return refusal(400, {"desk-query"}, data.words());
  const CommandRow* route = nullptr;
  std::vector<std::string> sets;
  for (const auto& [name, value] : *fields) {
    if (name == "make") {
      route = route_of(value);
    } else if (!value.empty()) {
      sets.push_back(name + "=" + value);
    }
  }
  if (route == nullptr || route->out == job::Out::nothing) {
    return refusal(400, {"desk-query"}, data.words());
  }
  const std::string file = std::string(route->name) + ".pdf";
  JobOptions options = options_for(*route, "", goes_on);
  options.form = job::Form::text;
  options.sets = std::move(sets);
  if (route->out == job::Out::file) options.out = file;
  options.wants = only(file);
  const Outcome outcome = job::run_job(options, data);
  if (outcome.status != Status::done) {
    const Answer wrong = fault(outcome, data.words());
    const bool is_told = !outcome.err.empty();
    return text_page(wrong.status, is_told ? outcome.err : wrong.body, data.words());
  }
  const job::MadeFile* made = file_of(outcome, file);
  if (made == nullptr) return refusal(404, {"desk-no-such-file"}, data.words());
  return {200, type_of(file), made->bytes, file, ""};
}

}  // namespace

Checked checked(const std::string& job, const job::Data& data, const GoesOn& goes_on) {
  JobOptions options = options_for(job::row_of(job::Command::check), job, goes_on);
  options.pictures = true;
  Outcome outcome = job::run_job(options, data);
  if (outcome.status != Status::done) return {fault(outcome, data.words()), {}};
  return {{200, "application/json", outcome.out, "", ""}, std::move(outcome.files)};
}

Answer in_parts(const std::vector<Part>& parts) {
  static const std::string kBoundary = "part_of_the_answer";
  std::string body;
  for (const Part& part : parts) {
    body += "--" + kBoundary + "\r\nContent-Disposition: form-data; name=\"" + part.name +
            "\"; filename=\"" + part.name + "\"\r\nContent-Type: " + part.type + "\r\n\r\n";
    body += part.body;
    body += "\r\n";
  }
  body += "--" + kBoundary + "--\r\n";
  return {200, "multipart/form-data; boundary=" + kBoundary, std::move(body), "", ""};
}

Answer refusal(int status, const base::Message& why, const base::Voice& words) {
  return {.status = status, .body = words.say(why) + "\n"};
}

Answer worked(const Request& request, const job::Data& data, const std::function<bool()>& goes_on) {
  try {
    const auto target = read_target(request.target);
    if (!target) return refusal(400, {"desk-bad-request"}, data.words());
    if (target->path == "/print") return printed(request.body, data, goes_on);
    if (target->path.starts_with("/api/")) return called(*target, request.body, data, goes_on);
    return refusal(404, {"desk-not-found"}, data.words());
  } catch (const std::exception& failure) {
    return fault(job::refused(data.words(), failure), data.words());
  }
}

}  // namespace pouchwright::desk
