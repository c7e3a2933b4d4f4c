# pouchwright.html: the program as WebAssembly, with its data, in one page.

set(web ${CMAKE_CURRENT_LIST_DIR})
target_compile_definitions(pouchwright_web PRIVATE POUCHWRIGHT_WEB_DATA="/program")

# Where fonts/pinned.txt says that they are.
file(STRINGS ${CMAKE_SOURCE_DIR}/fonts/pinned.txt fonts REGEX "^[a-z]+ *[|]")
list(TRANSFORM fonts REPLACE "^[^|]*[|][^|]*[|] *([^ |]+) *[|].*$" "\\1")
list(REMOVE_DUPLICATES fonts)

add_executable(pouchwright_wasm ${CMAKE_SOURCE_DIR}/src/desk/zip_module.cc ${web}/numbers.cc)
set_source_files_properties(${web}/numbers.cc PROPERTIES COMPILE_OPTIONS -fno-builtin)
target_link_libraries(pouchwright_wasm PRIVATE options warnings pouchwright_web web_zip)
set_target_properties(pouchwright_wasm PROPERTIES OUTPUT_NAME pouchwright SUFFIX .js)
set(embedded
  "SHELL:--embed-file ${CMAKE_SOURCE_DIR}/patterns@/program/patterns"
  "SHELL:--embed-file ${CMAKE_SOURCE_DIR}/shared@/program/shared"
  "SHELL:--embed-file ${CMAKE_SOURCE_DIR}/fonts@/program/fonts")
foreach(font IN LISTS fonts)
  list(APPEND embedded "SHELL:--embed-file ${font}@${font}")
endforeach()
file(GLOB_RECURSE data CONFIGURE_DEPENDS
  ${CMAKE_SOURCE_DIR}/patterns/* ${CMAKE_SOURCE_DIR}/shared/* ${CMAKE_SOURCE_DIR}/fonts/*)
set_property(TARGET pouchwright_wasm PROPERTY LINK_DEPENDS ${data} ${fonts})
target_link_options(pouchwright_wasm PRIVATE
  ${embedded} "SHELL:--exclude-file *setup.sh" -sALLOW_MEMORY_GROWTH=1 -sMODULARIZE=1 -sEXPORT_NAME=pouchwrightProgram --no-entry
  # The tests ask it in node; the page, in a worker.
  -sENVIRONMENT=web,worker,node -sEXPORTED_RUNTIME_METHODS=ccall,UTF8ToString
  -sEXPORTED_FUNCTIONS=_malloc,_free,_pouchwright_open,_pouchwright_ask,_pouchwright_type,_pouchwright_save_as,_pouchwright_body,_pouchwright_body_size)

# ---- Licences, in the order that they are shown ----

set(licences "pouchwright|${CMAKE_SOURCE_DIR}/LICENSE"
  "Noto fonts|${CMAKE_SOURCE_DIR}/fonts/LICENSE-Noto.txt"
  "Cairo (used under the MPL)|${cairo}/COPYING-MPL-1.1"
  "pixman|${pixman}/COPYING"
  "FreeType|${freetype}/docs/FTL.TXT"
  "HarfBuzz|${harfbuzz}/COPYING"
  "FriBidi (yours is linked in by src/web/relink.sh of this program's source)|${fribidi}/COPYING"
  "qpdf|${qpdf}/LICENSE.txt"
  "libpng|${png}/LICENSE"
  "libzip|${zip}/LICENSE"
  "libqrencode (yours is linked in by src/web/relink.sh of this program's source)|${qrencode}/COPYING"
  "zlib|${zlib}/README"
  "fmt|/usr/share/doc/libfmt-dev/copyright"
  "toml++|/usr/share/doc/libtomlplusplus-dev/copyright"
  "JSON for Modern C++|/usr/share/doc/nlohmann-json3-dev/copyright"
  "UTF8-CPP|/usr/share/doc/libutfcpp-dev/copyright"
  # All of Boost's are two million letters; what is here of it is Boost.Math.
  "Boost|/usr/share/doc/libboost1.74-dev/copyright|License: BSL-1.0"
  "musl|/usr/share/emscripten/system/lib/libc/musl/COPYRIGHT"
  "Emscripten, libc++|/usr/share/doc/emscripten/copyright")
set(licence_files ${licences})
list(TRANSFORM licence_files REPLACE "^[^|]*[|]([^|]*).*$" "\\1")

# ---- The page ----

file(GLOB page CONFIGURE_DEPENDS ${web}/page/* ${CMAKE_SOURCE_DIR}/src/desk/page/*)
set(pouchwright_file ${CMAKE_BINARY_DIR}/pouchwright.html)
add_custom_command(OUTPUT ${pouchwright_file}
  COMMAND ${CMAKE_CROSSCOMPILING_EMULATOR} ${web}/page/bundle.cjs
    $<TARGET_FILE:pouchwright_wasm> ${web}/page ${pouchwright_file} ${licences}
  DEPENDS pouchwright_wasm ${web}/page/bundle.cjs ${page} ${licence_files}
  VERBATIM)

# ---- A folder for a web host ----

set(pouchwright_site ${CMAKE_BINARY_DIR}/site/offline.js)
set(icon ${CMAKE_SOURCE_DIR}/src/desk/page/icon.svg)
find_program(RSVG_CONVERT rsvg-convert REQUIRED)
# As wide as browsers ask for that keep a page as an app.
foreach(width IN ITEMS 192 512)
  add_custom_command(OUTPUT ${CMAKE_BINARY_DIR}/made/icon-${width}.png
    COMMAND ${RSVG_CONVERT} -w ${width} -h ${width} ${icon} -o ${CMAKE_BINARY_DIR}/made/icon-${width}.png
    DEPENDS ${icon} VERBATIM)
  list(APPEND icons ${CMAKE_BINARY_DIR}/made/icon-${width}.png)
endforeach()
add_custom_command(OUTPUT ${pouchwright_site}
  COMMAND ${CMAKE_CROSSCOMPILING_EMULATOR} ${web}/page/site.cjs
    ${pouchwright_file} ${web}/page ${CMAKE_BINARY_DIR}/site ${icons}
  DEPENDS ${pouchwright_file} ${web}/page/site.cjs ${web}/page/keep.js ${web}/page/offline.js ${icons}
  VERBATIM)
add_custom_target(pouchwright_file ALL DEPENDS ${pouchwright_file} ${pouchwright_site})
