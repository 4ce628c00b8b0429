#include <cmath>
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <optional>
#include <string_view>

#include "mendworth/diagnostic.hpp"
#include "mendworth/rates.hpp"
#include "mendworth/shop.hpp"

// Any bytes are a shop whose figures keep to the ranges of shop.hpp, or an InputError, never anything else.

namespace {

using namespace mendworth;

bool sound(double value, double low, double high) {
  return std::isfinite(value) && value >= low && value <= high;
}

bool sound(const std::optional<double>& value, double low, double high) {
  return !value || sound(*value, low, high);
}

bool sound(const std::optional<Quantity>& value, double low, double high) {
  return !value || (sound(value->low(), low, high) && sound(value->high(), value->low(), high));
}

constexpr double most = 1e9;

bool sound_prices(const Shop& s) {
  double last = -1;
  for (const MarkupBand& band : s.markup) {
    if (!sound(band.cost_from, 0, most) || band.cost_from <= last || !(band.times > 0)) return false;
    if (last < 0 && band.cost_from != 0) return false;
    last = band.cost_from;
  }
  for (const FlatRate& rate : s.flat_rates) {
    if (rate.name.empty() || rate.part.empty() || rate.positions < 1 || !(rate.price > 0)) return false;
  }
  return sound(s.charge_rate, 0, most) && sound(s.cost_rate, 0, most) && sound(s.least_markup, 0, most) &&
         sound(s.billing_increment_minutes, 0, most) && sound(s.minimum_charge, 0, most) &&
         sound(s.diagnosis_fee, 0, most) && sound(s.walk_away, 0, 1) && sound(s.consumables_flat, 0, most) &&
         sound(s.consumables_share, 0, 1) && !(s.consumables_flat && s.consumables_share) &&
         !(s.rush_flat && s.rush_share) && sound(s.discount_share, 0, 1);
}

bool sound_terms(const Shop& s) {
  for (const Tax& tax : s.taxes) {
    if (tax.name.empty() || !sound(tax.rate, 0, 1)) return false;
  }
  if (s.cash_step && !(*s.cash_step > 0)) return false;
  if (s.no_cure_no_fee && s.no_cure_charge) return false;
  if (s.subsidy && (s.subsidy->name.empty() || !sound(s.subsidy->share, 0, 1))) return false;
  return sound(s.deposit_share, 0, 1) && s.valid_days.value_or(1) >= 1 && s.warranty_days.value_or(0) >= 0 &&
         sound(s.ceiling_confidence, 0.5, 0.999) && sound(s.liability, 0, most) && sound(s.come_back, 0, 1) &&
         s.target_margin >= 0 && s.target_margin < 1 && s.style.decimal_mark != s.style.group_mark;
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  // Bytes are bytes: the fuzzer's are unsigned, a text's are not.
  const std::string_view text(reinterpret_cast<const char*>(data), size);
  try {
    const Shop shop = read_shop(text, "shop.toml", built_in_rates());
    if (!sound_prices(shop) || !sound_terms(shop)) std::abort();
    static_cast<void>(rates_for(shop, built_in_rates()));
  } catch (const InputError& error) {
    if (error.problems().empty()) std::abort();
  }
  return 0;
}
