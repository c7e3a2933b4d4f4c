/// Steps on pages: words and pictures, the pictures as large as there is room for.
///
///     std::vector<Drawing> pages = laid_out_steps(sheet, look, arrangements, shown, pictures);
///
/// Inside `draw` only. Not for what the words and pictures are (see steps.cc).
#pragma once

#include <cstddef>
#include <functional>
#include <string>
#include <vector>

#include "draw/with_ink.h"
#include "ink/flow.h"

namespace pouchwright::draw {

/// How steps stand: in columns of one width, each with its number and words (or icons) broken to it.
struct StepColumns {
  std::size_t count = 1;
  double width = 0;
  double picture_from = 0;        ///< the pictures' left edge, from the column's
  double picture_room = 0;        ///< how wide they may be
  bool has_words_beside = false;  ///< right of the picture, else above it
  std::vector<Frame> heads;       ///< by step; top left corner at 0, 0
};

/// By step, the highest picture so high, mm of paper; those that would be wider than `room` a little
/// smaller, and where that does not do, wider still.
using StepPictures = std::function<std::vector<Drawing>(double highest, double room)>;

/// On as few pages as six steps each need, the pictures as large as there is room for; where they
/// come out small, or not even small ones find room, on one page more. Of several arrangements the
/// one with the largest pictures, but always one that has its words beside them and finds room.
/// Pictures that are not in a room of their own stand out of it to the left where they are wide.
/// `shown` says by step what its picture shows, to whoever cannot see it; empty where nothing is
/// said.
[[nodiscard]] std::vector<Drawing> laid_out_steps(const ink::SheetRoom& sheet,
                                                  const ink::FlowLook& look,
                                                  const std::vector<StepColumns>& arrangements,
                                                  const std::vector<std::string>& shown,
                                                  const StepPictures& pictures);

}  // namespace pouchwright::draw
