#include "tell/fill.h"

#include "base/length.h"

namespace pouchwright::tell {

pouch::Fill fill_read(const pouch::Pouch& pouch, const base::Voice& words) {
  const pouch::Levels exact = pouch::levels_of(pouch);
  const auto read = [&](base::Length level) { return base::read_at_most(level, words.style()); };
  return pouch::fill_up_to(pouch, {read(exact.test), read(exact.carry)});
}

}  // namespace pouchwright::tell
