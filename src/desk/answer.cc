#include "desk/answer.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <filesystem>
#include <memory>
#include <nlohmann/json.hpp>
#include <optional>
#include <string_view>
#include <utility>
#include <vector>

#include "desk/call.h"
#include "desk/edit.h"
#include "desk/gzip.h"
#include "desk/target.h"
#include "desk/zip.h"
#include "job/command_table.h"
#include "job/job.h"

namespace pouchwright::desk {

namespace {

/// The language of a page, in a query or among the fields of its form.
constexpr std::string_view kTongue = "tongue";

/// The field's last value, which is taken out of `fields`; empty where there is none.
std::string taken(std::string_view name, Fields& fields) {
  std::string value;
  std::erase_if(fields, [&](auto& one) {
    if (one.first != name) return false;
    value = std::move(one.second);
    return true;
  });
  return value;
}

/// As long as one lives, the data speak the language that `tag` asks for, where there is such.
class Spoken {
 public:
  Spoken(const job::Data& data, std::string_view tag) : data_(data), before_(data.language()) {
    if (const auto named = base::language_named(tag, data.languages())) data.speak(*named);
  }
  Spoken(const Spoken&) = delete;
  Spoken& operator=(const Spoken&) = delete;
  ~Spoken() { data_.speak(before_); }

 private:
  const job::Data& data_;
  std::string before_;
};

using job::Outcome;
using job::Status;
using GoesOn = std::function<bool()>;

/// Commands whose SVG files are taken home together.
constexpr std::array<std::string_view, 2> kWithSvgFiles = {"template", "mask"};

std::string type_of(std::string_view file) {
  if (file.ends_with(".pdf")) return "application/pdf";
  if (file.ends_with(".svg")) return "image/svg+xml";
  if (file.ends_with(".png")) return "image/png";
  if (file.ends_with(".csv")) return "text/csv; charset=utf-8";
  if (file.ends_with(".json")) return "application/json";
  return "application/octet-stream";
}

// ---- Outcomes ----

const job::MadeFile* file_of(const Outcome& outcome, std::string_view name) {
  for (const job::MadeFile& made : outcome.files) {
    if (made.path.filename().string() == name) return &made;
  }
  return nullptr;
}

bool holds(const std::vector<std::string>& names, const std::string& name) {
  return std::find(names.begin(), names.end(), name) != names.end();
}

// ---- Runs --------------------------------------------------------------------------------------

/// Which page a picture is of, from 0: `2.png` is of the second.
std::optional<std::size_t> page_of(const std::string& file) {
  std::size_t number = 0;
  const char* last = file.data() + file.size();
  const auto [end, fault] = std::from_chars(file.data(), last, number);
  const std::string_view rest(end, static_cast<std::size_t>(last - end));
  if (fault != std::errc() || rest != ".png" || number == 0) return {};
  return number - 1;
}

Answer pages_report(const job::PagePictures& pictures) {
  nlohmann::ordered_json pages = nlohmann::ordered_json::array();
  for (const auto& page : pictures.pages) {
    pages.push_back({{"width_mm", page.width_mm}, {"height_mm", page.height_mm}});
  }
  return {200, "application/json", nlohmann::ordered_json{{"pages", pages}}.dump() + "\n"};
}

/// One run of a command for all calls that it can answer.
class Answers {
 public:
  /// Requires: is_same_run() for all of them.
  Answers(const std::vector<const Call*>& calls, const std::string& job, const job::Data& data,
          const GoesOn& goes_on)
      : data_(data) {
    const Call& first = *calls.front();
    options_ = options_of(first, job, goes_on);
    if (!options_) return;
    std::vector<std::string> files;
    for (const Call* call : calls) files.push_back(call->file);
    if (first.shown == job::Shown::pages) {
      options_->page_pictures = std::make_shared<job::PagePictures>();
      for (const std::string& file : files) {
        if (const auto page = page_of(file)) options_->page_pictures->wanted.push_back(*page);
      }
      const std::string pdf = first.row->name + std::string(".pdf");
      options_->wants = [pdf](const auto& path) { return path.filename() == pdf; };
    } else {
      options_->wants = [files](const auto& path) {
        return holds(files, path.filename().string());
      };
    }
    outcome_ = job::run_job(*options_, data);
  }

  /// The report of the command, or the file that the call names.
  [[nodiscard]] Answer answer(const Call& call) const {
    if (!options_) return refusal(400, {"desk-query"}, data_.words());
    if (outcome_.status != Status::done) return told(outcome_, data_.words());
    if (call.shown == job::Shown::pages) return page(call);
    if (call.file.empty() && options_->form == job::Form::text) return {.body = outcome_.out};
    if (call.file.empty()) return told(outcome_, data_.words());
    const job::MadeFile* made = file_of(outcome_, call.file);
    if (made == nullptr) return refusal(404, {"desk-no-such-file"}, data_.words());
    return {200, type_of(call.file), made->bytes};
  }

