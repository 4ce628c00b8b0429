#include "model/items.hpp"

namespace mendworth {

ItemLayout::ItemLayout(int groups, int parts, int replacements)
    : spares_(works_ + phases * groups),
      devices_(spares_ + per_part * parts),
      orders_(devices_ + per_device * replacements) {}

}  // namespace mendworth
