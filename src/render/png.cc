#include "render/png.h"

#include <cairo.h>

#include <cmath>
#include <memory>

#include "base/diagnostic.h"
#include "render/ink.h"

namespace pouchwright::render {
namespace {

constexpr double kMmPerInch = 25.4;

cairo_status_t append(void* closure, const unsigned char* data, unsigned int size) {
  static_cast<std::string*>(closure)->append(reinterpret_cast<const char*>(data), size);
  return CAIRO_STATUS_SUCCESS;
}

void check(cairo_status_t status) {
  if (status == CAIRO_STATUS_SUCCESS) return;
  throw base::Failure({}, {"picture-not-drawn", {{"reason", cairo_status_to_string(status)}}});
}

/// A white picture to draw on in millimetres.
class Picture {
 public:
  Picture(double width, double height, double dots_per_inch)
      : surface_(cairo_image_surface_create(CAIRO_FORMAT_RGB24, dots(width, dots_per_inch),
                                            dots(height, dots_per_inch))),
        target_(cairo_create(surface_.get())) {
    check(cairo_status(target_.get()));
    cairo_set_source_rgb(target_.get(), 1, 1, 1);
    cairo_paint(target_.get());
    cairo_scale(target_.get(), dots_per_inch / kMmPerInch, dots_per_inch / kMmPerInch);
  }

  [[nodiscard]] cairo_t* target() const { return target_.get(); }

  [[nodiscard]] std::string png() const {
    check(cairo_status(target_.get()));
    std::string bytes;
    check(cairo_surface_write_to_png_stream(surface_.get(), append, &bytes));
    return bytes;
  }

 private:
  struct Dropper {
    void operator()(cairo_surface_t* surface) const { cairo_surface_destroy(surface); }
    void operator()(cairo_t* target) const { cairo_destroy(target); }
  };

  /// Rounded up, but not for the last digit of a double: 210 mm at 25.4 dots are 210 dots.
  static int dots(double mm, double dots_per_inch) {
    return static_cast<int>(std::fmin(std::ceil(mm / kMmPerInch * dots_per_inch - 1e-6), 1e9));
  }

  std::unique_ptr<cairo_surface_t, Dropper> surface_;
  std::unique_ptr<cairo_t, Dropper> target_;
};

}  // namespace

std::string page_png(const paper::Pages& pages, std::size_t page, double dots_per_inch,
                     const Fonts& fonts) {
  const Picture picture(pages.width, pages.height, dots_per_inch);
  draw_page(*picture.target(), pages, pages.pages.at(page), fonts);
  return picture.png();
}

std::string canvas_png(const ink::Drawing& drawing, double dots_per_inch, const Fonts& fonts) {
  const Picture picture(drawing.extent.width(), drawing.extent.height(), dots_per_inch);
  cairo_translate(picture.target(), -drawing.extent.x0, -drawing.extent.y0);
  for (const ink::Item& item : drawing.items) draw_item(*picture.target(), item, fonts);
  return picture.png();
}

}  // namespace pouchwright::render
