#include "desk/site.h"

#include <array>
#include <nlohmann/json.hpp>
#include <utility>

#include "desk/assets.h"
#include "desk/gzip.h"
#include "desk/page.h"
#include "job/report/print.h"
#include "job/report/reports.h"

namespace pouchwright::desk {

namespace {

using Json = nlohmann::ordered_json;

/// The files of page/ that are served as they are: name and media type.
constexpr std::array<std::pair<std::string_view, const char*>, 5> kFiles = {{
    {"desk.css", "text/css; charset=utf-8"},
    {"desk.mjs", "text/javascript; charset=utf-8"},
    {"numbers.mjs", "text/javascript; charset=utf-8"},
    {"words.mjs", "text/javascript; charset=utf-8"},
    {"icon.svg", "image/svg+xml"},
}};

/// The finished pouch with the construction's own sizes.
Answer picture(const std::string& construction, const job::Data& data) {
  return worked({"POST", "/api/steps/pouch.svg?picture=finished",
                 "construction = \"" + construction + "\"\n"},
                data);
}

}  // namespace

Site::Site(const job::Data& data) {
  // A missing font is told at once, rather than at the first picture.
  (void)data.fonts();
  const base::Voice words = data.words();
  const Json list = job::json(job::list_report(data, "", words).fields, words);
  answers_["/"] = {.type = "text/html; charset=utf-8", .body = page(list, data)};
  for (const auto& [name, type] : kFiles) {
    answers_["/" + std::string(name)] = {.type = type, .body = std::string(asset(name))};
  }
  for (const Json& one : list.at("constructions")) {
    const auto name = one.at("name").get<std::string>();
    answers_["/picture/" + name + ".svg"] = picture(name, data);
  }
  for (const std::string& name : data.sample_jobs()) {
    answers_["/jobs/" + name + ".toml"] = {.type = "application/toml; charset=utf-8",
                                           .body = data.file("patterns/" + name + ".toml").text};
  }
  small_ = answers_;
  for (auto& [path, answer] : small_) shrink(answer);
}

const Answer* Site::find(std::string_view path, bool takes_gzip) const {
  const auto& all = takes_gzip ? small_ : answers_;
  const auto found = all.find(path);
  return found == all.end() ? nullptr : &found->second;
}

}  // namespace pouchwright::desk
