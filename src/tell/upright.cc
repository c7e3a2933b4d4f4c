#include "tell/upright.h"

#include "pouch/judge/sizes.h"
#include "pouch/judge/upright.h"
#include "tell/names.h"

namespace pouchwright::tell {
namespace {

base::Value::List names_of(const pouch::Pouch& pouch, const std::vector<pouch::SpanId>& spans,
                           const base::Voice& words) {
  base::Value::List names;
  for (const pouch::SpanId span : spans) {
    names.emplace_back(span_name(pouch.sizes.span(span).name, words));
  }
  return names;
}

}  // namespace

std::vector<base::Message> print_words(const pouch::Pouch& pouch, const base::Voice& words) {
  std::vector<base::Message> all;
  if (!pouch::has_upright_print(pouch.request)) return all;
  for (const pouch::Standing& one : pouch::standing_of(pouch)) {
    const pouch::FlatPanel& panel = pouch.sizes.panels[one.panel];
    all.push_back({"steps-print-top",
                   {{"end", span_name(end_span(panel, one.top).name, words)},
                    {"upright", names_of(pouch, one.upright, words)}}});
    if (one.on_head.empty()) continue;
    all.push_back({"steps-print-on-head", {{"on_head", names_of(pouch, one.on_head, words)}}});
  }
  return all;
}

}  // namespace pouchwright::tell
