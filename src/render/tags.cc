#include "render/tags.h"

#include <cairo.h>

#include <algorithm>
#include <string_view>

#include "ink/canvas.h"

namespace pouchwright::render {
namespace {

using ink::Role;
using ink::Text;

/// The standard structure types that a text stands in, from outside (ISO 32000-1, 14.8.4), and how
/// many of them the text before it may have opened for both.
struct Place {
  std::vector<const char*> types;
  std::size_t shared = 0;
};

Place place_by_size(const Text& text) {
  if (text.size >= ink::kTitleSize) return {{"H1"}};
  const bool is_heading = text.size >= ink::kHeadingSize && text.weight == ink::Weight::bold;
  return {{is_heading ? "H2" : "P"}};
}

Place place_of(const Text& text, const std::vector<const char*>& open) {
  switch (text.role) {
    case Role::mark:
      return {{"L", "LI", "Lbl"}, 1};
    case Role::item: {
      const bool has_mark = !open.empty() && std::string_view(open.back()) == "Lbl";
      return {{"L", "LI", "LBody"}, has_mark ? 2U : 1U};
    }
    case Role::row:
      return {{"Table", "TR", "TD"}, 1};
    case Role::cell:
      return {{"Table", "TR", "TD"}, 2};
    case Role::by_size:
      return place_by_size(text);
    case Role::none:
      break;
  }
  return {};
}

}  // namespace

void Tags::open(const char* name) {
  cairo_tag_begin(target_, name, nullptr);
  open_.push_back(name);
}

void Tags::close_to(std::size_t depth) {
  for (; open_.size() > depth; open_.pop_back()) cairo_tag_end(target_, open_.back());
}

void Tags::close() {
  close_to(0);
  figure_.reset();
  is_picture_ = false;
}

void Tags::open_picture(const std::string& words) {
  close();
  open("Figure");
  figures_.push_back(words);
  is_picture_ = true;
}

void Tags::open_words(const Text& text) {
  if (text.goes_on && !open_.empty()) return;
  const Place place = place_of(text, open_);
  std::size_t kept = 0;
  const auto is_open = [&](std::size_t k) {
    return k < open_.size() && std::string_view(open_[k]) == place.types[k];
  };
  while (kept < place.shared && is_open(kept)) ++kept;
  close_to(kept);
  for (std::size_t k = kept; k < place.types.size(); ++k) open(place.types[k]);
}

void Tags::open_for(const ink::Item& item) {
  if (is_picture_) return;
  const ink::FigureWords& figure =
      std::visit([](const auto& one) -> const ink::FigureWords& { return one.figure; }, item);
  if (figure != figure_) {
    close();
    if (figure) {
      open("Figure");
      figures_.push_back(*figure);
      figure_ = figure;
    }
  }
  const auto* text = std::get_if<Text>(&item);
  if (text != nullptr && !figure) open_words(*text);
}

}  // namespace pouchwright::render
