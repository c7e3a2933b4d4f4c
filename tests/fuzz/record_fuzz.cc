/// A record's text through reading and what follows from it. Nothing that a person or a spreadsheet
/// writes is our fault: a record is read, row by row, or refused.

#include <string>

#include "batch/record/findings.h"
#include "fuzz/fuzz.h"
#include "input/record.h"

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace pouchwright;
  const input::LoadedFile file{"record.csv", fuzz::text_of(data, size)};
  const input::RecordWords words{{{"press-sides", "press-sides"},
                                  {"sew-sides", "sew-sides"},
                                  {"finish-start", "finish-start"}},
                                 base::Unit::mm};
  base::Diagnostics told;
  auto record = input::read_record(file, words, told);
  fuzz::hold(record.has_value() != told.has_errors(), "read, or an error");
  if (!record) return 0;
  const std::size_t rows = record->rows.size() + record->left_out.size();
  const auto found = batch::findings(*record, {.pouches_a_bundle = 5});
  fuzz::hold(record->rows.size() + record->left_out.size() == rows, "no row is lost");
  fuzz::hold(found.total.leaked >= 0 && found.total.leaked <= found.total.tested,
             "no more leaks than pouches");
  fuzz::hold(found.share.low <= found.total.share() && found.total.share() <= found.share.high,
             "the share lies in its interval");
  int leaks = found.leaks_without_place;
  for (const auto& one : found.by_place) leaks += one.leaks;
  fuzz::hold(leaks == found.total.leaked, "all leaks have a place, or none that is known");
  for (const auto& one : found.suspects) {
    fuzz::hold(one.chance <= one.corrected && one.corrected < batch::kSuspicious,
               "a suspect is one");
  }
  return 0;
}
