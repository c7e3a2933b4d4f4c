# Writes OUT: the files FILES of FOLDER as texts of the program.
set(text "#include \"desk/assets.h\"\n\n#include <cassert>\n\nnamespace pouchwright::desk {\n\n")
string(APPEND text "std::string_view asset(std::string_view name) {\n")
foreach(name IN LISTS FILES)
  file(READ "${FOLDER}/${name}" content)
  string(APPEND text "  if (name == \"${name}\") {\n    return R\"asset(${content})asset\";\n  }\n")
endforeach()
string(APPEND text "  assert(false);\n  return {};\n}\n\n}  // namespace pouchwright::desk\n")
file(WRITE "${OUT}" "${text}")
