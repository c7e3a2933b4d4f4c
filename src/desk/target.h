/// Targets and forms of HTTP requests, and text made safe for HTML.
///
///     auto target = read_target("/api/size?units=in");   // {"/api/size", {{"units", "in"}}}
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace pouchwright::desk {

/// Names and values in the order sent.
using Fields = std::vector<std::pair<std::string, std::string>>;

struct Target {
  std::string path;
  Fields query;
};

/// `name=value&name=value`, as forms are sent (application/x-www-form-urlencoded).
/// Fails: empty where a percent sign is not followed by two hexadecimal digits.
[[nodiscard]] std::optional<Fields> read_form(std::string_view text);

/// Fails: empty where `text` does not start with a slash, or as read_form.
[[nodiscard]] std::optional<Target> read_target(std::string_view text);

/// `text` with the five characters that mean something in HTML written as references.
[[nodiscard]] std::string html_text(std::string_view text);

}  // namespace pouchwright::desk
