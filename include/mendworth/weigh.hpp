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

/// What is asked, and how finely.
struct WeighSettings {
  std::uint64_t seed = 1;  ///< of the random numbers: one seed, one answer
  int futures = 0;         ///< 100..4'000'000; 0: as many as `precision` takes
  /// Wanted standard error of the saving, in money; 0: `precision_share`. Unused where `futures` is given. At most
  /// 65,536 futures are run for it.
  double precision = 0;
  /// The same as a share, above 0 up to 0.1, of the most that the best repair and the best replacement ask for now, or
  /// of the saving if that is more. With a coarser share plans are told apart on fewer futures too.
  double precision_share = 0.01;
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
  double downtime = 0;      ///< of days without the device
  double burden = 0;        ///< living with the fault
  double keepsake = 0;      ///< loss of what the very device is worth to its owner
  double leftovers = 0;     ///< negative: worth of spares used for other jobs or sold; the drawer's
                            ///< others count by what this device changes
  double resale = 0;        ///< negative: scrap now or later, resale when the need ends
  double benefit = 0;       ///< negative: what a better device yields
  /// The sum of all of them.
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
  OptionKind kind = OptionKind::repair;  ///< the kind of it
  std::string name;                      ///< "failed and mates", "replace: <name>"
  std::string family;                    ///< the same, or the replacement's name
  std::vector<std::string> with;  ///< repair that renews those mates that are worth it: their positions
  bool mates_later = false;       ///< repair: a later failure renews the part's remaining originals as well
  int renewed_now = 0;            ///< positions
  double cash_now = 0;            ///< to pay now if all goes well, own time not counted
  double minutes_now = 0;         ///< own hands-on time now if all goes well
  double cost_now = 0;            ///< cash_now + time at the labour rate
  double present_cost = 0;        ///< expected, see the head of this file
  int futures = 0;                ///< behind present_cost: all of them, or a part where the
                                  ///< option is far from the best
  double present_cost_error = 0;  ///< one standard error of the simulation
  double cost_per_year =
      0;  ///< equivalent yearly cost, for as long as a device is needed; where it is needed for
          ///< ever and interest is nil, over the time until another is bought
  std::array<double, 3> cash_within{};  ///< money paid within 1, 3 and 5 years, expected, not discounted
  CostParts parts;                      ///< what it is made of
  double damage_chance = 0;             ///< any damage at the first visit
  double write_off_chance = 0;          ///< the device is lost at the first visit
  double cure_chance = 0;               ///< the device works after the first visit (second attempt included)
  double later_visits_expected = 0;     ///< visits after the first, not discounted
  double second_device_chance = 0;      ///< another device is bought while one is needed
  std::vector<AgainRule> again{};       ///< repair: what is best at later failures; empty: not worked out
  /// Where a replacement has no known price: present cost = present_cost +
  /// price_weight * price.
  double price_weight = 0;
};

/// What a weighing comes to.
enum class VerdictKind {
  repair,         ///< a repair plan costs least
  replace,        ///< a replacement costs least
  leave,          ///< living with the fault costs least
  keep,           ///< the device must be kept: repair cost, chance and risk only
  price_unknown,  ///< no replacement has a price: the most worth spending is the
                  ///< answer
  refer,          ///< not for one's own hands
};
/// How sure the verdict is of its lead: by the share of futures that agree (Verdict::agreeing_share).
enum class Confidence { clear, leaning, toss_up };

