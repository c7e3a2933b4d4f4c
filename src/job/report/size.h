/// Reports: what was worked out, as JSON for machines and as a table for people.
///
///     const SizeDetails details = details_of(pouch, style);
///     Json report = size_report(pouch, details, words);
///     std::string table = size_table(pouch, details, words);
///
/// JSON lengths are plain numbers of millimetres, exact up to six decimals.
#pragma once

#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "base/diagnostic.h"
#include "batch/savings.h"
#include "paper/pages.h"
#include "pouch/judge/content.h"
#include "pouch/judge/fill.h"
#include "pouch/pouch.h"

namespace pouchwright::job {

using Json = nlohmann::ordered_json;

/// The report as text, two blanks a level, a newline at the end. Bytes of the user's that are no
/// UTF-8 are replaced.
[[nodiscard]] std::string dumped(const Json& report);

/// `[{place: {file, line, column} | null, message, hint}]` of one severity; files without folders.
[[nodiscard]] Json diagnostics_report(const base::Diagnostics& diagnostics, base::Severity severity,
                                      const base::Voice& words);

/// What report and table tell besides the pouch.
struct SizeDetails {
  std::vector<pouch::Alternative> ways;
  pouch::Fill fill;
};
[[nodiscard]] SizeDetails details_of(const pouch::Pouch& pouch, base::LengthStyle style);

/// The fields of the `size` report, without warnings and errors.
[[nodiscard]] Json size_report(const pouch::Pouch& pouch, const SizeDetails& details,
                               const base::Voice& words);

/// One entry a drawing of `pages`: the `documents` of `template` and `mask`. `pdf` is the file's
/// name; pages are named STEM-CELL.svg (see page_file_name).
[[nodiscard]] Json documents_report(const paper::Pages& pages, const std::string& pdf);

/// `template-A1.svg`
[[nodiscard]] std::string page_file_name(const paper::Pages& pages, std::size_t page);

/// The `savings` report, and as a table; `tolerance` is what was asked for.
[[nodiscard]] Json savings_report(const batch::Savings& found);
[[nodiscard]] std::string savings_table(const batch::Savings& found, base::Length tolerance,
                                        const base::Voice& words);

/// The sizes as a table to copy from, in the job's unit and the other.
[[nodiscard]] std::string size_table(const pouch::Pouch& pouch, const SizeDetails& details,
                                     const base::Voice& words);

}  // namespace pouchwright::job
