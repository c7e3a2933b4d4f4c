#include "render/svg.h"

#include <algorithm>
#include <cctype>
#include <cmath>
#include <initializer_list>
#include <map>
#include <string_view>
#include <tuple>
#include <vector>

#include "base/number.h"
#include "render/ink.h"

namespace pouchwright::render {
namespace {

using ink::Box;
using ink::Group;
using ink::Item;
using ink::Path;
using ink::Point;
using ink::Shape;
using ink::Text;
using ink::Verb;

/// A tenth of a micrometre: finer than any cutter, and short.
constexpr int kPlaces = 4;

std::string number(double value) { return base::shortest(value, kPlaces); }

/// `text` fit for an attribute or an element. XML 1.0 cannot hold most control characters, nor
/// U+FFFE and U+FFFF, even escaped; they become U+FFFD.
std::string escaped(std::string_view text) {
  constexpr std::string_view kReplacement = "\uFFFD";
  const std::string valid = valid_utf8(text);
  std::string result;
  for (std::size_t at = 0; at < valid.size(); ++at) {
    const char c = valid[at];
    const std::string_view three = std::string_view(valid).substr(at, 3);
    if (c == '&') {
      result += "&amp;";
    } else if (c == '<') {
      result += "&lt;";
    } else if (c == '>') {
      result += "&gt;";
    } else if (c == '"') {
      result += "&quot;";
    } else if (c == '\t' || c == '\n' || c == '\r') {
      result += "&#" + std::to_string(static_cast<int>(c)) + ';';
    } else if (static_cast<unsigned char>(c) < 0x20) {
      result += kReplacement;
    } else if (three == "\xEF\xBF\xBE" || three == "\xEF\xBF\xBF") {
      result += kReplacement;
      at += 2;
    } else {
      result += c;
    }
  }
  return result;
}

/// ids in use: each is given once, and those of the groups never to anything else.
class Ids {
 public:
  Ids() {
    for (const Group group : ink::kGroups) given_.emplace(ink::id_of(group), 1);
  }

  /// `name` as an XML name, numbered where it is already taken.
  std::string unused(std::string_view name) {
    const std::string wanted = as_xml_name(name);
    std::string id = wanted;
    while (given_.contains(id)) id = wanted + '-' + std::to_string(++given_[wanted]);
    given_.emplace(id, 1);
    return id;
  }

 private:
  static std::string as_xml_name(std::string_view name) {
    std::string id;
    for (const char c : name) {
      const bool plain = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9');
      id += plain || c == '-' || c == '_' || c == '.' ? c : '-';
    }
    const bool begins_well = !id.empty() && std::isalpha(static_cast<unsigned char>(id[0])) != 0;
    return begins_well ? id : 'n' + id;
  }

  std::map<std::string, int> given_;  ///< and the last number put behind each
};

void add_point(std::string& data, Point p) {
  base::append_shortest(data, p.x, kPlaces);
  data += ' ';
  base::append_shortest(data, p.y, kPlaces);
}

void add_path(std::string& data, const Path& path) {
  for (const ink::Step& step : path) {
    switch (step.verb) {
      case Verb::move:
        data += 'M';
        add_point(data, step.to);
        break;
      case Verb::line:
        data += 'L';
        add_point(data, step.to);
        break;
      case Verb::curve:
        data += 'C';
        add_point(data, step.c1);
        data += ' ';
        add_point(data, step.c2);
        data += ' ';
        add_point(data, step.to);
        break;
      case Verb::close:
        data += 'Z';
        break;
    }
  }
}

/// The steps from point to point of a letter's outline, in hundredths of a millimetre (a printer's
/// dot at 600 to the inch is 0.04 mm). What is rounded off a step is in the next one, so that no
/// error adds up.
class LetterSteps {
 public:
  /// Behind the first move. `place` says where a point of the outline is, in mm.
  template <class Place>
  LetterSteps(const Path& outline, const Place& place) {
    const Point first = place(outline.front().to);
    const auto spot = [&](Point p) {
      const Point at = place(p);
      return Spot{std::lround((at.x - first.x) * 100), std::lround((at.y - first.y) * 100)};
    };
    for (auto step = outline.begin() + 1; step != outline.end(); ++step) {
      switch (step->verb) {
        case Verb::move:
          add('m', {spot(step->to)});
          start_ = at_;
          break;
        case Verb::line:
          add('l', {spot(step->to)});
          break;
        case Verb::curve:
          add('c', {spot(step->c1), spot(step->c2), spot(step->to)});
          break;
        case Verb::close:
          text_ += 'z';
          at_ = start_;
          break;
      }
    }
  }

