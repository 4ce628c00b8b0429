#pragma once

#include <string>
#include <string_view>

/// What a file is, by its looks: so that the wrong one is said to be that, and not taken apart.
namespace mendworth::input {

enum class FileKind { unknown, case_file, shop, rates, drawer, history, quotation, past_use };

/// "case", "shop", "rates", "drawer", "history", "quotation", "past use"; "unknown".
[[nodiscard]] const char* name_of(FileKind kind) noexcept;
/// "a case", "a shop file"; "a file of no known kind".
[[nodiscard]] const char* words_for(FileKind kind) noexcept;

/// By the heads of its sections, or by the columns of its first row. It need not be free of errors.
[[nodiscard]] FileKind kind_of(std::string_view text);

/// Throws InputError with one problem if the text is clearly of another kind than is wanted.
void require_kind(std::string_view text, const std::string& source_name, FileKind wanted);

}  // namespace mendworth::input
