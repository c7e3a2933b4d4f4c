#include "draw/sheets/cautions.h"

#include <algorithm>

#include "draw/full_size/cards.h"
#include "ink/canvas.h"
#include "ink/flow.h"
#include "ink/labels.h"
#include "pouch/pouch.h"

namespace pouchwright::draw {
namespace {

constexpr double kSign = 9;
/// Half of the ring's line stays inside the page.
constexpr double kInside = 0.4;
constexpr double kBesideSign = 2.5;
constexpr double kApart = 1.6;

/// What is said, beside a small picture of it or of what must never be.
struct Caution {
  const char* words;
  Icon sign{};
  bool never = false;
};
struct Chapter {
  const char* heading;
  std::vector<Caution> points;
};

// Sources: ISO 3758:2012 for the dots (edition from memory); burns as NHS, "Burns and scalds:
// treatment", has it (web page, from memory); hot washes by HSE, "Laundry treatments at high and low
// temperatures" (web page); soiled textiles after CDC, appendix D of its cleaning guidance (from
// memory). No public guidance says how far a hand stays from an iron: 120 mm is what ISO 13857
// keeps between fingers and danger behind an opening of 12 to 20 mm (table 4, from memory). Blades,
// clips and fumes are common practice, no source.
std::vector<Chapter> chapters_for(const CautionsSheet& sheet) {
  const char* film = sheet.request.outer ? "cautions-iron-film-outer" : "cautions-iron-film";
  const char* hands = sheet.has_place_to_hold ? "cautions-iron-hands" : "cautions-iron-no-hands";
  return {{"cautions-iron",
           {{"cautions-iron-dots", Icon::iron},
            {"cautions-iron-steam", Icon::steam},
            {film, Icon::hot_film, true},
            {hands, Icon::hand_near, true},
            {"cautions-iron-children", Icon::child, true},
            {"cautions-iron-water", Icon::wet_plug, true}}},
          {"cautions-fumes",
           {{"cautions-fumes-window", Icon::window}, {"cautions-fumes-laser", Icon::laser, true}}},
          {"cautions-burns",
           {{"cautions-burns-water", Icon::tap}, {"cautions-burns-help", Icon::help}}},
          {"cautions-blades",
           {{"cautions-blades-guard", Icon::cutter},
            {"cautions-blades-away", Icon::cut_away},
            {"cautions-blades-needles", Icon::needle}}},
          {"cautions-soiled",
           {{"cautions-soiled-hold", Icon::shake, true},
            {"cautions-soiled-carry", Icon::bag},
            {"cautions-soiled-wash", Icon::tap},
            {"cautions-soiled-hot", Icon::tub},
            {"cautions-soiled-film", Icon::drop}}},
          {"cautions-limits",
           {{"cautions-limits-device", Icon::help, true},
            {"cautions-limits-water", Icon::squeeze, true},
            {"cautions-limits-bag", Icon::child, true}}}};
}

/// The sign with its words to the right, both from the same height down.
Frame entry(const Caution& caution, double width, const Icons& icons, const base::Voice& words,
            const TextMeasure& measure) {
  const Box sign = grown(Box{0, 0, kSign, kSign}, -kInside);
  const double left = kSign + kBesideSign;
  Frame made;
  for (Shape& shape :
       caution.never ? forbidden(icons, caution.sign, sign) : icon(icons, caution.sign, sign)) {
    made.items.emplace_back(std::move(shape));
  }
  const auto told = [&](const base::Voice& voice) {
    return voice.say({caution.words,
                      {{"distance", kept_together(pouch::kHandDistance.of(voice.unit()), voice)}}});
  };
  Block lines{{.words = told(words), .size = kLabelSize}};
  // Nobody is to be hurt by a word that a machine chose.
  if (const auto source = words.undrafted()) {
    lines.push_back({.words = told(*source),
                     .size = kSmallestSize,
                     .weight = Weight::italic,
                     .space_before = 0.6});
  }
  const Frame said = laid_out(lines, width - left, 1, measure);
  // One line or two stand beside the middle of the sign.
  const double down = std::max(0.0, (kSign - said.box.height()) / 2);
  made.place(said, {left, down - said.box.y0});
  made.box = {0, 0, width, std::max(kSign, said.box.height())};
  return made;
}

}  // namespace

CautionsSheet cautions_of(const pouch::Pouch& pouch, const batch::IronSole& sole) {
  return {pouch.request, has_place_to_hold(pouch, sole)};
}

std::vector<Drawing> cautions(const CautionsSheet& sheet, const Icons& icons,
                              const base::Voice& words, const TextMeasure& measure, Point room) {
  TextPages pages("cautions", words.say("cautions-title"), room, TextPages::Columns::two, measure);
  for (const Chapter& chapter : chapters_for(sheet)) {
    const Frame first = entry(chapter.points.front(), pages.width(), icons, words, measure);
    pages.make_room(first.box.height() + 3 * kLabelSize);
    pages.add({heading(words.say(chapter.heading))});
    for (const Caution& caution : chapter.points) {
      pages.add(entry(caution, pages.width(), icons, words, measure), kApart);
    }
  }
  pages.add(laid_out({{.words = words.say("cautions-sources"),
                       .size = kSmallestSize,
                       .weight = Weight::italic}},
                     pages.width(), 1, measure),
            4);
  return pages.finished();
}

}  // namespace pouchwright::draw
