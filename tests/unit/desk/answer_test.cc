#include "desk/answer.h"

#include <doctest/doctest.h>

#include <map>
#include <nlohmann/json.hpp>
#include <string>

#include "desk/call.h"
#include "job/job.h"

using namespace pouchwright;

namespace {

const job::Data& data() {
  static const job::Data kData(POUCHWRIGHT_SOURCE);
  return kData;
}

constexpr const char* kJob = "construction = \"gusset\"\n[pouch]\nwidth = \"7 1/2 in\"\n";

desk::Answer asked(const std::string& target, const std::string& body = kJob) {
  return desk::worked({"POST", target, body}, data());
}

job::Outcome commanded(job::JobOptions options) {
  options.job_file = desk::kJobName;
  options.job_text = kJob;
  options.writing = job::Writing::kept;
  options.form = job::Form::json;
  return job::run_job(options, data());
}

}  // namespace

TEST_CASE("an answer is the command's own report, byte for byte") {
  CHECK(asked("/api/size").body == commanded({.command = job::Command::size}).out);
  CHECK(
      asked("/api/size?units=in&set=pouch.depth%3D170mm").body ==
      commanded({.command = job::Command::size, .sets = {"pouch.depth=170mm"}, .units = "in"}).out);
  CHECK(asked("/api/size").status == 200);
  CHECK(asked("/api/size").type == "application/json");
}

TEST_CASE("a file is the command's own file, byte for byte") {
  const auto outcome = commanded({.command = job::Command::cutting_template});
  REQUIRE_FALSE(outcome.files.empty());
  for (const auto& made : outcome.files) {
    const std::string name = made.path.filename().string();
    CAPTURE(name);
    CHECK(asked("/api/template/" + name).body == made.bytes);
  }
  CHECK(asked("/api/lay/lay.svg").body ==
        commanded({.command = job::Command::lay, .out = "lay.svg"}).files.at(0).bytes);
}

TEST_CASE("a wrong job is answered with the report of its faults") {
  const auto answer = asked("/api/template/template.svg", "construction = \"kite\"\n");
  CHECK(answer.status == 422);
  CHECK(answer.type == "application/json");
  CHECK(answer.body.find("kite") != std::string::npos);
}

TEST_CASE("a wrong job that was asked for as a table is answered in words") {
  const auto answer = asked("/api/size?form=text", "construction = \"kite\"\n");
  CHECK(answer.status == 422);
  CHECK(answer.type == "text/plain; charset=utf-8");
  CHECK(answer.body.starts_with("job.toml:1:16: error: "));
}

TEST_CASE("a job may not name a file, whether it is there or not") {
  const std::string there = std::string(POUCHWRIGHT_SOURCE) + "/patterns/foldover.toml";
  for (const std::string& path :
       {std::string("patterns/foldover.toml"), std::string("./foldover.toml"),
        std::string("/etc/passwd"), std::string("../../etc/passwd.toml"), there}) {
    CAPTURE(path);
    const auto construction = asked("/api/size", "construction = '" + path + "'\n");
    CHECK(construction.status == 422);
    const auto material =
        asked("/api/size", "construction = 'foldover'\n[materials]\nlaminate = '" + path + "'\n");
    CHECK(material.status == 422);
    CHECK(asked("/api/size?set=construction%3D" + path).status == 422);
  }
}

TEST_CASE("addresses that lead nowhere are not found") {
  for (const char* target : {"/api/", "/api/nothing", "/api/size/size.svg", "/api/template/",
                             "/api/template/../template.pdf", "/api/template/no.svg",
                             "/api/template/%2e%2e%2ftemplate.pdf", "/elsewhere"}) {
    CAPTURE(target);
    CHECK(asked(target).status == 404);
  }
}

TEST_CASE("options that cannot be read are refused") {
  for (const char* target :
       {"/api/size?units=cm", "/api/size?nonsense=1", "/api/size?set=", "/api/size?paper=nonsense",
        "/api/lay/lay.exe", "/api/size?liners=%", "/api/svg.zip?nonsense=1"}) {
    CAPTURE(target);
    CHECK(asked(target).status == 400);
  }
}

