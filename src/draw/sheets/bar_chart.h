/// Bars one below the other, each with its name and its number in words: charts that are read in
/// black and white, and without the page they came with.
///
///     add_bar_chart(pages, chart, measure);
///
/// Not for work plans, whose bars have a time of day.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "draw/with_ink.h"
#include "ink/flow.h"

namespace pouchwright::draw {

struct Bar {
  std::string name;
  double value = 0;
  std::string number;           ///< what the value is, behind the bar
  std::optional<double> low{};  ///< the ends of an interval, drawn as a line with two ends
  std::optional<double> high{};
  std::optional<double> limit{};  ///< drawn across the bar
  bool stands_out = false;        ///< black, where the others are grey
};

struct BarChart {
  std::string title;
  std::vector<std::string> said;  ///< below the title: what the chart says, and how to read it
  std::vector<Bar> bars;
};

/// The title, what is said, and a row for each bar; rows go on on the next page. Nothing where there
/// are no bars and nothing is said.
void add_bar_chart(TextPages& pages, const BarChart& chart, const TextMeasure& measure);

}  // namespace pouchwright::draw
