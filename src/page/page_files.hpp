#pragma once

#include <string_view>

namespace mendworth::page {

/// What the browser gets, compiled in: page.html, page.css and page.js of this folder. Defined in a file that
/// embed.cmake writes.
[[nodiscard]] std::string_view page_html();
[[nodiscard]] std::string_view page_css();
[[nodiscard]] std::string_view page_js();

}  // namespace mendworth::page
