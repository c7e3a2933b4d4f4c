#include "input/stitches.h"

#include <string>
#include <utility>

#include "input/reader.h"

namespace pouchwright::input {
namespace {

using batch::Counted;
using batch::SeamEnds;

constexpr double kMostRatio = 100;
constexpr double kMostMetres = 100'000;
constexpr int kMostThreads = 12;
constexpr int kMostPieces = 1000;

class StitchesReader {
 public:
  StitchesReader(const Node& root, const std::vector<PaperSize>& papers,
                 base::Diagnostics& diagnostics)
      : papers_(papers), diagnostics_(diagnostics), reader_(root, "", {diagnostics}) {}

  batch::SupplyData read() {
    packages();
    each_of("stitch", [&](const std::string& name, const Node& node) { stitch(name, node); });
    words();
    allowance();
    use();
    each_of("card", [&](const std::string& name, const Node& node) { card(name, node); });
    each_of("sundry", [&](const std::string& name, const Node& node) { sundry(name, node); });
    reader_.finish();
    return std::move(made_);
  }

 private:
  [[nodiscard]] Context context() const { return reader_.context(); }

  /// Calls `read` with the name and the table of each entry of the table `key`.
  template <class Read>
  void each_of(const char* key, Read read) {
    const Node* table = reader_.table(key);
    if (!table) return;
    TableReader names(*table, key, context());
    for (const auto& [name, node] : table->entries) {
      if (const Node* one = names.table(name)) read(name, *one);
    }
  }

  void packages() {
    each_of("package", [&](const std::string& name, const Node& node) {
      TableReader reader(node, "package." + name, context());
      reader.require("metres");
      // A millimetre at the least: amounts are divided by it.
      const auto metres = reader.number("metres", 0.001, kMostMetres);
      const auto each = reader.truth("each_thread");
      // Known by name even where its length is at fault, so that nobody is told it is missing.
      made_.thread.packages.push_back({name, metres ? metres->value : 1, !each || each->value});
      reader.finish();
    });
  }

  void stitch(const std::string& code, const Node& node) {
    TableReader reader(node, "stitch." + code, context());
    batch::Stitch made;
    made.code = code;
    for (const char* key : {"ratio", "threads", "ends", "package", "source"}) reader.require(key);
    if (const auto ratio = reader.number("ratio", 0, kMostRatio)) made.ratio = ratio->value;
    if (const auto other = reader.number("other_ratio", 0, kMostRatio)) {
      made.other_ratio = other->value;
    }
    if (const auto source = reader.word("source", {"textbook", "formula", "measured"})) {
      made.source = source->value;
    }
    if (const auto threads = reader.whole("threads", 1, kMostThreads)) {
      made.threads = threads->value;
    }
    if (const auto ends = reader.choice("ends", batch::kSeamEndsWords)) {
      made.ends = ends->value;
    }
    made.package = package(reader);
    made.shares = shares(reader);
    if (const auto length = reader.length("stitch_length", Zero::refused)) {
      made.stitch_length = length->value;
    }
    if (const auto width = reader.length("width", Zero::refused)) made.width = width->value;
    if (const auto least = reader.length("least_width", Zero::refused)) {
      made.least_width = least->value;
    }
    reader.finish();
    made_.thread.stitches.push_back(std::move(made));
  }

  std::string package(TableReader& reader) {
    const auto name = reader.text("package");
    if (!name) return "";
    if (!made_.thread.package(name->value)) {
      std::vector<std::string> known;
      for (const batch::Package& one : made_.thread.packages) known.push_back(one.name);
      unknown("package-unknown", *name, known);
    }
    return name->value;
  }

  std::vector<batch::ThreadShare> shares(TableReader& reader) {
    std::vector<batch::ThreadShare> made;
    const Node* table = reader.table("shares");
    if (!table) return made;
    TableReader parts(*table, reader.path("shares"), context());
    for (const char* part : {"needle", "bobbin", "looper"}) {
      if (const auto weight = parts.number(part, 0.001, kMostMetres)) {
        made.push_back({part, weight->value});
      }
    }
    parts.finish();
    return made;
  }

