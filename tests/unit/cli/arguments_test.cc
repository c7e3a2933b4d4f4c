#include "cli/arguments.h"

#include <doctest/doctest.h>

#include <vector>

#include "cli/manual.h"
#include "cli/told.h"
#include "job/data.h"
#include "job/limits.h"

using namespace pouchwright;
using namespace pouchwright::cli;

namespace {

const base::Words& words() {
  static const base::Words read = job::load_words(POUCHWRIGHT_SOURCE);
  return read;
}

Asked asked(std::vector<const char*> arguments) {
  arguments.insert(arguments.begin(), "pouchwright");
  return read_arguments(static_cast<int>(arguments.size()), arguments.data(), words());
}

}  // namespace

TEST_CASE("options become what the job is run with") {
  const Asked size = asked({"size", "job.toml", "--set", "pouch.depth=180mm", "--set", "title=a",
                            "--units", "in", "--json", "-o", "out.pdf"});
  REQUIRE(size.options);
  CHECK(size.options->command == job::Command::size);
  CHECK(size.options->job_file == "job.toml");
  CHECK(size.options->sets == std::vector<std::string>{"pouch.depth=180mm", "title=a"});
  CHECK(size.options->units == "in");
  CHECK(size.options->form == job::Form::json);
  CHECK(size.options->out == "out.pdf");
}

TEST_CASE("a job may stand behind an option that may be repeated") {
  const Asked lay =
      asked({"lay", "--piece", "20 x 30 cm", "--piece", "10 x 30 cm", "--cloth", "110 cm"});
  REQUIRE(lay.options);
  CHECK(lay.options->quick.pieces.size() == 2);
  const Asked size = asked({"size", "--set", "pouch.depth=180mm", "job.toml"});
  REQUIRE(size.options);
  CHECK(size.options->job_file == "job.toml");
}

TEST_CASE("what is wrong with a command line ends with the status for it") {
  for (const auto& line : std::vector<std::vector<const char*>>{
           {"size"},
           {"sizes", "job.toml"},
           {"size", "job.toml", "--units", "ft"},
           {"savings", "job.toml", "--apply", "one"},
           {"lay", "job.toml", "--cloth", "1 m"},
           {"lay", "--cloth", "1 m", "--piece", "2 x 3 cm", "--set", "title=a"},
           {}}) {
    const Asked wrong = asked(line);
    CHECK_FALSE(wrong.options);
    CHECK(wrong.answer.status == job::Status::usage_wrong);
    CHECK(wrong.answer.err.starts_with("error: "));
  }
}

TEST_CASE("what needs no job is taken without one") {
  CHECK(asked({"template", "--test-page"}).options);
  CHECK(asked({"list"}).options);
  CHECK(asked({"new", "--liners", "3"}).options);
  CHECK(asked({"desk", "--port", "0"}).desk);
}

TEST_CASE("the manual page and the completion tell every option, and the page every limit") {
  const std::string page = manual_page(words());
  const std::string script = completion(words());
  for (const ToldCommand& command : told_commands()) {
    for (const job::OptionRow* option : command.options) {
      CHECK(script.find(option->name) != std::string::npos);
      std::string escaped;
      for (const char letter : std::string(option->name)) {
        escaped += letter == '-' ? "\\-" : std::string(1, letter);
      }
      CHECK(page.find("\\fB" + escaped + "\\fR") != std::string::npos);
    }
  }
  CHECK(page.find("pouches: 2000") != std::string::npos);
  CHECK(job::limits().size() > 15);
}

TEST_CASE("the manual page tells every field that a job may have") {
  const std::string page = manual_page(words());
  for (const char* entry :
       {"\\fBtitle\\fR \\fITEXT\\fR\n", "\\fBpouch.cards\\fR \\fIinside|on_top|both\\fR\n",
        "\\fBliners.ease\\fR \\fILENGTH\\fR\nRoom to spare: ", "\\fBpacket.template\\fR "}) {
    CAPTURE(entry);
    CHECK(page.find(entry) != std::string::npos);
  }
}
