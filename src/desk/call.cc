#include "desk/call.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <string_view>
#include <utility>

namespace pouchwright::desk {

namespace {

using job::CommandRow;
using job::Shown;

constexpr std::string_view kFolding = "folding";
constexpr std::string_view kPages = "pages";

/// The desk has what makes something of a job that it is given.
const CommandRow* row_called(std::string_view name) {
  const CommandRow* row = job::command_called(name);
  return row == nullptr || row->needs == job::Needs::nothing ? nullptr : row;
}

/// `3.svg` at 0.4 is the file `3-40.svg`, as job::folding_file() calls it.
bool take_moment(Call& call) {
  const auto at = std::find_if(call.query.begin(), call.query.end(),
                               [](const auto& one) { return one.first == "at"; });
  if (at == call.query.end()) return call.file.empty();
  char* end = nullptr;
  const double share = std::strtod(at->second.c_str(), &end);
  const bool is_number = !at->second.empty() && *end == '\0' && share >= 0 && share <= 1;
  const std::size_t ending = call.file.rfind(".svg");
  if (!is_number || ending == std::string::npos) return false;
  call.file.insert(ending, "-" + std::to_string(std::lround(share * 100)));
  call.query.erase(at);
  return true;
}

}  // namespace

base::FieldNames take_names(Fields& query) {
  const auto asks = [](const auto& one) { return one.first == "names" && one.second == "words"; };
  return std::erase_if(query, asks) > 0 ? base::FieldNames::words : base::FieldNames::keys;
}

std::optional<Call> read_call(const Target& target) {
  constexpr std::string_view kRoot = "/api/";
  if (!target.path.starts_with(kRoot)) return std::nullopt;
  std::string_view rest = std::string_view(target.path).substr(kRoot.size());
  const auto first = [&rest] {
    const std::size_t slash = rest.find('/');
    const std::string_view name = rest.substr(0, slash);
    rest.remove_prefix(slash == std::string_view::npos ? rest.size() : slash + 1);
    return name;
  };
  const bool names_file = rest.find('/') != std::string_view::npos;
  const std::string_view name = first();
  Call call{.row = row_called(name), .query = target.query};
  call.names = take_names(call.query);
  if (name == kFolding) {
    call.row = &job::row_of(job::Command::steps);
    call.shown = Shown::folding;
  } else if (name == kPages) {
    const std::string_view file = first();
    if (!file.ends_with(".pdf")) return std::nullopt;
    call.row = row_called(file.substr(0, file.size() - std::string_view(".pdf").size()));
    call.shown = Shown::pages;
  }
  call.file = rest;
  const bool is_report = call.shown != Shown::results || !names_file;
  if (call.row == nullptr || (call.file.empty() && !is_report) ||
      (!call.file.empty() && call.row->out == job::Out::nothing) ||
      call.file.find('/') != std::string::npos) {
    return std::nullopt;
  }
  if (call.shown == Shown::folding && !take_moment(call)) return std::nullopt;
  return call;
}

std::optional<Sent> read_sent(Fields& query, const std::string& body) {
  const auto says_so = [](const auto& one) {
    return one.first == "sent" && one.second == "fields";
  };
  if (std::erase_if(query, says_so) == 0) return Sent{body, {}};
  auto fields = read_form(body);
  if (!fields) return std::nullopt;
  Sent sent;
  for (auto& [name, value] : *fields) {
    if (name == "job") {
      sent.job = std::move(value);
    } else {
      sent.more.emplace_back(std::move(name), std::move(value));
    }
  }
  return sent;
}

bool is_same_run(const Call& a, const Call& b) {
  // What --out names a file after makes another file for each name.
  const bool is_by_name = a.row->out == job::Out::file && a.shown == Shown::results;
  return a.row == b.row && a.shown == b.shown && a.query == b.query && a.names == b.names &&
         (!is_by_name || a.file == b.file);
}

job::JobOptions options_for(const CommandRow& row, std::string job,
                            const std::function<bool()>& goes_on) {
  job::JobOptions options;
  options.command = row.command;
  options.job_file = kJobName;
  options.job_text = std::move(job);
  options.writing = job::Writing::kept;
  options.naming = job::Naming::names_only;
  options.form = job::Form::json;
  options.goes_on = goes_on;
  return options;
}

std::optional<job::JobOptions> options_of(const Call& call, std::string job,
                                          const std::function<bool()>& goes_on) {
  job::JobOptions options = options_for(*call.row, std::move(job), goes_on);
  options.shown = call.shown;
  options.field_names = call.names;
  if (call.row->out == job::Out::file) {
    options.out = call.file;
    if (call.shown == Shown::pages) options.out = std::string(call.row->name) + ".pdf";
    if (call.shown == Shown::folding) options.out.clear();
  }
  for (const auto& [name, value] : call.query) {
    if (!job::take_from_query(options, name, value)) return std::nullopt;
  }
  // Pieces that are named are laid alone, whatever job is open.
  if (!options.quick.pieces.empty()) {
    options.job_file.clear();
    options.job_text.reset();
  }
  return options;
}

}  // namespace pouchwright::desk
