#include "desk/answer.h"

#include <doctest/doctest.h>

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