  void words() {
    const Node* table = reader_.table("word");
    if (!table) return;
    TableReader reader(*table, "word", context());
    for (const auto& [word, node] : table->entries) {
      const auto code = reader.text(word);
      if (code && has_stitch(*code)) made_.thread.words[word] = code->value;
    }
  }

  bool has_stitch(const Placed<std::string>& code) {
    if (made_.thread.stitch(code.value)) return true;
    std::vector<std::string> known;
    for (const batch::Stitch& one : made_.thread.stitches) known.push_back(one.code);
    unknown("stitch-unknown", code, known);
    return false;
  }

  void allowance() {
    reader_.require("allowance");
    const Node* table = reader_.table("allowance");
    if (!table) return;
    TableReader reader(*table, "allowance", context());
    auto& made = made_.thread;
    if (const auto waste = reader.number("waste", 0, 1)) made.waste = waste->value;
    const auto into = [&](const char* key, Length& length) {
      if (const auto read = reader.length(key, Zero::allowed)) length = read->value;
    };
    into("chain", made.chain);
    into("back_tack", made.back_tack);
    into("tail", made.tail);
    reader.finish();
  }

  void use() {
    reader_.require("use");
    const Node* table = reader_.table("use");
    if (!table) return;
    TableReader reader(*table, "use", context());
    const auto into = [&](const char* key, std::string& code) {
      reader.require(key);
      const auto read = reader.text(key);
      if (!read) return;
      code = read->value;
      (void)has_stitch(*read);
    };
    into("sew", made_.thread.sew);
    into("secure_tails", made_.thread.secure_tails);
    into("finish_overedge", made_.thread.finish_overedge);
    into("finish_zigzag", made_.thread.finish_zigzag);
    into("finish_turned", made_.thread.finish_turned);
    into("attach", made_.thread.attach);
    reader.finish();
  }

  void card(const std::string& name, const Node& node) {
    TableReader reader(node, "card." + name, context());
    batch::CardFamily made;
    reader.require("units");
    if (const auto unit = reader.choice("units", base::kUnitWords)) made.unit = unit->value;
    for (const auto& paper : reader.texts("papers")) {
      if (const auto found = paper_named(paper)) made.papers.push_back(found->name);
    }
    for (const auto& sheet : reader.texts("sheets")) {
      if (const auto found = paper_named(sheet)) {
        made.sheets.push_back({found->name, found->width, found->height});
      }
    }
    reader.finish();
    made_.card_families.push_back(std::move(made));
  }

  std::optional<PaperSize> paper_named(const Placed<std::string>& name) {
    if (const auto found = paper_of(name.value, base::Unit::mm, papers_)) return found;
    std::vector<std::string> known;
    for (const PaperSize& one : papers_) known.push_back(one.name);
    unknown("paper-unknown", name, known);
    return std::nullopt;
  }

  void sundry(const std::string& name, const Node& node) {
    TableReader reader(node, "sundry." + name, context());
    batch::Sundry made;
    made.name = name;
    if (const auto count = reader.whole("count", 1, kMostPieces)) made.count = count->value;
    if (const auto each = reader.whole("each", 1, kMostPieces)) made.each = each->value;
    reader.require("per");
    if (const auto per = reader.choice("per", batch::kCountedWords)) {
      made.per = per->value;
    }
    reader.finish();
    made_.sundries.push_back(std::move(made));
  }

  void unknown(const char* key, const Placed<std::string>& word,
               const std::vector<std::string>& known) {
    diagnostics_.error(word.place, {key, {{"text", clipped(word.value)}}},
                       {nearest_hint(word.value, known)});
  }

  const std::vector<PaperSize>& papers_;
  base::Diagnostics& diagnostics_;
  TableReader reader_;
  batch::SupplyData made_;
};

}  // namespace

std::optional<batch::SupplyData> read_stitches(const LoadedFile& file,
                                               const std::vector<PaperSize>& papers,
                                               base::Diagnostics& diagnostics) {
  base::Diagnostics faults;
  const auto root = parsed(file, faults);
  std::optional<batch::SupplyData> made;
  if (root) made = StitchesReader(*root, papers, faults).read();
  diagnostics.add_all(faults);
  return faults.has_errors() ? std::nullopt : std::move(made);
}

}  // namespace pouchwright::input
