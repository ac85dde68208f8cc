// The part of fmt that Debian ships compiled for the program alone. Its header can stand in for it
// in every file, which takes half of the time that compiling takes; so it is compiled once, here,
// with the templates that fmt's other headers leave to its library.

#include <fmt/format-inl.h>

namespace fmt::detail {

template auto thousands_sep_impl<char>(locale_ref) -> thousands_sep_result<char>;
template auto decimal_point_impl<char>(locale_ref) -> char;
template auto dragonbox::to_decimal<double>(double) noexcept -> dragonbox::decimal_fp<double>;
template auto dragonbox::to_decimal<float>(float) noexcept -> dragonbox::decimal_fp<float>;
template void vformat_to<char>(buffer<char>&, string_view, basic_format_args<buffer_context<char>>,
                               locale_ref);
template void buffer<char>::append<char>(const char*, const char*);

}  // namespace fmt::detail
