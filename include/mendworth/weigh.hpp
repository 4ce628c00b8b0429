#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "mendworth/case.hpp"
#include "mendworth/knowing.hpp"
#include "mendworth/option_kind.hpp"
#include "mendworth/rates.hpp"

/// The answers to one case. Money is in the case's currency, unrounded, present
/// cost unless said otherwise; nothing here is formatted. Every double is
/// finite.
namespace mendworth {

struct WeighSettings {
  std::uint64_t seed = 1;
  int futures = 0;  ///< 100..4'000'000; 0: as many as `precision` takes
  /// Wanted standard error of the saving, in money; 0: half a percent of what the best replacement, else the best
  /// option, costs now. Unused where `futures` is given. At most 65,536 futures are run for it.
  double precision = 0;
  int threads = 0;              ///< 0: as many as the machine has; never changes an answer
  std::optional<Date> today{};  ///< for the guarantee; absent: a guarantee is taken as live
  bool what_ifs = true;  ///< false: no break-evens, sensitivity, payback, knowing; nothing else changes
  std::vector<std::string> against{};  ///< two of keys_against: a grid of the saving over both; empty: none
};

/// What an option's present cost is made of; the parts add up to the total.
struct CostParts {
  double parts = 0;         ///< goods of the first order with their tax; what pieces taken from
                            ///< the drawer would have been worth for other uses
  double shipping = 0;      ///< shipping, fees, duty of the first order with their tax
  double labour = 0;        ///< own hands-on time of the first visit, consumables and
                            ///< set-up included
  double risk = 0;          ///< damage, wrong diagnosis, misfit, dead pieces at the
                            ///< first visit, a write-off included
  double later_visits = 0;  ///< later failures: orders, labour, their own risk
  double next_device = 0;   ///< devices bought later, after a failure or the end of the device
  double purchase = 0;      ///< the replacement bought now, with tax, shipping;
                            ///< licensed repair's price
  double downtime = 0;
  double burden = 0;     ///< living with the fault
  double keepsake = 0;   ///< loss of what the very device is worth to its owner
  double leftovers = 0;  ///< negative: worth of spares used for other jobs or sold; the drawer's
                         ///< others count by what this device changes
  double resale = 0;     ///< negative: scrap now or later, resale when the need ends
  double benefit = 0;    ///< negative: what a better device yields
  [[nodiscard]] double total() const noexcept;
};

/// When a repaired device that fails once more is better repaired again than replaced, for one kind of such a failure:
/// between two times from now. Several rules of the same kind are as many intervals.
struct AgainRule {
  std::string part{};                  ///< that fails
  bool spare_at_hand = false;          ///< else its pieces have to be ordered
  int repairs_before = 0;              ///< after the one now: 0 at the first failure, 1 at the second ...
  std::optional<double> from_years{};  ///< absent: never
  std::optional<double> to_years{};    ///< absent: without end
};

/// One course of action, for as long as a device is needed.
struct OptionResult {
  OptionKind kind = OptionKind::repair;
  std::string name;               ///< "failed and mates", "replace: <name>"
  std::string family;             ///< the same, or the replacement's name
  std::vector<std::string> with;  ///< repair that renews those mates that are worth it: their positions
  bool mates_later = false;       ///< repair: a later failure renews the part's remaining originals as well
  int renewed_now = 0;            ///< positions
  double cash_now = 0;            ///< to pay now if all goes well, own time not counted
  double minutes_now = 0;         ///< own hands-on time now if all goes well
  double cost_now = 0;            ///< cash_now + time at the labour rate
  double present_cost = 0;
  int futures = 0;                ///< behind present_cost: all of them, or a part where the
                                  ///< option is far from the best
  double present_cost_error = 0;  ///< one standard error of the simulation
  double cost_per_year =
      0;  ///< equivalent yearly cost, for as long as a device is needed; where it is needed for
          ///< ever and interest is nil, over the time until another is bought
  std::array<double, 3> cash_within{};  ///< money paid within 1, 3 and 5 years, expected, not discounted
  CostParts parts;
  double damage_chance = 0;          ///< any damage at the first visit
  double write_off_chance = 0;       ///< the device is lost at the first visit
  double cure_chance = 0;            ///< the device works after the first visit (second attempt included)
  double later_visits_expected = 0;  ///< visits after the first, not discounted
  double second_device_chance = 0;   ///< another device is bought while one is needed
  std::vector<AgainRule> again{};    ///< repair: what is best at later failures; empty: not worked out
  /// Where a replacement has no known price: present cost = present_cost +
  /// price_weight * price.
  double price_weight = 0;
};

enum class VerdictKind {
  repair,         ///< a repair plan costs least
  replace,        ///< a replacement costs least
  leave,          ///< living with the fault costs least
  keep,           ///< the device must be kept: repair cost, chance and risk only
  price_unknown,  ///< no replacement has a price: the most worth spending is the
                  ///< answer
  refer,          ///< not for one's own hands
};
enum class Confidence { clear, leaning, toss_up };

struct Verdict {
  VerdictKind kind = VerdictKind::repair;
  Confidence confidence = Confidence::toss_up;
  std::string best;                        ///< name of the option with the least present cost
  std::optional<std::string> best_repair;  ///< names; absent where there is none
  std::optional<std::string> best_replacement;
  /// Best replacement minus best repair (a licensed one where referred). Absent
  /// where either is missing.
  std::optional<double> saving;
  double saving_error = 0;          ///< one standard error
  double repair_cheaper_share = 0;  ///< of the futures
  double saving_p10 = 0, saving_p50 = 0, saving_p90 = 0;
  double lead = 0;                       ///< next-best kind of option minus the best, >= 0
  double lead_error = 0;                 ///< one standard error
  double agreeing_share = 0;             ///< of the futures: the best costs less than the next-best in them
  std::optional<std::string> lead_over;  ///< the next-best option of another kind
};

/// One order line as it should be placed.
struct OrderLine {
  std::string part, candidate, supplier, supplier_currency;
  int needed = 0;         ///< pieces for the first visit
  int quantity = 0;       ///< pieces ordered
  double each = 0;        ///< unit price, supplier's currency
  double line = 0;        ///< quantity * each + line fee, supplier's currency
  double landed = 0;      ///< with its share of the order's costs
  double fit_chance = 1;  ///< that the candidate fits, 0..1: stated, or derived from dimensions
  /// Not empty: bought for the case that this candidate of the same part does not fit. `needed` are then the pieces
  /// that take its place.
  std::string hedge_for{};
};

/// The chance of fit in one measured dimension; sizes in mm, as in Dimension.
struct DimensionFit {
  std::string name;
  std::optional<double> nominal;  ///< absent: not catalogued, taken to fit
  double measured = 0, limit = 0, below = 0, above = 0;
  double chance = 1;
};

/// Why a candidate fits or not, as far as dimensions tell.
struct FitRow {
  std::string part, candidate;
  double chance = 1;       ///< that it fits: the product of the following
  double else_chance = 1;  ///< in all that no dimension tells: stated, or the default
  std::vector<DimensionFit> dimensions;
};

/// Pieces that are in the drawer and serve the visit now.
struct DrawerLine {
  std::string part, candidate;
  int taken = 0;    ///< for the visit now
  int on_hand = 0;  ///< before it
  double worth =
      0;  ///< of the taken ones for other uses, had this device not come; present worth, case currency
};

/// What it costs and what it is worth to order a second candidate beside the first.
struct HedgeAnswer {
  double misfit_chance =
      0;             ///< that the first of at least one part so hedged does not fit, if fits are independent
  double cost = 0;   ///< more for the order, its wait included
  double worth = 0;  ///< expected present cost without the hedge's pieces, paid for alike, minus with them
};

/// A quantity worth a look for one part: the need, price breaks, multiples near
/// it, a top-up.
struct QuantityRow {
  std::string part, candidate, supplier;
  int quantity = 0;
  double each = 0;         ///< supplier's currency
  double landed = 0;       ///< whole order with this quantity of the part
  double landed_each = 0;  ///< per piece, with the line's share by value of the order's costs
  bool chosen = false;
  std::string remark;  ///< "10 cost less than 9", "topped up: shipping falls", or empty
};

struct OrderAnswer {
  std::string plan;  ///< the option it belongs to
  std::vector<OrderLine> lines;
  std::vector<FitRow> fits;  ///< all candidates of those ordered parts that have dimensions
  std::vector<DrawerLine> drawer;
  std::optional<HedgeAnswer> hedge;
  std::vector<QuantityRow> quantities;
  double goods = 0, shipping = 0, fees = 0, duty = 0, tax = 0,
         exchange_fee = 0;  ///< case currency
  double landed = 0;
  double wait_days = 0;
  int leftovers = 0;                  ///< pieces; those of a hedge that are needed if it is, do not count
  double leftover_value = 0;          ///< expected present cost without them minus with them
  double charged_whole = 0;           ///< the order
  double charged_pro_rata = 0;        ///< by pieces used now
  double charged_by_reuse = 0;        ///< the order less the leftovers' value
  std::vector<std::string> warnings;  ///< more pieces for less money; a top-up
                                      ///< that saves its shipping; search limits
};

/// A surviving original.
struct SurvivorRow {
  std::string position;
  std::string part;
  int count = 1;
  double share = 1;            ///< of the busiest position's use
  double prior_chance = 0;     ///< to fail within Weighing::years_ahead before this device's evidence
  double chance = 0;           ///< after it
  double chance_one_year = 0;  ///< after it, within a year
  /// Renewing one in this opening as well, against an opening of its own later.
  struct Renewal {
    double now_cost = 0;
    double later_cost = 0;         ///< undiscounted
    double break_even_chance = 0;  ///< now_cost / later_cost, capped at 1
    /// The later opening takes a spare, which the order of the best repair
    /// leaves; else it places a new order.
    bool later_uses_spare = false;
  };
  std::optional<Renewal> renewal;  ///< absent where the work is not for one's own hands
};

struct Interval {
  double low = 0, high = 0;
};

struct BreakEven {
  std::string key;    ///< case key, or the name of a common factor
  std::string label;  ///< in words, with the unit: "price of the replacement (EUR)"
  double current = 0;
  double low = 0, high = 0;                ///< the range searched
  std::vector<double> values;              ///< where the expected saving is zero, rising;
                                           ///< empty: none within the range
  double saving_low = 0, saving_high = 0;  ///< saving at the ends
  /// One for each value: where it lies, given the simulation's error; empty: not known.
  std::vector<Interval> intervals{};
};

struct SensitivityRow {
  std::string key, label;
  double low = 0, base = 0, high = 0;
  double saving_low = 0, saving_high = 0;
  double swing = 0;        ///< |saving_high - saving_low|
  bool turns = false;      ///< the verdict between repair and replacement differs at an end
  bool uncertain = false;  ///< the case or a default states a range; else the
                           ///< ends are -20 % and +20 %
  bool from_default = false;
  double low_error = 0, high_error = 0;  ///< of saving_low, saving_high: one standard error
};

struct HalfPriceRule {
  double repair_cost_now = 0;  ///< of the best repair plan, own time included
  double new_price = 0;        ///< with tax and shipping
  double ratio = 0;
  bool says_repair = false;
  bool agrees = false;
  std::string reason;  ///< why the model agrees or not
};

/// How long the repair must last to have paid.
struct Payback {
  /// Years over which the repair's cost now is as much a year as the
  /// replacement costs; absent: no time is enough.
  std::optional<double> years_needed;
  /// First time from which the repair's cumulative expected cost stays below
  /// the replacement's; absent: never.
  std::optional<double> ahead_from_years;
};

struct GuaranteeAnswer {
  std::optional<Date> until;
  bool live = false;
  double claim_worth = 0;  ///< what the best other option costs, less the cost of claiming
  double claim_cost = 0;
};

/// For a device whose replacement has no price: one row of what the owner would
/// pay for a working one.
struct WorthSpendingRow {
  double willing_to_pay = 0;
  double most_worth_spending_now = 0;
};

struct Unpriced {
  std::optional<double> repair_pays_from;  ///< what a working one must be worth; absent: never
  std::vector<WorthSpendingRow> rows;
};

/// A zero (or any) labour rate: what an hour would have to be worth for the
/// answer to turn.
struct OwnTime {
  double rate = 0;
  double saving_cash_only = 0;         ///< saving with time at no cost
  double saving_with_time = 0;         ///< at the case's rate
  std::optional<double> turning_rate;  ///< absent: none within reason
};

/// What this device's own positions tell about the life of one part.
struct PartEvidence {
  std::string part;
  LifeUnit unit = LifeUnit::cycles;
  double prior_median = 0, posterior_median = 0;  ///< life
  double posterior_low = 0,
         posterior_high = 0;  ///< of the median life: 5 % and 95 %
  double prior_median_years = 0,
         posterior_median_years = 0;  ///< at the use of the part's busiest position
  int failures = 0, survivors = 0;    ///< used as evidence
  double failed_at_rated = 0.10;      ///< how the rated life is read: share failed at it
  /// The failure at the least wear: years in service, and the median life
  /// expected at that position's use; 0 without failures.
  double failed_after_years = 0, expected_years = 0;
  /// Of a surviving original to fail within a year, mean over them; 0 where
  /// none survives.
  double prior_chance_one_year = 0, chance_one_year = 0;
  /// That at least as many of the part's positions as have failed do so by their wear so far, under the life assumed
  /// before any evidence, over the ranges of age, use and rated life. Absent without failures by wear.
  std::optional<double> early_chance{};
  [[nodiscard]] bool wear_hardly_explains() const noexcept { return early_chance && *early_chance < 0.01; }
};

/// What the answer would be if the failure had nothing to do with wear.
struct AnotherCause {
  Cause cause = Cause::bad_joint;  ///< weighed in place of wear
  int futures = 0;
  Verdict verdict{};
  std::optional<double> repair_pays_from{};  ///< as in Unpriced
};

/// What the cause of the fault means for the mates.
struct CauseAnswer {
  Cause cause = Cause::wear;
  double common_chance = 0;  ///< that a spill reached the other originals
  double common_years = 0;   ///< mean time until they then fail together
};

/// Futures by what the best repair saves in them against the best replacement: ranges of equal width, zero being the end
/// of one. Half a percent of the futures at either end is left out.
struct SavingBin {
  double low = 0, high = 0;
  double share = 0;  ///< of all futures
};

/// What the best repair and the best replacement have cost by a time, present cost, devices bought later included: the
/// expected sum, and those that one and nine in ten futures stay below. Here the lives of devices bought later are drawn.
struct CostInTime {
  struct Sum {
    double years = 0, expected = 0, p10 = 0, p90 = 0;
  };
  std::vector<Sum> repair, replacement;  ///< at the same times
};

/// How a part's surviving original of the most use goes on: the share still working, of such as work now.
struct MateSurvival {
  std::string part, position;
  struct Point {
    double years = 0;              ///< from now
    double before = 1, after = 1;  ///< this device's evidence
  };
  std::vector<Point> points;
};

struct Weighing {
  std::string source_name, device, currency;
  int minor_digits = 2;
  std::optional<double> need_years;  ///< until the need ends; absent: it goes on
  double years_ahead =
      0;  ///< how far survivors are looked at: until the need ends, or else the rest of the device
  double discount_rate = 0, labour_rate = 0;
  /// Present costs are counted against buying the best replacement again and again from now on, whose own is nought:
  /// no interest, and a need that goes on.
  bool costs_are_relative = false;
  WeighSettings settings;  ///< as used; threads left out of every output
  Verdict verdict;
  std::vector<OptionResult> options;  ///< cheapest first
  std::optional<OrderAnswer> order;
  CauseAnswer cause;
  std::vector<PartEvidence> evidence;
  std::optional<AnotherCause> another_cause{};  ///< where wear hardly explains what has failed
  std::vector<SurvivorRow> survivors;
  std::vector<MateSurvival> mate_survival;   ///< one for each part that has survivors
  std::vector<SavingBin> saving_bins;        ///< empty where there is no saving
  std::optional<CostInTime> cost_in_time{};  ///< where there is a saving
  std::vector<BreakEven> break_evens;
  std::vector<SensitivityRow> sensitivity;  ///< widest swing first
  int sensitivity_futures = 0;              ///< most futures behind a physical row
  std::optional<Knowing> knowing{};         ///< where a repair and a replacement with a price are compared
  std::optional<SavingGrid> grid{};         ///< where it was asked for
  std::optional<HalfPriceRule> half_price;
  std::optional<Payback> payback;
  std::optional<OwnTime> own_time;
  std::optional<GuaranteeAnswer> guarantee;
  std::optional<Unpriced> unpriced;
  double already_spent = 0;
  struct Caution {
    std::string hazard, title;
    bool licensed_only = false;
    std::vector<std::string> sentences;
  };
  std::vector<Caution> cautions;
  struct DefaultRow {
    std::string key, value, source;
    bool decided = false;  ///< the verdict turns within its range, or the answer
                           ///< moves by more than its own margin
  };
  std::vector<DefaultRow> defaults;
  /// A number that the answer was worked out from.
  struct InputRow {
    std::string key, label, value;
    std::string
        source;  ///< of a default; "stated", or "stated or left out" where it is what the key left out stands for
  };
  std::vector<InputRow> inputs;    ///< all of them, in the order of the case
  std::vector<std::string> notes;  ///< sentences: what is missing, what was limited, what to check
};

/// The keys that WeighSettings::against may name: the numbers of the case that bear on the answer and are not nought.
[[nodiscard]] std::vector<std::string> keys_against(const Case& c);

/// Weighs the courses of action of a case. Deterministic in (case,
/// settings.seed, settings.futures). Throws std::invalid_argument if a setting
/// is out of range or `against` names something else, or if a part has no candidates although `rates` leave the
/// work to one's own hands.
[[nodiscard]] Weighing weigh(const Case& c, const RateBook& rates, const WeighSettings& settings);

}  // namespace mendworth