  [[nodiscard]] std::string text() && { return std::move(text_); }

 private:
  struct Spot {
    long x = 0, y = 0;  ///< hundredths, from the outline's first point
  };

  void add(char verb, std::initializer_list<Spot> spots) {
    text_ += verb;
    for (const Spot& spot : spots) {
      add_number(spot.x - at_.x);
      add_number(spot.y - at_.y);
    }
    at_ = *(spots.end() - 1);
  }

  /// A minus parts numbers as well as a blank does; a nought before the point is not needed.
  void add_number(long hundredths) {
    if (hundredths < 0) {
      text_ += '-';
    } else if (text_.back() < 'a') {
      text_ += ' ';
    }
    const long whole = std::abs(hundredths) / 100;
    const long rest = std::abs(hundredths) % 100;
    if (whole != 0 || rest == 0) text_ += std::to_string(whole);
    if (rest == 0) return;
    text_ += '.';
    text_ += static_cast<char>('0' + rest / 10);
    if (rest % 10 != 0) text_ += static_cast<char>('0' + rest % 10);
  }

  std::string text_;
  Spot at_, start_;
};

/// Letters, which are most of a file. Each is printed once for its size and turn, and then only
/// moved.
class LetterPrinter {
 public:
  void add(std::string& data, const Letter& letter, const Text& text) {
    const auto place = [&text](Point p) { return set_in(text, p); };
    const auto [found, is_new] = printed_.try_emplace({letter.outline, text.size, text.turn_deg});
    Printed& printed = found->second;
    if (is_new) {
      printed.first = place(letter.outline->front().to);
      printed.steps = LetterSteps(*letter.outline, place).text();
    }
    data += 'M';
    add_point(data, {letter.at.x + printed.first.x, letter.at.y + printed.first.y});
    data += printed.steps;
  }

 private:
  struct Printed {
    Point first;
    std::string steps;
  };

  std::map<std::tuple<const Path*, double, int>, Printed> printed_;
};

std::string fill_attribute(ink::Fill fill) {
  if (fill == ink::Fill::none) return " fill=\"none\"";
  if (fill == ink::Fill::solid) return " fill=\"#000\"";
  constexpr std::string_view kDigits = "0123456789abcdef";
  const auto white = static_cast<std::size_t>(std::lround(ink::lightness(fill) * 255));
  const std::string part{kDigits[white / 16], kDigits[white % 16]};
  return " fill=\"#" + part + part + part + '"';
}

std::string stroke_attributes(const ink::Stroke& stroke) {
  std::string result = " stroke=\"#000\" stroke-width=\"" + number(stroke.width) + '"';
  const std::vector<double> dashes = ink::dashes_of(stroke.pattern, stroke.width);
  if (dashes.empty()) return result;
  result += " stroke-dasharray=\"";
  for (std::size_t k = 0; k < dashes.size(); ++k) {
    if (k > 0) result += ' ';
    result += number(dashes[k]);
  }
  return result + '"';
}

/// One file under construction.
class Writer {
 public:
  Writer(const Box& view, std::string_view name, const SvgInfo& info) {
    out_ = "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<svg xmlns=\"http://www.w3.org/2000/svg\"";
    out_ += " id=\"" + ids_.unused(name) + '"';
    out_ += " width=\"" + number(view.width()) + "mm\" height=\"" + number(view.height()) + "mm\"";
    out_ += " viewBox=\"" + number(view.x0) + ' ' + number(view.y0) + ' ' + number(view.width()) +
            ' ' + number(view.height()) + '"';
    out_ += " stroke-linecap=\"butt\" stroke-linejoin=\"miter\" stroke-miterlimit=\"" +
            number(kMiterLimit) + "\">\n";
    out_ += "<title>" + escaped(info.title) + "</title>\n";
    out_ += "<desc>" + escaped(info.note) + "</desc>\n";
  }

