/// What a job may say, each field once: its key, what may stand there, and what holds without it.
///
///     read_fields(kToleranceFields, reader, request.tolerance);
///     for (const FieldFacts& field : job_fields()) tell(field.path(), field.usual);
///
/// The reader, the starter job and the desk's page walk these tables. Not for what two fields have
/// to do with each other (job.cc, pouch_table.cc), nor for the sizes, which a construction names.
#pragma once

#include <functional>
#include <string>
#include <utility>
#include <vector>

#include "base/named.h"
#include "batch/settings.h"
#include "input/group.h"
#include "input/packet.h"
#include "input/reader.h"
#include "lay/settings.h"
#include "paper/pages.h"
#include "pouch/request.h"

namespace pouchwright::input {

/// What a person puts there: a length may be two, or words instead; a name is one that the data
/// know; lengths are several, with commas between them where they are typed.
enum class FieldKind { text, length, lengths, number, choice, name };
inline constexpr base::Named<FieldKind> kFieldKindWords[] = {
    {FieldKind::text, "text"},     {FieldKind::length, "length"}, {FieldKind::lengths, "lengths"},
    {FieldKind::number, "number"}, {FieldKind::choice, "choice"}, {FieldKind::name, "name"}};

/// Where a field is asked for; any may stand in a file.
enum class Asked { nowhere, on_page, in_starter, everywhere };

struct FieldFacts {
  std::string table;  ///< as "pouch"; empty for what stands above the first header
  std::string key;
  FieldKind kind = FieldKind::text;
  Asked asked = Asked::everywhere;
  std::vector<std::string> choices{};
  std::string usual{};      ///< as TOML: what holds without it, or where nothing does, an example
  std::string usual_in{};   ///< the same in a job in inches
  bool is_example = false;  ///< nothing holds where the job leaves it out
  std::string word{};       ///< the key of what it is called; that of its hint ends in `-hint`

  [[nodiscard]] std::string path() const { return table.empty() ? key : table + "." + key; }
  [[nodiscard]] const std::string& usual_of(base::Unit unit) const {
    return unit == base::Unit::mm ? usual : usual_in;
  }
  [[nodiscard]] bool holds_unless_stated() const { return !is_example && !usual.empty(); }
  [[nodiscard]] bool is_on_page() const {
    return asked == Asked::on_page || asked == Asked::everywhere;
  }
  [[nodiscard]] bool is_in_starter() const { return asked >= Asked::in_starter; }
};

/// A field of a table that is read into an Owner.
template <class Owner>
struct Field : FieldFacts {
  bool is_needed = false;
  /// Is there a value that can be used? Empty: what the field means takes more than its own row.
  std::function<bool(TableReader&, Owner&)> read{};

  Field needed() && { return is_needed = true, usual.clear(), usual_in.clear(), std::move(*this); }
  /// As as(), but what is shown does not hold.
  Field like(std::string example) && { return is_example = true, std::move(*this).as(example); }
  Field like(std::string example, std::string in_inches) && {
    return is_example = true, std::move(*this).as(std::move(example), std::move(in_inches));
  }
  Field at(Asked where) && { return asked = where, std::move(*this); }
  Field as(std::string example) && {
    return usual_in = example, usual = std::move(example), std::move(*this);
  }
  Field as(std::string example, std::string in_inches) && {
    return usual_in = std::move(in_inches), usual = std::move(example), std::move(*this);
  }
  Field among(std::vector<std::string> words) && {
    return choices = std::move(words), std::move(*this);
  }
  Field called(std::string key_of_word) && {
    return word = std::move(key_of_word), std::move(*this);
  }
};
template <class Owner>
using Fields = std::vector<Field<Owner>>;

/// What holds of a table in a job in these units, where it says nothing.
template <class Owner>
[[nodiscard]] Owner usual_of(base::Unit /*unit*/) {
  return Owner();
}
template <>
[[nodiscard]] pouch::Liners usual_of(base::Unit unit);
template <>
[[nodiscard]] pouch::Tolerances usual_of(base::Unit unit);
template <>
[[nodiscard]] lay::Settings usual_of(base::Unit unit);
template <>
[[nodiscard]] paper::Margins usual_of(base::Unit unit);

/// Reads the fields that stand in the table. False where one that is needed is missing or at fault.
template <class Owner>
bool read_fields(const Fields<Owner>& fields, TableReader& table, Owner& owner) {
  bool is_whole = true;
  for (const Field<Owner>& field : fields) {
    if (field.is_needed) table.require(field.key);
    const bool is_read = field.read && field.read(table, owner);
    is_whole = is_whole && (is_read || !field.is_needed);
  }
  return is_whole;
}

extern const Fields<pouch::CutPanel> kPanelFields;
extern const Fields<pouch::OwnCard> kCardFields;
extern const Fields<pouch::Liners> kLinerFields;
extern const Fields<pouch::Request> kPouchFields;
extern const Fields<pouch::Tolerances> kToleranceFields;
extern const Fields<batch::Settings> kBatchFields;
extern const Fields<batch::StatedStitches> kStitchFields;
extern const Fields<batch::IronTrial> kIronFields;
extern const Fields<lay::Settings> kLayFields;
extern const Fields<lay::Remnant> kRemnantFields;
extern const Fields<lay::ByProduct> kByProductFields;
extern const Fields<pouch::Material> kPrintFields;
extern const Fields<paper::PageSetup> kPaperFields;
extern const Fields<paper::Margins> kMarginFields;
extern const Fields<PacketSettings> kPacketFields;
extern const Fields<GroupSettings> kGroupFields;
/// Of a cloth that a file says nothing of.
[[nodiscard]] constexpr Length usual_thickness(pouch::MaterialKind kind) {
  return Length::nm(kind == pouch::MaterialKind::laminate ? 350'000 : 250'000);
}
[[nodiscard]] const Fields<pouch::Material>& material_fields(pouch::MaterialKind kind);

/// All that can be asked for, table by table; nothing of lists of tables.
[[nodiscard]] const std::vector<FieldFacts>& job_fields();
/// Requires: there is such a field.
[[nodiscard]] const FieldFacts& field_at(std::string_view path);

}  // namespace pouchwright::input
