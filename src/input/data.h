/// The program's own data files, and those of a group: words, papers, materials, constructions.
///
///     base::Words words = read_words({"en.toml", text}, diagnostics);
///     auto construction = read_construction({"foldover.toml", text}, "foldover", diagnostics);
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/diagnostic.h"
#include "base/length.h"
#include "base/words.h"
#include "input/node.h"
#include "pouch/request.h"

namespace pouchwright::input {

/// Every text of the file; keys of sub-tables are joined by dots.
[[nodiscard]] base::Words read_words(const LoadedFile& file, base::Diagnostics& diagnostics);

/// A sheet or roll of paper, held upright.
struct PaperSize {
  std::string name;
  base::Length width, height;
};
/// The papers in file order: `[A4] size = "210 x 297 mm"`.
[[nodiscard]] std::vector<PaperSize> read_papers(const LoadedFile& file,
                                                 base::Diagnostics& diagnostics);

/// The paper called `text`, letters of either case, or of that size; bare numbers in `bare`.
[[nodiscard]] std::optional<PaperSize> paper_of(std::string_view text, base::Unit bare,
                                                const std::vector<PaperSize>& known);

/// The materials in file order, a table each.
[[nodiscard]] std::vector<pouch::Material> read_materials(const LoadedFile& file,
                                                          base::Diagnostics& diagnostics);

/// One material's table, as in a materials file or in a job, where messages call it `path`. `kind`
/// is what the job wants it for; a table that states another kind is an error.
[[nodiscard]] std::optional<pouch::Material> read_material(
    const Node& table, const std::string& path, const std::string& name,
    std::optional<pouch::MaterialKind> kind, base::Unit bare, base::Diagnostics& diagnostics);

/// The number that a job states for a construction's count; empty: the default.
using StatedCount = std::function<std::optional<int>(const pouch::CountRule&)>;

/// A construction, and where its file states what.
struct ReadConstruction {
  pouch::Construction construction;
  pouch::ConstructionPlaces places;
};
/// A construction file with all that its counts repeat, checked as far as it can be without a job:
/// names that are defined once and exist, spans that meet, operations in an order that their needs
/// allow. `name` is how jobs call it. Fails: empty after errors.
[[nodiscard]] std::optional<ReadConstruction> read_construction(const LoadedFile& file,
                                                                const std::string& name,
                                                                const StatedCount& stated,
                                                                base::Diagnostics& diagnostics);
[[nodiscard]] inline std::optional<ReadConstruction> read_construction(
    const LoadedFile& file, const std::string& name, base::Diagnostics& diagnostics) {
  return read_construction(file, name, {}, diagnostics);
}

}  // namespace pouchwright::input
