// What is wrong with a job goes when its remedy is applied: of every case of tests/errors and of jobs
// put together at random.
#include <algorithm>
#include <filesystem>
#include <iterator>
#include <nlohmann/json.hpp>
#include <random>

#include "base/text.h"
#include "job/job_text/edited.h"
#include "run_support.h"

using namespace pouchwright;
using base::Diagnostic;
using base::Severity;

namespace {

struct Told {
  std::vector<Diagnostic> all;
  base::LengthStyle style;

  [[nodiscard]] std::size_t errors() const {
    return static_cast<std::size_t>(std::count_if(
        all.begin(), all.end(), [](const auto& one) { return one.severity == Severity::error; }));
  }
};

Told told_of(const std::string& text) {
  job::Run run(test::options_of(text), test::own_data());
  (void)run.read_job();
  return {run.diagnostics().sorted(), run.style()};
}

/// Is the same still said of the same value?
bool is_told(const Diagnostic& fault, const Told& told) {
  return std::any_of(told.all.begin(), told.all.end(), [&](const Diagnostic& one) {
    return one.message.key == fault.message.key && one.severity == fault.severity && one.remedy &&
           one.remedy->path == fault.remedy->path;
  });
}

/// The job after the remedy; empty where the text is no TOML.
std::optional<std::string> mended(const std::string& text, const Diagnostic& fault,
                                  const Told& told) {
  const base::Voice words(test::own_data().words(), told.style);
  const std::string typed = base::typed(*fault.remedy, words);
  return job::edited(
      text, fault.remedy->path,
      typed.empty() ? std::nullopt : std::optional(job::typed_as_toml(fault.remedy->path, typed)));
}

/// Applies each remedy alone; how many there were.
int check_remedies(const std::string& text) {
  const Told told = told_of(text);
  int count = 0;
  for (const Diagnostic& fault : told.all) {
    if (!fault.remedy) continue;
    const auto better = mended(text, fault, told);
    CAPTURE(text);
    CAPTURE(fault.message.key);
    CAPTURE(fault.remedy->path);
    REQUIRE(better);
    CAPTURE(*better);
    const Told after = told_of(*better);
    CHECK_FALSE(is_told(fault, after));
    // A reader that finds no more in its own part may let others find more: only of the judge's
    // faults, where all was read, none may be worse off.
    const bool was_read = told.errors() == 0;
    if (was_read) CHECK(after.errors() == 0);
    ++count;
  }
  return count;
}

std::string text_of(const std::filesystem::path& path) {
  std::ifstream file(path);
  return {std::istreambuf_iterator<char>(file), {}};
}

std::string random_job(std::mt19937_64& random, const std::string& construction) {
  const auto between = [&](int least, int most) {
    return least + static_cast<int>(random() % static_cast<unsigned>(most - least + 1));
  };
  const auto maybe = [&] { return random() % 2 == 0; };
  const bool inches = random() % 4 == 0;
  const auto length = [&](int least, int most) {
    const int mm = between(least, most);
    return inches ? "\"" + std::to_string(std::max(1, mm * 10 / 254)) + " " +
                        std::to_string(between(1, 15)) + "/16 in\""
                  : "\"" + std::to_string(mm) + " mm\"";
  };
  std::string text = "construction = \"" + construction + "\"\nunits = \"" +
                     (inches ? "in" : "mm") + "\"\n[pouch]\n";
  const auto add = [&](const char* key, int least, int most) {
    if (maybe()) text += std::string(key) + " = " + length(least, most) + "\n";
  };
  add("width", 40, 400);
  add("depth", 90, 300);
  const bool has_flap = construction != "sleeve" && construction != "rolltop";
  if (has_flap) add("flap", 5, 320);
  if (construction != "rolltop") add("lip_drop", 1, 40);
  add("seam_allowance", 3, 20);
  add("needle_reach", 3, 25);
  add("seal_width", 5, 40);
  add("min_clear_seal", 1, 6);
  if (maybe()) text += "start_finish = \"none\"\n";
  if (maybe()) {
    text += "[liners]\nwidth = " + length(5, 150) + "\nlength = " + length(60, 200) +
            "\nthickness = " + length(3, 30) + "\n";
    if (maybe()) text += "count = " + std::to_string(between(1, 9)) + "\n";
  }
  if (maybe()) text += "[materials]\nouter = \"cotton-110\"\n";
  text += "[tolerance]\n";
  text += std::string("sew = ") + length(0, 12) + "\n";
  return text;
}

}  // namespace

TEST_CASE("each remedy of the stated errors mends what it is offered for") {
  int count = 0;
  for (const auto& entry : std::filesystem::directory_iterator(
           std::filesystem::path(POUCHWRIGHT_SOURCE) / "tests" / "errors")) {
    if (entry.path().extension() != ".toml") continue;
    CAPTURE(entry.path().filename().string());
    count += check_remedies(text_of(entry.path()));
  }
  CHECK(count > 25);
}

