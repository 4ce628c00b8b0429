#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "mendworth/past_use.hpp"
#include "mendworth/quantity.hpp"

/// Bulk what-ifs: what a fleet of equal devices or a shop with a stream of jobs needs of a part, and what to buy for
/// it. Money in the case's currency, times in years unless the name says otherwise, chances and shares 0..1.
namespace mendworth {

struct Case;
struct RateBook;

/// The section [bulk] of a case: a fleet if `devices` is there, else a shop.
struct Bulk {
  std::optional<int> devices;  ///< of the fleet, >= 1; all like the case's device
  int failed = 0;              ///< of these: have a failed part now, as the case's device has; 1..devices
  std::optional<Quantity> jobs_per_month;  ///< of the shop, > 0
  std::optional<int> pieces_per_job;       ///< >= 1; absent: what the case's device needs
  std::optional<double> years;  ///< until when; absent: fleet: the years of need; shop: the shelf life
  double order_cost = 0;        ///< to place and book one order, >= 0
  double carrying_rate = 0.2;   ///< cost of keeping stock, a share of its value a year, >= 0
  std::optional<double>
      shortage_cost;  ///< of a piece that is missing; absent: a small order and the wait for it
  std::optional<double> repair_days;  ///< turnaround of a unit; absent: lead time and days on the bench
  double cover = 0.95;                ///< wanted chance that stock or swap-out units suffice, 0..1, exclusive
};

/// Prices of one candidate as a supplier quoted them.
struct QuotedLadder {
  std::string quotation;            ///< the file
  std::string candidate;            ///< as the case names it
  std::string supplier;             ///< empty: the first one that the case has the candidate from
  std::string currency;             ///< empty: that of the supplier
  std::optional<int> least;         ///< pieces, least order; absent: as the case says
  std::optional<int> multiple;      ///< order multiple; absent: likewise
  std::optional<double> lead_days;  ///< from order to doorstep; absent: as the case says
  /// The price of a piece from a quantity on.
  struct Step {
    int from = 1;     ///< pieces, >= 1
    double each = 0;  ///< in the ladder's currency, >= 0
  };
  std::vector<Step> prices;  ///< rising
  int line = 0;              ///< of its first row
};

/// How a quotation's numbers are written.
struct QuotationOptions {
  /// "0,39" is a fraction; absent: each file's own numbers say so, and one that may be read both ways is refused.
  std::optional<bool> decimal_comma;
};

/// Reads a quotation: CSV with a header row, columns candidate, from, each and if known supplier, currency, least,
/// multiple, lead_days. Rows of one candidate and supplier make a ladder. Throws InputError with all problems.
[[nodiscard]] std::vector<QuotedLadder> read_quotation(std::string_view text, const std::string& source_name,
                                                       const QuotationOptions& options);

/// Adds quoted prices to a case as further offers of their candidates, for one order beside what the suppliers sell
/// anyway; a supplier that quotes another lead time sends these apart. Throws InputError as bulk_what_if does.
void add_offers(Case& c, const std::vector<QuotedLadder>& quotations);

/// What is asked, and how finely.
struct BulkSettings {
  std::uint64_t seed = 1;                ///< of the random numbers: one seed, one answer
  int futures = 2048;                    ///< that the fleet's life is drawn in, >= 16
  int policy_futures = 256;              ///< likewise for the policies
  std::optional<double> until;           ///< chance of running out before so many years; absent: the period
  std::vector<int> quantities;           ///< to be looked at beside the ladder's own
  std::vector<int> devices;              ///< fleets to be compared; empty: the case's
  std::vector<double> jobs;              ///< a month, to be compared; empty: the case's
  std::vector<QuotedLadder> quotations;  ///< laid over the case, each a ladder beside its own
  std::optional<PastUse> past_use;  ///< of a shop: its demand follows from it, in place of the case's jobs
  bool turns = true;                ///< where the best purchase turns is looked for
};

/// How many pieces of a part are wanted, those at hand not taken off.
struct PartDemand {
  std::string part;        ///< the kind of piece
  double years = 0;        ///< until when
  double shelf_years = 0;  ///< how long a piece keeps
  int now = 0;             ///< wanted at once, by the failed devices
  double mean = 0;         ///< until then, with those
  double deviation = 0;    ///< standard deviation of the number wanted until then
  int low = 0;             ///< 5 % of the outcomes stay at or below
  int median = 0;          ///< 50 %
  int high = 0;            ///< 95 %
  double per_year = 0;     ///< without those wanted at once
  int drawer = 0;          ///< pieces at hand, used first: purchases are for what is wanted beyond
};

/// What is ordered of one supplier.
struct BulkLine {
  std::string supplier;  ///< as the case names it
  int quantity = 0;      ///< pieces
  double each = 0;       ///< supplier's currency, without line fee
  std::string currency;  ///< supplier's
};

/// One quantity bought once.
struct BulkRow {
  int quantity = 0;             ///< pieces, >= 0
  std::vector<BulkLine> lines;  ///< more than one where no single offer has as many; none for quantity 0
  std::string currency;         ///< the case's
  double landed = 0;            ///< what the order comes to at the doorstep
  double landed_each = 0;       ///< per piece; 0 for quantity 0
  double suffices = 0;          ///< chance, until the end of the period
  double runs_out_by = 0;       ///< chance, before `until`
  double short_pieces = 0;      ///< expected, by the end of the period
  double left_pieces = 0;       ///< expected, at the end of the shelf life or of the period if that is longer
  double years_of_stock = 0;    ///< at the usual demand; 0 if there is none
  double write_off = 0;         ///< landed cost of the pieces expected to be left, less what they sell for
  double left_chance = 0;       ///< that any are left then
  double per_used = 0;  ///< landed cost, less what is left sells for, a piece that is used; 0 if none is
  double waiting = 0;   ///< of the failed devices for this order
  double ordering = 0;  ///< placing the order
  double keeping = 0;   ///< of the pieces until they are used, at the carrying rate
  /// Expected over the period: purchase, ordering, waiting, keeping, shortage, less what is left sells for.
  double cost = 0;
  bool best = false;  ///< of the ladder: least cost
};

/// Buying again and again.
struct RepeatedOrders {
  int quantity = 0;             ///< pieces, each time
  std::vector<BulkLine> lines;  ///< of one order
  double landed = 0;            ///< one order, at the doorstep
  double orders_per_year = 0;   ///< on average
  double purchase = 0;          ///< landed cost, a year
  double ordering = 0;          ///< placing and booking orders, a year
  double carrying = 0;          ///< keeping the stock, a year
  double total = 0;             ///< a year
  double lead_days = 0;         ///< from order to doorstep
  int reorder_point = 0;  ///< order when so many are left: suffices for the lead time with the wanted chance
  double reorder_cover = 0;  ///< chance that it does
  /// Expected over the period of the single purchase, from the first order on; what is then left sells for as much as
  /// there or, where the need goes on, is as good as new.
  double cost = 0;
};

/// A quantity that was asked about, and what stands for it: more pieces that cost less, or fewer where the offers do not
/// have as many.
struct BulkAsked {
  int pieces = 0;   ///< as asked
  int instead = 0;  ///< the row's quantity; 0: none can be had
};

/// What can be bought for a part under one ladder: the case's own offers or a quotation's.
struct BulkLadder {
  std::string part;              ///< the kind of piece
  std::string candidate;         ///< what is sold to serve as it
  std::string quotation;         ///< empty: the case's own offers
  double shortage_cost = 0;      ///< of a piece that is missing
  std::optional<int> most;       ///< pieces that the offers have between them; absent: no limit is known
  std::vector<BulkAsked> asked;  ///< every quantity that was asked about
  std::vector<BulkRow> rows;     ///< by rising quantity
  BulkRow best;                  ///< that of least cost
  std::optional<RepeatedOrders> repeated;  ///< absent: nothing is wanted later on, or nothing can be had
};

/// One quantity from one offer of several that are compared.
struct BulkPoint {
  int wanted = 0;       ///< the same for every offer
  int quantity = 0;     ///< that it then brings; 0: it cannot bring as many
  double landed = 0;    ///< what the order comes to at the doorstep
  double per_used = 0;  ///< as in BulkRow
  double cost = 0;      ///< as in BulkRow
};

/// One supplier's prices of one candidate, or a quotation's, as if there were no others.
struct BulkOffer {
  std::string part;               ///< the kind of piece
  std::string candidate;          ///< what is sold to serve as it
  std::string supplier;           ///< of the case's own; empty: a quotation
  std::string quotation;          ///< empty: the case's own
  BulkRow best;                   ///< the single purchase of least cost
  std::optional<double> again;    ///< RepeatedOrders::cost of the best repeated orders
  std::vector<BulkPoint> points;  ///< by rising quantity wanted
};

/// What to do about a part: the ladder to buy by, and whether once or again and again, whichever costs less over the
/// same period.
struct BulkChoice {
  std::string part;             ///< the kind of piece
  std::size_t ladder = 0;       ///< index into BulkScenario::ladders
  bool again = false;           ///< again and again
  double cost = 0;              ///< expected over the period
  std::optional<double> other;  ///< the least of the other way; absent: there is none
  double years = 0;             ///< the period
};

/// A purchase that is best somewhere.
struct BulkBest {
  std::string candidate;  ///< what is bought; empty: nothing is wanted
  std::string quotation;  ///< empty: the case's own offers
  bool again = false;     ///< again and again
  int quantity = 0;       ///< of one order; 0: nothing in advance
  /// What one supplier sends.
  struct Line {
    std::string supplier;                                        ///< its name
    int quantity = 0;                                            ///< pieces
    friend bool operator==(const Line&, const Line&) = default;  ///< in all fields
  };
  std::vector<Line> lines;                                             ///< of one order
  friend bool operator==(const BulkBest&, const BulkBest&) = default;  ///< in all fields
};

/// A value at which another purchase of a part becomes best, the one nearest to today's on its side, all else as it is.
struct BulkTurn {
  std::string part;  ///< the kind of piece
  std::string
      key;  ///< of the case, as --set has it; "devices", "jobs_per_month": the options; "past_use": a factor
  std::string label;  ///< in words
  double now = 0;     ///< today's; several prices of one supplier's shipping: the first that is above 0
  double at = 0;      ///< there it is best; just before, the purchase of today is
  BulkBest best;      ///< what is best there
};

/// Units kept to be swapped in.
struct SwapOutRow {
  int units = 0;              ///< kept on the shelf
  double cover = 0;           ///< chance that no place is without a unit
  double at_hand = 0;         ///< chance that one that fails finds a unit on the shelf
  double short_units = 0;     ///< expected number of places without
  double cover_at_first = 0;  ///< chance that none is until the devices that are broken now are back
};
/// How many units to keep, so that one that comes in can be swapped for one that works.
struct SwapOut {
  double per_week = 0;           ///< units that come in
  double repair_days = 0;        ///< turnaround of a unit
  double mean_away = 0;          ///< units in repair at a time, once those that are broken now are back
  int broken_now = 0;            ///< units that are away from the start, for repair_days
  int units = 0;                 ///< the least with the wanted cover later on
  int units_at_first = 0;        ///< until then; no less
  std::vector<SwapOutRow> rows;  ///< by rising number of units
};

/// Ways to look after a fleet: repair what fails; renew the mates of what fails as well; renew all of a kind at once.
enum class Policy { run_to_failure, mates_at_opening, campaign };
[[nodiscard]] const char* name_of(
    Policy policy) noexcept;  ///< "run-to-failure", "mates-at-opening", "campaign"

/// A way to look after the fleet over the period; expected figures, money discounted.
struct PolicyCost {
  Policy policy = Policy::run_to_failure;  ///< the way
  double openings = 0;                     ///< with those of the devices that have failed
  double unplanned = 0;                    ///< of these: after a failure in use
  double pieces = 0;                       ///< used, on average
  double labour = 0;                       ///< hands-on time
  double parts = 0;                        ///< orders, at the doorstep
  double risk = 0;                         ///< bad luck on the bench
  double downtime = 0;                     ///< of days without the device
  double total = 0;                        ///< of these four
  double error = 0;                        ///< standard error of the total
  bool can_be_done = true;                 ///< the offers have the pieces that it wants at once
  bool cheapest = false;                   ///< of those that can be done
  double more = 0;                         ///< than the cheapest
  double more_error = 0;                   ///< standard error of that: both meet the same futures
  bool equal = false;  ///< can be done, and costs more by no more than two of these errors
};
/// Where the cheapest policy changes with the Weibull shape, life otherwise as it is.
struct PolicyTurn {
  double shape = 0;                       ///< Weibull
  double error = 0;                       ///< standard error
  Policy below = Policy::run_to_failure;  ///< cheapest below it
  Policy above = Policy::campaign;        ///< and above it
};
/// How the policies compare over the period, and where that turns.
struct FleetPolicies {
  double years = 0;                  ///< the period
  double failures_next_year = 0;     ///< of parts, expected
  double failures_low = 0;           ///< 5 % of the futures stay at or below
  double failures_high = 0;          ///< 95 %
  std::vector<PolicyCost> policies;  ///< one each, in the order of Policy
  /// All shapes are changed in one proportion; what is told is the shape of the part that failed.
  std::string shape_part;
  double shape_low = 1;                     ///< Weibull shape at which the scan begins
  double shape_high = 4;                    ///< and ends
  Policy at_low = Policy::run_to_failure;   ///< cheapest at the one end
  Policy at_high = Policy::run_to_failure;  ///< and at the other
  std::vector<PolicyTurn> turns;            ///< by rising shape
  double shape_now =
      0;  ///< base of the case's, of the part that failed; at it the costs are those of `policies`
};

/// The demand that a record of past use tells of a part, in pieces a month.
struct UseFit {
  std::string source;          ///< the file
  std::string part;            ///< the kind of piece
  Date from;                   ///< the first day of the record
  Date to;                     ///< the last one
  int months = 0;              ///< of the calendar, those without use and those covered in part included
  double pieces = 0;           ///< used in all
  double rate = 0;             ///< pieces a month
  double rate_error = 0;       ///< standard error of the rate
  double deviation = 0;        ///< standard deviation of the pieces of one month
  double dispersion = 0;       ///< index of dispersion: sum of (count - expected)^2 / expected
  double degrees = 0;          ///< of freedom, of chi-squared
  double p = 1;                ///< chance of as much or more where pieces are used one by one, independently
  double level = 0.05;         ///< with a p below it they go in clumps
  std::optional<double> size;  ///< k of the negative binomial law of one month; absent: Poisson
};

/// All of it for one demand.
struct BulkScenario {
  std::string name;                 ///< "40 devices", "6 jobs a month"
  bool fleet = false;               ///< else a shop with a stream of jobs
  std::vector<PartDemand> demand;   ///< one for each part that is wanted
  std::vector<UseFit> past_use;     ///< by part, where the demand is from a record
  std::vector<BulkLadder> ladders;  ///< of each part, each candidate and each quotation
  std::vector<BulkChoice> choices;  ///< one for each part that is wanted and sold
  std::vector<BulkOffer> offers;    ///< of parts that have more than one
  std::vector<BulkTurn>
      turns;  ///< by exchange rate, shipping, shelf life and demand, an eighth of today\'s to eight times
  SwapOut swap_out;                       ///< units to be swapped in
  std::optional<FleetPolicies> policies;  ///< of a fleet that is for one's own hands
};

/// A default that bears on the answer.
struct BulkDefault {
  std::string key;     ///< as a file names it
  std::string value;   ///< as shown to a reader
  std::string source;  ///< where the figure comes from
};

/// The answers for each demand that was asked about.
struct BulkAnswer {
  std::string source_name;              ///< the case's file
  std::string device;                   ///< its name
  std::string currency;                 ///< of every sum but prices each, ISO 4217
  int minor_digits = 2;                 ///< digits after the point, ISO 4217
  double cover = 0.95;                  ///< wanted chance that stock or swap-out units suffice
  double until = 0;                     ///< years; 0: not asked for
  double order_cost = 0;                ///< of one order
  double carrying_rate = 0;             ///< share of a stock's value, a year
  std::vector<BulkScenario> scenarios;  ///< at least one
  std::vector<std::string> notes;       ///< sentences: what was limited, what to check
  std::vector<BulkDefault> defaults;    ///< that bear on it
};

/// Works it out. Where a hazard leaves the work to licensed people there are no policies. Throws InputError if the case has no [bulk] section, or a quotation names a candidate or supplier
/// that the case does not have; std::invalid_argument for settings out of range.
[[nodiscard]] BulkAnswer bulk_what_if(const Case& c, const RateBook& rates, const BulkSettings& settings);

}  // namespace mendworth
