/// What a group wrote down of its days: who did which operation to which bundle, in how many minutes,
/// what leaked where, and what trials with the iron showed.
///
///     Record record = input::read_record(file, terms, diagnostics);   // from comma-separated values
///     RecordFindings found = findings(record, {.pouches_a_bundle = 5});
///
/// Plain values. Not for what follows from them: see findings.h.
#pragma once

#include <optional>
#include <string>
#include <tuple>
#include <vector>

#include "base/diagnostic.h"
#include "base/length.h"

namespace pouchwright::batch {

/// The operation whose rows tell of leaks, and the word of rows that tell of a trial with the iron.
inline constexpr const char* kTestOperation = "test";
inline constexpr const char* kTrialOperation = "trial";

/// A bundle is told by its date, its make and its number.
struct BundleName {
  std::string date;
  std::string make;
  int bundle = 0;

  bool operator==(const BundleName&) const = default;
  // Not <=>, which texts have not in the C++ library of a browser.
  bool operator<(const BundleName& other) const {
    return std::tie(date, make, bundle) < std::tie(other.date, other.make, other.bundle);
  }
};

/// A row as it was written. Which values a row has depends on its operation.
struct RecordRow {
  BundleName of;
  std::string operation;
  std::string helper;
  std::optional<double> minutes{};
  std::optional<int> pouches{};
  std::optional<int> leaks{};
  std::string place;  ///< where they leak
  std::optional<int> dots{};
  bool steam = false;
  std::optional<double> seconds{};
  std::optional<bool> held{};
  std::optional<base::Length> clear_seal{};  ///< measured with a ruler
  std::string note;
  base::Place at;
};

/// A row that could not be taken, and why.
struct RowLeftOut {
  base::Place at;
  base::Message why;
};

struct Record {
  std::vector<RecordRow> rows;
  std::vector<RowLeftOut> left_out;
};

}  // namespace pouchwright::batch
