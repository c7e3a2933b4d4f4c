#include "draw/sheets/cautions.h"

#include "ink/flow.h"

namespace pouchwright::draw {

std::vector<Drawing> cautions(const base::Voice& words, const TextMeasure& measure, Point room) {
  struct Chapter {
    const char* heading;
    std::vector<const char*> points;
  };
  // Sources: ISO 3758 for the dots; burns as NHS advice is quoted; soiled textiles after CDC,
  // appendix D of its cleaning guidance; hot washes after HSE; blades, clips and fumes are common
  // practice, no source.
  const std::vector<Chapter> chapters = {
      {"cautions-iron",
       {"cautions-iron-dots", "cautions-iron-steam", "cautions-iron-film", "cautions-iron-hands",
        "cautions-iron-children", "cautions-iron-water"}},
      {"cautions-fumes", {"cautions-fumes-window", "cautions-fumes-laser"}},
      {"cautions-burns", {"cautions-burns-water", "cautions-burns-help"}},
      {"cautions-blades",
       {"cautions-blades-guard", "cautions-blades-away", "cautions-blades-needles"}},
      {"cautions-soiled",
       {"cautions-soiled-hold", "cautions-soiled-carry", "cautions-soiled-wash",
        "cautions-soiled-hot", "cautions-soiled-film"}},
      {"cautions-limits",
       {"cautions-limits-device", "cautions-limits-water", "cautions-limits-bag"}}};
  TextPages pages("cautions", words.say("cautions-title"), room, TextPages::Columns::two, measure);
  for (const Chapter& chapter : chapters) {
    Paragraphs paragraphs{heading(words.say(chapter.heading))};
    for (const char* key : chapter.points) paragraphs.push_back(point(words.say(key)));
    pages.add(paragraphs);
  }
  return pages.finished();
}

}  // namespace pouchwright::draw
