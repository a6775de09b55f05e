// SPDX-License-Identifier: MIT
// The part of fmt that is not in its headers, compiled once here in place of in every file: Debian has it as a shared library
// only, which neither a static program nor an archive can take in. Named are the templates that fmt's headers leave to it.
#include <fmt/format.h>

#include <fmt/format-inl.h>

FMT_BEGIN_NAMESPACE
namespace detail {
template dragonbox::decimal_fp<float> dragonbox::to_decimal(float) noexcept;
template dragonbox::decimal_fp<double> dragonbox::to_decimal(double) noexcept;
template thousands_sep_result<char> thousands_sep_impl(locale_ref);
template char decimal_point_impl(locale_ref);
template void buffer<char>::append(const char*, const char*);
template void vformat_to(buffer<char>&, string_view, basic_format_args<buffer_context<char>>, locale_ref);
}  // namespace detail
FMT_END_NAMESPACE
