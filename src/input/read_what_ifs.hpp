#pragma once

#include <vector>

#include "input/document.hpp"
#include "mendworth/case.hpp"
#include "mendworth/rates.hpp"

namespace mendworth::input {

/// The most what-ifs that one case may name.
inline constexpr std::size_t most_what_ifs = 50;

/// Takes the list [[what_if]] out of the document of a case, which is then read without it.
[[nodiscard]] Node take_what_ifs(Node& document);

/// Changes the document for each what-if in turn and reads it as a case; `base` is what it says unchanged. Throws
/// InputError with all problems, each at its place within the what-if.
[[nodiscard]] std::vector<Scenario> read_what_ifs(const Node& document, const Node& what_ifs,
                                                  const Case& base, const RateBook& rates);

}  // namespace mendworth::input
