#pragma once

namespace mendworth {

/// The courses of action that are compared: repair it oneself, buy another device, leave the fault as it is, have it
/// repaired by licensed people, claim under a guarantee.
enum class OptionKind { repair, replacement, leave, licensed_repair, claim };

}  // namespace mendworth
