// No picture of ours is JPEG, so the filter for it is there for the linker alone, and refuses.
#include <qpdf/Pl_DCT.hh>
#include <stdexcept>

Pl_DCT::Members::Members(action_e action, char const* buffer, JDIMENSION width, JDIMENSION height,
                         int components, J_COLOR_SPACE space, CompressConfig* config)
    : action(action),
      buf(buffer),
      image_width(width),
      image_height(height),
      components(components),
      color_space(space),
      config_callback(config) {}
Pl_DCT::Pl_DCT(char const* identifier, Pipeline* next)
    : Pipeline(identifier, next), m(new Members(a_decompress, identifier)) {}
Pl_DCT::~Pl_DCT() = default;
void Pl_DCT::write(unsigned char const*, size_t) { throw std::logic_error("no JPEG"); }
void Pl_DCT::finish() {}