/// What is best, and by how much.
struct Verdict {
  VerdictKind kind = VerdictKind::repair;       ///< what is best
  Confidence confidence = Confidence::toss_up;  ///< in its lead
  std::string best;                             ///< name of the option with the least present cost
  std::optional<std::string> best_repair;       ///< names; absent where there is none
  std::optional<std::string> best_replacement;  ///< as `best_repair`; one that has a price
  /// Best replacement minus best repair (a licensed one where referred). Absent
  /// where either is missing.
  std::optional<double> saving;
  double saving_error = 0;               ///< one standard error
  double repair_cheaper_share = 0;       ///< of the futures
  double saving_p10 = 0;                 ///< saving that a tenth of the futures stay below
  double saving_p50 = 0;                 ///< half of them
  double saving_p90 = 0;                 ///< nine in ten
  double lead = 0;                       ///< next-best kind of option minus the best, >= 0
  double lead_error = 0;                 ///< one standard error
  double agreeing_share = 0;             ///< of the futures: the best costs less than the next-best in them
  std::optional<std::string> lead_over;  ///< the next-best option of another kind
};

/// One order line as it should be placed.
struct OrderLine {
  std::string part;               ///< the kind of piece
  std::string candidate;          ///< what is ordered to serve as it
  std::string supplier;           ///< of whom
  std::string supplier_currency;  ///< ISO 4217
  int needed = 0;                 ///< pieces for the first visit
  int quantity = 0;               ///< pieces ordered
  double each = 0;                ///< unit price, supplier's currency
  double line = 0;                ///< quantity * each + line fee, supplier's currency
  double landed = 0;              ///< with its share of the order's costs
  double fit_chance = 1;          ///< that the candidate fits, 0..1: stated, or derived from dimensions
  /// Not empty: bought for the case that this candidate of the same part does not fit. `needed` are then the pieces
  /// that take its place.
  std::string hedge_for{};
};

/// The chance of fit in one measured dimension; sizes in mm, as in Dimension.
struct DimensionFit {
  std::string name;               ///< as the part has it
  std::optional<double> nominal;  ///< absent: not catalogued, taken to fit
  double measured = 0;            ///< mm: as measured
  double limit = 0;               ///< greatest error of the measurement
  double below = 0;               ///< a piece may be smaller by so much
  double above = 0;               ///< or larger
  double chance = 1;              ///< that the piece fits in this dimension, 0..1
};

/// Why a candidate fits or not, as far as dimensions tell.
struct FitRow {
  std::string part;                      ///< the kind of piece
  std::string candidate;                 ///< what could serve as it
  double chance = 1;                     ///< that it fits: the product of the following
  double else_chance = 1;                ///< in all that no dimension tells: stated, or the default
  std::vector<DimensionFit> dimensions;  ///< those measured
};

/// Pieces that are in the drawer and serve the visit now.
struct DrawerLine {
  std::string part;       ///< the kind of piece
  std::string candidate;  ///< what serves as it
  int taken = 0;          ///< for the visit now
  int on_hand = 0;        ///< before it
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
  std::string part;        ///< the kind of piece
  std::string candidate;   ///< what is bought to serve as it
  std::string supplier;    ///< of whom
  int quantity = 0;        ///< pieces
  double each = 0;         ///< supplier's currency
  double landed = 0;       ///< whole order with this quantity of the part
  double landed_each = 0;  ///< per piece, with the line's share by value of the order's costs
  bool chosen = false;     ///< the quantity ordered
  std::string remark;      ///< "10 cost less than 9", "topped up: shipping falls", or empty
};

/// What to order for the best repair, and what it comes to.
struct OrderAnswer {
  std::string plan;                     ///< the option it belongs to
  std::vector<OrderLine> lines;         ///< what to order, of whom
  std::vector<FitRow> fits;             ///< all candidates of those ordered parts that have dimensions
  std::vector<DrawerLine> drawer;       ///< pieces taken from there
  std::optional<HedgeAnswer> hedge;     ///< absent: no second candidate is bought
  std::vector<QuantityRow> quantities;  ///< for each part
  double goods = 0;                     ///< case currency: the pieces
  double shipping = 0;                  ///< to send them
  double fees = 0;                      ///< line fees and low-order fees
  double duty = 0;                      ///< customs, with their handling
  double tax = 0;                       ///< on all of these
  double exchange_fee = 0;              ///< of bank or card
  double landed = 0;                    ///< all of these
  double wait_days = 0;                 ///< until the last order is there
  int leftovers = 0;                    ///< pieces; those of a hedge that are needed if it is, do not count
  double leftover_value = 0;            ///< expected present cost without them minus with them
  double charged_whole = 0;             ///< the order
  double charged_pro_rata = 0;          ///< by pieces used now
  double charged_by_reuse = 0;          ///< the order less the leftovers' value
  std::vector<std::string> warnings;    ///< more pieces for less money; a top-up
                                        ///< that saves its shipping; search limits
};

