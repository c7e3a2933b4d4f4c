#include "job/limits.h"

#include <string>

#include "base/length.h"
#include "base/number.h"
#include "batch/settings.h"
#include "draw/full_size/nested.h"
#include "input/node.h"
#include "input/reader.h"
#include "lay/lay.h"
#include "paper/pages.h"
#include "pouch/construction.h"
#include "pouch/request.h"

namespace pouchwright::job {
namespace {

template <class Count>
base::Message most(const char* key, Count count) {
  return {key, {{"most", count}}};
}

}  // namespace

std::vector<base::Message> limits() {
  constexpr std::size_t kBytesOfKib = 1024;
  return {
      most("most-file", input::kMostBytes / kBytesOfKib),
      most("most-depth", input::kMostDepth),
      most("most-letters", input::kMostLetters),
      {"most-length", {{"most", base::shortened(base::kLongest.in_mm() / 1000, 0)}}},
      most("most-spans", pouch::kMostSpans),
      most("most-panels", pouch::kMostPanels),
      most("most-pieces", pouch::kMostPieceRules),
      most("most-attachments", pouch::kMostAttachments),
      most("most-operations", pouch::kMostOperations),
      most("most-liners", pouch::kMostLiners),
      most("most-nested", draw::kMostNested),
      most("most-pouches", batch::kMostPouches),
      most("most-people", batch::kMostPeople),
      most("most-cut", lay::kMostPieces),
      most("most-kinds", lay::kMostKinds),
      most("most-plies", lay::kMostPlies),
      most("most-pages", paper::kMostPages),
      {"most-paper", {{"most", base::decimal_mm(paper::kLongestSide)}}},
      most("most-errors", base::Diagnostics::kMost),
  };
}

}  // namespace pouchwright::job
