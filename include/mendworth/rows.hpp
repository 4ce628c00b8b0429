#pragma once

#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "mendworth/case.hpp"
#include "mendworth/rates.hpp"

/// A table of devices: each row is the same case with other values in some entries.
namespace mendworth {

/// A line that is longer is no row.
inline constexpr std::size_t longest_row = 65'536;

/// How a table of devices is written.
struct RowTableOptions {
  /// Headings, separated by commas, of a table that has none of its own; absent: its first line has them.
  std::optional<std::string> header{};
  bool decimal_comma = false;  ///< 1,5 is one and a half
};

/// What a row is read as.
struct TableRow {
  std::vector<std::string> fields{};  ///< as they stand, one for each heading
  std::optional<Case> c{};            ///< absent: `problem` says why
  std::string problem{};              ///< a sentence; empty if there is a case
};

/// Rows to cases, by a case and a header. A heading is a word of the case's section [rows], or a key of the case as an
/// override names it; the values of others are not read. A row is one line: CSV with commas, semicolons or tabs. An
/// empty field leaves the case as it is. Threads may share one.
class RowReader {
 public:
  /// `header` is the table's first line; with RowTableOptions::header it is a row like any other and only tells the
  /// separator. Throws InputError: the case is wrong, a heading is nearly a word or is no key that the case can have, two
  /// columns set one entry, or there is none that sets any.
  RowReader(std::string_view case_text, const std::string& source_name, const RateBook& rates,
            const std::vector<std::string>& overrides, std::string_view header, const std::string& table_name,
            const RowTableOptions& options);
  ~RowReader();
  /// The one moved from can only be destroyed.
  RowReader(RowReader&&) noexcept;

  /// Of all columns, in their order.
  [[nodiscard]] const std::vector<std::string>& headings() const noexcept;
  /// The case that a line describes, or what is wrong with the line. Throws nothing for bad data.
  [[nodiscard]] TableRow read(std::string_view line) const;

 private:
  struct State;
  std::unique_ptr<const State> state_;
};

}  // namespace mendworth
