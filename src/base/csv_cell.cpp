#include "base/csv_cell.hpp"

namespace mendworth {

namespace {

/// Without letters and brackets nothing can be called or looked up: "-58.9", "+/-0.23", "-78 %".
bool is_harmless_number(std::string_view text) {
  return text.find_first_not_of("+-/.,% 0123456789") == std::string_view::npos;
}

bool runs_as_formula(std::string_view text) {
  if (text.empty()) return false;
  switch (text.front()) {
    case '=':
    case '@':
    case '\t':
    case '\r': return true;
    case '+':
    case '-': return !is_harmless_number(text);
    default: return false;
  }
}

bool has_apostrophes_before_formula(std::string_view text) {
  const std::size_t first = text.find_first_not_of('\'');
  return first != 0 && first != std::string_view::npos && runs_as_formula(text.substr(first));
}

}  // namespace

std::string defused(std::string_view text) {
  std::string cell(text);
  if (runs_as_formula(text) || has_apostrophes_before_formula(text)) cell.insert(cell.begin(), '\'');
  return cell;
}

std::string_view as_named(std::string_view cell) {
  return has_apostrophes_before_formula(cell) ? cell.substr(1) : cell;
}

}  // namespace mendworth
