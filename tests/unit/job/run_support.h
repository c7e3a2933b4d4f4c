/// Runs of commands without a process: the program's own data, and a job's text.
#pragma once

#include <doctest/doctest.h>

#include <fstream>
#include <sstream>
#include <string>
#include <utility>
#include <vector>

#include "job/commands/commands.h"
#include "job/report/print.h"
#include "job/sheets.h"

namespace pouchwright::test {

inline const job::Data& own_data() {
  static const job::Data kData(POUCHWRIGHT_SOURCE);
  return kData;
}

/// A starter job's text.
inline std::string starter(const std::string& name) {
  std::ifstream file(std::string(POUCHWRIGHT_SOURCE) + "/patterns/" + name + ".toml");
  std::ostringstream text;
  text << file.rdbuf();
  REQUIRE_FALSE(text.str().empty());
  return text.str();
}

/// The options of a job of that text; nothing is written to the disk.
inline job::JobOptions options_of(std::string job_text) {
  job::JobOptions options;
  options.job_file = "pouch.toml";
  options.job_text = std::move(job_text);
  options.writing = job::Writing::kept;
  return options;
}

/// What the command comes to. Fails the test where the job is wrong.
inline job::Made made_by(job::Answer (*command)(job::Run&), job::Run& run) {
  job::Answer answer = command(run);
  REQUIRE(std::holds_alternative<job::Made>(answer));
  return std::get<job::Made>(std::move(answer));
}

/// The files that the run makes of it.
inline std::vector<job::MadeFile> files_of(const job::Run& run, job::Made made) {
  job::add_file_of_sheets(run, made);
  return made.files.made();
}

/// How often `part` is in `text`.
inline int count_of(const std::string& text, const std::string& part) {
  int count = 0;
  for (std::size_t at = text.find(part); at != std::string::npos; at = text.find(part, at + 1)) {
    ++count;
  }
  return count;
}

}  // namespace pouchwright::test
