/* The names that qpdf's header wants of a JPEG library, which is not there (no_jpeg.cc). */
#pragma once
typedef unsigned int JDIMENSION;
typedef enum { JCS_UNKNOWN, JCS_GRAYSCALE } J_COLOR_SPACE;
struct jpeg_compress_struct;
struct jpeg_decompress_struct;
