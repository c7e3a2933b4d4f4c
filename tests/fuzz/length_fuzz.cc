/// Length text: whatever is read is in bounds and comes back from every exact form of print;
/// whatever is not read has a fault inside the text.

#include "base/length.h"
#include "base/voice.h"
#include "fuzz/fuzz.h"

namespace {

using namespace pouchwright;
using base::Length;
using base::Unit;

const base::Words kWords(base::Words::Table{{"length-under", "under {length}"}});

void read_again(const std::string& printed, Length length) {
  const auto reading = base::read_length(printed, Unit::mm);
  const auto* again = std::get_if<Length>(&reading);
  fuzz::hold(again != nullptr && *again == length, "read again as it was: " + printed);
}

void print(Length length) {
  for (const Unit unit : {Unit::mm, Unit::inch}) {
    read_again(base::exact_text(length, unit), length);
    for (const Length ruler : {Length::nm(1), Length::inches(1, 64), Length::whole_mm(10)}) {
      const std::string text = base::Voice(kWords, {unit, ruler}).text(base::in_both(length));
      fuzz::hold(length == Length() || text.find("≈ 0 ") == std::string::npos,
                 "what is there never reads as nothing: " + text);
      fuzz::hold(text.find("-0 ") == std::string::npos, "no -0 in " + text);
    }
  }
  read_again(base::decimal_mm(length) + " mm", length);
}

void hold_to_rules(const std::string& text, Unit bare) {
  const auto reading = base::read_length(text, bare);
  if (const auto* fault = std::get_if<base::LengthFault>(&reading)) {
    fuzz::hold(fault->at <= text.size() && fault->size <= text.size() - fault->at,
               "a fault lies in the text");
    return;
  }
  const Length length = std::get<Length>(reading);
  fuzz::hold(length <= base::kLongest && -length <= base::kLongest, "at most the longest length");
  print(length);
}

}  // namespace

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string text = fuzz::text_of(data, size);
  hold_to_rules(text, Unit::mm);
  hold_to_rules(text, Unit::inch);
  return 0;
}
