/// What the tests of the full-size drawings share: a measure, pouches, and checks of what
/// every sheet owes its reader.
#pragma once

#include <doctest/doctest.h>

#include <algorithm>
#include <string>
#include <utility>
#include <vector>

#include "base/voice.h"
#include "ink/scene.h"
#include "pouch/pouch.h"
#include "support/requests.h"
#include "support/words.h"

namespace pouchwright::test {

/// Every character 0.6 em wide, a little more than real fonts need on average.
class EvenMeasure final : public ink::TextMeasure {
 public:
  [[nodiscard]] ink::TextSize measure(std::string_view words, double size,
                                      ink::Weight) const override {
    const auto characters = std::count_if(words.begin(), words.end(), [](char c) {
      return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U;
    });
    return {static_cast<double>(characters) * 0.6 * size, 0.95 * size, 0.25 * size};
  }
};

/// As a job in inches has it, whose cuts lie on its ruler.
inline base::LengthStyle style_of(const pouch::Request& request) {
  const bool in_inches = request.cut_step == base::kRulerInch;
  return base::default_style(in_inches ? base::Unit::inch : base::Unit::mm);
}

/// Requires: a request without errors.
inline pouch::Pouch derived(const pouch::Request& request) {
  base::Diagnostics diagnostics;
  auto made = pouch::derive(request, diagnostics);
  REQUIRE(made.has_value());
  return *made;
}

inline pouch::Request sized(Length width, Length depth, Length flap) {
  pouch::Request request = hand_worked(foldover());
  request.sizes["width"].value = width;
  request.sizes["depth"].value = depth;
  request.sizes["flap"].value = flap;
  request.laminate.width = mm(3000);
  request.title = "Carry pouch";
  return request;
}

inline pouch::Request in_inches() {
  pouch::Request request = sized(Length::inches(15, 2), Length::inches(6), Length::inches(11, 4));
  request.cut_step = base::kRulerInch;
  request.sizes["lip_drop"].value = Length::inches(3, 8);
  request.sizes["seam_allowance"].value = Length::inches(1, 4);
  request.sizes["needle_reach"].value = Length::inches(1, 4);
  request.sizes["seal_width"].value = Length::inches(1, 2);
  return request;
}

inline pouch::Request with_ends(pouch::Request request, const pouch::EndFinish& finish) {
  request.start_finish = finish;
  request.end_finish = finish;
  return request;
}

inline pouch::Request with_outer(pouch::Request request) {
  request.outer = request.laminate;
  request.outer->name = "outer";
  request.outer->kind = pouch::MaterialKind::outer;
  request.outer->turn = pouch::Turn::along;
  return request;
}

struct NamedRequest {
  const char* name;
  pouch::Request request;
};

/// The pouches on which every sheet must be right.
inline std::vector<NamedRequest> all_requests() {
  const pouch::EndFinish overedge{pouch::FinishKind::overedge, {}, mm(5), {}};
  const pouch::EndFinish turned{pouch::FinishKind::turned, mm(10), mm(18), {}};
  return {{"hand-worked fold-over", hand_worked(foldover())},
          {"hand-worked gusset", hand_worked(gusset())},
          {"overedged, with an outer", with_outer(with_ends(hand_worked(foldover()), overedge))},
          {"turned ends, in inches", with_ends(in_inches(), turned)},
          {"inches", in_inches()},
          {"tiny", sized(mm(60), mm(80), mm(35))},
          {"between tiny and common", sized(mm(110), mm(60), mm(40))},
          {"huge", sized(mm(1200), mm(900), mm(300))}};
}

inline std::vector<const ink::Shape*> shapes_of(const ink::Drawing& sheet, ink::Group group) {
  std::vector<const ink::Shape*> result;
  for (const ink::Item& item : sheet.items) {
    const auto* shape = std::get_if<ink::Shape>(&item);
    if (shape != nullptr && shape->group == group) result.push_back(shape);
  }
  return result;
}

inline std::vector<const ink::Text*> texts_of(const ink::Drawing& sheet) {
  std::vector<const ink::Text*> result;
  for (const ink::Item& item : sheet.items) {
    if (const auto* text = std::get_if<ink::Text>(&item)) result.push_back(text);
  }
  return result;
}

/// All words in the order drawn, lines joined by blanks.
inline std::string all_words(const ink::Drawing& sheet) {
  std::string result;
  for (const ink::Text* text : texts_of(sheet)) result += text->words + " ";
  return result;
}

/// True where a part of the segment lies inside the box.
inline bool crosses(ink::Point a, ink::Point b, const ink::Box& box) {
  double from = 0;
  double to = 1;
  const auto clip = [&](double start, double step, double low, double high) {
    if (step == 0) return start > low && start < high;
    const double t0 = (low - start) / step;
    const double t1 = (high - start) / step;
    from = std::max(from, std::min(t0, t1));
    to = std::min(to, std::max(t0, t1));
    return true;
  };
  const bool may = clip(a.x, b.x - a.x, box.x0, box.x1) && clip(a.y, b.y - a.y, box.y0, box.y1);
  return may && from < to;
}

/// A point of the cubic curve from `from`, `t` from 0 to 1.
inline ink::Point on_curve(ink::Point from, const ink::Step& step, double t) {
  const double u = 1 - t;
  const auto mix = [&](double a, double b, double c, double d) {
    return u * u * u * a + 3 * u * u * t * b + 3 * u * t * t * c + t * t * t * d;
  };
  return {mix(from.x, step.c1.x, step.c2.x, step.to.x),
          mix(from.y, step.c1.y, step.c2.y, step.to.y)};
}

inline bool crosses(const ink::Shape& shape, const ink::Box& box) {
  constexpr int kPieces = 16;
  ink::Point begin;
  ink::Point last;
  for (const ink::Step& step : shape.path) {
    if (step.verb == ink::Verb::move) begin = step.to;
    const ink::Point to = step.verb == ink::Verb::close ? begin : step.to;
    if (step.verb == ink::Verb::curve) {
      ink::Point from = last;
      for (int piece = 1; piece <= kPieces; ++piece) {
        const ink::Point next = on_curve(last, step, static_cast<double>(piece) / kPieces);
        if (crosses(from, next, box)) return true;
        from = next;
      }
    } else if (step.verb != ink::Verb::move && crosses(last, to, box)) {
      return true;
    }
    last = to;
  }
  return false;
}

inline bool lies_in(const ink::Box& inner, const ink::Box& outer) {
  return inner.x0 >= outer.x0 && inner.y0 >= outer.y0 && inner.x1 <= outer.x1 &&
         inner.y1 <= outer.y1;
}

/// The box that a filled rectangle along the axes covers; empty for all others.
inline std::optional<ink::Box> covered_by(const ink::Item& item) {
  const auto* shape = std::get_if<ink::Shape>(&item);
  if (shape == nullptr || shape->fill == ink::Fill::none) return std::nullopt;
  const ink::Box box = bounds(shape->path);
  for (const ink::Step& step : shape->path) {
    const bool at_corner = (step.to.x == box.x0 || step.to.x == box.x1) &&
                           (step.to.y == box.y0 || step.to.y == box.y1);
    if (step.verb == ink::Verb::curve) return std::nullopt;
    if (step.verb != ink::Verb::close && !at_corner) return std::nullopt;
  }
  return shape->path.size() == 5 ? std::optional(box) : std::nullopt;
}

/// What every sheet owes its reader: no words smaller than 8 pt, outside the sheet, over one
/// another or over any line, unless an area of their own covers that line.
inline void check_legible(const ink::Drawing& sheet) {
  const EvenMeasure measure;
  const auto texts = texts_of(sheet);
  for (std::size_t i = 0; i < texts.size(); ++i) {
    INFO(texts[i]->words);
    CHECK(texts[i]->size >= ink::kSmallestSize - 1e-9);
    const ink::Box box = ink::grown(bounds(*texts[i], measure), -1e-6);
    CHECK(lies_in(box, sheet.extent));
    for (std::size_t k = i + 1; k < texts.size(); ++k) {
      INFO(texts[k]->words);
      CHECK_FALSE(overlap(box, bounds(*texts[k], measure)));
    }
    std::size_t first_seen = 0;
    for (std::size_t k = 0; k < sheet.items.size(); ++k) {
      if (std::get_if<ink::Text>(&sheet.items[k]) == texts[i]) break;
      const auto ground = covered_by(sheet.items[k]);
      if (ground && lies_in(box, *ground)) first_seen = k + 1;
    }
    for (std::size_t k = first_seen; k < sheet.items.size(); ++k) {
      const auto* shape = std::get_if<ink::Shape>(&sheet.items[k]);
      if (shape == nullptr) continue;
      INFO(shape->name);
      CHECK_FALSE(crosses(*shape, box));
    }
  }
}

inline void check_same(const ink::Box& a, const ink::Box& b) {
  CHECK(a.x0 == doctest::Approx(b.x0));
  CHECK(a.y0 == doctest::Approx(b.y0));
  CHECK(a.x1 == doctest::Approx(b.x1));
  CHECK(a.y1 == doctest::Approx(b.y1));
}

/// One subpath, closed, through these corners in order.
inline void check_outline(const ink::Path& path, const std::vector<ink::Point>& corners) {
  REQUIRE(path.size() == corners.size() + 1);
  CHECK(path.front().verb == ink::Verb::move);
  CHECK(path.back().verb == ink::Verb::close);
  for (std::size_t i = 0; i < corners.size(); ++i) {
    if (i > 0) CHECK(path[i].verb == ink::Verb::line);
    CHECK(path[i].to.x == doctest::Approx(corners[i].x));
    CHECK(path[i].to.y == doctest::Approx(corners[i].y));
  }
}

}  // namespace pouchwright::test
