#include "tell/capacity.h"

#include <string>

namespace pouchwright::tell {

using base::Message;

namespace {

Message counted(const char* one, const char* many, int count) {
  return {count == 1 ? one : many, {{"count", count}}};
}

/// "a third"; beyond the words that there are, one more.
Message which(int number) {
  constexpr int kMostNamed = 10;
  if (number > kMostNamed) return "ordinal-more";
  return "ordinal-" + std::to_string(number);
}

}  // namespace

Message columns_said(int columns) { return counted("size-column", "size-columns", columns); }

Message capacity_said(const pouch::Capacity& capacity) {
  const bool is_turned = capacity.lies == pouch::Lies::turned;
  return {is_turned ? "size-capacity-turned" : "size-capacity-is",
          {{"liners", counted("size-liner", "size-liners", capacity.liners)},
           {"columns", columns_said(capacity.columns)}}};
}

std::optional<Message> one_more_said(const pouch::Capacity& capacity) {
  if (!capacity.one_more_at) return std::nullopt;
  return Message{
      "size-one-more",
      {{"which", which(capacity.liners + 1)}, {"thickness", base::at_most(*capacity.one_more_at)}}};
}

std::optional<Message> one_fewer_said(const pouch::Capacity& capacity) {
  if (!capacity.one_fewer_above) return std::nullopt;
  return Message{"size-one-fewer", {{"thickness", base::at_most(*capacity.one_fewer_above)}}};
}

Message carries_said(const pouch::Capacity& capacity) {
  const bool any = capacity.liners > 0;
  const auto more = one_more_said(capacity);
  Message::Values values = {{"capacity", capacity_said(capacity)}};
  if (!more) return {any ? "carries" : "carries-none", values};
  values.emplace_back("more", *more);
  return {any ? "carries-more" : "carries-none-more", values};
}

}  // namespace pouchwright::tell