/// A surviving original.
struct SurvivorRow {
  std::string position;        ///< name of the group
  std::string part;            ///< the kind of piece
  int count = 1;               ///< originals of the group that still work
  double share = 1;            ///< of the busiest position's use
  double prior_chance = 0;     ///< to fail within Weighing::years_ahead before this device's evidence
  double chance = 0;           ///< after it
  double chance_one_year = 0;  ///< after it, within a year
  /// Renewing one in this opening as well, against an opening of its own later.
  struct Renewal {
    double now_cost = 0;           ///< expected, money
    double later_cost = 0;         ///< undiscounted
    double break_even_chance = 0;  ///< now_cost / later_cost, capped at 1
    /// The later opening takes a spare, which the order of the best repair
    /// leaves; else it places a new order.
    bool later_uses_spare = false;
  };
  std::optional<Renewal> renewal;  ///< absent where the work is not for one's own hands
};

/// A stretch of a number.
struct Interval {
  double low = 0;   ///< its lower end
  double high = 0;  ///< its upper end
};

/// Where a number would turn the answer.
struct BreakEven {
  std::string key;             ///< case key, or the name of a common factor
  std::string label;           ///< in words, with the unit: "price of the replacement (EUR)"
  double current = 0;          ///< as the case has it; the base of a range
  double low = 0;              ///< the range searched: from
  double high = 0;             ///< to
  std::vector<double> values;  ///< where the expected saving is zero, rising;
                               ///< empty: none within the range
  double saving_low = 0;       ///< saving at its lower end
  double saving_high = 0;      ///< at its upper end
  /// One for each value: where it lies, given the simulation's error; empty: not known.
  std::vector<Interval> intervals{};
};

/// What the saving becomes when one number is at its ends.
struct SensitivityRow {
  std::string key;            ///< case key, or the name of a common factor
  std::string label;          ///< in words, with the unit
  double low = 0;             ///< the lower end
  double base = 0;            ///< as the case has it
  double high = 0;            ///< the upper end
  double saving_low = 0;      ///< saving at the lower end
  double saving_high = 0;     ///< at the upper end
  double swing = 0;           ///< |saving_high - saving_low|
  bool turns = false;         ///< the verdict between repair and replacement differs at an end
  bool uncertain = false;     ///< the case or a default states a range; else the
                              ///< ends are -20 % and +20 %
  bool from_default = false;  ///< the case leaves it to the rates
  double low_error = 0;       ///< of saving_low: one standard error
  double high_error = 0;      ///< of saving_high
};

