#include "render/svg.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cctype>
#include <charconv>
#include <cmath>
#include <vector>

#include "render/ink.h"
#include "support.h"

using namespace pouchwright;
using render::canvas_svg;
using render::FontMeasure;
using render::page_svg;
using render::SvgInfo;
using render::TextOutliner;

namespace {

SvgInfo info() { return {.title = "Card <1> & \"co\"", .note = "for paper and card only"}; }

std::string canvas(const ink::Drawing& drawing) {
  return canvas_svg(drawing, info(), TextOutliner(pinned_fonts()));
}

std::string page(const paper::Pages& pages, std::size_t index) {
  return page_svg(pages, index, info(), FontMeasure(pinned_fonts()), TextOutliner(pinned_fonts()));
}

bool contains(const std::string& text, std::string_view part) {
  return text.find(part) != std::string::npos;
}

std::size_t count(const std::string& text, std::string_view part) {
  std::size_t found = 0;
  for (auto at = text.find(part); at != std::string::npos; at = text.find(part, at + 1)) ++found;
  return found;
}

/// From the group's opening to the next group's.
std::string group(const std::string& svg, std::string_view id) {
  const auto begin = svg.find("<g id=\"" + std::string(id) + "\">");
  REQUIRE(begin != std::string::npos);
  return svg.substr(begin, svg.find("\n<g id=", begin) - begin);
}

double decimal_of(std::string text) {
  text.erase(0, text.find_first_not_of(' '));
  double value = 0;
  const auto [end, fault] = std::from_chars(text.data(), text.data() + text.size(), value);
  REQUIRE(fault == std::errc());
  REQUIRE(end == text.data() + text.size());
  return value;
}

}  // namespace

TEST_CASE("a drawing's file keeps its coordinates and states its size in millimetres") {
  const std::string svg = canvas(small_card());
  CHECK(contains(svg, "width=\"130mm\" height=\"90mm\" viewBox=\"-5 -5 130 90\""));
  CHECK(contains(svg,
                 "d=\"M0 0L120 0L120 80L0 80Z\" fill=\"none\" stroke=\"#000\" "
                 "stroke-width=\"0.35\"/>"));
  CHECK_FALSE(contains(svg, "transform"));
}

TEST_CASE("all nine groups are there, in order, empty ones too") {
  for (const std::string& svg : {canvas(small_card()), canvas({}), page(card_pages(), 0)}) {
    std::size_t at = 0;
    for (const ink::Group group : ink::kGroups) {
      const std::string opening = "\n<g id=\"" + std::string(ink::id_of(group)) + "\">\n";
      CHECK(count(svg, opening) == 1);
      const std::size_t found = svg.find(opening);
      CHECK(found > at);
      at = found;
    }
  }
}

TEST_CASE("dashes are attributes in millimetres") {
  // ISO 128-20, line type 02 (from memory): dash 12 d, gap 3 d.
  CHECK(contains(group(canvas(small_card()), "fold"), "stroke-dasharray=\"3 0.75\""));
}

TEST_CASE("areas are white, one of two greys or black, and cover what was drawn before them") {
  using ink::Fill;
  ink::Drawing card{.name = "card", .title = "Card", .extent = {0, 0, 40, 40}, .items = {}};
  for (const Fill fill : {Fill::solid, Fill::grey, Fill::pale, Fill::paper, Fill::none}) {
    card.add(ink::Shape{.group = ink::Group::cut,
                        .path = ink::rectangle({0, 0, 40, 40}),
                        .stroke = std::nullopt,
                        .fill = fill,
                        .name = {}});
  }
  const std::string svg = canvas(card);
  std::size_t at = 0;
  // 0.8 and 0.9 of 255, by hand.
  for (const char* fill : {"#000", "#cccccc", "#e6e6e6", "#ffffff", "none"}) {
    CAPTURE(fill);
    at = svg.find("fill=\"" + std::string(fill) + '"', at);
    CHECK(at != std::string::npos);
  }
}

TEST_CASE("text becomes outlines and stays readable beside them") {
  const std::string labels = group(canvas(small_card()), "label");
  CHECK(contains(labels, "aria-label=\"this side up &lt;&amp;&quot;&gt;\""));
  CHECK(contains(labels, "fill=\"#000\""));
  CHECK_FALSE(contains(labels, "<text"));
}

