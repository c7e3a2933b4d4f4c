# The two files that libzip makes of its own headers: its types, and the words of its errors.
set(made ${CMAKE_BINARY_DIR}/made/zip)
set(libzip_VERSION 1.7.3)
set(libzip_VERSION_MAJOR 1)
set(libzip_VERSION_MINOR 7)
set(libzip_VERSION_PATCH 3)
set(ZIP_STATIC ON)
set(ZIP_NULLABLE_DEFINES "#define _Nullable\n#define _Nonnull")
set(LIBZIP_TYPES_INCLUDE "#include <inttypes.h>")
foreach(bits 8 16 32 64)
  set(ZIP_INT${bits}_T int${bits}_t)
  set(ZIP_UINT${bits}_T uint${bits}_t)
endforeach()
configure_file(${zip}/cmake-zipconf.h.in ${made}/zipconf.h)

file(STRINGS ${zip}/lib/zip.h lines REGEX "#define ZIP_ER_[A-Z_]+ [0-9]+[ \t]+/[*] [NSZ] ")
set(words "")
set(kinds "")
foreach(line IN LISTS lines)
  string(REGEX MATCH "/[*] ([NSZ]) (.*) [*]/" ignored "${line}")
  string(APPEND kinds "  ZIP_ET_${CMAKE_MATCH_1}_,\n")
  string(APPEND words "  \"${CMAKE_MATCH_2}\",\n")
endforeach()
string(REPLACE "ZIP_ET_N_" "ZIP_ET_NONE" kinds "${kinds}")
string(REPLACE "ZIP_ET_S_" "ZIP_ET_SYS" kinds "${kinds}")
string(REPLACE "ZIP_ET_Z_" "ZIP_ET_ZLIB" kinds "${kinds}")
file(CONFIGURE OUTPUT ${made}/zip_err_str.c CONTENT "#include \"zipint.h\"
const char * const _zip_err_str[] = {
@words@};
const int _zip_nerr_str = sizeof(_zip_err_str) / sizeof(_zip_err_str[0]);
const int _zip_err_type[] = {
@kinds@};
" @ONLY)
