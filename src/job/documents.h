/// Full-scale documents of a job: drawings cut into pages, and the files that they make.
///
/// Inside `job` only.
#pragma once

#include <functional>
#include <memory>
#include <span>

#include "ink/canvas.h"
#include "job/files.h"
#include "job/run.h"
#include "paper/pages.h"

namespace pouchwright::job {

/// Pages that stand for themselves, or that become part of a packet: its cells begin in the
/// `first_column`th column.
struct PartOf {
  std::size_t first_column = 0;
  paper::PageNumbers numbers = paper::PageNumbers::own;
  bool has_gauge = true;  ///< the fold gauge among its drawings; a packet has it once
  paper::Outlines outlines = paper::Outlines::cut_out;
};

/// The pages of the cutting template; of the slip card and shield; each with the fold gauge last.
/// Drawings come in the order in
/// which a machine would cut them, from the top left.
/// Fails: no pages after an error where the paper leaves no room.
[[nodiscard]] paper::Pages template_pages(Run& run, PartOf whole = {});
[[nodiscard]] paper::Pages mask_pages(Run& run, PartOf whole = {});

/// The template before it is cut into pages, the main panel first.
[[nodiscard]] paper::Document template_document(Run& run, PartOf whole = {});
/// Does the paper leave room for it? Else tells why not.
[[nodiscard]] bool can_be_printed(Run& run, const paper::Document& document);

/// Drawings whose words keep off the joins of their pages.
using DrawnAround = std::function<std::vector<ink::Drawing>(const ink::Joins&)>;

/// The drawings as the document `name`: drawn again around the joins of the pages that they take, until no join cuts
/// words, or no way is found.
[[nodiscard]] paper::Pages paged(Run& run, const std::string& name, const std::string& title,
                                 const DrawnAround& drawn, PartOf whole = {});

/// `drawn` as a file for a cutting machine: all of it, or what the options want of it.
[[nodiscard]] std::string drawing_svg(const Run& run, const ink::Drawing& drawn);

/// With Shown::pages puts pictures of the pages where the options ask for them, in place of a PDF;
/// else does nothing and says no.
[[nodiscard]] bool are_shown(const Run& run, std::span<const paper::Pages> documents);

/// Adds the PDF, and beside it the pictures, of what `made` has bound; `run` must last until they
/// are made.
void add_bound(const Run& run, Made& made);

/// The PDF, an SVG of each drawing and each page, and previews where the options ask for them.
void add_document(OutputFiles& files, const paper::Pages& pages,
                  const std::filesystem::path& folder, const std::shared_ptr<const Run>& run);

}  // namespace pouchwright::job
