#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "mendworth/bulk.hpp"
#include "mendworth/date.hpp"
#include "mendworth/quantity.hpp"

/// A case: everything one decision needs, validated. Reading (read_case.hpp) is the only way in for a file;
/// whatever holds a Case may rely on the ranges that the comments name.
/// Money is in the case's currency unless a comment says otherwise.
namespace mendworth {

/// The Julian year, by which days and years are converted everywhere.
inline constexpr double days_per_year = 365.25;

/// Why the position failed: only wear speaks about its mates.
enum class Cause { wear, blow, spill, bad_joint };

/// The unit in which a part's life is counted.
enum class LifeUnit { cycles, hours, years };

/// The device that has failed, and what its owner makes of it.
struct Device {
  std::string name;      ///< as its owner calls it; not empty
  std::string currency;  ///< ISO 4217 code
  int minor_digits = 2;  ///< digits after the point, ISO 4217
  Quantity age_years;    ///< > 0
  std::string kind;      ///< kind of device, a name from the rates; empty: not said
  Quantity
      life_years;  ///< mean life of a new device of its kind, > 0; used where Rest::remaining_years is absent
  /// Bought used, and known to work then: > 0, less than the age. What its parts survived before is no evidence, as
  /// one that had failed would not have been sold. Absent: one's own from new.
  std::optional<Quantity> bought_used_years_ago;
  std::optional<Quantity> use_per_day;    ///< operations of the busiest position a day, > 0
  std::optional<Quantity> hours_per_day;  ///< hours in use a day, > 0, <= 24
  std::vector<std::string> hazards;       ///< names from the rates
  bool must_keep = false;                 ///< replacing is no option
  std::optional<Date> guarantee_until;    ///< last day; absent: no guarantee
  Quantity guarantee_chance;              ///< that a claim is met, 0..1
  Quantity guarantee_days;                ///< wait for a claim, >= 0
  double already_spent = 0;               ///< sunk: shown, never counted
  Quantity resale;                        ///< of the repaired, working device when the need ends, >= 0
  Quantity scrap;     ///< for the broken device when it is given up; negative: a disposal fee
  Quantity keepsake;  ///< what keeping this very device is worth beyond its use, >= 0
};

/// What has failed, and why.
struct Fault {
  Cause cause = Cause::wear;  ///< of the failure
  std::optional<Quantity>
      burden_per_year;  ///< what leaving the fault costs a year, >= 0; absent: cannot be left
  Quantity
      common_cause_chance;  ///< that a spill reached the other originals too, 0..1; used for cause spill only
  Quantity common_cause_years;  ///< mean time until they then fail together, > 0
};

/// Positions that are alike: same part, same use, same work.
struct PositionGroup {
  std::string name;            ///< as its owner calls it
  int part = 0;                ///< index into Case::parts
  int count = 1;               ///< >= 1
  int failed = 0;              ///< 0..count
  int renewed = 0;             ///< 0..count - failed: working, renewed earlier
  Quantity renewed_years_ago;  ///< > 0 when renewed > 0, at most the age
  Quantity share;              ///< of the busiest position's use, > 0
  std::string termination;     ///< name from the rates
  Quantity minutes;            ///< hands-on per position: remove, clean, fit; >= 0
  int joints = 0;              ///< soldered or latched joints worked on per position, >= 0
};

/// What is thought about the life of a part before this device's own evidence.
struct LifePrior {
  LifeUnit unit = LifeUnit::cycles;  ///< of the rated life
  Quantity rated_life;               ///< life at which a share `failed_at_rated` has failed, > 0
  double failed_at_rated = 0.10;     ///< 0 < F < 1
  double life_spread =
      1.0;         ///< >= 1: the true scale lies within this factor of it in 68 % of cases (lognormal)
  Quantity shape;  ///< Weibull shape, > 0
  double shape_spread = 1.0;  ///< >= 1: likewise for the shape (lognormal)
};

/// The price of one piece from a quantity on.
struct PriceBreak {
  int from = 1;   ///< >= 1, rising along a ladder
  Quantity each;  ///< supplier's currency, >= 0
};

/// What one supplier asks for a candidate.
struct Offer {
  int supplier = 0;                ///< index into Case::suppliers
  std::vector<PriceBreak> prices;  ///< at least one
  int least = 1;                   ///< least quantity, >= 1
  int multiple = 1;                ///< order multiple, >= 1
  std::optional<int> stock;        ///< >= 0
  Quantity line_fee;               ///< supplier's currency, >= 0
};

/// One dimension of a part's place: what a measurement tells of it, and what the place tolerates around the true one.
/// The true dimension T lies anywhere in measured +/- limit, with equal chance (rectangular: GUM 4.3.7). A piece of
/// nominal size x fits if T - below <= x <= T + above, which is to say if T lies in [x - above, x + below].
struct Dimension {
  std::string name;     ///< "bushing diameter"
  double measured = 0;  ///< mm, > 0
  double limit = 0;     ///< greatest error of the measurement, mm, >= 0, less than `measured`
  double below = 0;     ///< a piece may be smaller than the true dimension by so much, mm, >= 0
  double above = 0;     ///< or larger by so much, mm, >= 0; not both zero
};

/// Something that can be bought to serve as a part.
struct Candidate {
  std::string name;  ///< in the catalogue
  /// Chance that it fits, 0..1, in all that no dimension tells; model/fit.hpp has the whole chance.
  Quantity fit;
  /// Catalogued sizes in mm, > 0, by Part::dimensions, or shorter; absent: not catalogued, taken to fit.
  std::vector<std::optional<double>> nominal;
  int on_hand = 0;             ///< pieces in the drawer, >= 0
  Quantity dead_on_arrival;    ///< chance that a piece is dead or out of specification, 0..1
  LifePrior life;              ///< of a new piece
  bool inherits_life = false;  ///< nothing of its life is stated apart from the part's, which changes it too
  std::vector<Offer> offers;   ///< at least one
};

/// A kind of piece that wears.
struct Part {
  std::string name;  ///< as its owner calls it
  LifePrior life;    ///< of the originals
  /// In the order of preference; empty only where a hazard leaves the work to licensed people, who bring the part.
  std::vector<Candidate> candidates;
  std::vector<Dimension> dimensions;  ///< measured on the failed piece or its place; names differ
  Quantity other_uses_per_year;       ///< pieces that other devices or jobs would take from the spares, >= 0
  Quantity shelf_life_years;          ///< > 0
  Quantity spare_resale;              ///< of an unused piece when the need ends, >= 0
};

/// What sending an order costs from a value of its goods on.
struct ShippingTier {
  double goods_from = 0;  ///< supplier's currency, rising
  Quantity price;         ///< supplier's currency, >= 0
};

/// A shop that has pieces, and what ordering there costs.
struct Supplier {
  std::string name;                    ///< as its owner calls it
  std::string currency;                ///< of its prices, ISO 4217
  Quantity exchange_rate;              ///< case currency per unit of the supplier's, > 0
  Quantity exchange_fee;               ///< share added by bank or card, >= 0
  std::vector<ShippingTier> shipping;  ///< at least one, the first from 0
  Quantity low_order_below;            ///< goods below this are a low order; supplier's currency
  Quantity low_order_fee;              ///< supplier's currency, >= 0
  bool refuses_low_orders = false;     ///< else it takes them for the fee
  Quantity tax;                        ///< share on goods, shipping, fees and duty, >= 0
  Quantity duty;                       ///< share of the customs value, >= 0
  Quantity duty_free_up_to;            ///< customs value up to which no duty is due; supplier's currency
  bool duty_on_shipping = true;        ///< shipping is part of the customs value
  Quantity customs_fee;    ///< carrier's handling when duty is due; supplier's currency, >= 0, untaxed
  Quantity lead_days;      ///< from order to doorstep, >= 0
  double other_goods = 0;  ///< goods bought for other jobs on the same order; supplier's currency, >= 0
};

/// The work, and who does it.
struct Labour {
  Quantity rate_per_hour;  ///< >= 0; 0: own time counted as free
  Quantity case_minutes;   ///< once per case: diagnosis, finding the part, ordering
  Quantity visit_minutes;  ///< per opening: open, close, clean, test, hand over
  std::string skill;       ///< name from the rates
  double skill_factor =
      1;  ///< already in those minutes that came from the rates; stated minutes are as they are
  Quantity learning_rate;     ///< Wright's unit curve, 0.5..1; 1: no learning
  double learning_floor = 0;  ///< least share of the first time, 0..1
  int done_before = 0;        ///< positions of this kind already renewed by this person, >= 0
};

/// What is tried if the device is not cured at first.
struct SecondAttempt {
  Quantity minutes;  ///< >= 0
  Quantity money;    ///< >= 0
  Quantity chance;   ///< of cure, 0..1
};

/// Luck at a visit. All chances 0..1.
struct Risks {
  Quantity opening_mendable;                    ///< per opening
  Quantity opening_write_off;                   ///< per opening: the device is lost
  Quantity joint_mendable;                      ///< per joint
  Quantity joint_write_off;                     ///< per joint
  Quantity mend_minutes;                        ///< extra hands-on minutes for mendable damage
  Quantity mend_money;                          ///< money for mendable damage, >= 0
  Quantity diagnosis_right;                     ///< the visit cures the device
  std::optional<SecondAttempt> second_attempt;  ///< absent: an uncured device is replaced
  Quantity dead_found_after_closing;            ///< share of dead pieces that shows only after closing
  Quantity misfit_found_after_closing;  ///< share of misfits that shows only after closing; else at a dry fit
  Quantity dry_fit_minutes;             ///< spent on a misfit that a dry fit shows
};

/// Something that openings use up: solder, cleaner.
struct Consumable {
  std::string name;  ///< as its owner calls it
  Quantity price;    ///< of what one opening uses, >= 0
  Quantity chance;   ///< that an opening uses one up, 0..1
};

/// Something to buy instead of a repair.
struct Replacement {
  std::string name;               ///< as its owner calls it
  std::optional<Quantity> price;  ///< absent: not known (discontinued)
  Quantity tax;                   ///< share added to price and shipping; 0 where the price includes it
  Quantity shipping;              ///< to the doorstep, >= 0
  Quantity life_years;            ///< mean, > 0
  bool alike = false;             ///< a new one of the device's own kind: its life tells that of the device
  Quantity life_shape;            ///< Weibull, > 0
  Quantity setup_minutes;         ///< programming, labelling, learning; at the labour rate
  Quantity benefit_per_year;      ///< worth of what it does better, >= 0
  Quantity resale;                ///< when the need ends, if it still works
  Quantity delivery_days;         ///< from order to doorstep, >= 0
  std::string currency;           ///< of price and shipping, ISO 4217 code; empty: the case's
  std::optional<Quantity>
      exchange_rate;  ///< case currency per unit of that, > 0; absent where it is the case's
};

/// Everything of the device but the listed positions; it cannot be repaired.
struct Rest {
  /// Mean remaining life from now, > 0; absent: that of a device of Device::life_years which has reached its age.
  std::optional<Quantity> remaining_years;
  Quantity shape;  ///< Weibull shape of the remaining life where that is stated, else of the whole life; > 0
};

/// What doing without the device costs.
struct Downtime {
  Quantity per_day;     ///< cost of a day without the device, >= 0
  Quantity bench_days;  ///< days a visit takes beside the wait for parts, >= 0
};

/// What a licensed person or qualified place asks, for work that is not for one's own hands.
struct LicensedRepair {
  Quantity price;                           ///< all in, per visit
  Quantity chance;                          ///< of cure, 0..1
  Quantity days;                            ///< without the device
  Quantity minutes = Quantity::exactly(0);  ///< own time per visit, to take it there and fetch it
};

/// How long a working device is needed.
struct Horizon {
  std::optional<Quantity> years;  ///< until the need ends, > 0; absent: it goes on
  Quantity discount_rate;         ///< real, per year, > -1; >= 0 where the need goes on
};

/// A default that filled a gap in the case, so that the output can say so.
struct DefaultUse {
  std::string key;     ///< as a file names it
  std::string value;   ///< as shown to a reader
  std::string source;  ///< where the figure comes from
};

/// What a shop notes down when it takes a device in; only a quote asks for it.
struct Intake {
  std::vector<std::string> customer;      ///< name and address, a line each
  std::optional<std::string> serial;      ///< of the device
  std::optional<std::string> condition;   ///< on arrival
  std::optional<std::string> fault;       ///< as found, a sentence; absent: made from the failed positions
  std::vector<std::string> not_included;  ///< what will not be done, a sentence each
  std::vector<std::string> accessories;   ///< left with the device, a line each
  double paid = 0;                        ///< already, tax included, for instance the diagnosis; >= 0
  bool rush = false;                      ///< to be done before its turn
  bool collection = false;                ///< fetched and brought back
  bool parts_from_customer = false;       ///< the customer brings the parts
};

/// One entry that a what-if changes.
struct Change {
  std::string key;  ///< as the file names it
  std::string
      from;        ///< its value in the case as it is, as a file writes it; empty: a list, or nothing stated
  std::string to;  ///< likewise
};

struct Scenario;

/// A column of a table of devices, and what it says.
struct RowWord {
  std::string word;  ///< the column's heading
  std::string key;   ///< of the case
};

/// Everything one decision needs. check() says whether it holds together.
struct Case {
  std::string source_name;                ///< the file
  Device device;                          ///< the device and its owner's use of it
  Fault fault;                            ///< what has failed, and why
  std::vector<PositionGroup> positions;   ///< at least one failed position in all
  std::vector<Part> parts;                ///< the kinds of piece of the positions
  std::vector<Supplier> suppliers;        ///< empty only if no part has a candidate
  Labour labour;                          ///< the work, and who does it
  Risks risks;                            ///< luck at a visit
  std::vector<Consumable> consumables;    ///< what openings use up
  std::vector<Replacement> replacements;  ///< empty only if the device must be kept
  Rest rest;                              ///< of the device but its positions
  Downtime downtime;                      ///< what doing without it costs
  Horizon horizon;                        ///< how long it is needed
  std::optional<LicensedRepair>
      licensed_repair;       ///< where a hazard leaves the work to others; absent: no price for it is known
  std::optional<Bulk> bulk;  ///< asked about by bulk_what_if alone
  Intake intake{};           ///< asked about by quote alone
  std::vector<DefaultUse> defaults;  ///< what the file left out, in the order of the inputs
  std::vector<Scenario> what_ifs;    ///< named changes of this case; they are no part of what is weighed
  std::vector<RowWord> row_words;    ///< asked about by rows alone
};

/// A what-if that a case names: the case with some entries changed, read and checked as if its file said so. It has no
/// what-ifs of its own.
struct Scenario {
  std::string name;             ///< as the file gives it
  std::vector<Change> changes;  ///< at least one
  Case changed;                 ///< the case with these changes
};

/// Throws std::invalid_argument that names the first field which no reader would have let through: a number out of
/// its limits, an index without its part or supplier, an empty price ladder, no failed position ...
void check(const Case& c);

/// Visits every Quantity of a case with its dotted key ("replacement.1.price", counted from 1), always in
/// the same order. The one list behind random draws, sensitivity rows and --set.
void for_each_quantity(Case& c, const std::function<void(const std::string& key, Quantity&)>& visit);
/// The same without changing any.
void for_each_quantity(const Case& c,
                       const std::function<void(const std::string& key, const Quantity&)>& visit);

/// Mean years from now until the rest of the device ends, at base: stated, or that of a device of its life which has
/// reached its age.
[[nodiscard]] double mean_rest_years(const Case& c);
/// How far ahead to look where a number of years must be named: until the need ends, or else the rest of the device.
[[nodiscard]] double years_ahead(const Case& c);

[[nodiscard]] const char* name_of(Cause cause) noexcept;    ///< "wear", "blow", "spill", "bad-joint"
[[nodiscard]] const char* name_of(LifeUnit unit) noexcept;  ///< "cycles", "hours", "years"

}  // namespace mendworth
