/// The rules of shared/stitches.toml: thread by stitch type, packages, card, small things.
///
///     const auto data = read_stitches({"stitches.toml", text}, papers, diagnostics);
///     if (data) auto list = batch::supplies(order, pouch, *data, settings, prices);
#pragma once

#include <optional>
#include <vector>

#include "base/diagnostic.h"
#include "batch/supplies.h"
#include "input/data.h"
#include "input/node.h"

namespace pouchwright::input {

/// `papers` are the sheets that card may be named by.
/// Fails: empty after errors, all of them reported: what cannot be read, an operation's stitch or a
/// stitch's package that the file lacks.
[[nodiscard]] std::optional<batch::SupplyData> read_stitches(const LoadedFile& file,
                                                             const std::vector<PaperSize>& papers,
                                                             base::Diagnostics& diagnostics);

}  // namespace pouchwright::input
