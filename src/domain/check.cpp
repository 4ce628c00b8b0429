#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <string>

#include <fmt/format.h>

#include "domain/limits.hpp"
#include "mendworth/case.hpp"

namespace mendworth {

namespace {

constexpr Limits order_cost{.low = 0, .high = 2e12};  ///< of minutes and a rate

[[noreturn]] void fail(const std::string& key, const std::string& message) {
  throw std::invalid_argument(fmt::format("{}: {}", key, message));
}

void check_number(const std::string& key, double value, const Limits& limits) {
  if (!limits.allows(value))  // nor is what is no number
    fail(key, fmt::format("found {}, allowed is {}", value, limits.allowed_instead_of(value)));
}

void check_count(const std::string& key, long long value, long long low, long long high) {
  if (value < low || value > high) fail(key, fmt::format("found {}, allowed is {} to {}", value, low, high));
}

void check_quantity(const std::string& key, const Quantity& quantity, const Limits& limits) {
  for (const double end : {quantity.low(), quantity.likely(), quantity.high()})
    check_number(key, end, limits);
  if (!limits.allows_range(quantity.low(), quantity.high()))
    fail(key, fmt::format("the ends {} and {} are too far apart", quantity.low(), quantity.high()));
}

class CaseCheck {
 public:
  explicit CaseCheck(const Case& c) : c_(c) {}

  void run() const {
    for_each_quantity(c_, [this](const std::string& key, const Quantity& quantity) {
      if (!is_unused(key)) check_quantity(key, quantity, limits_of(key));
    });
    device();
    if (c_.parts.empty()) fail("part", "there is none");
    each("part", c_.parts, [this](const std::string& key, const Part& part) { this->part(key, part); });
    each("supplier", c_.suppliers, supplier);
    positions();
    labour();
    chances_together("risk.opening_mendable", c_.risks.opening_mendable, c_.risks.opening_write_off);
    chances_together("risk.joint_mendable", c_.risks.joint_mendable, c_.risks.joint_write_off);
    if (c_.replacements.empty() && !c_.device.must_keep) fail("replacement", "there is none");
    check_count("replacement", size_of(c_.replacements), 0, most_items);
    check_count("consumable", size_of(c_.consumables), 0, most_items);
    if (c_.bulk) bulk(*c_.bulk);
    const auto clashes = clashes_of(c_);
    if (!clashes.empty()) fail(clashes.front().key, clashes.front().message);
  }

 private:
  static constexpr long long most_items = most_list_items;

  template <class List>
  static long long size_of(const List& list) {
    return static_cast<long long>(list.size());
  }

  template <class List, class Function>
  static void each(const std::string& key, const List& list, const Function& function) {
    check_count(key, size_of(list), 0, most_items);
    std::size_t number = 0;
    for (const auto& item : list) function(fmt::format("{}.{}", key, ++number), item);
  }

  /// What a group without renewed positions says of their age, and what is used after a spill alone.
  [[nodiscard]] bool is_unused(const std::string& key) const {
    if (key == "fault.common_cause_years") return c_.fault.cause != Cause::spill;
    if (!key.starts_with("position.") || !key.ends_with(".renewed_years_ago")) return false;
    return c_.positions[std::stoul(key.substr(9)) - 1].renewed == 0;
  }

  void device() const {
    const Device& device = c_.device;
    if (device.currency.empty()) fail("device.currency", "there is none");
    check_count("device.minor_digits", device.minor_digits, 0, 4);
    check_number("device.already_spent", device.already_spent, limits::money);
    if (device.bought_used_years_ago && device.bought_used_years_ago->high() >= device.age_years.low())
      fail("device.bought_used_years_ago", "not less than the device's age");
  }

  static void life(const std::string& key, const LifePrior& life) {
    check_number(key + ".failed_at_rated", life.failed_at_rated, limits::fraction_failed);
    check_number(key + ".life_spread", life.life_spread, limits::life_spread);
    check_number(key + ".shape_spread", life.shape_spread, limits::shape_spread);
  }

  void part(const std::string& key, const Part& part) const {
    life(key, part.life);
    check_count(key + ".dimension", size_of(part.dimensions), 0, most_dimensions);
    each(key + ".dimension", part.dimensions, [](const std::string& k, const Dimension& dimension) {
      check_number(k + ".measured", dimension.measured, limits::size_mm);
      check_number(k + ".limit", dimension.limit, limits::size_error_mm);
      check_number(k + ".below", dimension.below, limits::size_error_mm);
      check_number(k + ".above", dimension.above, limits::size_error_mm);
      if (dimension.limit >= dimension.measured) fail(k + ".limit", "not less than the size measured");
      if (dimension.below + dimension.above <= 0) fail(k + ".below", "no piece ever fits");
    });
    each(key + ".candidate", part.candidates,
         [&](const std::string& k, const Candidate& candidate) { this->candidate(k, part, candidate); });
  }

