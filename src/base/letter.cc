#include "base/letter.h"

#include <utf8.h>

namespace pouchwright::base {

char32_t code_point(std::string_view letter) { return utf8::unchecked::peek_next(letter.data()); }

}  // namespace pouchwright::base
