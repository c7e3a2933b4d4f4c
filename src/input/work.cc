#include "input/work.h"

#include <string>
#include <utility>
#include <vector>

#include "input/reader.h"

namespace pouchwright::input {
namespace {

using batch::Station;
using batch::WorkKind;

class WorkReader {
 public:
  WorkReader(const Node& root, base::Diagnostics& diagnostics)
      : diagnostics_(diagnostics), reader_(root, "", {diagnostics}) {
    made_.place = {root.place.file, 0, 0, 0};
  }

  batch::WorkTable read() {
    if (const auto size = reader_.whole("bundle", 1, batch::kMostPouches))
      made_.bundle = size->value;
    if (const auto count = reader_.whole("tables", 1, batch::kMostPeople))
      made_.tables = count->value;
    rate(reader_, usual_);
    minutes(reader_, "set_up", usual_.set_up);
    reader_.require("work");
    if (const Node* work = reader_.table("work")) {
      for (const auto& [name, node] : work->entries) kind(name, node);
      check(*work);
    }
    reader_.finish();
    return std::move(made_);
  }

 private:
  static void rate(TableReader& reader, WorkKind& kind) {
    constexpr double kLeastRating = 10;
    constexpr double kMostRating = 200;
    constexpr double kMostAllowance = 200;
    if (const auto rating = reader.number("rating", kLeastRating, kMostRating)) {
      kind.rating = rating->value;
    }
    if (const auto allowance = reader.number("allowance", 0, kMostAllowance)) {
      kind.allowance = allowance->value;
    }
  }

  static void minutes(TableReader& reader, const char* key, double& value) {
    if (const auto read = reader.number(key, 0, kMostMinutes)) value = read->value;
  }

  void kind(const std::string& name, const Node& node) {
    if (node.kind != Node::Kind::table) {
      diagnostics_.error(node.place, {"wrong-kind-table", {{"key", "work." + name}}}, {});
      return;
    }
    TableReader reader(node, "work." + name, reader_.context());
    WorkKind made = usual_;
    made.name = name;
    made.place = node.place;
    if (const auto station = reader.choice("station", batch::kStationWords)) {
      made.station = station->value;
    }
    rate(reader, made);
    minutes(reader, "minutes", made.minutes);
    minutes(reader, "minutes_each", made.minutes_each);
    minutes(reader, "minutes_per_metre", made.minutes_per_metre);
    minutes(reader, "minutes_per_bundle", made.minutes_per_bundle);
    minutes(reader, "waits", made.waits);
    minutes(reader, "set_up", made.set_up);
    stitching(reader, made);
    holding(reader, made);
    if (const auto goes_on = reader.truth("goes_on")) made.goes_on = goes_on->value;
    constexpr int kMostClips = 100;
    if (const auto clips = reader.whole("clips", 0, kMostClips)) made.clips = clips->value;
    if (const auto off = reader.truth("takes_clips_off")) made.takes_clips_off = off->value;
    if (const auto water = reader.truth("water")) made.water = water->value;
    if (const auto then = reader.text("then")) {
      made.then = then->value;
      then_places_.emplace_back(made_.kinds.size(), then->place);
    }
    reader.finish();
    made_.kinds.push_back(std::move(made));
  }

  /// A length without a speed says nothing, nor the other way round.
  static void stitching(TableReader& reader, WorkKind& kind) {
    constexpr double kMostStitches = 10'000;
    if (!reader.has("stitch") && !reader.has("stitches_per_minute")) {
      reader.know("stitch");
      reader.know("stitches_per_minute");
      return;
    }
    reader.require("stitch");
    reader.require("stitches_per_minute");
    if (const auto length = reader.length("stitch", Zero::refused)) kind.stitch = length->value;
    if (const auto speed = reader.number("stitches_per_minute", 1, kMostStitches)) {
      kind.stitches_per_minute = speed->value;
    }
  }

  static void holding(TableReader& reader, WorkKind& kind) {
    constexpr double kMostSeconds = 600;
    if (!reader.has("hold_seconds") && !reader.has("hold_every")) {
      reader.know("hold_seconds");
      reader.know("hold_every");
      return;
    }
    reader.require("hold_seconds");
    reader.require("hold_every");
    if (const auto seconds = reader.number("hold_seconds", 0, kMostSeconds)) {
      kind.hold_seconds = seconds->value;
    }
    if (const auto every = reader.length("hold_every", Zero::refused)) {
      kind.hold_every = every->value;
    }
  }

  void check(const Node& work) {
    std::vector<std::string> names;
    for (const WorkKind& kind : made_.kinds) names.push_back(kind.name);
    for (const auto& [index, place] : then_places_) {
      const std::string& then = made_.kinds[index].then;
      const WorkKind* next = made_.kind(then);
      if (!next) {
        diagnostics_.error(place, {"work-then-unknown", {{"text", clipped(then)}}},
                           {nearest_hint(then, names)});
      } else if (!next->then.empty()) {
        diagnostics_.error(place, {"work-then-goes-on", {{"name", clipped(then)}}},
                           {{"work-then-goes-on-hint"}});
      }
    }
    if (!work.find(batch::kCutting)) {
      diagnostics_.error(work.key_place, {"key-missing", {{"key", "work.cut"}}},
                         {{"key-missing-hint", {{"key", "cut"}, {"field", "work.cut"}}}});
    }
  }

  base::Diagnostics& diagnostics_;
  TableReader reader_;
  WorkKind usual_;
  batch::WorkTable made_;
  std::vector<std::pair<std::size_t, base::Place>> then_places_;
};

}  // namespace

std::optional<batch::WorkTable> read_work(const LoadedFile& file, base::Diagnostics& diagnostics) {
  base::Diagnostics faults;
  std::optional<batch::WorkTable> table;
  if (const auto root = parsed(file, faults)) table = WorkReader(*root, faults).read();
  diagnostics.add_all(faults);
  if (faults.has_errors()) return std::nullopt;
  return table;
}

}  // namespace pouchwright::input
