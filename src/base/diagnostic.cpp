#include "mendworth/diagnostic.hpp"

#include <utility>

namespace mendworth {

namespace {

std::string joined(const std::vector<Diagnostic>& problems) {
  std::string all;
  for (const Diagnostic& problem : problems) {
    if (!all.empty()) all += '\n';
    all += problem.text();
  }
  return all;
}

}  // namespace

std::string Diagnostic::text() const {
  std::string out = source;
  if (line > 0) {
    out += ':' + std::to_string(line);
    if (column > 0) out += ':' + std::to_string(column);
  }
  if (!out.empty()) out += ": ";
  out += "error: ";
  if (!key.empty()) out += key + ": ";
  out += message;
  if (!remedy.empty()) out += " (" + remedy + ')';
  return out;
}

InputError::InputError(std::vector<Diagnostic> problems)
    : std::runtime_error(joined(problems)), problems_(std::move(problems)) {}

}  // namespace mendworth
