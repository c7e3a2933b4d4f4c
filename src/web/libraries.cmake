# The libraries of the browser's edition, built from their sources: nothing of this machine's own is
# for WebAssembly. Their settings are in libraries/, written by hand, since what they would ask the
# machine takes longer than to build them. They stay built in this build's folder.

enable_language(C)
set(web_sources "${CMAKE_SOURCE_DIR}/.build/web-sources" CACHE PATH "where setup.sh web puts the sources")
set(web_unpacked ${CMAKE_BINARY_DIR}/sources)
set(web_settings ${CMAKE_CURRENT_LIST_DIR}/libraries)

# ---- Sources ----

# Debian's patches of an archive, as its packing lists them. Two packings cannot be had everywhere;
# what is in theirs changes nothing that the program draws.
function(add_debian_patches package archive folder)
  string(REGEX REPLACE "[.]orig[.]tar[.].*$" "" version ${archive})
  file(GLOB packing ${web_sources}/${version}-*.debian.tar.xz)
  if(packing STREQUAL "")
    return()
  endif()
  list(SORT packing COMPARE NATURAL)
  list(GET packing -1 packing)
  file(ARCHIVE_EXTRACT INPUT ${packing} DESTINATION ${folder})
  set(patches "")
  if(EXISTS ${folder}/debian/patches/series)
    file(STRINGS ${folder}/debian/patches/series patches REGEX "^[^# ]")
  endif()
  foreach(patch IN LISTS patches)
    string(REGEX REPLACE " .*$" "" patch ${patch})
    # FreeType's packing changes its documents and demonstrations, too, which lie in archives of their own.
    file(STRINGS ${folder}/debian/patches/${patch} touched REGEX "^[+][+][+] b/ft2d")
    if(NOT touched STREQUAL "")
      continue()
    endif()
    add_patch(${folder} ${folder}/debian/patches/${patch})
  endforeach()
endfunction()

function(add_patch folder patch)
  execute_process(COMMAND patch -p1 --batch --quiet -i ${patch}
    WORKING_DIRECTORY ${folder} RESULT_VARIABLE failed OUTPUT_VARIABLE said ERROR_VARIABLE said)
  if(failed)
    message(FATAL_ERROR "${patch} does not fit: ${said}")
  endif()
endfunction()

# Sets `variable` to where the sources of `package` are unpacked, patched; once for all.
function(unpack package variable)
  file(STRINGS ${CMAKE_SOURCE_DIR}/src/web/sources.txt line REGEX "^${package} ")
  string(REGEX REPLACE " *[|] *" ";" fields "${line}")
  list(GET fields 1 archive)
  list(GET fields 2 sum)
  list(GET fields 3 folder)
  set(${variable} ${web_unpacked}/${folder} PARENT_SCOPE)
  set(ours "")
  set(state ${sum})
  if(EXISTS ${web_settings}/${package}/wasm.patch)
    set(ours ${web_settings}/${package}/wasm.patch)
    file(SHA256 ${ours} patch_sum)
    string(APPEND state " ${patch_sum}")
    set_property(DIRECTORY APPEND PROPERTY CMAKE_CONFIGURE_DEPENDS ${ours})
  endif()
  set(stamp ${web_unpacked}/${folder}.unpacked)
  if(EXISTS ${stamp})
    file(READ ${stamp} before)
    if(before STREQUAL state)
      return()
    endif()
  endif()
  if(NOT EXISTS ${web_sources}/${archive})
    message(FATAL_ERROR "${archive} is not in ${web_sources}: run sh shared/setup.sh web")
  endif()
  file(SHA256 ${web_sources}/${archive} found)
  if(NOT found STREQUAL sum)
    message(FATAL_ERROR "${archive} is not the one that src/web/sources.txt names")
  endif()
  file(REMOVE_RECURSE ${web_unpacked}/${folder})
  file(ARCHIVE_EXTRACT INPUT ${web_sources}/${archive} DESTINATION ${web_unpacked})
  add_debian_patches(${package} ${archive} ${web_unpacked}/${folder})
  if(ours)
    add_patch(${web_unpacked}/${folder} ${ours})
  endif()
  file(WRITE ${stamp} ${state})
endfunction()

