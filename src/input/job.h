/// A job file and what the command line lays over it, read and resolved.
///
///     auto settings = read_job({"carry.toml", text}, overrides, library, diagnostics);
///     if (settings) auto pouch = pouch::derive(settings->request, diagnostics);
///
/// This layer reads no files: the library hands over the texts of those that a job names.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "base/diagnostic.h"
#include "batch/settings.h"
#include "batch/supplies.h"
#include "batch/work/steps.h"
#include "input/data.h"
#include "input/day.h"
#include "input/group.h"
#include "input/layers.h"
#include "input/node.h"
#include "input/packet.h"
#include "lay/settings.h"
#include "paper/pages.h"
#include "pouch/request.h"

namespace pouchwright::input {

/// What a job may name.
struct Library {
  std::vector<pouch::Material> materials;
  std::vector<PaperSize> papers;
  /// Names in patterns/, for hints: asked for only where a job names none of them.
  std::function<std::vector<std::string>()> constructions;
  /// The file of a construction or material that a job names, by name or by a path with a slash;
  /// empty where there is none.
  std::function<std::optional<LoadedFile>(const std::string& name)> load;
  /// shared/stitches.toml: what a job may call a stitch, and the small things that it counts. Empty:
  /// neither is checked.
  std::function<const batch::SupplyData&()> supplies{};
  /// The group's file for a job that names none, its name with its folder; empty where there is none.
  std::function<std::optional<LoadedFile>()> group{};
  /// What a day says of the job; null for a job alone. It must outlive the call.
  const Make* make = nullptr;
  /// Whose words a job may ask for.
  Languages languages{};
};

struct JobSettings {
  pouch::Request request;
  base::LengthStyle style;  ///< how lengths print
  /// In whose words; one of the library's, or as it stands where there are none. Absent: not said.
  std::optional<std::string> language;
  base::Place construction_place;  ///< where the job names its construction
  paper::PageSetup paper;
  pouch::Pattern pattern = pouch::Pattern::whole;
  PacketSettings packet;
  GroupSettings group;
  lay::Settings lay;
  batch::Settings batch;
  std::optional<batch::WorkTable> work;  ///< of batch.work; absent: the program's own
  std::optional<batch::IronTrial> iron;
  batch::IronSole sole;
  batch::Prices prices;
  std::vector<GroupValue> of_group;  ///< and of the day
};

/// The material that a job has where it names none.
inline constexpr const char* kLaminate = "pul-150";
inline constexpr base::PerUnit kMinClearSeal{base::Length::whole_mm(1),
                                             base::Length::inches(1, 32)};

/// Reads the job, and the construction and materials it names. `units` (of the command line)
/// changes how lengths print, not how bare numbers are read. Fails: empty after errors; all faults
/// of the files that parse are in `diagnostics`.
[[nodiscard]] std::optional<JobSettings> read_job(const LoadedFile& file,
                                                  const std::vector<Override>& overrides,
                                                  std::optional<base::Unit> units,
                                                  const Library& library,
                                                  base::Diagnostics& diagnostics);

}  // namespace pouchwright::input
