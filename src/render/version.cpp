#include "mendworth/render.hpp"

namespace mendworth {

const char* version() noexcept { return MENDWORTH_VERSION; }

}  // namespace mendworth