# A library of others: not warned about. Sources are relative to `folder`.
function(add_web_library name folder)
  cmake_parse_arguments(LIB "" "" "SOURCES;PUBLIC;PRIVATE;DEFINES;USES" ${ARGN})
  set(sources "")
  foreach(source IN LISTS LIB_SOURCES)
    cmake_path(ABSOLUTE_PATH source BASE_DIRECTORY ${folder})
    list(APPEND sources ${source})
  endforeach()
  add_library(${name} STATIC ${sources})
  target_include_directories(${name} SYSTEM PUBLIC ${LIB_PUBLIC})
  target_include_directories(${name} BEFORE PRIVATE ${LIB_PRIVATE})
  target_compile_definitions(${name} PRIVATE ${LIB_DEFINES})
  target_compile_options(${name} PRIVATE -w -ffp-contract=off)
  target_link_libraries(${name} PUBLIC ${LIB_USES})
endfunction()

# ---- Libraries ----

unpack(zlib zlib)
set(files adler32 compress crc32 deflate infback inffast inflate inftrees trees uncompr zutil)
list(TRANSFORM files APPEND .c)
add_web_library(web_zlib ${zlib} SOURCES ${files} PUBLIC ${zlib} DEFINES HAVE_UNISTD_H)
add_library(ZLIB::ZLIB ALIAS web_zlib)

unpack(libpng1.6 png)
file(MAKE_DIRECTORY ${CMAKE_BINARY_DIR}/made/png)
configure_file(${png}/scripts/pnglibconf.h.prebuilt ${CMAKE_BINARY_DIR}/made/png/pnglibconf.h COPYONLY)
set(files png pngerror pngget pngmem pngpread pngread pngrio pngrtran pngrutil pngset pngtrans pngwio
  pngwrite pngwtran pngwutil)
list(TRANSFORM files APPEND .c)
add_web_library(web_png ${png} SOURCES ${files}
  PUBLIC ${png} ${CMAKE_BINARY_DIR}/made/png USES web_zlib)

unpack(pixman pixman)
set(files -access -access-accessors -arm -bits-image -combine32 -combine-float -conical-gradient -edge
  -edge-accessors -fast-path -filter -general -glyph -gradient-walker -image -implementation -linear-gradient
  -matrix -mips -noop -ppc -radial-gradient -region16 -region32 -solid-fill -timer -trap -utils -x86)
list(TRANSFORM files REPLACE "^(.+)$" "pixman\\1.c")
add_web_library(web_pixman ${pixman}/pixman SOURCES pixman.c ${files}
  PUBLIC ${pixman}/pixman PRIVATE ${web_settings}/pixman DEFINES HAVE_CONFIG_H)

unpack(freetype freetype)
set(files base/ftsystem base/ftinit base/ftdebug base/ftbase base/ftbbox base/ftbitmap base/ftglyph base/ftmm
  base/ftsynth base/ftfstype base/ftfntfmt base/fttype1 base/ftlcdfil base/ftstroke base/ftgasp
  truetype/truetype sfnt/sfnt smooth/smooth raster/raster psnames/psnames gzip/ftgzip)
list(TRANSFORM files APPEND .c)
add_web_library(web_freetype ${freetype}/src SOURCES ${files}
  PUBLIC ${freetype}/include PRIVATE ${web_settings}/freetype USES web_zlib
  DEFINES FT2_BUILD_LIBRARY FT_CONFIG_MODULES_H=<ftmodule.h> FT_CONFIG_OPTION_SYSTEM_ZLIB)

unpack(cairo cairo)
# Cairo's own lists of what every build has.
file(READ ${cairo}/src/Makefile.sources lists)
string(REGEX MATCHALL "\n(cairo_sources|_cairo_font_subset_sources|_cairo_pdf_operators_sources) =[^=]*NULL"
  lists "${lists}")
string(REGEX MATCHALL "[a-z0-9-]+[.]c" files "${lists}")
list(APPEND files cairo-deflate-stream.c cairo-pdf-surface.c cairo-pdf-interchange.c cairo-tag-stack.c
  cairo-svg-surface.c cairo-ft-font.c cairo-png.c)
add_web_library(web_cairo ${cairo}/src SOURCES ${files}
  PUBLIC ${cairo}/src ${web_settings}/cairo USES web_pixman web_freetype web_png web_zlib
  DEFINES HAVE_CONFIG_H _REENTRANT CAIRO_COMPILATION)

