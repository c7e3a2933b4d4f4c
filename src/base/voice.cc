#include "base/voice.h"

#include <variant>

#include "base/number.h"
#include "base/text.h"

namespace pouchwright::base {

namespace {

/// A size that is asked for in inches is one that most rulers have.
constexpr Length kAskedInch = Length::inches(1, 16);

std::string in_one_unit(const Measure& measure, LengthStyle style) {
  switch (measure.rounding) {
    case Measure::Rounding::nearest:
      return text(measure.length, style);
    case Measure::Rounding::at_most:
      return text_at_most(measure.length, style);
    case Measure::Rounding::at_least:
      return text_at_least(measure.length, style);
    case Measure::Rounding::exact:
      return exact_text(measure.length, style.unit);
    case Measure::Rounding::asked:
      return exact_text(
          style.unit == Unit::inch ? rounded_up(measure.length, kAskedInch) : measure.length,
          style.unit);
  }
  return {};
}

/// What each kind of value is, as text.
struct Said {
  const Voice& voice;

  std::string operator()(const std::string& name) const { return name; }
  std::string operator()(std::int64_t count) const { return std::to_string(count); }
  std::string operator()(const Measure& measure) const {
    const std::string first = in_one_unit(measure, voice.style());
    if (measure.units == Measure::Units::one) return first;
    const Unit other = voice.unit() == Unit::mm ? Unit::inch : Unit::mm;
    return first + " (" + in_one_unit(measure, default_style(other)) + ")";
  }
  std::string operator()(const Distinct& length) const {
    return (*this)(read(length.length) == read(length.other) ? exact(length.length)
                                                             : at_most(length.length));
  }
  std::string operator()(const Difference& difference) const {
    const Length more = read(difference.more);
    const Length less = read(difference.less);
    if (more == less) return (*this)(exact(difference.more - difference.less));
    const bool both_are_read = more == difference.more && less == difference.less;
    if (both_are_read) return (*this)(Measure{more - less});
    return "≈ " + (*this)(exact(more - less));
  }
  std::string operator()(const Number& number) const {
    switch (number.digits) {
      case Number::Digits::fixed:
        return decimal(number.value, number.places);
      case Number::Digits::shortest:
        return shortest(number.value, number.places);
      case Number::Digits::significant:
        return significant(number.value, number.places);
    }
    return {};
  }
  std::string operator()(Time time) const {
    constexpr std::int64_t kMinute = 60'000;
    constexpr std::int64_t kHour = 60;
    const std::int64_t minutes = (time.in_ms() + kMinute / 2) / kMinute;
    if (minutes < kHour) return voice.say({"schedule-time-short", {{"minutes", minutes}}});
    return voice.say({"schedule-time", {{"hours", minutes / kHour}, {"minutes", minutes % kHour}}});
  }
  std::string operator()(const Value::List& values) const {
    return list_text(values, ", ", [&](const Value& value) { return voice.text(value); });
  }
  std::string operator()(const Value::Nested& message) const { return voice.say(*message); }

  [[nodiscard]] Length read(Length length) const { return read_at_most(length, voice.style()); }
};

}  // namespace

std::string Voice::text(const Value& value) const { return std::visit(Said{*this}, value.held()); }

std::string Voice::say(const Message& message) const {
  Texts texts;
  for (const auto& [name, value] : message.values) texts.emplace_back(name, text(value));
  return words_->filled(message.key, texts);
}

}  // namespace pouchwright::base
