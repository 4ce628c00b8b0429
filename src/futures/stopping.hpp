#pragma once

#include <cstddef>
#include <vector>

#include "futures/run.hpp"

namespace mendworth {

/// The rule of least expected cost to go that an owner can follow: one span of time for each class (StoppingRule), found
/// from traces of a plan that never gives up. What is repaired again costs what follows under the rule itself, so the
/// classes are gone through from many repairs to few, each with the span of greatest gain (the largest sum of a run of
/// choices in the order of time), until none changes. Optimal stopping on simulated courses, as in F. A. Longstaff and
/// E. S. Schwartz, Valuing American options by simulation, Review of Financial Studies 14 (2001), with spans of time in
/// place of their regression. A span that begins late or ends early is taken only where the gain over always and never
/// is more than chance would give.
[[nodiscard]] StoppingRule fitted_rule(const std::vector<Trace>& traces, std::size_t parts);

/// Cost of one traced future under a rule.
[[nodiscard]] double cost_under(const StoppingRule& rule, const Trace& trace);

}  // namespace mendworth