unpack(harfbuzz harfbuzz)
add_web_library(web_harfbuzz ${harfbuzz}/src SOURCES harfbuzz.cc PUBLIC ${harfbuzz}/src DEFINES HB_NO_MT)
target_compile_options(web_harfbuzz PRIVATE -fno-exceptions -fno-rtti)

# LGPL: an archive of its own, which whoever likes may build anew and link (see README.md).
unpack(fribidi fribidi)
set(files -arabic -bidi -bidi-types -brackets -deprecated -joining -joining-types -mirroring -run -shape)
list(TRANSFORM files REPLACE "^(.+)$" "fribidi\\1.c")
add_web_library(web_fribidi ${fribidi}/lib SOURCES fribidi.c ${files}
  PUBLIC ${fribidi}/lib ${web_settings}/fribidi DEFINES HAVE_CONFIG_H)

unpack(qpdf qpdf)
file(GLOB files ${qpdf}/libqpdf/*.cc)
list(FILTER files EXCLUDE REGEX "/(QPDFCrypto_(gnutls|openssl)|Pl_DCT|qpdfjob-c|QPDFJob.*|QPDFArgParser)[.]cc$")
add_web_library(web_qpdf ${qpdf}/libqpdf
  SOURCES ${files} sha2.c sha2big.c ${web_settings}/qpdf/no_jpeg.cc
  PUBLIC ${qpdf}/include ${web_settings}/qpdf PRIVATE ${qpdf}/libqpdf USES web_zlib
  DEFINES POINTERHOLDER_TRANSITION=4)
set_target_properties(web_qpdf PROPERTIES CXX_STANDARD 17)

unpack(libzip zip)
include(${CMAKE_CURRENT_LIST_DIR}/libraries/zip/made.cmake)
file(STRINGS ${zip}/lib/CMakeLists.txt lines REGEX "^  zip_[a-z0-9_-]+[.]c *$")
list(TRANSFORM lines STRIP)
add_web_library(web_zip ${zip}/lib
  SOURCES ${lines} zip_mkstempm.c zip_source_file_stdio_named.c zip_random_unix.c
    ${CMAKE_BINARY_DIR}/made/zip/zip_err_str.c
  PUBLIC ${zip}/lib ${CMAKE_BINARY_DIR}/made/zip PRIVATE ${web_settings}/zip USES web_zlib
  DEFINES HAVE_CONFIG_H)

# LGPL, as FriBidi is. Its settings are these four.
unpack(qrencode qrencode)
set(files bitstream mask mmask mqrspec qrencode qrinput qrspec rsecc split)
list(TRANSFORM files APPEND .c)
add_web_library(web_qrencode ${qrencode} SOURCES ${files} PUBLIC ${qrencode}
  DEFINES STATIC_IN_RELEASE=static MAJOR_VERSION=4 MINOR_VERSION=1 MICRO_VERSION=1 VERSION="4.1.1")

set(cairo_libraries web_cairo)
set(letter_libraries web_harfbuzz web_fribidi web_freetype)
set(qpdf_libraries web_qpdf)
set(code_libraries web_qrencode)

# ---- Headers alone, from Debian's packages: a folder of links, since with /usr/include itself would
# come the headers of this machine's C library.

set(web_headers ${CMAKE_BINARY_DIR}/headers)
file(MAKE_DIRECTORY ${web_headers})
foreach(name fmt toml++ nlohmann boost utf8cpp utf8 utf8.h)
  if(EXISTS /usr/include/${name} AND NOT EXISTS ${web_headers}/${name})
    file(CREATE_LINK /usr/include/${name} ${web_headers}/${name} SYMBOLIC)
  endif()
endforeach()
add_library(web_headers INTERFACE)
target_include_directories(web_headers SYSTEM INTERFACE ${web_headers} ${web_headers}/utf8cpp)
target_compile_definitions(web_headers INTERFACE FMT_HEADER_ONLY TOML_HEADER_ONLY=1)
foreach(name fmt::fmt utf8cpp tomlplusplus::tomlplusplus nlohmann_json::nlohmann_json Boost::headers)
  if(name MATCHES "::")
    add_library(${name} ALIAS web_headers)
  else()
    add_library(${name} INTERFACE)
    target_link_libraries(${name} INTERFACE web_headers)
  endif()
endforeach()
find_package(Threads REQUIRED)
