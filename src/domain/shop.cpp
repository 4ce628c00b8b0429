#include "mendworth/shop.hpp"

#include <utility>

namespace mendworth {

const char* name_of(LineKind kind) noexcept {
  switch (kind) {
    case LineKind::labour: return "labour";
    case LineKind::parts: return "parts";
    case LineKind::consumables: return "consumables";
    case LineKind::shipping: return "shipping";
    case LineKind::diagnosis: return "diagnosis";
    case LineKind::rush: return "rush";
    case LineKind::collection: return "collection";
    case LineKind::discount: return "discount";
  }
  return "";
}

Diagnostic Shop::problem(const std::string& key, std::string message, std::string remedy) const {
  const auto found = places.find(key);
  const Place place = found == places.end() ? Place{} : found->second;
  return {.source = source_name,
          .line = place.line,
          .column = place.column,
          .key = key,
          .message = std::move(message),
          .remedy = std::move(remedy)};
}

}  // namespace mendworth
