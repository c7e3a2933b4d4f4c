/// The one place where a message becomes words: a language, and how it prints lengths.
///
///     const Voice voice(words, default_style(Unit::inch));
///     voice.say({"flap-over-depth", {{"flap", exact(flap)}, {"depth", exact(depth)}}});
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "base/length.h"
#include "base/message.h"
#include "base/words.h"

namespace pouchwright::base {

/// Is a value of a job called by its key, or as people call it, who see no file?
enum class FieldNames { keys, words };

/// A view of words, which must outlive it, and a style. Cheap to copy.
class Voice {
 public:
  // Not explicit: words alone speak in millimetres.
  Voice(const Words& words, LengthStyle style = {},  // NOLINT(google-explicit-constructor)
        FieldNames field_names = FieldNames::keys)
      : words_(&words), style_(style), field_names_(field_names) {}

  /// A key that the words lack is shown as `[key]`, with its values, so that a gap is seen and
  /// nothing fails; a test holds that no key used in the code is missing. A hole with a point in it,
  /// `{pouch.width}` or `{panel.}`, is a FieldName. Where fields are called by words, `KEY-desk` goes
  /// before `KEY`: what a file is told in its own letters is told there in others.
  [[nodiscard]] std::string say(const Message& message) const;
  /// One value alone.
  [[nodiscard]] std::string text(const Value& value) const;
  /// A length in the other unit alone, as it stands in brackets where both are said.
  [[nodiscard]] std::string in_other_unit(const Measure& measure) const;

  /// Whom a draft is compared with, who says the same in the words that it was drafted from; nothing
  /// where a speaker has read these words.
  [[nodiscard]] std::optional<Voice> undrafted() const {
    const bool is_draft = words_->language().is_draft && words_->source() != nullptr;
    return is_draft ? std::optional(Voice(*words_->source(), style_, field_names_)) : std::nullopt;
  }

  [[nodiscard]] bool has(std::string_view key) const { return words_->has(key); }
  [[nodiscard]] const Words& words() const { return *words_; }
  [[nodiscard]] LengthStyle style() const { return style_; }
  [[nodiscard]] Unit unit() const { return style_.unit; }
  [[nodiscard]] FieldNames field_names() const { return field_names_; }

 private:
  const Words* words_;
  LengthStyle style_;
  FieldNames field_names_;
};

}  // namespace pouchwright::base
