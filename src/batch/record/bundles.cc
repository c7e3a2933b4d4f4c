#include "batch/record/bundles.h"

#include <utility>

namespace pouchwright::batch {

namespace {

/// Takes rows of tests one after the other.
class Tests {
 public:
  Tests(Bundles& bundles, RecordFindings& found) : bundles_(bundles), found_(found) {}

  /// Empty, or why the row cannot be taken.
  std::optional<base::Message> take(const RecordRow& row) {
    const int leaks = row.leaks.value_or(0);
    if (row.pouches) {
      if (leaks > *row.pouches) return too_many(leaks, *row.pouches);
      begin(row, {leaks, *row.pouches});
    } else {
      const auto open = open_.find(row.of);
      if (open == open_.end()) return base::Message("record-not-tested");
      Tested& test =
          open->second.is_retest ? found_.retests[open->second.at].of : *bundles_[row.of].test;
      if (test.leaked + leaks > test.tested) return too_many(test.leaked + leaks, test.tested);
      test.leaked += leaks;
    }
    if (!open_.at(row.of).is_retest && leaks > 0) places_[row.place] += leaks;
    return std::nullopt;
  }

  [[nodiscard]] const std::map<std::string, int>& places() const { return places_; }

 private:
  /// Further places belong to the test before them.
  struct Open {
    bool is_retest = false;
    std::size_t at = 0;
  };

  static base::Message too_many(int leaks, int pouches) {
    return {"record-more-leaks", {{"leaks", leaks}, {"pouches", pouches}}};
  }

  void begin(const RecordRow& row, const Tested& test) {
    Bundle& bundle = bundles_[row.of];
    if (bundle.test) {
      open_[row.of] = {true, found_.retests.size()};
      found_.retests.push_back({row.of, test});
    } else {
      open_[row.of] = {};
      bundle.test = test;
    }
  }

  Bundles& bundles_;
  RecordFindings& found_;
  std::map<BundleName, Open> open_;
  std::map<std::string, int> places_;
};

}  // namespace

Bundles bundles_of(Record& record, RecordFindings& found) {
  Bundles bundles;
  Tests tests(bundles, found);
  std::vector<RecordRow> kept;
  kept.reserve(record.rows.size());
  for (RecordRow& row : record.rows) {
    if (row.operation == kTestOperation) {
      if (auto why = tests.take(row)) {
        record.left_out.push_back({row.at, *std::move(why)});
        continue;
      }
    } else if (row.operation != kTrialOperation && !row.helper.empty()) {
      bundles[row.of].helpers[row.operation].insert(row.helper);
    }
    kept.push_back(std::move(row));
  }
  record.rows = std::move(kept);
  for (const auto& [place, leaks] : tests.places()) {
    if (place.empty()) {
      found.leaks_without_place = leaks;
    } else {
      found.by_place.push_back({place, leaks});
    }
  }
  return bundles;
}

}  // namespace pouchwright::batch
