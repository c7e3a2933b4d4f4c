#include "input/group.h"

#include <algorithm>

#include "base/text.h"
#include "input/fields.h"

namespace pouchwright::input {

namespace {

constexpr std::string_view kDigits = "0123456789";
constexpr std::string_view kAlphabet = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ";
/// What stands in an address besides letters and digits (RFC 3986, section 2); % begins a byte.
constexpr std::string_view kMarks = "-._~:/?[]@!$&'()*+,;=%";

bool holds(std::string_view all, char c) { return all.find(c) != std::string_view::npos; }

bool is_of_addresses(char c) {
  return holds(kDigits, c) || holds(kAlphabet, c) || holds(kMarks, c);
}

/// Without `name` and the marks behind it; empty where it does not begin so, in any case.
std::string_view without_scheme(std::string_view text, std::string_view name) {
  const bool begins = base::lower(text.substr(0, name.size())) == name;
  return begins ? text.substr(name.size()) : std::string_view();
}

}  // namespace

bool is_page_address(std::string_view text) {
  if (!std::all_of(text.begin(), text.end(), is_of_addresses)) return false;
  std::string_view rest = without_scheme(text, "https://");
  if (rest.empty()) rest = without_scheme(text, "http://");
  const std::string_view host = rest.substr(0, rest.find_first_of("/?"));
  if (host.empty() || holds(host, '@')) return false;
  // A port, or a number in brackets, is the browser's business; a name is not empty.
  return holds(kDigits, host.front()) || holds(kAlphabet, host.front()) || host.front() == '[';
}

GroupSettings read_group(TableReader& root) {
  GroupSettings made;
  const Node* node = root.table("group");
  if (!node) return made;
  TableReader reader(*node, "group", root.context());
  read_fields(kGroupFields, reader, made);
  reader.finish();
  if (reader.has("page") && !made.page.place.file.empty() && !is_page_address(made.page.value)) {
    root.context().diagnostics.error(made.page.place,
                                     {"not-page-address", {{"text", clipped(made.page.value)}}},
                                     {{"not-page-address-hint"}});
    made.page = {};
  }
  return made;
}

}  // namespace pouchwright::input
