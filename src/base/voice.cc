#include "base/voice.h"

#include <algorithm>
#include <variant>

#include "base/number.h"
#include "base/reading.h"
#include "base/text.h"

namespace pouchwright::base {

namespace {

/// Before a length that is not on the step.
const std::string kAbout = "≈ ";

/// A size that is asked for in inches is one that most rulers have.
constexpr Length kAskedInch = Length::inches(1, 16);

Toward toward(Measure::Rounding rounding) {
  if (rounding == Measure::Rounding::at_most) return Toward::less;
  return rounding == Measure::Rounding::at_least ? Toward::more : Toward::nearest;
}

/// A 64th of an inch is the finest that a ruler has.
constexpr Length kFinestInch = Length::inches(1, 64);

/// How a length reads: exact ones too, where inches have no such line.
RulerReading reading_of(const Measure& measure, LengthStyle style) {
  const bool is_inch = style.unit == Unit::inch;
  switch (measure.rounding) {
    case Measure::Rounding::mark:
      return ruler_reading(rounded_nearest(measure.length, default_style(style.unit).ruler), style,
                           Toward::nearest);
    case Measure::Rounding::asked:
      return {is_inch ? rounded_up(measure.length, kAskedInch) : measure.length};
    case Measure::Rounding::exact: {
      if (!is_inch) return {measure.length};
      RulerReading exact =
          ruler_reading(measure.length, {Unit::inch, kFinestInch}, Toward::nearest);
      exact.is_fine = exact.is_about || exact.is_under;
      return exact;
    }
    case Measure::Rounding::nearest:
    case Measure::Rounding::at_most:
    case Measure::Rounding::at_least:
      break;
  }
  return ruler_reading(measure.length, style, toward(measure.rounding));
}

Length rounded(Length length, Length step, Toward toward) {
  if (toward == Toward::nearest) return rounded_nearest(length, step);
  return toward == Toward::less ? rounded_down(length, step) : rounded_up(length, step);
}

/// The other unit's, in brackets. Nobody wants 32nds of an inch there: what would be read to them
/// is read to a 16th.
RulerReading beside(const Measure& measure, Unit other) {
  const RulerReading fine = reading_of(measure, default_style(other));
  if (other == Unit::mm || !fine.is_fine || measure.rounding == Measure::Rounding::exact)
    return fine;
  const Length shown = rounded(measure.length, kAskedInch, toward(measure.rounding));
  return shown == Length() ? fine : RulerReading{shown, shown != measure.length, false, true};
}

bool is_digit_at(std::string_view text, std::size_t at) {
  return at < text.size() && text[at] >= '0' && text[at] <= '9';
}

/// A number with the decimal mark of the language in place of the point.
std::string with_mark(std::string text, const std::string& mark) {
  for (auto at = text.find('.'); at != std::string::npos; at = text.find('.', at + 1)) {
    const bool is_decimal = at > 0 && is_digit_at(text, at - 1) && is_digit_at(text, at + 1);
    if (is_decimal) text.replace(at, 1, mark);
  }
  return text;
}

/// What each kind of value is, as text.
struct Said {
  const Voice& voice;

  [[nodiscard]] std::string from_left(std::string measure) const {
    const bool is_turned = voice.words().language().direction == Language::Direction::from_right;
    return is_turned ? measures_from_left(measure) : measure;
  }

  [[nodiscard]] std::string marked(std::string number) const {
    return with_mark(std::move(number), voice.words().language().decimal_mark);
  }

