#include "desk/site.h"

#include <nlohmann/json.hpp>
#include <string>
#include <string_view>

#include "base/number_read.h"
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

/// How much a language of a list is wanted: `q=0.5` behind its semicolon, else 1.
double weight_of(std::string_view one) {
  const std::size_t at = one.find("q=");
  if (at == one.npos) return 1;
  const auto read = base::number_at_front(one.substr(at + 2));
  return read ? read->value : 0;
}

std::string wanted_language(std::string_view wanted, const job::Data& data) {
  std::string best = data.language();
  double most = 0;
  while (!wanted.empty()) {
    const std::size_t comma = std::min(wanted.find(','), wanted.size());
    std::string_view one = wanted.substr(0, comma);
    wanted.remove_prefix(std::min(comma + 1, wanted.size()));
    one.remove_prefix(std::min(one.find_first_not_of(' '), one.size()));
    const auto named =
        base::language_named(one.substr(0, one.find_first_of("; ")), data.languages());
    if (!named || weight_of(one) <= most) continue;
    best = *named;
    most = weight_of(one);
  }
  return best;
}

}  // namespace

Site::Site(const job::Data& data) : data_(data) {
  // A missing font is told at once, rather than at the first picture.
  (void)data.fonts();
  const base::Voice words = data.words();
  list_ = job::json(job::list_report(data, "", words).fields, words);
  for (const std::string& name : asset_names()) {
    if (name != kPage)
      answers_["/" + name] = {.type = type_of(name), .body = std::string(asset(name))};
  }
  for (const Json& one : list_.at("constructions")) {
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

const Answer& Site::page_for(std::string_view wanted, bool takes_gzip) const {
  const std::string language = wanted_language(wanted, data_);
  Pages& pages = pages_[language];
  if (pages.whole.body.empty()) {
    pages.whole = {.type = "text/html; charset=utf-8", .body = page(list_, data_, language)};
    pages.small = pages.whole;
    shrink(pages.small);
  }
  return takes_gzip ? pages.small : pages.whole;
}

const Answer* Site::find(std::string_view path, bool takes_gzip) const {
  if (path == "/") return &page_for("", takes_gzip);
  const auto& all = takes_gzip ? small_ : answers_;
  const auto found = all.find(path);
  return found == all.end() ? nullptr : &found->second;
}

}  // namespace pouchwright::desk
