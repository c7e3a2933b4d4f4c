/// What a group's record says, in sentences: never more than its numbers carry.
///
///     for (const base::Message& one : record_leaks(found)) report.say(one);
///
/// Operations are called by `names`, by their ids; those it lacks keep their id.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "base/message.h"
#include "batch/record/findings.h"

namespace pouchwright::tell {

using OperationNames = std::map<std::string, std::string>;

/// How many leak, with the interval; that it is little where it is.
[[nodiscard]] std::vector<base::Message> record_leaks(const batch::RecordFindings& found);
/// Where they leak.
[[nodiscard]] std::vector<base::Message> record_places(const batch::RecordFindings& found);
/// Which bundles, joined rows or days lie outside their limits.
[[nodiscard]] std::vector<base::Message> record_limits(const batch::RecordFindings& found);
/// Whose work leaks more than that of the others, and what would not have shown.
[[nodiscard]] std::vector<base::Message> record_people(const batch::RecordFindings& found,
                                                       const OperationNames& names);
/// What cannot be told apart, and how it could be.
[[nodiscard]] std::vector<base::Message> record_cannot_tell(const batch::RecordFindings& found,
                                                            const OperationNames& names);
/// What the trials with the iron showed, and the seals that were measured.
[[nodiscard]] std::vector<base::Message> record_iron(const batch::RecordFindings& found);
[[nodiscard]] std::vector<base::Message> record_seals(const batch::RecordFindings& found);

/// `12 %`, rounded as far as it matters.
[[nodiscard]] base::Number percent_of(double share);
/// `bundle 3`, with its day and make where they are written down.
[[nodiscard]] base::Message bundle_called(const batch::BundleName& name);
[[nodiscard]] base::Message bundles_called(const batch::JoinedLeaks& joined);
[[nodiscard]] std::string called(const std::string& operation, const OperationNames& names);
[[nodiscard]] base::Message setting_called(const batch::TrialSetting& setting);

}  // namespace pouchwright::tell
