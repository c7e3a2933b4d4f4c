/// The page's HTML: page/desk.html with its words, and the fields that a job has. The fields come
/// from what there is to choose from, so a new construction, material or paper needs no new page.
#pragma once

#include <nlohmann/json.hpp>
#include <string>

#include "job/data.h"

namespace pouchwright::desk {

/// `list` is the report of the command `list`. In page/desk.html `{{desk-KEY}}` is a word,
/// `{{text PATH}}`, `{{number PATH}}` and `{{choice PATH}}` are fields for a value of the job,
/// `{{constructions}}`, `{{sizes}}` and `{{data}}` what is made here.
/// `language` is one of the data's; `{{tongue}}` and `{{direction}}` are how HTML calls it.
[[nodiscard]] std::string page(const nlohmann::ordered_json& list, const job::Data& data,
                               const std::string& language);

}  // namespace pouchwright::desk
