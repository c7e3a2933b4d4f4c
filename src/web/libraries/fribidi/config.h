/* What FriBidi may count on in Emscripten's C library. */
#pragma once
#define HAVE_MEMORY_H 1
#define HAVE_STDLIB_H 1
#define HAVE_STRING_H 1
#define HAVE_STRINGIZE 1
#define STDC_HEADERS 1
