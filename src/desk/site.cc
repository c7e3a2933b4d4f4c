#include "desk/site.h"

#include <nlohmann/json.hpp>
#include <utility>

#include "desk/assets.h"
#include "desk/page.h"
#include "job/job.h"

namespace pouchwright::desk {

namespace {

using Json = nlohmann::ordered_json;

/// What constructions, materials and papers there are, as the command `list` reports it.
Json listed(const job::Data& data) {
  const job::Outcome outcome =
      job::run_job({.command = job::Command::list, .form = job::Form::json}, data);
  if (outcome.status != job::Status::done) throw diag::Failure("", {"desk-no-list"});
  return Json::parse(outcome.out);
}

/// The finished pouch with the construction's own sizes.
Answer picture(const std::string& construction, const job::Data& data) {
  return worked({"POST", "/api/steps/pouch.svg?picture=finished",
                 "construction = \"" + construction + "\"\n"},
                data);
}

}  // namespace

Site::Site(const job::Data& data) {
  const Json list = listed(data);
  answers_["/"] = {.type = "text/html; charset=utf-8", .body = page(list, data)};
  answers_["/desk.css"] = {.type = "text/css; charset=utf-8",
                           .body = std::string(asset("desk.css"))};
  answers_["/desk.js"] = {.type = "text/javascript; charset=utf-8",
                          .body = std::string(asset("desk.js"))};
  answers_["/icon.svg"] = {.type = "image/svg+xml", .body = std::string(asset("icon.svg"))};
  for (const Json& one : list.at("constructions")) {
    const auto name = one.at("name").get<std::string>();
    answers_["/picture/" + name + ".svg"] = picture(name, data);
  }
}

const Answer* Site::find(std::string_view path) const {
  const auto found = answers_.find(path);
  return found == answers_.end() ? nullptr : &found->second;
}

}  // namespace pouchwright::desk
