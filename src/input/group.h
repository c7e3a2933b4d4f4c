/// What a job says of the group that it is for: `[group]`.
#pragma once

#include <optional>
#include <string>

#include "input/reader.h"

namespace pouchwright::input {

struct GroupSettings {
  /// Where the desk's page stands in the web, for links to a job; empty: nowhere.
  Placed<std::string> page{};
};

/// Is this an address of http or https that a link's end can be put to: nothing but what RFC 3986
/// allows, a host without a name before it, and no fragment?
[[nodiscard]] bool is_page_address(std::string_view text);

/// The table [group] of a job. Fails: what is no address is reported at its place, and left out.
[[nodiscard]] GroupSettings read_group(TableReader& root);

}  // namespace pouchwright::input
