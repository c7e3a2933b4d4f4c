/// What a group has already of what a shopping list buys: `[stock.things]`, `clips = 20`.
///
///     read_things(stock, library, settings.batch.stock);
///
/// Not for cloth, which is there in pieces of a width and a length.
#pragma once

#include "batch/settings.h"
#include "input/job.h"
#include "input/reader.h"

namespace pouchwright::input {

/// Of the job's [stock]. Reports what is no count, and things that no list knows, with the nearest.
void read_things(TableReader& stock, const Library& library, batch::Things& made);

}  // namespace pouchwright::input
