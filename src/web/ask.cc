#include "web/ask.h"

#include <emscripten.h>

#include <exception>
#include <memory>
#include <optional>
#include <string>

#include "base/diagnostic.h"
#include "desk/answer.h"
#include "desk/site.h"
#include "job/data.h"

using namespace pouchwright;

namespace {

/// What is kept between two questions.
struct Desk {
  std::unique_ptr<job::Data> data;
  std::optional<desk::Site> site;  ///< made when it is first asked for: a page has it already
  desk::Answer answer;
};

Desk& the_desk() {
  static Desk desk;
  return desk;
}

desk::Answer answer_to(const desk::Request& request, Desk& desk) {
  if (request.method == "POST") return desk::worked(request, *desk.data);
  if (!desk.site) desk.site.emplace(*desk.data);
  const desk::Answer* known = desk.site->find(request.target);
  if (known != nullptr) return *known;
  return desk::refusal(404, {"desk-not-found"}, desk.data->words());
}

}  // namespace

extern "C" {

EMSCRIPTEN_KEEPALIVE int pouchwright_open() {
  Desk& desk = the_desk();
  try {
    desk.data = std::make_unique<job::Data>(POUCHWRIGHT_WEB_DATA);
    static_cast<void>(desk.data->fonts());
    return 0;
  } catch (const std::exception& failure) {
    desk.answer = {.status = 500, .body = failure.what()};
    return 1;
  }
}

EMSCRIPTEN_KEEPALIVE int pouchwright_ask(const char* method, const char* target, const char* body,
                                         int size) {
  Desk& desk = the_desk();
  try {
    desk.answer = answer_to({.method = method,
                             .target = target,
                             .body = std::string(body, static_cast<std::size_t>(size))},
                            desk);
  } catch (const std::exception& failure) {
    desk.answer = {.status = 500, .body = failure.what()};
  }
  return desk.answer.status;
}

EMSCRIPTEN_KEEPALIVE const char* pouchwright_type() { return the_desk().answer.type.c_str(); }
EMSCRIPTEN_KEEPALIVE const char* pouchwright_save_as() { return the_desk().answer.save_as.c_str(); }
EMSCRIPTEN_KEEPALIVE const char* pouchwright_body() { return the_desk().answer.body.data(); }
EMSCRIPTEN_KEEPALIVE int pouchwright_body_size() {
  return static_cast<int>(the_desk().answer.body.size());
}
}
