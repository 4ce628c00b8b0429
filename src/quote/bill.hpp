#pragma once

#include <optional>
#include <string>
#include <vector>

#include "mendworth/quote.hpp"

namespace mendworth {

/// What a job takes, as a bill needs it: quantities and what they cost the shop.
struct JobWork {
  std::string text;              ///< of the labour line: "Labour: renew 2 tap buttons"
  double minutes = 0;            ///< hands-on, the diagnosis included
  double diagnosis_minutes = 0;  ///< of them, before the customer decides
  struct Piece {
    int part = 0;          ///< index into Case::parts
    std::string name;      ///< as the customer reads it
    int pieces = 0;        ///< used in the device
    double unit_cost = 0;  ///< goods with the tax on them, without shipping; case currency
  };
  std::vector<Piece> pieces;
  double shipping_cost = 0;  ///< shipping, fees, duty of the order with their tax: this job's share
  double consumables = 0;    ///< expected, by the case
  int positions = 0;         ///< renewed
};

/// What is asked for beside the work.
struct BillWishes {
  bool rush = false, collection = false, parts_from_customer = false;
  Date date;     ///< a subsidy may have ended
  Money paid{};  ///< already, by the customer
};

/// The bill of a job under the shop's rules. Throws InputError if a sum is beyond 1e15 minor units, or if the coin of
/// cash rounding is not a whole number of minor units.
[[nodiscard]] Bill job_bill(const Shop& shop, const Currency& currency, double charge_rate, const Case& c,
                            const JobWork& work, const BillWishes& wishes);

/// What is left to pay of a total of a repair, after the subsidy, what is paid already, and the rounding to coins.
[[nodiscard]] Money payable_of(const Shop& shop, const Currency& currency, Money total,
                               const BillWishes& wishes);

/// The bill for a single line: a decline invoice, or what is charged without a cure. Taxes and cash rounding as for
/// a job, but no subsidy, which is for a repair, and no deposit.
[[nodiscard]] Bill single_bill(const Shop& shop, const Currency& currency, const BillLine& line,
                               const BillWishes& wishes);
/// The same for several lines.
[[nodiscard]] Bill bill_of_lines(const Shop& shop, const Currency& currency, std::vector<BillLine> lines,
                                 const BillWishes& wishes);

/// The bill of which the amount without taxes is at least `net`: `bill` with the amount of its first line of labour
/// (else of diagnosis) changed to the least that does. Shares of labour taken elsewhere stay as they are. For a
/// price that would leave so much; where the other lines alone leave more, the line is negative.
[[nodiscard]] Bill with_net(const Shop& shop, const Currency& currency, const Bill& bill, Money net,
                            const BillWishes& wishes);

/// Subtotal less the taxes that it holds.
[[nodiscard]] Money net_of(const Bill& bill);

/// A line of labour by time. The rate stands on it where it is a whole number of minor units: else it would not multiply
/// out on the page.
[[nodiscard]] BillLine time_line(const Shop& shop, const Currency& currency, double charge_rate,
                                 LineKind kind, std::string text, double minutes);

/// Labour minutes as they are charged: increments begun, counted in full.
[[nodiscard]] double billed_minutes(const Shop& shop, double minutes);

}  // namespace mendworth