TEST_CASE("each remedy of a job put together at random does so") {
  const std::uint64_t seed = 2026;
  CAPTURE(seed);
  std::mt19937_64 random(seed);
  int count = 0;
  for (const std::string& construction : test::own_data().constructions()) {
    for (int i = 0; i < 40; ++i) count += check_remedies(random_job(random, construction));
  }
  CHECK(count > 200);
}

TEST_CASE("the starter jobs need no remedy") {
  for (const char* name :
       {"heron-quay", "heron-quay-double", "heron-quay-freeflap", "heron-quay-gusset",
        "heron-quay-rolltop", "heron-quay-sleeve", "heron-quay-twopiece"}) {
    CAPTURE(name);
    for (const Diagnostic& one : told_of(test::starter(name)).all) {
      CAPTURE(one.message.key);
      CHECK_FALSE(one.leaks);
      CHECK(one.message.key.find("unlikely") == std::string::npos);
    }
  }
}

namespace {

nlohmann::json report_of(const std::string& text, base::FieldNames names) {
  job::JobOptions options = test::options_of(text);
  options.form = job::Form::json;
  options.field_names = names;
  return nlohmann::json::parse(job::run_job(options, test::own_data()).out);
}

}  // namespace

TEST_CASE("a report says whose each fault is, whether the pouch leaks, and what mends it") {
  const std::string text =
      "construction = \"foldover\"\n[pouch]\nneedle_reach = \"11 mm\"\nseal_width = \"12 mm\"\n";
  const auto warning = report_of(text, base::FieldNames::words).at("warnings").at(0);
  CHECK(warning.at("path") == "pouch.seal_width");
  CHECK(warning.at("leaks") == true);
  CHECK(warning.at("missing") == false);
  // 11 mm reach, 5 mm tolerances (1 + 2 + 2), 3 mm that are good for many hands.
  CHECK(warning.at("remedy").at("path") == "pouch.seal_width");
  CHECK(warning.at("remedy").at("value") == "19 mm");
  CHECK(warning.at("remedy").at("words") == "set the seal width to 19 mm");
  const auto to_editor = report_of(text, base::FieldNames::keys).at("warnings").at(0);
  CHECK(to_editor.at("remedy").at("words") == "set pouch.seal_width to 19 mm");
}

TEST_CASE("what is missing is told by its path") {
  const auto report =
      report_of("construction = \"foldover\"\n[liners]\ncount = 3\n", base::FieldNames::words);
  std::vector<std::string> missing;
  for (const auto& error : report.at("errors")) {
    CHECK(error.at("missing") == true);
    CHECK(error.at("remedy").is_null());
    missing.push_back(error.at("path"));
  }
  CHECK(missing == std::vector<std::string>{"liners.width", "liners.length", "liners.thickness"});
}

TEST_CASE("no message names a file's key to whoever sees no file") {
  // Keys have an underscore, or a point between two small letters; a table stands in brackets.
  const auto has_key = [](const std::string& said) {
    for (std::size_t i = 1; i + 1 < said.size(); ++i) {
      const auto is_letter = [&](std::size_t at) { return said[at] >= 'a' && said[at] <= 'z'; };
      if ((said[i] == '_' || said[i] == '.') && is_letter(i - 1) && is_letter(i + 1)) return true;
    }
    return said.find('[') != std::string::npos;
  };
  int seen = 0;
  for (const auto& entry : std::filesystem::directory_iterator(
           std::filesystem::path(POUCHWRIGHT_SOURCE) / "tests" / "errors")) {
    if (entry.path().extension() != ".toml") continue;
    const std::string name = entry.path().filename().string();
    const std::string text = text_of(entry.path());
    // What is wrong with the text itself, or with a file that it names, can only be told in its terms.
    const bool is_of_text = name.starts_with("syntax") || name.starts_with("construction-") ||
                            text.find(" is not known") != std::string::npos ||
                            text.find(".toml\"") != std::string::npos;
    if (is_of_text) continue;
    const auto report = report_of(text, base::FieldNames::words);
    for (const char* severity : {"errors", "warnings"}) {
      for (const auto& one : report.at(severity)) {
        if (one.at("place").is_null() || one.at("place").at("file") != "pouch.toml") continue;
        for (const char* part : {"message", "hint"}) {
          const std::string said = one.at(part);
          CAPTURE(entry.path().filename().string());
          CAPTURE(said);
          CHECK_FALSE(has_key(said));
          ++seen;
        }
      }
    }
  }
  CHECK(seen > 100);
}
