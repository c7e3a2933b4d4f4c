#include "job/job_text/edited.h"

#include <algorithm>
#include <string_view>

#include "base/text.h"

namespace pouchwright::job {

namespace {

std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> lines;
  std::size_t at = 0;
  while (at < text.size()) {
    const std::size_t end = std::min(text.find('\n', at), text.size());
    lines.push_back(text.substr(at, end - at));
    at = end + 1;
  }
  return lines;
}

/// The byte at which a column of a line begins; columns count code points from 1.
std::size_t byte_of(const std::string& line, int column) {
  return base::byte_of(line, static_cast<std::size_t>(std::max(0, column - 1)));
}

void add(std::vector<std::string>& lines, const NewValue& value) {
  const std::string entry = value.key + " = " + toml_text(value.value);
  const std::string header = "[" + value.table + "]";
  const auto found = std::find_if(lines.begin(), lines.end(), [&](const std::string& line) {
    const std::string_view content =
        base::trimmed(std::string_view(line).substr(0, line.find('#')));
    return content == header;
  });
  if (found != lines.end()) {
    lines.insert(found + 1, entry);
  } else {
    lines.insert(lines.end(), {"", header, entry});
  }
}

}  // namespace

std::string toml_text(const std::string& text) {
  std::string result = "\"";
  for (const char letter : text) {
    if (letter == '"' || letter == '\\') result += '\\';
    result += letter;
  }
  return result + "\"";
}

std::string with_sizes(const std::string& text, const std::vector<NewValue>& values) {
  std::vector<std::string> lines = lines_of(text);
  // Replacing keeps the lines' numbers, so all of it comes before anything is added.
  for (const NewValue& value : values) {
    if (value.place.line < 1 || static_cast<std::size_t>(value.place.line) > lines.size()) continue;
    std::string& line = lines[static_cast<std::size_t>(value.place.line - 1)];
    const std::size_t from = byte_of(line, value.place.column);
    const std::size_t to = byte_of(line, value.place.end_column);
    line.replace(from, to - from, toml_text(value.value));
  }
  for (const NewValue& value : values) {
    if (value.place.line < 1) add(lines, value);
  }
  std::string result;
  for (const std::string& line : lines) result += line + "\n";
  return result;
}

}  // namespace pouchwright::job
