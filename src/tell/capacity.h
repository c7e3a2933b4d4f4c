/// How many liners a pouch carries, in words: always what it takes, never what was asked for.
#pragma once

#include <optional>

#include "base/message.h"
#include "pouch/judge/capacity.h"

namespace pouchwright::tell {

/// "3 liners in 1 column"; turned ones are said so.
[[nodiscard]] base::Message capacity_said(const pouch::Capacity& capacity);

/// "1 column"
[[nodiscard]] base::Message columns_said(int columns);

/// "a third goes in where a liner is 8 mm thin or thinner"; nothing where none is thin enough.
[[nodiscard]] std::optional<base::Message> one_more_said(const pouch::Capacity& capacity);

/// "one fewer where a liner is thicker than 10 mm"; nothing where none goes in.
[[nodiscard]] std::optional<base::Message> one_fewer_said(const pouch::Capacity& capacity);

/// "Carries 2 liners in 1 column; a third goes in where …": as papers say it.
[[nodiscard]] base::Message carries_said(const pouch::Capacity& capacity);

}  // namespace pouchwright::tell
