#include "mendworth/shop.hpp"

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

}  // namespace mendworth