  /// Defines what to clip by, boxes under the even-odd rule; its id.
  std::string add_clip(const std::vector<Box>& boxes) {
    std::string id = ids_.unused("window");
    out_ += "<defs><clipPath id=\"" + id + "\"><path d=\"";
    for (const Box& box : boxes) add_path(out_, ink::rectangle(box));
    out_ += "\" clip-rule=\"evenodd\"/></clipPath></defs>\n";
    return id;
  }

  void open_group(Group group) { out_ += "<g id=\"" + std::string(ink::id_of(group)) + "\">\n"; }
  void open_clipped(std::string_view clip) {
    out_ += "<g clip-path=\"url(#" + std::string(clip) + ")\">\n";
  }
  void close_group() { out_ += "</g>\n"; }

  void add(const Item& item, const TextOutliner& outliner) {
    if (const auto* text = std::get_if<Text>(&item)) {
      add_text(*text, outliner);
    } else {
      add_shape(std::get<Shape>(item));
    }
  }

  [[nodiscard]] std::string finished() && { return std::move(out_) + "</svg>\n"; }

 private:
  void add_shape(const Shape& shape) {
    if (shape.path.empty()) return;
    out_ += "<path";
    if (!shape.name.empty()) out_ += " id=\"" + ids_.unused(shape.name) + '"';
    out_ += " d=\"";
    add_path(out_, shape.path);
    out_ += '"';
    out_ += fill_attribute(shape.fill);
    if (shape.stroke) out_ += stroke_attributes(*shape.stroke);
    out_ += "/>\n";
  }

  /// The words stay beside the outlines, for those who search the file or have it read to them.
  void add_text(const Text& text, const TextOutliner& outliner) {
    const std::vector<Letter> letters = outliner.letters(text);
    if (letters.empty()) return;
    out_ += "<path role=\"img\" aria-label=\"" + escaped(text.words) + "\" d=\"";
    for (const Letter& letter : letters) letters_.add(out_, letter, text);
    out_ += "\" fill=\"#000\"/>\n";
  }

  LetterPrinter letters_;
  Ids ids_;
  std::string out_;
};

Group group_of(const Item& item) {
  return std::visit([](const auto& it) { return it.group; }, item);
}

/// One item list by groups, each in its old order.
void add_group(Writer& writer, Group group, const std::vector<Item>& items,
               const TextOutliner& outliner) {
  for (const Item& item : items) {
    if (group_of(item) == group) writer.add(item, outliner);
  }
}

bool has_group(const std::vector<Item>& items, Group group) {
  return std::any_of(items.begin(), items.end(),
                     [group](const Item& item) { return group_of(item) == group; });
}

/// What shows of a drawing through one window of a page.
struct View {
  std::string clip;
  std::vector<Item> items;
};

std::vector<View> views_of(Writer& writer, const paper::Pages& pages, const paper::Page& page,
                           const ink::TextMeasure& measure) {
  std::vector<View> views;
  for (const paper::Placement& placement : page.placements) {
    views.push_back({writer.add_clip(clip_on_paper(placement, pages.scale, page)),
                     window_items(pages, placement, measure)});
  }
  return views;
}

}  // namespace

std::string canvas_svg(const ink::Drawing& drawing, const SvgInfo& info,
                       const TextOutliner& outliner) {
  Writer writer(drawing.extent, drawing.name, info);
  for (const Group group : ink::kGroups) {
    writer.open_group(group);
    add_group(writer, group, drawing.items, outliner);
    writer.close_group();
  }
  return std::move(writer).finished();
}

std::string page_svg(const paper::Pages& pages, std::size_t page, const SvgInfo& info,
                     const ink::TextMeasure& measure, const TextOutliner& outliner) {
  const paper::Page& sheet = pages.pages.at(page);
  Writer writer({0, 0, pages.width, pages.height}, pages.name + '-' + sheet.label, info);
  const std::vector<View> views = views_of(writer, pages, sheet, measure);
  for (const Group group : ink::kGroups) {
    writer.open_group(group);
    for (const View& view : views) {
      if (!has_group(view.items, group)) continue;
      writer.open_clipped(view.clip);
      add_group(writer, group, view.items, outliner);
      writer.close_group();
    }
    add_group(writer, group, sheet.furniture, outliner);
    writer.close_group();
  }
  return std::move(writer).finished();
}

}  // namespace pouchwright::render
