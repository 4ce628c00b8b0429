#pragma once

#include <string>
#include <string_view>

/// What the columns of a drawer are called, for reading and for writing.
namespace mendworth::input {

enum class DrawerColumn { candidate, pieces, since, note, own };

/// Upper and lower case are the same; what is none of the four is the user's own.
[[nodiscard]] DrawerColumn drawer_column(std::string_view name);

[[nodiscard]] const char* name_of(DrawerColumn column) noexcept;

/// Without the blanks around it.
[[nodiscard]] std::string_view trimmed(std::string_view text);

/// "1 piece", "12 pieces".
[[nodiscard]] std::string pieces_text(long long count);

}  // namespace mendworth::input
