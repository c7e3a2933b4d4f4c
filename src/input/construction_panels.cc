#include "input/construction_panels.h"

#include <algorithm>

#include "input/construction_parts.h"

namespace pouchwright::input {

using namespace pouch;

namespace {

/// Of the outer that lies on the panel: how far its edges stay inside the panel's.
void read_outer_inset(TableReader& reader, PanelRule& panel, Names& names) {
  const Node* node = reader.table("outer_inset");
  if (!node) return;
  TableReader inset(*node, reader.path("outer_inset"), reader.context());
  panel.outer_inset = {form_under(inset, "start", names), form_under(inset, "end", names),
                       form_under(inset, "sides", names)};
  inset.finish();
}

}  // namespace

bool is_panel(const Construction& made, const std::string& name) {
  return std::any_of(made.panels.begin(), made.panels.end(),
                     [&](const PanelRule& panel) { return panel.name == name; });
}

void PanelReader::read(const Node& node, const Context& context) {
  TableReader reader(node, "panel", context);
  PanelRule panel;
  if (reader.require("name")) {
    if (const auto name = reader.text("name")) panel.name = name->value;
  }
  if (is_panel(made_, panel.name)) names_.twice("panel", {panel.name, node.place});
  panel.width = form_under(reader, "width", names_);
  if (const auto cloth =
          reader.choice("cloth", kClothWords, {ClothKind::laminate, ClothKind::lining})) {
    panel.cloth = cloth->value;
  }
  read_outer_inset(reader, panel, names_);
  reader.require("span");
  for (const Node* span : reader.tables("span")) spans_of(*span, context, panel);
  reader.finish();
  if (panel.spans.empty() && reader.has("span")) {
    context.diagnostics.error(node.place, {"panel-without-spans", {{"panel", panel.name}}}, {});
  }
  made_.panels.push_back(std::move(panel));
  places_.push_back(node.place);
}

/// One span, or one for each number of its `repeat`.
void PanelReader::spans_of(const Node& node, const Context& context, PanelRule& panel) {
  TableReader reader(node, "span", context);
  SpanRule span;
  if (reader.require("name")) {
    if (const auto name = reader.text("name")) span.name = name->value;
  }
  reader.require("length");
  span.length = form_under(reader, "length", names_);
  const auto repeat = reader.text("repeat");
  reader.finish();
  const auto add = [&](SpanRule one) {
    names_.add_span({one.name, node.place}, {made_.panels.size(), panel.spans.size()});
    panel.spans.push_back(std::move(one));
  };
  if (!repeat) return add(std::move(span));
  for (const int number : repeats_of(*repeat, made_.counts, context)) {
    SpanRule one = span;
    one.name = span.name + "-" + std::to_string(number);
    repeated_[span.name].push_back(one.name);
    add(std::move(one));
  }
}

}  // namespace pouchwright::input
