/// Sheets that are read, not cut: pages of drawings that are not at full size, so that they carry
/// no check square and no marks.
///
/// Inside `job` only.
#pragma once

#include <string>
#include <vector>

#include "ink/scene.h"
#include "job/run.h"
#include "paper/pages.h"

namespace pouchwright::job {

/// What a drawing may measure on a page of A4 (ISO 216) with margins of 10 mm: across, down.
inline constexpr ink::Point kSheetRoom{190, 277};

/// The paper of such sheets, mm.
struct SheetPaper {
  ink::Point size{210, 297};
  ink::Point at{10, 10};  ///< where a drawing's top left corner stands
  ink::Point room = kSheetRoom;
};
/// The job's paper where it is about as large as a hand holds, A4 to either side of a poster or a
/// card: words and pictures do not shrink with the paper.
[[nodiscard]] SheetPaper sheet_paper(const paper::PageSetup& setup);

/// One page a drawing. Requires: none is larger than the paper's room.
[[nodiscard]] paper::Pages sheets(const std::string& name, std::vector<ink::Drawing> drawings,
                                  const SheetPaper& paper = {});

/// Who answers for the words of a draft, in its language and in the one that it was drafted from; empty
/// where a speaker has read them.
[[nodiscard]] std::string draft_words(const Run& run);

/// Turns sheets over where the run's language is read from the right. Last of all that is done to them.
void turn_to_reading(paper::Pages& pages, const Run& run);

/// What a report's --out asks for by its ending.
enum class Ending { pdf, svg, csv, json };
/// Fails: throws UsageFault for any other ending.
[[nodiscard]] Ending out_ending(const Run& run);

/// The same, where nothing but drawings can be asked for.
[[nodiscard]] Ending sheet_ending(const Run& run);

/// One page a drawing as PDF; all in one file as SVG. Requires: `ending` is one of the two.
[[nodiscard]] std::string sheet_bytes(const Run& run, const std::string& name, Ending ending,
                                      const std::vector<ink::Drawing>& drawings,
                                      const SheetPaper& paper = {});

/// Adds the file of --out to `made`, which has sheets. `run` must last until the file is made.
/// Fails: as out_ending().
void add_file_of_sheets(const Run& run, Made& made);

}  // namespace pouchwright::job
