#pragma once

#include <optional>
#include <string>
#include <vector>

#include "quote/job_plan.hpp"

namespace mendworth {

/// What the customer pays in the end, taxes included.
struct Payments {
  double cured = 0;
  double not_cured = 0;
  double lost = 0;  ///< negative: what the shop pays for a lost device
};

/// The customer's side of a quote: what each choice saves against the best that can be done instead.
struct OwnerView {
  struct Saving {
    double mean = 0, error = 0;  ///< one standard error
    double cure_chance = 0;
    double cheaper_share = 0;  ///< of the futures: it costs the owner less than what can be done instead
  };
  std::vector<Saving> savings;  ///< per choice; empty if there is nothing to compare with
  std::vector<double> costs;    ///< per choice: present cost to the owner over the horizon
  double instead_cost = 0;      ///< of the best of what can be done instead
  std::string instead;          ///< "a new one", "leaving it as it is", in the words of option_name
};

struct OwnerSettings {
  std::uint64_t seed = 1;
  int futures = 0;
  int threads = 1;
  double charge_rate = 0;  ///< what an hour of a later repair costs the owner, taxes included
  double declining = 0;    ///< what is to pay if nothing is repaired, taxes included
};

/// Runs every choice against replacing and leaving, which cost the price of declining too. A first repair costs the owner what is paid for it; its bad luck is
/// the shop's, the wait the owner's. Later repairs are charged by time and by what their own small orders cost; pieces
/// that the first one left in the shop's drawer serve them without an order or a wait, as long as no other job takes
/// them. For each choice the best limit of later repairs counts.
[[nodiscard]] OwnerView owner_view(const Contest& contest, const std::vector<JobPlan>& plans,
                                   const std::vector<Payments>& payments, const OwnerSettings& settings);

}  // namespace mendworth