 private:
  [[nodiscard]] Answer page(const Call& call) const {
    const auto& pages = options_->page_pictures->pages;
    if (call.file.empty() && !pages.empty()) return pages_report(*options_->page_pictures);
    const auto number = page_of(call.file);
    if (!number || *number >= pages.size()) {
      return refusal(404, {"desk-no-such-file"}, data_.words());
    }
    return {200, "image/png", pages[*number].png};
  }

  const job::Data& data_;
  std::optional<job::JobOptions> options_;
  Outcome outcome_;
};

/// The SVG files of several commands in one archive.
Answer svg_files(Fields query, const std::string& job, const job::Data& data,
                 const GoesOn& goes_on) {
  const base::FieldNames names = take_names(query);
  std::vector<job::MadeFile> all;
  for (const std::string_view name : kWithSvgFiles) {
    const Call call{.row = job::command_called(name), .query = query, .names = names};
    auto options = options_of(call, job, goes_on);
    if (!options) return refusal(400, {"desk-query"}, data.words());
    options->wants = [](const auto& path) { return path.extension() == ".svg"; };
    Outcome outcome = job::run_job(*options, data);
    if (outcome.status != Status::done) return told(outcome, data.words());
    // The fold gauge is among both, and the same.
    for (job::MadeFile& file : outcome.files) {
      const bool is_there = std::any_of(
          all.begin(), all.end(), [&](const job::MadeFile& one) { return one.path == file.path; });
      if (!is_there) all.push_back(std::move(file));
    }
  }
  return {200, "application/zip", zipped(all)};
}

// ---- Several at once ---------------------------------------------------------------------------

constexpr std::string_view kApi = "/api/";
/// More are asked for by nobody who looks at a screen.
constexpr std::size_t kMostRoutes = 64;

/// The answers in the order of `calls`; empty calls lead nowhere.
std::vector<Answer> answers_to(const std::vector<std::optional<Call>>& calls,
                               const std::string& job, const job::Data& data,
                               const GoesOn& goes_on) {
  std::vector<std::optional<Answer>> made(calls.size());
  for (std::size_t first = 0; first < calls.size(); ++first) {
    if (!calls[first]) made[first] = refusal(404, {"desk-not-found"}, data.words());
    if (made[first]) continue;
    std::vector<std::size_t> together;
    std::vector<const Call*> alike;
    for (std::size_t i = first; i < calls.size(); ++i) {
      if (made[i] || !calls[i] || !is_same_run(*calls[first], *calls[i])) continue;
      together.push_back(i);
      alike.push_back(&*calls[i]);
    }
    const Answers run(alike, job, data, goes_on);
    for (const std::size_t i : together) made[i] = run.answer(*calls[i]);
  }
  std::vector<Answer> all;
  for (auto& one : made) all.push_back(*std::move(one));
  return all;
}

void add(const Fields& more, Fields& query) { query.insert(query.end(), more.begin(), more.end()); }

Answer several(Fields query, const Sent& sent, const job::Data& data, const GoesOn& goes_on) {
  const base::FieldNames names = take_names(query);
  if (query.size() > kMostRoutes) return refusal(400, {"desk-query"}, data.words());
  std::vector<std::optional<Call>> calls;
  for (const auto& [name, route] : query) {
    // A name with these would end before its end.
    const bool is_name = route.find_first_of("\"\r\n") == std::string::npos;
    if (name != "of" || !is_name) return refusal(400, {"desk-query"}, data.words());
    const auto target = read_target(std::string(kApi) + route);
    calls.push_back(target ? read_call(*target) : std::nullopt);
    if (!calls.back()) continue;
    if (names == base::FieldNames::words) calls.back()->names = names;
    add(sent.more, calls.back()->query);
  }
  const std::vector<Answer> answers = answers_to(calls, sent.job, data, goes_on);
  nlohmann::ordered_json status;
  for (std::size_t i = 0; i < answers.size(); ++i) status[query[i].second] = answers[i].status;
  const std::string statuses = status.dump();
  std::vector<Part> parts{{"status", "application/json", statuses}};
  for (std::size_t i = 0; i < answers.size(); ++i) {
    parts.push_back({query[i].second, answers[i].type, answers[i].body});
  }
  return in_parts(parts);
}

Answer called(Target target, const std::string& body, const job::Data& data,
              const GoesOn& goes_on) {
  const std::string route = target.path.substr(kApi.size());
  const auto sent = read_sent(target.query, body);
  if (!sent) return refusal(400, {"desk-query"}, data.words());
  if (route == "several") return several(target.query, *sent, data, goes_on);
  add(sent->more, target.query);
  if (route == "svg.zip") return svg_files(target.query, sent->job, data, goes_on);
  if (route == "edit") return edited_job(read_edit(target.query), sent->job, data, goes_on);
  const auto call = read_call(target);
  if (!call) return refusal(404, {"desk-not-found"}, data.words());
  return Answers({&*call}, sent->job, data, goes_on).answer(*call);
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
              html_text(words.say({"desk-print-back"})) + "</p></main></html>\n"};
}

/// Every field of the form that was filled in stands for a value of the job, by its path; `make`
/// names the command.
Answer printed(const std::string& body, const job::Data& data, const GoesOn& goes_on) {
  auto fields = read_form(body);
  if (!fields) return refusal(400, {"desk-query"}, data.words());
  const Spoken spoken(data, taken(kTongue, *fields));
  const job::CommandRow* route = nullptr;
  std::vector<std::string> sets;
  for (const auto& [name, value] : *fields) {
    if (name == "make") {
      const auto call = read_call({std::string(kApi) + value, {}});
      route = call ? call->row : nullptr;
    } else if (!value.empty()) {
      sets.push_back(name + "=" + value);
    }
  }
  if (route == nullptr || route->out == job::Out::nothing) {
    return refusal(400, {"desk-query"}, data.words());
  }
  const std::string file = std::string(route->name) + ".pdf";
  job::JobOptions options = options_for(*route, "", goes_on);
  options.form = job::Form::text;
  options.field_names = base::FieldNames::words;
  options.sets = std::move(sets);
  if (route->out == job::Out::file) options.out = file;
  options.wants = [file](const auto& path) { return path.filename() == file; };
  const Outcome outcome = job::run_job(options, data);
  if (outcome.status != Status::done) {
    const Answer wrong = told(outcome, data.words());
    const bool is_told = !outcome.err.empty();
    return text_page(wrong.status, is_told ? outcome.err : wrong.body, data.words());
  }
  const job::MadeFile* made = file_of(outcome, file);
  if (made == nullptr) return refusal(404, {"desk-no-such-file"}, data.words());
  return {200, type_of(file), made->bytes, file};
}

Answer plain_answer(const Request& request, const job::Data& data, const GoesOn& goes_on) {
  try {
    auto target = read_target(request.target);
    if (!target) return refusal(400, {"desk-bad-request"}, data.words());
    const Spoken spoken(data, taken(kTongue, target->query));
    if (target->path == "/print") return printed(request.body, data, goes_on);
    if (target->path.starts_with(kApi)) return called(*target, request.body, data, goes_on);
    return refusal(404, {"desk-not-found"}, data.words());
  } catch (const std::exception& failure) {
    return told(job::refused(data.words(), failure), data.words());
  }
}

}  // namespace

