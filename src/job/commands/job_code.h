/// The packet's page that carries the job: as a link where the group has a page, else as text, or
/// packed small where that is too long.
///
/// Inside `job` only.
#pragma once

#include <string>
#include <vector>

#include "draw/sheets/job_code.h"
#include "job/run.h"

namespace pouchwright::job {

/// A job takes at most so many codes: they stand on one page, and nobody photographs more.
inline constexpr int kMostCodes = 4;

/// `text` in as few codes of at most `most_modules` a side as hold it. Title, files and settings
/// stay as they are by default. Fails: throws std::bad_alloc.
[[nodiscard]] draw::JobCode job_in_codes(const std::string& text, const std::string& page,
                                         int most_modules);

/// As pages of `room`: the job with all that the options put in its place, so that who reads it
/// back makes this packet again.
[[nodiscard]] std::vector<ink::Drawing> job_code_sheets(const Run& run, ink::Point room);

}  // namespace pouchwright::job
