#include "pouch/construction.h"

#include <algorithm>

namespace pouchwright::pouch {

const SizeRule* Construction::size_rule(std::string_view size_name) const {
  const auto found = std::find_if(sizes.begin(), sizes.end(),
                                  [&](const SizeRule& rule) { return rule.name == size_name; });
  return found == sizes.end() ? nullptr : &*found;
}

std::size_t panel_of(const Construction& construction, const Operation& operation) {
  const auto& panels = construction.panels;
  const auto named = std::find_if(panels.begin(), panels.end(), [&](const PanelRule& panel) {
    return panel.name == operation.panel;
  });
  return named == panels.end() ? 0 : static_cast<std::size_t>(named - panels.begin());
}

std::size_t compartment_of(const Construction& construction, const Operation& operation) {
  const auto& all = construction.compartments;
  const auto named = std::find_if(all.begin(), all.end(), [&](const Compartment& one) {
    return one.name == operation.compartment;
  });
  return named == all.end() ? 0 : static_cast<std::size_t>(named - all.begin());
}

const Attachment* Construction::attachment(std::string_view attachment_name) const {
  const auto found =
      std::find_if(attachments.begin(), attachments.end(),
                   [&](const Attachment& one) { return one.name == attachment_name; });
  return found == attachments.end() ? nullptr : &*found;
}

const PanelRule* Construction::panel(std::string_view panel_name) const {
  const auto found = std::find_if(panels.begin(), panels.end(),
                                  [&](const PanelRule& one) { return one.name == panel_name; });
  return found == panels.end() ? nullptr : &*found;
}

const PieceRule* Construction::piece(std::string_view piece_name) const {
  const auto found = std::find_if(pieces.begin(), pieces.end(),
                                  [&](const PieceRule& one) { return one.name == piece_name; });
  return found == pieces.end() ? nullptr : &*found;
}

const PanelRule* Construction::panel_of_span(std::string_view span_name) const {
  for (const PanelRule& rule : panels) {
    for (const SpanRule& span : rule.spans) {
      if (span.name == span_name) return &rule;
    }
  }
  return nullptr;
}

bool Construction::has_bottom_seam() const {
  return panel_of_span(bottom_a) != panel_of_span(bottom_b);
}

}  // namespace pouchwright::pouch
