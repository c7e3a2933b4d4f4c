/// What a value of a job may be, where it is one of a few words.
///
///     choices_of("pouch.cards")        // inside, on_top, both
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace pouchwright::job {

/// Empty where the value at `path` is no choice of words that the program itself has.
[[nodiscard]] const std::vector<std::string>& choices_of(std::string_view path);

}  // namespace pouchwright::job