  std::string operator()(const std::string& name) const { return name; }
  std::string operator()(std::int64_t count) const { return std::to_string(count); }
  std::string operator()(const Measure& measure) const {
    const RulerReading reading = reading_of(measure, voice.style());
    const std::string first = as_words(reading, voice.unit());
    // Inches that are finer than the ruler are told by the millimetres.
    const bool needs_mm = voice.unit() == Unit::inch && reading.is_fine;
    if (measure.units == Measure::Units::one && !needs_mm) return first;
    return first + " (" + voice.in_other_unit(measure) + ")";
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
    const std::string by = (*this)(exact(more - less));
    return by.starts_with(kAbout) ? by : kAbout + by;
  }
  std::string operator()(const Number& number) const {
    switch (number.digits) {
      case Number::Digits::fixed:
        return marked(decimal(number.value, number.places));
      case Number::Digits::shortest:
        return marked(shortest(number.value, number.places));
      case Number::Digits::significant:
        return marked(significant(number.value, number.places));
    }
    return {};
  }
  std::string operator()(Time time) const {
    constexpr std::int64_t kMinute = 60'000;
    constexpr std::int64_t kHour = 60;
    const std::int64_t minutes = (time.in_ms() + kMinute / 2) / kMinute;
    if (minutes < kHour) return voice.say({"schedule-time-short", {{"minutes", minutes}}});
    if (minutes % kHour == 0)
      return voice.say({"schedule-time-hours", {{"hours", minutes / kHour}}});
    return voice.say({"schedule-time", {{"hours", minutes / kHour}, {"minutes", minutes % kHour}}});
  }
  std::string operator()(const FieldName& field) const {
    const bool is_table = field.path.ends_with('.');
    const std::string path = field.path.substr(0, field.path.size() - (is_table ? 1 : 0));
    if (voice.field_names() == FieldNames::keys) return is_table ? "[" + path + "]" : path;
    const std::string key = "called-" + slug(path);
    if (voice.has(key)) return voice.say(key);
    // A size that a construction names itself.
    std::string name = path.substr(path.rfind('.') + 1);
    std::replace(name.begin(), name.end(), '_', ' ');
    return voice.say({"called-other", {{"name", name}}});
  }
  std::string operator()(const Value::List& values) const {
    const std::string_view between = voice.words().text("language-list").value_or(", ");
    return list_text(values, between, [&](const Value& value) { return voice.text(value); });
  }
  std::string operator()(const Value::Nested& message) const { return voice.say(*message); }

  [[nodiscard]] std::string as_words(const RulerReading& reading, Unit unit) const {
    const std::string shown =
        from_left(marked(ruler_text(reading.shown, unit, voice.style().fractions)));
    if (reading.is_under) return voice.say({"length-under", {{"length", shown}}});
    return (reading.is_about ? kAbout : "") + shown;
  }
  [[nodiscard]] Length read(Length length) const { return read_at_most(length, voice.style()); }
};

}  // namespace

std::string Voice::text(const Value& value) const { return std::visit(Said{*this}, value.held()); }

namespace {

/// Whoever sees no file knows a cloth by what it is called in the shop.
constexpr std::string_view kMaterialHole = "material";

/// The holes of `pattern` that name values of a job.
Texts field_names_in(std::string_view pattern, const Said& said) {
  Texts names;
  for (auto open = pattern.find('{'); open != std::string_view::npos;
       open = pattern.find('{', open + 1)) {
    const std::string_view rest = pattern.substr(open + 1);
    const std::string_view hole = rest.substr(0, std::min(rest.find_first_of("{},"), rest.size()));
    if (hole.find('.') == std::string_view::npos || hole.find(' ') != std::string_view::npos) {
      continue;
    }
    names.emplace_back(hole, said(FieldName{std::string(hole)}));
  }
  return names;
}

}  // namespace

std::string Voice::say(const Message& message) const {
  std::string key = message.key;
  if (field_names_ == FieldNames::words && has(key + "-desk")) key += "-desk";
  Texts texts;
  for (const auto& [name, value] : message.values) {
    std::string said = text(value);
    if (field_names_ == FieldNames::words && name == kMaterialHole && has("material-" + said)) {
      said = say("material-" + said);
    }
    texts.emplace_back(name, std::move(said));
  }
  for (auto& name : field_names_in(words_->text(key).value_or(""), Said{*this})) {
    texts.push_back(std::move(name));
  }
  return words_->filled(key, texts);
}

std::string Voice::in_other_unit(const Measure& measure) const {
  const Unit other = unit() == Unit::mm ? Unit::inch : Unit::mm;
  return Said{*this}.as_words(beside(measure, other), other);
}

}  // namespace pouchwright::base
