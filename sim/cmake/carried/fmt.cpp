// The part of fmt that is compiled once. fmt's headers promise the four instances at the end to
// every other file ("extern template" in fmt/format.h).
#include <fmt/format-inl.h>

FMT_BEGIN_NAMESPACE
namespace detail {
template auto thousands_sep_impl<char>(locale_ref) -> thousands_sep_result<char>;
template auto thousands_sep_impl<wchar_t>(locale_ref) -> thousands_sep_result<wchar_t>;
template auto decimal_point_impl(locale_ref) -> char;
template auto decimal_point_impl(locale_ref) -> wchar_t;
}  // namespace detail
FMT_END_NAMESPACE
