#include "answers/labels.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <string_view>
#include <vector>

namespace mendworth {
namespace {

struct Words {
  std::string_view key;   ///< with the numbers left out
  std::string_view text;  ///< "{}" takes the name of the thing, "$" the currency, "@" the supplier's
};

constexpr std::array words = {
    Words{"device.age_years", "age of the device (years)"},
    Words{"device.use_per_day", "use (operations a day)"},
    Words{"device.hours_per_day", "use (hours a day)"},
    Words{"device.guarantee_chance", "chance that a claim is met"},
    Words{"device.guarantee_days", "wait for a claim (days)"},
    Words{"device.bought_used_years_ago", "years since it was bought used"},
    Words{"device.resale", "resale at the horizon ($)"},
    Words{"device.scrap", "worth of the broken device ($)"},
    Words{"device.keepsake", "keepsake value ($)"},
    Words{"fault.burden_per_year", "burden of the fault ($ a year)"},
    Words{"fault.common_cause_chance", "chance that the spill reached the mates"},
    Words{"fault.common_cause_years", "time until the spill shows there (years)"},
    Words{"position.renewed_years_ago", "age of the renewed {} (years)"},
    Words{"position.share", "share of the use: {}"},
    Words{"position.minutes", "minutes a position: {}"},
    Words{"part.rated_life", "rated life: {}"},
    Words{"part.shape", "Weibull shape: {}"},
    Words{"part.other_uses_per_year", "other uses of spares: {} (a year)"},
    Words{"part.shelf_life_years", "shelf life: {} (years)"},
    Words{"part.spare_resale", "worth of an unused {} ($)"},
    Words{"part.candidate.fit", "chance that it fits: {}"},
    Words{"part.candidate.dead_on_arrival", "chance of a dead piece: {}"},
    Words{"part.candidate.rated_life", "rated life of the new {}"},
    Words{"part.candidate.shape", "Weibull shape of the new {}"},
    Words{"part.candidate.offer.prices.each", "a price of {} (@)"},
    Words{"part.candidate.offer.price", "price of {} (@)"},
    Words{"part.candidate.offer.line_fee", "line fee for {} (@)"},
    Words{"supplier.exchange_rate", "exchange rate: {}"},
    Words{"supplier.exchange_fee", "exchange fee: {}"},
    Words{"supplier.shipping.price", "shipping from {} (@)"},
    Words{"supplier.shipping", "shipping from {} (@)"},
    Words{"supplier.low_order_below", "low-order limit: {} (@)"},
    Words{"supplier.low_order_fee", "low-order fee: {} (@)"},
    Words{"supplier.tax", "tax rate: {}"},
    Words{"supplier.duty", "duty rate: {}"},
    Words{"supplier.duty_free_up_to", "free of duty up to: {} (@)"},
    Words{"supplier.customs_fee", "customs handling: {} (@)"},
    Words{"supplier.lead_days", "lead time: {} (days)"},
    Words{"labour.rate_per_hour", "labour rate ($ an hour)"},
    Words{"labour.case_minutes", "minutes once per case"},
    Words{"labour.visit_minutes", "minutes per opening"},
    Words{"labour.learning_rate", "learning rate"},
    Words{"risk.opening_mendable", "mendable damage per opening"},
    Words{"risk.opening_write_off", "write-off per opening"},
    Words{"risk.joint_mendable", "mendable damage per joint"},
    Words{"risk.joint_write_off", "write-off per joint"},
    Words{"risk.mend_minutes", "minutes to mend damage"},
    Words{"risk.mend_money", "money to mend damage ($)"},
    Words{"risk.diagnosis_right", "chance that the diagnosis is right"},
    Words{"risk.second_attempt.minutes", "minutes of a second attempt"},
    Words{"risk.second_attempt.money", "money of a second attempt ($)"},
    Words{"risk.second_attempt.chance", "chance that a second attempt cures it"},
    Words{"risk.dead_found_after_closing", "dead pieces found only after closing"},
    Words{"risk.misfit_found_after_closing", "misfits found only after closing"},
    Words{"risk.dry_fit_minutes", "minutes of a dry fit"},
    Words{"consumable.price", "price of {} ($)"},
    Words{"consumable.chance", "chance that {} is used up"},
    Words{"replacement.price", "price of {} ($)"},
    Words{"replacement.tax", "tax on {}"},
    Words{"replacement.shipping", "shipping of {} ($)"},
    Words{"replacement.life_years", "life of {} (years)"},
    Words{"replacement.life_shape", "Weibull shape of {}"},
    Words{"replacement.setup_minutes", "set-up of {} (minutes)"},
    Words{"replacement.benefit_per_year", "benefit of {} ($ a year)"},
    Words{"replacement.resale", "resale of {} at the horizon ($)"},
    Words{"replacement.delivery_days", "delivery of {} (days)"},
    Words{"rest.remaining_years", "remaining life of the rest (years)"},
    Words{"device.life_years", "life of such a device (years)"},
    Words{"rest.shape", "Weibull shape of the rest"},
    Words{"downtime.per_day", "cost of a day without it ($)"},
    Words{"downtime.bench_days", "days on the bench"},
    Words{"licensed_repair.price", "price of the licensed repair ($)"},
    Words{"licensed_repair.chance", "chance that a licensed repair cures it"},
    Words{"licensed_repair.days", "days at the licensed repairer"},
    Words{"horizon.years", "horizon (years)"},
    Words{"horizon.discount_rate", "discount rate a year"},
};

struct ParsedKey {
  std::string plain;  ///< without numbers
  std::vector<std::size_t> numbers;
};

ParsedKey parse(const std::string& key) {
  ParsedKey parsed;
  std::size_t start = 0;
  while (start <= key.size()) {
    const std::size_t end = std::min(key.find('.', start), key.size());
    const std::string_view segment = std::string_view(key).substr(start, end - start);
    std::size_t number = 0;
    const auto [stop, error] = std::from_chars(segment.data(), segment.data() + segment.size(), number);
    if (error == std::errc{} && stop == segment.data() + segment.size()) {
      parsed.numbers.push_back(number);
    } else {
      if (!parsed.plain.empty()) parsed.plain += '.';
      parsed.plain += segment;
    }
    start = end + 1;
  }
  return parsed;
}

std::string name_in(const Case& c, const ParsedKey& key) {
  if (key.numbers.empty() || key.numbers[0] == 0) return "";
  const std::size_t i = key.numbers[0] - 1;
  const auto is = [&](std::string_view head) {
    return std::string_view(key.plain).substr(0, head.size()) == head;
  };
  if (is("position.") && i < c.positions.size()) return c.positions[i].name;
  if (is("supplier.") && i < c.suppliers.size()) return c.suppliers[i].name;
  if (is("consumable.") && i < c.consumables.size()) return c.consumables[i].name;
  if (is("replacement.") && i < c.replacements.size()) return c.replacements[i].name;
  if (is("part.") && i < c.parts.size()) {
    const auto& part = c.parts[i];
    if (is("part.candidate.") && key.numbers.size() > 1 && key.numbers[1] >= 1 &&
        key.numbers[1] <= part.candidates.size()) {
      return part.candidates[key.numbers[1] - 1].name;
    }
    return part.name;
  }
  return "";
}

/// Of "supplier.N..." or "part.N.candidate.N.offer.N..."; empty for any other key.
std::string supplier_currency_in(const Case& c, const ParsedKey& key) {
  const auto number = [&](std::size_t i, std::size_t count) {
    return i < key.numbers.size() && key.numbers[i] <= count ? key.numbers[i] : 0;
  };
  std::size_t supplier = 0;
  if (key.plain.starts_with("supplier.")) {
    supplier = number(0, c.suppliers.size());
  } else if (const std::size_t p = number(0, c.parts.size());
             p > 0 && key.plain.starts_with("part.candidate.offer.")) {
    const auto& candidates = c.parts[p - 1].candidates;
    if (const std::size_t k = number(1, candidates.size()); k > 0) {
      const auto& offers = candidates[k - 1].offers;
      const std::size_t o = number(2, offers.size());
      if (o > 0) supplier = static_cast<std::size_t>(offers[o - 1].supplier) + 1;
    }
  }
  return supplier > 0 && supplier <= c.suppliers.size() ? c.suppliers[supplier - 1].currency : "";
}

void replace_once(std::string& text, std::string_view what, const std::string& by) {
  if (const auto at = text.find(what); at != std::string::npos) text.replace(at, what.size(), by);
}

}  // namespace

std::string label_of(const Case& c, const std::string& key) {
  const auto parsed = parse(key);
  for (const auto& entry : words) {
    if (entry.key != parsed.plain) continue;
    std::string text(entry.text);
    replace_once(text, "$", c.device.currency);
    replace_once(text, "@", supplier_currency_in(c, parsed));
    replace_once(text, "{}", name_in(c, parsed));
    return text;
  }
  return key;
}

std::string option_name(const Case& c, const Option& option) {
  switch (option.kind) {
    case OptionKind::leave: return "leave it as it is";
    case OptionKind::claim: return "claim on the guarantee";
    case OptionKind::replacement:
      return fmt::format("replace: {}", c.replacements[static_cast<std::size_t>(option.replacement)].name);
    case OptionKind::licensed_repair: return "licensed repair";
    case OptionKind::repair: break;
  }
  switch (option.plan.family) {
    case Family::failed_only: return "failed only";
    case Family::failed_and_worth: return "failed and what is worth it";
    case Family::failed_and_mates: return "failed and mates";
    case Family::every_original: break;
  }
  return "every original";
}

}  // namespace mendworth
