#include "base/message.h"

namespace pouchwright::base {

Value::Value(Message message) : held_(std::make_shared<const Message>(std::move(message))) {}

bool operator==(const Value& a, const Value& b) {
  const auto* nested = std::get_if<Value::Nested>(&a.held_);
  const auto* other = std::get_if<Value::Nested>(&b.held_);
  return nested && other ? **nested == **other : a.held_ == b.held_;
}

}  // namespace pouchwright::base
