#include <stdexcept>
#include <string>
#include <type_traits>

#include <fmt/format.h>

#include "domain/inputs.hpp"
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

/// One value, whatever its type.
void check_slot(const std::string& key, const Slot& slot, const Limits& limits) {
  const auto visit = [&](auto* value) {
    using Value = std::remove_pointer_t<decltype(value)>;
    if constexpr (std::is_same_v<Value, double> || std::is_same_v<Value, int>) {
      check_number(key, *value, limits);
    } else if constexpr (std::is_same_v<Value, std::optional<double>> ||
                         std::is_same_v<Value, std::optional<int>>) {
      if (*value) check_number(key, **value, limits);
    }
  };
  if (const Quantity* quantity = quantity_in(slot)) return check_quantity(key, *quantity, limits);
  std::visit(
      [&](const auto& held) {
        if constexpr (!std::is_same_v<std::decay_t<decltype(held)>, std::monostate>) visit(held);
      },
      slot);
}

class CaseCheck {
 public:
  explicit CaseCheck(const Case& c) : c_(c) {}

  void run() const {
    // The walk itself changes nothing.
    walk_inputs(case_inputs(), const_cast<Case*>(&c_),
                [this](const std::string& key, const Input& input, void* owner) {
                  if (input.kind == InputKind::tables) {
                    check_count(key, static_cast<long long>(input.count(owner)), 0,
                                static_cast<long long>(input.limits.high));
                  } else if (!is_unused(key)) {
                    check_slot(key, input.slot(owner), input.limits);
                  }
                });
    device();
    if (c_.parts.empty()) fail("part", "there is none");
    each("part", c_.parts, [this](const std::string& key, const Part& part) { this->part(key, part); });
    each("supplier", c_.suppliers, supplier);
    positions();
    check_number("labour.skill_factor", c_.labour.skill_factor, limits::factor);
    chances_together("risk.opening_mendable", c_.risks.opening_mendable, c_.risks.opening_write_off);
    chances_together("risk.joint_mendable", c_.risks.joint_mendable, c_.risks.joint_write_off);
    if (c_.replacements.empty() && !c_.device.must_keep) fail("replacement", "there is none");
    if (c_.bulk) bulk(*c_.bulk);
    const auto clashes = clashes_of(c_);
    if (!clashes.empty()) fail(clashes.front().key, clashes.front().message);
  }

 private:
  template <class List>
  static long long size_of(const List& list) {
    return static_cast<long long>(list.size());
  }

  template <class List, class Function>
  static void each(const std::string& key, const List& list, const Function& function) {
    std::size_t number = 0;
    for (const auto& item : list) function(fmt::format("{}.{}", key, ++number), item);
  }

  /// What a group without renewed positions says of their age, what is used after a spill alone, of a shop what is said
  /// of a fleet, and what follows from other inputs.
  [[nodiscard]] bool is_unused(const std::string& key) const {
    if (key == "fault.common_cause_years") return c_.fault.cause != Cause::spill;
    if (key == "device.life_years") return c_.rest.remaining_years.has_value();
    if (key == "bulk.failed") return !c_.bulk->devices;
    if (key == "bulk.order_cost") return true;
    if (!key.starts_with("position.") || !key.ends_with(".renewed_years_ago")) return false;
    return c_.positions[std::stoul(key.substr(9)) - 1].renewed == 0;
  }

  void device() const {
    const Device& device = c_.device;
    if (device.currency.empty()) fail("device.currency", "there is none");
    check_count("device.minor_digits", device.minor_digits, 0, 4);
    if (device.bought_used_years_ago && device.bought_used_years_ago->high() >= device.age_years.low())
      fail("device.bought_used_years_ago", "not less than the device's age");
  }

  void part(const std::string& key, const Part& part) const {
    each(key + ".dimension", part.dimensions, [](const std::string& k, const Dimension& dimension) {
      if (dimension.limit >= dimension.measured) fail(k + ".limit", "not less than the size measured");
      if (dimension.below + dimension.above <= 0) fail(k + ".below", "no piece ever fits");
    });
    each(key + ".candidate", part.candidates,
         [&](const std::string& k, const Candidate& candidate) { this->candidate(k, part, candidate); });
  }

  void candidate(const std::string& key, const Part& part, const Candidate& candidate) const {
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
    if (offer.prices.empty()) fail(key + ".prices", "there is none");
    int last = 0;
    each(key + ".prices", offer.prices, [&](const std::string& k, const PriceBreak& step) {
      check_count(k + ".from", step.from, last + 1LL, most_pieces);
      last = step.from;
    });
  }

  static void supplier(const std::string& key, const Supplier& supplier) {
    if (supplier.shipping.empty()) fail(key + ".shipping", "there is none");
    if (supplier.shipping.front().goods_from != 0)
      fail(key + ".shipping", "the first tier does not start from 0");
    double last = -1;
    each(key + ".shipping", supplier.shipping, [&](const std::string& k, const ShippingTier& tier) {
      if (!(tier.goods_from > last)) fail(k + ".goods_from", "tiers are out of order");
      last = tier.goods_from;
    });
  }

  void positions() const {
    int failed = 0;
    each("position", c_.positions, [&](const std::string& key, const PositionGroup& group) {
      check_count(key + ".part", group.part, 0, size_of(c_.parts) - 1);
      check_count(key + ".failed", group.failed, 0, group.count);
      check_count(key + ".renewed", group.renewed, 0, group.count - group.failed);
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

  static void chances_together(const std::string& key, const Quantity& mendable, const Quantity& write_off) {
    if (mendable.high() + write_off.high() > 1.0) fail(key, "more than 1 together with the write-off");
  }

  static void bulk(const Bulk& bulk) {
    if (bulk.devices.has_value() == bulk.jobs_per_month.has_value())
      fail("bulk.devices", "either devices or jobs_per_month");
    if (bulk.devices) check_count("bulk.failed", bulk.failed, 1, *bulk.devices);
    check_number("bulk.order_cost", bulk.order_cost, order_cost);
  }

  const Case& c_;
};

}  // namespace

void check(const Case& c) { CaseCheck(c).run(); }

}  // namespace mendworth
