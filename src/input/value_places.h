/// Where in a job each value stands, so that a fault, which has a place, tells whose it is.
///
///     const auto places = value_places(job, overrides);
///     path_at(places, fault.place);  // "pouch.seal_width"
///
/// Values of [[tables]] have no path of their own: theirs is the list's.
#pragma once

#include <string>
#include <vector>

#include "base/diagnostic.h"
#include "input/node.h"

namespace pouchwright::input {

struct ValuePlace {
  std::string path;
  base::Place place;
};

/// Of every value and table, keys as well, outer ones before what is in them. Nothing of a text that
/// is no TOML.
[[nodiscard]] std::vector<ValuePlace> value_places(const LoadedFile& job,
                                                   const std::vector<Override>& overrides);

/// The path of the innermost value that begins before `place` and ends behind it, on its line; empty
/// where there is none.
[[nodiscard]] std::string path_at(const std::vector<ValuePlace>& places, const base::Place& place);

}  // namespace pouchwright::input