TEST_CASE("letters are moved to, and steps from point to point end where their outlines end") {
  const ink::Drawing card = small_card();
  const std::string labels = group(canvas(card), "label");
  const auto from = labels.find(" d=\"", labels.find("aria-label")) + 4;
  const std::string data = labels.substr(from, labels.find('"', from) - from);
  CHECK(data.find_first_of("LCZ") == std::string::npos);
  std::vector<double> ends;  // x, y behind each move or line, walked as SVG 1.1, 8.3, says
  double x = 0;
  double y = 0;
  double start_x = 0;
  double start_y = 0;
  for (std::size_t at = 0; at < data.size();) {
    const char verb = data[at++];
    std::vector<double> steps;
    while (at < data.size() && std::isalpha(static_cast<unsigned char>(data[at])) == 0) {
      const std::size_t end = std::min(data.find_first_of(" -Mmlcz", at + 1), data.size());
      steps.push_back(decimal_of(data.substr(at, end - at)));
      at = end;
    }
    if (verb == 'z') {
      x = start_x;
      y = start_y;
      continue;
    }
    REQUIRE(steps.size() == (verb == 'c' ? 6 : 2));
    if (verb == 'M') x = y = 0;
    x += steps[steps.size() - 2];
    y += steps[steps.size() - 1];
    if (verb == 'm' || verb == 'M') {
      start_x = x;
      start_y = y;
    }
    ends.insert(ends.end(), {x, y});
  }
  std::vector<double> outlines;
  for (const ink::Item& item : card.items) {
    const auto* text = std::get_if<ink::Text>(&item);
    if (text == nullptr) continue;
    const TextOutliner outliner(pinned_fonts());
    for (const render::Letter& letter : outliner.letters(*text)) {
      for (const ink::Step& step : *letter.outline) {
        if (step.verb == ink::Verb::close) continue;
        const ink::Point place = render::set_in(*text, step.to);
        outlines.insert(outlines.end(), {letter.at.x + place.x, letter.at.y + place.y});
      }
    }
    break;
  }
  REQUIRE(ends.size() == outlines.size());
  for (std::size_t i = 0; i < ends.size(); ++i) {
    CHECK(std::abs(ends[i] - outlines[i]) <= 0.0051);  // half of a hundredth of a millimetre
  }
}

TEST_CASE("title and note are escaped, and what XML cannot hold is replaced") {
  CHECK(contains(canvas(small_card()), "<title>Card &lt;1&gt; &amp; &quot;co&quot;</title>"));
  CHECK(contains(canvas(small_card()), "<desc>for paper and card only</desc>"));
  const SvgInfo odd{.title =
                        "a\x01"
                        "b\xFF"
                        "c\xEF\xBF\xBF",
                    .note = "1\n2"};
  const std::string svg = canvas_svg(small_card(), odd, TextOutliner(pinned_fonts()));
  CHECK(contains(svg, "<title>a\uFFFDb\uFFFDc\uFFFD</title>"));
  CHECK(contains(svg, "<desc>1&#10;2</desc>"));
}

TEST_CASE("ids are given once") {
  ink::Drawing card = small_card();  // two of its shapes are named fold, as a group is
  card.name = "cut";
  const std::string svg = canvas(card);
  CHECK(count(svg, "id=\"fold\"") == 1);
  CHECK(count(svg, "id=\"fold-2\"") == 1);
  CHECK(count(svg, "id=\"fold-3\"") == 1);
  CHECK(count(svg, "id=\"cut\"") == 1);
  CHECK(contains(svg, "<svg xmlns=\"http://www.w3.org/2000/svg\" id=\"cut-2\""));
}

TEST_CASE("a page is in paper millimetres and clips drawings but not furniture") {
  const std::string svg = page(card_pages(), 0);
  CHECK(contains(svg, "width=\"210mm\" height=\"297mm\" viewBox=\"0 0 210 297\""));
  CHECK(contains(svg,
                 "<clipPath id=\"window\"><path d=\"M20 30L90 30L90 120L20 120Z\" "
                 "clip-rule=\"evenodd\"/>"));
  // The card's corner (0, 0) lies 5 mm inside the window at (20, 30).
  CHECK(contains(group(svg, "cut"), "<g clip-path=\"url(#window)\">\n<path d=\"M25 35L145 35"));
  const std::string square = group(svg, "scale-check");
  CHECK(contains(square, "d=\"M20 200L70 200L70 250L20 250Z\""));
  CHECK_FALSE(contains(square, "clip-path"));
}

