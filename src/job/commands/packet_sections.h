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

#include "draw/sheets/overview.h"
#include "ink/flow.h"
#include "job/day.h"
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
    const char* words = "packet-where";  ///< key of what is said of the page
  };
  std::vector<Reference> references{};
  std::string make{};  ///< of a day: whose it is; empty where it is common
};

/// As --only and --without call them, in order of use.
[[nodiscard]] std::vector<std::string_view> section_names();

/// The paper of sections that are not at full size, without the foot of its pages.
[[nodiscard]] SheetPaper packet_paper(const Run& run);

/// Those of `asked` (names in order of use) with their pages, not numbered yet. `copies` of the
/// going-home card are drawn one by one; without it a page is printed again and again. Cells of
/// full-size pages begin in the `first_column`th column.
/// Fails: an error in the run's diagnostics; the result is empty then.
[[nodiscard]] std::vector<Section> packet_sections(Run& run, const std::vector<std::string>& asked,
                                                   std::optional<int> copies,
                                                   std::size_t first_column = 0);

/// Of a day: what is common once, then each make's own behind its overview. Names of own sections have
/// the make's folder before them.
/// Fails: as above.
[[nodiscard]] std::vector<Section> day_sections(Run& run, const Day& day,
                                                const std::vector<std::string>& asked,
                                                std::optional<int> copies);

/// What an overview says of a section, and of where it begins, as wide as that can become.
[[nodiscard]] draw::OverviewTask overview_task(const Section& section, const Run& run);

/// Numbers all pages through, in the foot of each, and puts the numbers into what refers to them.
void number_pages(std::vector<Section>& sections, const Run& run);

}  // namespace pouchwright::job
