#include "job/source_folder.h"

namespace pouchwright::job {

const char* source_folder() {
  // Through a volatile pointer, so that the text stays whole in the program: a test replaces it.
  static const char* const volatile folder = POUCHWRIGHT_SOURCE_FOLDER;
  return folder;
}

}  // namespace pouchwright::job
