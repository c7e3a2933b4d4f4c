/// The operations of a construction's file, in the order in which a person does them, and whether
/// they can be done in that order.
///
/// Inside `input` only; callers outside use read_construction() in data.h.
#pragma once

#include <map>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "input/construction_names.h"
#include "pouch/construction.h"

namespace pouchwright::input {

/// One operation as the file has it; which fields matter, its action says.
struct OperationText {
  Name id;
  std::vector<Name> needs;
  pouch::Action action{};
  std::optional<Name> panel, turn, attachment, span, compartment;
  std::optional<TwoNames> pair;  ///< fold: between; lay panel: meets
  std::vector<Placed<pouch::Edge>> edges;
  pouch::Edge end = pouch::Edge::start;
  pouch::Landing landing = pouch::Landing::on_top;
  pouch::PressFrom from = pouch::PressFrom::front;
  std::optional<pouch::Through> through;
  pouch::LinearForm offset;
  bool film_up = false;
};

/// Reads operations into `made` and what places they have into `places`; both must outlive it.
class OperationReader {
 public:
  OperationReader(pouch::Construction& made, pouch::ConstructionPlaces& places, Names& names)
      : made_(made), places_(places), names_(names) {}

  void read(const Node& node, const Context& context);
  /// What can only be told once all are read: needs, and what no operation lays on or fixes.
  /// `panels` has the place of each panel.
  void finish(const std::vector<base::Place>& panels);

 private:
  void add(OperationText text);
  [[nodiscard]] pouch::Work work_of(const OperationText& text);
  [[nodiscard]] pouch::Work attach(const OperationText& text);
  [[nodiscard]] pouch::Work lay_panel(const OperationText& text);
  [[nodiscard]] pouch::Work fold(const OperationText& text);
  [[nodiscard]] pouch::Work sew(const OperationText& text);
  [[nodiscard]] std::size_t panel_of(const OperationText& text);
  [[nodiscard]] std::size_t compartment_of(const OperationText& text);
  void order();
  [[nodiscard]] std::set<std::string> circles();
  [[nodiscard]] bool leads_back(const std::string& from, const std::string& goal,
                                std::vector<std::string>& way, std::set<std::string>& seen) const;

  pouch::Construction& made_;
  pouch::ConstructionPlaces& places_;
  Names& names_;
  std::vector<OperationText> texts_;
  std::set<std::string> attached_;
  std::set<std::size_t> laid_;  ///< panels that an operation lays on
  std::set<std::pair<SpanRef, SpanRef>> folded_;
  std::map<pouch::Edge, std::size_t> sewn_;  ///< by which operation first
};

}  // namespace pouchwright::input