  void candidate(const std::string& key, const Part& part, const Candidate& candidate) const {
    life(key, candidate.life);
    if (candidate.nominal.size() > part.dimensions.size())
      fail(key + ".nominal", "more sizes than the part has dimensions");
    for (const std::optional<double>& size : candidate.nominal) {
      if (size) check_number(key + ".nominal", *size, limits::size_mm);
    }
    check_count(key + ".on_hand", candidate.on_hand, 0, most_pieces);
    if (candidate.offers.empty()) fail(key + ".offer", "there is none");
    each(key + ".offer", candidate.offers,
         [this](const std::string& k, const Offer& offer) { this->offer(k, offer); });
  }

  void offer(const std::string& key, const Offer& offer) const {
    check_count(key + ".supplier", offer.supplier, 0, size_of(c_.suppliers) - 1);
    check_count(key + ".least", offer.least, 1, most_pieces);
    check_count(key + ".multiple", offer.multiple, 1, most_pieces);
    if (offer.stock) check_count(key + ".stock", *offer.stock, 0, most_pieces);
    if (offer.prices.empty()) fail(key + ".prices", "there is none");
    int last = 0;
    each(key + ".prices", offer.prices, [&](const std::string& k, const PriceBreak& step) {
      check_count(k + ".from", step.from, last + 1LL, most_pieces);
      last = step.from;
    });
  }

  static void supplier(const std::string& key, const Supplier& supplier) {
    check_number(key + ".other_goods", supplier.other_goods, limits::money);
    if (supplier.shipping.empty()) fail(key + ".shipping", "there is none");
    if (supplier.shipping.front().goods_from != 0)
      fail(key + ".shipping", "the first tier does not start from 0");
    double last = -1;
    each(key + ".shipping", supplier.shipping, [&](const std::string& k, const ShippingTier& tier) {
      check_number(k + ".goods_from", tier.goods_from, limits::money);
      if (tier.goods_from <= last) fail(k + ".goods_from", "tiers are out of order");
      last = tier.goods_from;
    });
  }

  void positions() const {
    int failed = 0;
    each("position", c_.positions, [&](const std::string& key, const PositionGroup& group) {
      check_count(key + ".part", group.part, 0, size_of(c_.parts) - 1);
      check_count(key + ".count", group.count, 1, most_positions_in_group);
      check_count(key + ".failed", group.failed, 0, group.count);
      check_count(key + ".renewed", group.renewed, 0, group.count - group.failed);
      check_count(key + ".joints", group.joints, 0, most_joints);
      if (group.renewed > 0 && group.renewed_years_ago.high() > c_.device.age_years.high())
        fail(key + ".renewed_years_ago", "before the device was new");
      const Part& part = c_.parts[static_cast<std::size_t>(group.part)];
      use_is_known(part.life);
      for (const Candidate& candidate : part.candidates) use_is_known(candidate.life);
      failed += group.failed;
    });
    if (failed == 0) fail("position.failed", "no position has failed");
  }

  void use_is_known(const LifePrior& life) const {
    if (life.unit == LifeUnit::cycles && !c_.device.use_per_day)
      fail("device.use_per_day", "missing: a life is in cycles");
    if (life.unit == LifeUnit::hours && !c_.device.hours_per_day)
      fail("device.hours_per_day", "missing: a life is in hours");
  }

  void labour() const {
    check_number("labour.skill_factor", c_.labour.skill_factor, limits::factor);
    check_number("labour.learning_floor", c_.labour.learning_floor, limits::chance);
    check_count("labour.done_before", c_.labour.done_before, 0, most_pieces);
  }

  static void chances_together(const std::string& key, const Quantity& mendable, const Quantity& write_off) {
    if (mendable.high() + write_off.high() > 1.0) fail(key, "more than 1 together with the write-off");
  }

  static void bulk(const Bulk& bulk) {
    if (bulk.devices.has_value() == bulk.jobs_per_month.has_value())
      fail("bulk.devices", "either devices or jobs_per_month");
    if (bulk.devices) {
      check_count("bulk.devices", *bulk.devices, 1, most_devices);
      check_count("bulk.failed", bulk.failed, 1, *bulk.devices);
    } else {
      check_quantity("bulk.jobs_per_month", *bulk.jobs_per_month, limits::jobs_per_month);
    }
    if (bulk.pieces_per_job) check_count("bulk.pieces_per_job", *bulk.pieces_per_job, 1, most_pieces);
    if (bulk.years) check_number("bulk.years", *bulk.years, limits::years_of_need);
    check_number("bulk.order_cost", bulk.order_cost, order_cost);
    check_number("bulk.carrying_rate", bulk.carrying_rate, limits::share_of_money);
    if (bulk.shortage_cost) check_number("bulk.shortage_cost", *bulk.shortage_cost, limits::money);
    if (bulk.repair_days) check_number("bulk.repair_days", *bulk.repair_days, limits::days);
    check_number("bulk.cover", bulk.cover, limits::cover);
  }

  const Case& c_;
};

}  // namespace

void check(const Case& c) { CaseCheck(c).run(); }

}  // namespace mendworth
