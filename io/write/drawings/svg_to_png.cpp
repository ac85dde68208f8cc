#include "io/write/drawings/svg_to_png.h"

#include <cmath>
#include <memory>

#include <librsvg/rsvg.h>

#include <fmt/format.h>

namespace standpoint {
namespace {

struct Release {
  void operator()(RsvgHandle* handle) const { g_object_unref(handle); }
  void operator()(cairo_surface_t* surface) const { cairo_surface_destroy(surface); }
  void operator()(cairo_t* context) const { cairo_destroy(context); }
  void operator()(GError* error) const { g_error_free(error); }
};
template <class T>
using Owned = std::unique_ptr<T, Release>;

tl::unexpected<std::string> cannot(const char* what, const std::string& why) {
  return tl::unexpected(fmt::format("cannot {} the picture: {}", what, why));
}

std::string message(GError* error) {
  const Owned<GError> owned(error);
  return error != nullptr && error->message != nullptr ? error->message : "no reason given";
}

cairo_status_t append(void* bytes, const unsigned char* data, unsigned int length) {
  static_cast<std::string*>(bytes)->append(reinterpret_cast<const char*>(data), length);
  return CAIRO_STATUS_SUCCESS;
}

}  // namespace

tl::expected<std::string, std::string> svg_to_png(const std::string& svg, double scale) {
  GError* error = nullptr;
  const Owned<RsvgHandle> handle(
      rsvg_handle_new_from_data(reinterpret_cast<const guint8*>(svg.data()), svg.size(), &error));
  if (!handle) return cannot("read", message(error));
  double width = 0, height = 0;
  if (!rsvg_handle_get_intrinsic_size_in_pixels(handle.get(), &width, &height))
    return cannot("size", "it states no width and height");
  constexpr double kMost = 16384;
  width = std::round(width * scale);
  height = std::round(height * scale);
  if (!(width >= 1 && height >= 1 && width <= kMost && height <= kMost))
    return cannot("size", fmt::format("{} x {} pixels", width, height));

  const Owned<cairo_surface_t> surface(cairo_image_surface_create(
      CAIRO_FORMAT_ARGB32, static_cast<int>(width), static_cast<int>(height)));
  const Owned<cairo_t> context(cairo_create(surface.get()));
  const RsvgRectangle all{0, 0, width, height};
  if (!rsvg_handle_render_document(handle.get(), context.get(), &all, &error))
    return cannot("draw", message(error));
  std::string png;
  const cairo_status_t status = cairo_surface_write_to_png_stream(surface.get(), append, &png);
  if (status != CAIRO_STATUS_SUCCESS) return cannot("write", cairo_status_to_string(status));
  return png;
}

}  // namespace standpoint