/// The rule of thumb: repair where that costs less than half of a new one.
struct HalfPriceRule {
  double repair_cost_now = 0;  ///< of the best repair plan, own time included
  double new_price = 0;        ///< with tax and shipping
  double ratio = 0;            ///< of the two
  bool says_repair = false;    ///< the ratio is below 0.5
  bool agrees = false;         ///< with the sign of the saving
  std::string reason;          ///< why the model agrees or not
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

/// What a guarantee is worth that still runs.
struct GuaranteeAnswer {
  std::optional<Date> until;  ///< last day
  bool live = false;          ///< not over on WeighSettings::today
  double claim_worth = 0;     ///< what the best other option costs, less the cost of claiming
  double claim_cost = 0;      ///< the wait for it, and what the best other option costs where it is refused
};

/// For a device whose replacement has no price: one row of what the owner would
/// pay for a working one.
struct WorthSpendingRow {
  double willing_to_pay = 0;           ///< for a working one, money
  double most_worth_spending_now = 0;  ///< on a repair, own time at the labour rate included
};

/// What a repair may cost where no replacement has a price.
struct Unpriced {
  std::optional<double> repair_pays_from;  ///< what a working one must be worth; absent: never
  std::vector<WorthSpendingRow> rows;      ///< by rising price
};

/// A zero (or any) labour rate: what an hour would have to be worth for the
/// answer to turn.
struct OwnTime {
  double rate = 0;                     ///< of an hour, in the case
  double saving_cash_only = 0;         ///< saving with time at no cost
  double saving_with_time = 0;         ///< at the case's rate
  std::optional<double> turning_rate;  ///< absent: none within reason
};

/// What this device's own positions tell about the life of one part.
struct PartEvidence {
  std::string part;                  ///< the kind of piece
  LifeUnit unit = LifeUnit::cycles;  ///< of the lives
  double prior_median = 0;           ///< median life before this device's evidence
  double posterior_median = 0;       ///< after it
  double posterior_low = 0;          ///< of the median life after it: 5 %
  double posterior_high = 0;         ///< 95 %
  double prior_median_years =
      0;  ///< median life before the evidence, at the use of the part's busiest position
  double posterior_median_years = 0;  ///< after it
  int failures = 0;                   ///< positions that failed by wear, used as evidence
  int survivors = 0;                  ///< originals that still work, likewise
  double failed_at_rated = 0.10;      ///< how the rated life is read: share failed at it
  /// The failure at the least wear: years in service, and the median life
  /// expected at that position's use; 0 without failures.
  double failed_after_years = 0;  ///< years in service of the failure at the least wear; 0 without failures
  double expected_years = 0;      ///< median life expected at that position's use; likewise
  /// Of a surviving original to fail within a year, mean over them; 0 where
  /// none survives.
  double prior_chance_one_year =
      0;  ///< chance of a surviving original to fail within a year before the evidence, mean over them; 0 where none survives
  double chance_one_year = 0;  ///< after it
  /// That at least as many of the part's positions as have failed do so by their wear so far, under the life assumed
  /// before any evidence, over the ranges of age, use and rated life. Absent without failures by wear.
  std::optional<double> early_chance{};
  /// That chance is below 1 %.
  [[nodiscard]] bool wear_hardly_explains() const noexcept { return early_chance && *early_chance < 0.01; }
};

/// What the answer would be if the failure had nothing to do with wear.
struct AnotherCause {
  Cause cause = Cause::bad_joint;            ///< weighed in place of wear
  int futures = 0;                           ///< that it was weighed in
  Verdict verdict{};                         ///< if that is the cause
  std::optional<double> repair_pays_from{};  ///< as in Unpriced
};

/// What the cause of the fault means for the mates.
struct CauseAnswer {
  Cause cause = Cause::wear;  ///< of the fault
  double common_chance = 0;   ///< that a spill reached the other originals
  double common_years = 0;    ///< mean time until they then fail together
};

/// Futures by what the best repair saves in them against the best replacement: ranges of equal width, zero being the end
/// of one. Half a percent of the futures at either end is left out.
struct SavingBin {
  double low = 0;    ///< saving by the repair from
  double high = 0;   ///< up to, money
  double share = 0;  ///< of all futures
};

/// What the best repair and the best replacement have cost by a time, present cost, devices bought later included: the
/// expected sum, and those that one and nine in ten futures stay below. Here the lives of devices bought later are drawn.
struct CostInTime {
  /// What has been spent by a time.
  struct Sum {
    double years = 0;     ///< from now
    double expected = 0;  ///< the expected sum
    double p10 = 0;       ///< that a tenth of the futures stay below
    double p90 = 0;       ///< that nine in ten stay below
  };
  std::vector<Sum> repair;       ///< the best one
  std::vector<Sum> replacement;  ///< the best one, at the same times
};

/// How a part's surviving original of the most use goes on: the share still working, of such as work now.
struct MateSurvival {
  std::string part;      ///< the kind of piece
  std::string position;  ///< name of its group
  /// The shares at a time.
  struct Point {
    double years = 0;   ///< from now
    double before = 1;  ///< share still working by the life assumed before this device's evidence, 1..0
    double after = 1;   ///< after it
  };
  std::vector<Point> points;  ///< by rising time
};

/// The answer to a case.
struct Weighing {
  std::string source_name;           ///< the case's file
  std::string device;                ///< its name
  std::string currency;              ///< of every sum but prices each, ISO 4217
  int minor_digits = 2;              ///< digits after the point, ISO 4217
  std::optional<double> need_years;  ///< until the need ends; absent: it goes on
  double years_ahead =
      0;  ///< how far survivors are looked at: until the need ends, or else the rest of the device
  double discount_rate = 0;  ///< real, per year
  double labour_rate = 0;    ///< of an hour
  /// Present costs are counted against buying the best replacement again and again from now on, whose own is nought:
  /// no interest, and a need that goes on.
  bool costs_are_relative = false;
  WeighSettings settings;                       ///< as used; threads left out of every output
  Verdict verdict;                              ///< what is best
  std::vector<OptionResult> options;            ///< cheapest first
  std::optional<OrderAnswer> order;             ///< for the best repair; absent: nothing is ordered for it
  CauseAnswer cause;                            ///< what the cause means for the mates
  std::vector<PartEvidence> evidence;           ///< one for each part that wears
  std::optional<AnotherCause> another_cause{};  ///< where wear hardly explains what has failed
  std::vector<SurvivorRow> survivors;           ///< originals that still work, by group
  std::vector<MateSurvival> mate_survival;      ///< one for each part that has survivors
  std::vector<SavingBin> saving_bins;           ///< empty where there is no saving
  std::optional<CostInTime> cost_in_time{};     ///< where there is a saving
  std::vector<BreakEven> break_evens;           ///< numbers that could turn the answer
  std::vector<SensitivityRow> sensitivity;      ///< widest swing first
  int sensitivity_futures = 0;                  ///< most futures behind a physical row
  std::optional<Knowing> knowing{};          ///< where a repair and a replacement with a price are compared
  std::optional<SavingGrid> grid{};          ///< where it was asked for
  std::optional<HalfPriceRule> half_price;   ///< absent: no repair or no price to compare
  std::optional<Payback> payback;            ///< absent: no repair and replacement to compare
  std::optional<OwnTime> own_time;           ///< absent: no repair and replacement to compare
  std::optional<GuaranteeAnswer> guarantee;  ///< absent: the case has no guarantee
  std::optional<Unpriced> unpriced;          ///< where no replacement has a price
  double already_spent = 0;                  ///< sunk: shown, never counted
  /// A hazard of the device.
  struct Caution {
    std::string hazard;                  ///< name from the rates
    std::string title;                   ///< in words
    bool licensed_only = false;          ///< not for one's own hands
    std::vector<std::string> sentences;  ///< what to do, or not
  };
  std::vector<Caution> cautions;  ///< one for each hazard
  /// A default that filled a gap.
  struct DefaultRow {
    std::string key;       ///< as a file names it
    std::string value;     ///< as shown to a reader
    std::string source;    ///< where the figure comes from
    bool decided = false;  ///< the verdict turns within its range, or the answer
                           ///< moves by more than its own margin
  };
  std::vector<DefaultRow> defaults;  ///< in the order of the inputs
  /// A number that the answer was worked out from.
  struct InputRow {
    std::string key;    ///< as a file names it
    std::string label;  ///< in words, with the unit
    std::string value;  ///< as shown to a reader
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