TEST_CASE("a turned window turns its lines") {
  // By hand: window x 55 to 125, y -5 to 85, turned clockwise: (x, y) -> (20 + 85 - y, 30 + x -
  // 55).
  const std::string svg = page(card_pages(), 1);
  CHECK(contains(svg, "<path d=\"M20 30L110 30L110 100L20 100Z\" clip-rule"));
  CHECK(contains(group(svg, "fold"), "d=\"M65 -25L65 95\""));
  CHECK(contains(group(svg, "cut"), "M105 -25L105 95L25 95L25 -25Z"));
}

TEST_CASE("the printer correction moves places and keeps line widths") {
  paper::Pages pages = card_pages();
  pages.scale = {1.01, 0.99};
  const std::string cut = group(page(pages, 0), "cut");
  // 20 + 5 · 1.01, 30 + 5 · 0.99, 20 + 125 · 1.01
  CHECK(contains(cut, "M25.05 34.95L146.25 34.95"));
  CHECK(contains(cut, "stroke-width=\"0.35\""));
}

TEST_CASE("a page's gaps are holes in its windows, as far as they lie in them") {
  // By hand: the window on the paper is x 20 to 90, y 30 to 120. Even-odd (SVG 1.1, 14.3.5), a hole
  // that reached out of it would show what lies there.
  paper::Pages pages = card_pages();
  pages.pages[0].gaps = {{40, 50, 60, 55}, {80, 100, 95, 105}, {20, 130, 90, 140}};
  CHECK(contains(page(pages, 0),
                 "<path d=\"M20 30L90 30L90 120L20 120ZM40 50L60 50L60 55L40 55Z"
                 "M80 100L90 100L90 105L80 105Z\" clip-rule=\"evenodd\"/>"));
  CHECK_FALSE(contains(group(page(pages, 0), "scale-check"), "clip-path"));
}

TEST_CASE("what lies outside the window is left out") {
  paper::Pages pages = card_pages();
  pages.drawings[0].add(outline({110, 60, 112, 62}, ink::Group::grain));
  CHECK(count(group(page(pages, 0), "grain"), "<path") == 0);
  CHECK(count(group(page(pages, 1), "grain"), "<path") == 1);
}

TEST_CASE("words that a window cuts beyond the join are left to the window that has them whole") {
  // Two windows that share 90 to 100, joined at 95: what is cut off the first, and covered on the
  // second, is what lies beyond it.
  ink::Drawing drawing{.name = "d", .title = "D", .extent = {0, 0, 100, 190}};
  const auto words_at = [&](double y, const char* words) {
    drawing.add(ink::Text{.group = ink::Group::label, .words = words, .at = {10, y}, .size = 3.2});
  };
  words_at(50, "above");
  words_at(99.9, "beyond");  // reaches from about 97 to 101
  words_at(92, "before");    // from about 89 to 93
  words_at(140, "below");
  paper::Pages pages{.name = "p", .title = "P", .width = 210, .height = 297};
  pages.drawings = {drawing};
  pages.pages.resize(2);
  pages.pages[0].placements = {{.window = {0, 0, 100, 100}, .at = {10, 10}, .cell = "A1"}};
  pages.pages[1].placements = {{.window = {0, 90, 100, 190}, .at = {10, 10}, .cell = "A2"}};
  const auto words_on = [&](std::size_t page) {
    std::vector<std::string> found;
    for (const ink::Item& item : render::window_items(pages, pages.pages[page].placements[0],
                                                      FontMeasure(pinned_fonts()))) {
      found.push_back(std::get<ink::Text>(item).words);
    }
    return found;
  };
  CHECK(words_on(0) == std::vector<std::string>{"above", "before"});
  CHECK(words_on(1) == std::vector<std::string>{"beyond", "below"});
}

TEST_CASE("of a path in parts only those near the window are carried") {
  paper::Pages pages = card_pages();
  ink::Path lines;
  for (const double x : {-500.0, 10.0, 500.0}) {
    for (const auto& step : ink::line({x, 0}, {x + 5, 5})) lines.push_back(step);
  }
  pages.drawings[0].items = {ink::Shape{.group = ink::Group::seal,
                                        .path = lines,
                                        .stroke = ink::Stroke{},
                                        .fill = ink::Fill::none,
                                        .name = {}}};
  // The first page shows x from -5, which stands at 20 on the paper; y 0 at 35.
  const std::string seal = group(page(pages, 0), "seal");
  CHECK(contains(seal, "d=\"M35 35L40 40\""));
}

TEST_CASE("the same drawing gives the same bytes") {
  CHECK(canvas(small_card()) == canvas(small_card()));
  CHECK(page(card_pages(), 1) == page(card_pages(), 1));
}
