#include "desk/site.h"

#include <nlohmann/json.hpp>
#include <string>
#include <string_view>

#include "desk/assets.h"
#include "desk/gzip.h"
#include "desk/page.h"
#include "job/report/print.h"
#include "job/report/reports.h"

namespace pouchwright::desk {

namespace {

using Json = nlohmann::ordered_json;

/// What the page is made of; the page itself is put together for whoever asks.
constexpr const char* kPage = "desk.html";

const char* type_of(std::string_view file) {
  if (file.ends_with(".css")) return "text/css; charset=utf-8";
  if (file.ends_with(".mjs") || file.ends_with(".js")) return "text/javascript; charset=utf-8";
  return "image/svg+xml";
}

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
  for (const std::string& name : asset_names()) {
    if (name != kPage)
      answers_["/" + name] = {.type = type_of(name), .body = std::string(asset(name))};
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
