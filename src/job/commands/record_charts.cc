// The charts of a record: what each shows, and what it says in words.
#include <algorithm>
#include <utility>

#include "draw/sheets/bar_chart.h"
#include "job/commands/record.h"
#include "render/text.h"
#include "tell/names.h"

namespace pouchwright::job {

using draw::Bar;
using draw::BarChart;

namespace {

/// More rows than these say nothing to somebody who reads.
constexpr std::size_t kMostBars = 60;

class Charts {
 public:
  Charts(const Recorded& made, const base::Voice& words) : made_(made), words_(words) {}

  [[nodiscard]] std::vector<BarChart> all() const {
    std::vector<BarChart> charts{summary(), places(), rows(), days(), stations()};
    charts.push_back(chart("record-title-alone", tell::record_cannot_tell(found(), made_.names)));
    charts.push_back(minutes());
    charts.push_back(seals());
    charts.push_back(chart("record-title-iron", tell::record_iron(found())));
    return charts;
  }

 private:
  [[nodiscard]] const batch::RecordFindings& found() const { return made_.found; }
  [[nodiscard]] std::string say(const base::Message& one) const { return words_.say(one); }

  [[nodiscard]] BarChart chart(const char* title, const std::vector<base::Message>& said) const {
    BarChart made{say(title), {}, {}};
    for (const base::Message& one : said) made.said.push_back(say(one));
    return made;
  }

  [[nodiscard]] std::string of(const batch::Tested& of) const {
    return say({"record-of", {{"leaked", of.leaked}, {"tested", of.tested}}});
  }

  [[nodiscard]] BarChart summary() const {
    return chart("record-title-leaks", tell::record_leaks(found()));
  }

  [[nodiscard]] BarChart places() const {
    BarChart made = chart("record-title-places", tell::record_places(found()));
    for (const batch::PlaceLeaks& one : found().by_place) {
      made.bars.push_back({one.place, static_cast<double>(one.leaks), std::to_string(one.leaks)});
    }
    return cut(std::move(made));
  }

  [[nodiscard]] Bar bar(std::string name, const batch::JoinedLeaks& one) const {
    Bar made{std::move(name), one.of.share(), of(one.of)};
    if (one.of.tested > 0) made.limit = static_cast<double>(one.most) / one.of.tested;
    made.stands_out = one.outside_limits;
    return made;
  }

  [[nodiscard]] BarChart rows() const {
    if (found().total.tested < batch::kFewTested) return {};
    BarChart made = chart("record-title-limits", tell::record_limits(found()));
    made.said.push_back(say("record-read-limits"));
    for (const batch::JoinedLeaks& one : found().rows) {
      made.bars.push_back(bar(say(tell::bundles_called(one)), one));
    }
    return cut(std::move(made));
  }

  [[nodiscard]] BarChart days() const {
    if (found().by_day.empty()) return {};
    BarChart made = chart("record-title-days", {"record-read-limits"});
    for (const batch::JoinedLeaks& one : found().by_day) {
      made.bars.push_back(bar(one.first.date.empty() ? say("record-no-day") : one.first.date, one));
    }
    return cut(std::move(made));
  }

  [[nodiscard]] bool is_suspect(const batch::StationLeaks& station) const {
    return std::any_of(found().suspects.begin(), found().suspects.end(), [&](const auto& one) {
      return one.of.operation == station.operation && one.of.helper == station.helper;
    });
  }

  [[nodiscard]] BarChart stations() const {
    BarChart made = chart("record-title-people", tell::record_people(found(), made_.names));
    if (found().by_station.empty()) return made;
    made.said.push_back(say("record-read-intervals"));
    for (const batch::StationLeaks& one : found().by_station) {
      const batch::Interval share = batch::clopper_pearson(one.of);
      made.bars.push_back({.name = say({"record-station",
                                        {{"helper", one.helper},
                                         {"operation", tell::called(one.operation, made_.names)}}}),
                           .value = one.of.share(),
                           .number = of(one.of),
                           .low = share.low,
                           .high = share.high,
                           .stands_out = is_suspect(one)});
    }
    return cut(std::move(made));
  }

  [[nodiscard]] BarChart minutes() const {
    if (found().minutes.empty()) return {};
    BarChart made = chart("record-title-minutes", {"record-read-minutes"});
    for (const batch::OperationMinutes& one : found().minutes) {
      const auto planned = made_.planned.find(one.operation);
      Bar row{.name = tell::called(one.operation, made_.names),
              .value = one.a_piece(),
              .number = say({"record-minutes-of",
                             {{"minutes", base::fixed(one.a_piece(), 2)}, {"pieces", one.pieces}}}),
              .low = one.least_a_piece,
              .high = one.most_a_piece};
      if (planned != made_.planned.end()) row.limit = planned->second.a_piece;
      made.bars.push_back(std::move(row));
    }
    return made;
  }

  [[nodiscard]] BarChart seals() const {
    BarChart made = chart("record-title-seals", tell::record_seals(found()));
    if (!found().clear_seals) return made;
    const batch::ClearSeals& seals = *found().clear_seals;
    const double least = seals.least_wanted.in_mm();
    for (const auto& [key, value] :
         {std::pair{"record-seal-least", base::at_most(seals.least)},
          std::pair{"record-seal-mean", base::Measure{base::Length::mm(seals.mean_mm)}}}) {
      const double mm = value.length.in_mm();
      made.bars.push_back({.name = say(key),
                           .value = mm,
                           .number = words_.text(value),
                           .limit = least,
                           .stands_out = mm < least});
    }
    made.said.push_back(say("record-read-seals"));
    return made;
  }

  [[nodiscard]] BarChart cut(BarChart made) const {
    if (made.bars.size() <= kMostBars) return made;
    made.said.push_back(say({"record-bars-more", {{"count", made.bars.size() - kMostBars}}}));
    made.bars.resize(kMostBars);
    return made;
  }

  const Recorded& made_;
  base::Voice words_;
};

}  // namespace

std::vector<ink::Drawing> record_drawings(const Run& run, const Recorded& made, ink::Point room) {
  const base::Voice words = run.paper_words();
  const render::FontMeasure measure(run.fonts());
  ink::TextPages pages("record",
                       words.say({"record-title", {{"title", tell::title_of(run.pouch(), words)}}}),
                       room, ink::TextPages::Columns::one, measure);
  for (const BarChart& chart : Charts(made, words).all())
    draw::add_bar_chart(pages, chart, measure);
  return pages.finished();
}

}  // namespace pouchwright::job