TEST_CASE("a plain form makes a PDF that a browser saves") {
  const auto answer = asked("/print",
                            "construction=foldover&pouch.width=7+1%2F2+in&pouch.depth="
                            "&title=&make=template");
  CHECK(answer.status == 200);
  CHECK(answer.type == "application/pdf");
  CHECK(answer.save_as == "template.pdf");
  CHECK(answer.body.substr(0, 5) == "%PDF-");
  CHECK(asked("/print", "construction=foldover&make=lay").save_as == "lay.pdf");
}

TEST_CASE("a plain form at fault shows what is said, and none of it as HTML") {
  const auto answer =
      asked("/print", "construction=foldover&pouch.width=%3Cscript%3E&make=template");
  CHECK(answer.status == 422);
  CHECK(answer.type == "text/html; charset=utf-8");
  CHECK(answer.body.find("&lt;script&gt;") != std::string::npos);
  CHECK(answer.body.find("<script>") == std::string::npos);
}

TEST_CASE("a plain form that does not say what to make is refused") {
  CHECK(asked("/print", "construction=foldover").status == 400);
  CHECK(asked("/print", "make=size").status == 400);
  CHECK(asked("/print", "make=template&a=%").status == 400);
}

TEST_CASE("work that takes too long is ended, and told as such") {
  const auto ended_after = [](int times, const char* target, const std::string& body) {
    int asked_for = 0;
    return desk::worked({"POST", target, body}, data(), [&] { return ++asked_for <= times; });
  };
  for (const char* target : {"/api/savings", "/api/template", "/api/mask/mask.pdf",
                             "/api/packet/packet.pdf", "/api/range?liners=1,2", "/api/svg.zip"}) {
    CAPTURE(target);
    const std::string job =
        "construction = \"foldover\"\n[liners]\nwidth = 80\nlength = "
        "120\nthickness = 9\n";
    const auto answer = ended_after(0, target, job);
    CHECK(answer.status == 503);
    CHECK(answer.body.find("takes too long") != std::string::npos);
    CHECK(ended_after(100'000, target, job).body == asked(target, job).body);
  }
  // Between the changes as well, not only before the first.
  CHECK(ended_after(20, "/api/savings", kJob).status == 503);
  const auto page = ended_after(0, "/print", "construction=foldover&make=template");
  CHECK(page.status == 503);
  CHECK(page.body.find("takes too long") != std::string::npos);
}

namespace {

using Json = nlohmann::ordered_json;

/// The parts of a form by their names, as RFC 7578 and RFC 2046 have them.
std::map<std::string, std::string> parts_of(const desk::Answer& answer) {
  const std::string boundary = "--" + answer.type.substr(answer.type.find("boundary=") + 9);
  std::map<std::string, std::string> parts;
  std::size_t at = answer.body.find(boundary);
  while (true) {
    const std::size_t head = at + boundary.size() + 2;
    const std::size_t next = answer.body.find(boundary, head);
    if (next == std::string::npos) return parts;
    const std::size_t body = answer.body.find("\r\n\r\n", head) + 4;
    const std::size_t name = answer.body.find("name=\"", head) + 6;
    parts[answer.body.substr(name, answer.body.find('"', name) - name)] =
        answer.body.substr(body, next - 2 - body);
    at = next;
  }
}

}  // namespace

TEST_CASE("several routes are answered at once, each as it is alone") {
  const auto answer = asked("/api/several?of=size&of=lay&of=template%2Ftemplate.svg&of=nothing");
  CHECK(answer.status == 200);
  const auto parts = parts_of(answer);
  CHECK(Json::parse(parts.at("status")) ==
        Json{{"size", 200}, {"lay", 200}, {"template/template.svg", 200}, {"nothing", 404}});
  for (const char* route : {"size", "lay", "template/template.svg"}) {
    CAPTURE(route);
    CHECK(parts.at(route) == asked(std::string("/api/") + route).body);
  }
  CHECK(asked("/api/several?of=a%22b").status == 400);
  CHECK(asked("/api/several?size").status == 400);
}

TEST_CASE("a PDF among several parts comes whole, whatever stands in it") {
  const auto parts = parts_of(asked("/api/several?of=mask%2Fmask.pdf"));
  CHECK(parts.at("mask/mask.pdf") == asked("/api/mask/mask.pdf").body);
}

TEST_CASE("the folding has a step for each of the steps, and a moment's view is what it is named") {
  const Json folding = Json::parse(asked("/api/folding").body);
  const Json steps = Json::parse(asked("/api/steps").body);
  CHECK(folding["steps"] == steps["steps"]);
  REQUIRE(folding["moves"].size() == steps["steps"].size());
  std::size_t moving = 0;
  while (!folding["moves"][moving].get<bool>()) ++moving;
  const std::string file = "/api/folding/" + std::to_string(moving + 1) + ".svg?at=";
  const auto before = asked(file + "0");
  CHECK(before.type == "image/svg+xml");
  CHECK(before.body != asked(file + "0.5").body);
  CHECK(before.body != asked(file + "1").body);
  for (const char* wrong : {"/api/folding/1.svg", "/api/folding/1.svg?at=2",
                            "/api/folding/1.svg?at=x", "/api/folding/99.svg?at=0"}) {
    CAPTURE(wrong);
    CHECK(asked(wrong).status == 404);
  }
}

TEST_CASE("pages are told with their sizes, and shown as pictures") {
  const std::string job = "construction = \"foldover\"\n[paper]\nsize = \"Letter\"\n";
  const Json told = Json::parse(asked("/api/pages/template.pdf", job).body);
  const auto files = asked("/api/template", job);
  // Letter is 8 1/2 x 11 in (ANSI/ASME Y14.1), held either way.
  REQUIRE_FALSE(told["pages"].empty());
  const double width = told["pages"][0]["width_mm"];
  CHECK((width == doctest::Approx(215.9) || width == doctest::Approx(279.4)));
  const auto picture = asked("/api/pages/template.pdf/1.png", job);
  CHECK(picture.type == "image/png");
  CHECK(picture.body.substr(1, 3) == "PNG");
  const std::string beyond = std::to_string(told["pages"].size() + 1);
  CHECK(asked("/api/pages/template.pdf/" + beyond + ".png", job).status == 404);
  CHECK(asked("/api/pages/check.pdf", job).status == 404);
  CHECK(asked("/api/pages/packet.pdf?only=steps", job).status == 200);
}

TEST_CASE("an answer is made smaller for those who take it so") {
  const auto plain = asked("/api/size");
  const auto small = desk::worked({"POST", "/api/size", kJob, true}, data());
  CHECK(small.encoding == "gzip");
  CHECK(small.body.size() < plain.body.size() / 2);
  // RFC 1952: two bytes that name it, deflate; and its length at the end.
  CHECK(small.body.substr(0, 3) == "\x1f\x8b\x08");
  const auto byte = [&](std::size_t from_end) {
    return static_cast<unsigned>(
        static_cast<unsigned char>(small.body[small.body.size() - from_end]));
  };
  CHECK((byte(4) | byte(3) << 8U | byte(2) << 16U | byte(1) << 24U) == plain.body.size());
  CHECK(desk::worked({"POST", "/api/mask/mask.pdf", kJob, true}, data()).encoding.empty());
}

TEST_CASE("values are called by their keys, or where that is asked for as people call them") {
  const std::string job = "construction = \"foldover\"\n[liners]\ncount = 3\n";
  CHECK(asked("/api/check", job).body.find("liners.width is missing") != std::string::npos);
  const auto words = asked("/api/check?names=words", job);
  CHECK(words.status == 422);
  CHECK(words.body.find("the liner’s width is missing") != std::string::npos);
  CHECK(words.body.find("liners.width is missing") == std::string::npos);
  CHECK(parts_of(asked("/api/several?of=check&names=words", job)).at("check") == words.body);
  CHECK(asked("/api/svg.zip?names=words").body == asked("/api/svg.zip").body);
}
