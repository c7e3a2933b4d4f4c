/// What the machines of a job sew: [stitches], and what it has to do with finishes, passes and knife.
///
///     read_sewing(reader, library, settings.request, settings.batch);
///
/// Not for how many machines there are, which stands in [batch].
#pragma once

#include "batch/settings.h"
#include "input/job.h"
#include "input/reader.h"
#include "pouch/request.h"

namespace pouchwright::input {

/// Reads [stitches] of the job that `root` reads. Ends that the job overedges with a zigzag are
/// zigzagged from then on. Reports what cannot be meant together: a knife without an overedge,
/// zigzagged ends that another stitch is stated for; warns where ends are zigzagged and sides are
/// still taken as overedged. Requires: the pouch was read.
void read_sewing(TableReader& root, const Library& library, pouch::Request& request,
                 batch::Settings& batch);

}  // namespace pouchwright::input
