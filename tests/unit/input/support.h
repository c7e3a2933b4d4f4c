/// Faults as short texts, and the program's own data files, for the tests of `input`.
#pragma once

#include <doctest/doctest.h>

#include <string>
#include <vector>

#include "input/job.h"
#include "support/source_file.h"

namespace pouchwright::test {

/// ` text=0 mm`: each value of a message with its name, lengths in millimetres.
inline std::string values_of(const base::Message& message) {
  const base::Words none;
  std::string line;
  for (const auto& [name, value] : message.values) {
    line += " " + name + "=" + base::Voice(none).text(value);
  }
  return line;
}

/// `2:9 length-zero key=pouch.width text=0 mm`: every fault in order, warnings too. The place names
/// its file only where that is not `home`.
inline std::vector<std::string> told(const base::Diagnostics& diagnostics,
                                     const std::string& home = "job.toml") {
  std::vector<std::string> lines;
  for (const auto& fault : diagnostics.sorted()) {
    std::string line = fault.place.file == home ? "" : fault.place.file + ":";
    line += std::to_string(fault.place.line) + ":" + std::to_string(fault.place.column) + " " +
            fault.message.key + values_of(fault.message);
    lines.push_back(line);
  }
  return lines;
}

/// The hints of the first fault, each as its key and values.
inline std::vector<std::string> first_hints(const base::Diagnostics& diagnostics) {
  std::vector<std::string> lines;
  const auto sorted = diagnostics.sorted();
  if (sorted.empty()) return lines;
  for (const auto& hint : sorted.front().hints) lines.push_back(hint.key + values_of(hint));
  return lines;
}

using Lines = std::vector<std::string>;

/// The library as the program has it. `files` are further ones that a job may name by path.
inline input::Library library(const std::vector<input::LoadedFile>& files = {}) {
  base::Diagnostics diagnostics;
  input::Library made;
  made.papers = input::read_papers(source_file("shared/papers.toml"), diagnostics);
  made.materials = input::read_materials(source_file("shared/materials.toml"), diagnostics);
  made.constructions = [] { return std::vector<std::string>{"foldover", "gusset", "rolltop"}; };
  made.load = [files](const std::string& name) -> std::optional<input::LoadedFile> {
    for (const auto& file : files) {
      if (file.name == name) return file;
    }
    const auto& known = {"foldover", "gusset", "rolltop"};
    if (std::find(known.begin(), known.end(), name) == known.end()) return std::nullopt;
    return source_file("patterns/" + name + ".toml");
  };
  REQUIRE(told(diagnostics) == Lines{});
  return made;
}

/// A job read with the library, and what was told about it.
struct ReadJob {
  std::optional<input::JobSettings> settings;
  base::Diagnostics diagnostics;
};

inline input::Override set(const std::string& path, const std::string& value) {
  return {"--set " + path + "=" + value, path, value};
}

inline ReadJob job(const std::string& text, const std::vector<input::Override>& overrides = {},
                   std::optional<base::Unit> printed = std::nullopt,
                   const input::Library& known = library()) {
  ReadJob read;
  read.settings = input::read_job({"job.toml", text}, overrides, printed, known, read.diagnostics);
  return read;
}

/// What is told about a job of the fold-over pouch with these lines after its first.
inline Lines faults(const std::string& lines, const std::vector<input::Override>& overrides = {}) {
  const ReadJob read = job("construction = \"foldover\"\n" + lines, overrides);
  CHECK_FALSE(read.settings);
  return told(read.diagnostics);
}

/// The settings of a job that has no fault.
inline input::JobSettings fine(const std::string& text,
                               const std::vector<input::Override>& overrides = {},
                               std::optional<base::Unit> printed = std::nullopt) {
  ReadJob read = job(text, overrides, printed);
  CHECK(told(read.diagnostics) == Lines{});
  REQUIRE(read.settings);
  return *std::move(read.settings);
}

}  // namespace pouchwright::test

namespace doctest {
template <>
struct StringMaker<std::vector<std::string>> {
  static String convert(const std::vector<std::string>& lines) {
    std::string text = "[";
    for (const std::string& line : lines) text += "\n  " + line;
    return String((text + "]").c_str());
  }
};
}  // namespace doctest