Answer told(const Outcome& outcome, const base::Voice& words) {
  switch (outcome.status) {
    case Status::job_wrong:
      // Asked for the table, a command says what is wrong in words.
      if (outcome.out.empty()) return {.status = 422, .body = outcome.err};
      return {422, "application/json", outcome.out};
    case Status::usage_wrong:
      return {.status = 400, .body = outcome.err};
    case Status::stopped:
      return refusal(503, {"desk-too-long"}, words);
    case Status::done:
      return {200, "application/json", outcome.out};
    case Status::machine_refused:
    case Status::our_bug:
      break;
  }
  return {.status = 500, .body = outcome.err};
}

Answer in_parts(const std::vector<Part>& parts) {
  // Nothing in a part may look like its end.
  std::string boundary = "part_of_the_answer";
  const auto is_inside = [&](const Part& part) {
    return part.body.find(boundary) != std::string_view::npos;
  };
  while (std::any_of(parts.begin(), parts.end(), is_inside)) boundary += '_';
  std::string body;
  for (const Part& part : parts) {
    body += "--" + boundary + "\r\nContent-Disposition: form-data; name=\"" + part.name +
            "\"; filename=\"" + part.name + "\"\r\nContent-Type: " + part.type + "\r\n\r\n";
    body += part.body;
    body += "\r\n";
  }
  body += "--" + boundary + "--\r\n";
  return {200, "multipart/form-data; boundary=" + boundary, std::move(body)};
}

Answer refusal(int status, const base::Message& why, const base::Voice& words) {
  return {.status = status, .body = words.say(why) + "\n"};
}

Answer worked(const Request& request, const job::Data& data, const std::function<bool()>& goes_on) {
  Answer answer = plain_answer(request, data, goes_on);
  if (request.takes_gzip) shrink(answer);
  return answer;
}

}  // namespace pouchwright::desk
