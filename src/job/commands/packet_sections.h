/// The sections of a packet: one row each, in order of use.
///
///     std::vector<Section> sections = packet_sections(run, asked, copies);
///     number_pages(sections, run);
///
/// Inside `job` only.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "ink/flow.h"
#include "job/run.h"
#include "job/sheets.h"
#include "paper/pages.h"

namespace pouchwright::job {

/// Part of the packet: what its pages are, and whether they are at full size.
struct Section {
  std::string name;
  paper::Pages pages{};
  bool full_size = false;
  int prints = 1;  ///< how often its pages are printed
  /// Words of its pages that are to name the first page of another section: the overview's.
  struct Reference {
    std::string section;
    ink::ItemIndex at;
  };
  std::vector<Reference> references{};
};

/// As --only and --without call them, in order of use.
[[nodiscard]] std::vector<std::string_view> section_names();

/// The paper of sections that are not at full size, without the foot of its pages.
[[nodiscard]] SheetPaper packet_paper(const Run& run);

/// Those of `asked` (names in order of use) with their pages, not numbered yet. `copies` of the
/// going-home card are drawn one by one; without it a page is printed again and again.
/// Fails: an error in the run's diagnostics; the result is empty then.
[[nodiscard]] std::vector<Section> packet_sections(Run& run, const std::vector<std::string>& asked,
                                                   std::optional<int> copies);

/// Numbers all pages through, in the foot of each, and puts the numbers into what refers to them.
void number_pages(std::vector<Section>& sections, const Run& run);

}  // namespace pouchwright::job
