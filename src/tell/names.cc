#include "tell/names.h"

#include <algorithm>

namespace pouchwright::tell {
namespace {

/// `wet-front` is a name for files; people read blanks.
std::string with_blanks(std::string name) {
  std::replace(name.begin(), name.end(), '-', ' ');
  return name;
}

}  // namespace

std::string title_of(const pouch::Pouch& pouch, const base::Voice& words) {
  return pouch.request.title.empty() ? words.say("drawing-untitled") : pouch.request.title;
}

std::string kind_key(pouch::AttachmentKind kind) {
  return key_of("construction-kind-", pouch::kAttachmentWords, kind);
}

std::string span_name(const std::string& name, const base::Voice& words) {
  const std::string key = "drawing-span-" + name;
  return words.has(key) ? words.say(key) : with_blanks(name);
}

std::string end_name(const pouch::Pouch& pouch, const pouch::Operation& finish,
                     const base::Voice& words) {
  const std::size_t panel = panel_of(pouch.construction(), finish);
  return span_name(end_span(pouch.sizes.panels[panel], finish.end).name, words);
}

std::string part_name(const std::string& name, const base::Voice& words) {
  const std::string key = "drawing-part-" + name;
  return words.has(key) ? words.say(key) : with_blanks(name);
}

std::string wet_pockets(const pouch::Pouch& pouch) {
  std::string names;
  bool all_wet = true;
  for (const pouch::Compartment& one : pouch.construction().compartments) {
    if (one.holds == pouch::Holds::water) {
      names += (names.empty() ? "" : ", ") + one.name;
    } else {
      all_wet = false;
    }
  }
  return all_wet ? std::string() : names;
}

}  // namespace pouchwright::tell
