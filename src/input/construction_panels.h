/// The `[[panel]]` tables of a construction file: what a panel is cut from, and its spans.
///
/// Inside `input` only; callers outside use read_construction() in data.h.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "input/construction_names.h"

namespace pouchwright::input {

/// The numbered spans that a repeated one stands for, in the panel's order, by its name in the
/// file.
using RepeatedSpans = std::map<std::string, std::vector<std::string>>;

[[nodiscard]] bool is_panel(const pouch::Construction& made, const std::string& name);

/// Adds panels to `made` in the order of the file. Its counts stand there already.
class PanelReader {
 public:
  PanelReader(pouch::Construction& made, Names& names) : made_(made), names_(names) {}

  void read(const Node& node, const Context& context);

  /// Of each panel, where it stands in the file.
  [[nodiscard]] const std::vector<base::Place>& places() const { return places_; }
  [[nodiscard]] const RepeatedSpans& repeated() const { return repeated_; }

 private:
  void spans_of(const Node& node, const Context& context, pouch::PanelRule& panel);

  pouch::Construction& made_;
  Names& names_;
  std::vector<base::Place> places_;
  RepeatedSpans repeated_;
};

}  // namespace pouchwright::input
