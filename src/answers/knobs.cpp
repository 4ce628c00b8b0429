#include "answers/knobs.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>

#include "answers/labels.hpp"
#include "domain/inputs.hpp"
#include "model/pricing.hpp"

namespace mendworth {
namespace {

// Break-evens are looked for up to this multiple of the current value.
constexpr double reach_of_search = 4.0;

Quantity moved(const Quantity& q, double by) {
  const double low = std::max(0.0, q.low() + by), likely = std::max(0.0, q.likely() + by),
               high = std::max(0.0, q.high() + by);
  switch (q.spread()) {
    case Spread::fixed: return Quantity::exactly(low);
    case Spread::uniform: return Quantity::between(low, high);
    default: return Quantity::three_point(low, likely, high, q.spread());
  }
}

void set_entry(Case& c, const std::string& key, double value) {
  if (Quantity* const quantity = find_quantity(c, key)) *quantity = Quantity::exactly(value);
  // As if the case said so: what is said of a part's life goes for candidates of which nothing else is said.
  const bool of_part = key.rfind("part.", 0) == 0 && key.find(".candidate.") == std::string::npos;
  if (!of_part) return;
  const auto ends = [&key](std::string_view end) {
    return key.size() > end.size() && key.compare(key.size() - end.size(), end.size(), end) == 0;
  };
  const bool rated = ends(".rated_life"), shape = ends(".shape");
  for (std::size_t p = 0; (rated || shape) && p < c.parts.size(); ++p) {
    if (key.rfind(fmt::format("part.{}.", p + 1), 0) != 0) continue;
    for (Candidate& candidate : c.parts[p].candidates) {
      if (!candidate.inherits_life) continue;
      (rated ? candidate.life.rated_life : candidate.life.shape) = Quantity::exactly(value);
    }
  }
}

Knob money_entry(const Case& c, const std::string& key, double current, double scale) {
  Knob knob;
  if (const Quantity* const quantity = find_quantity(c, key)) knob.states_current = quantity->is_fixed();
  knob.key = key;
  knob.label = label_of(c, key);
  knob.current = current;
  knob.high = std::max(reach_of_search * current, scale);
  knob.turn = [key](Case& changed, Hypothesis&, double x) { set_entry(changed, key, x); };
  return knob;
}

/// A number that is searched between ends of its own.
Knob bounded_entry(const Case& c, const std::string& key, double low, double high) {
  Knob knob;
  knob.key = key;
  knob.label = label_of(c, key);
  if (const Quantity* const quantity = find_quantity(c, key)) {
    knob.current = quantity->base();
    knob.states_current = quantity->is_fixed();
  }
  knob.low = low;
  knob.high = high;
  knob.turn = [key](Case& changed, Hypothesis&, double x) { set_entry(changed, key, x); };
  return knob;
}

/// Gives a factor the name of the only entry behind it, so that it is not listed beside that entry.
void rename_to_entry(Knob& knob, const Case& c, std::string key) {
  knob.label = label_of(c, key);
  knob.key = std::move(key);
}

/// The supplier that all offers of the case come from; absent if there are several.
std::optional<int> only_supplier(const Case& c) {
  std::optional<int> only;
  for (const auto& part : c.parts) {
    for (const auto& candidate : part.candidates) {
      for (const auto& offer : candidate.offers) {
        if (only && *only != offer.supplier) return std::nullopt;
        only = offer.supplier;
      }
    }
  }
  return only;
}

void add_order_knobs(std::vector<Knob>& knobs, const Contest& contest, const RepairPlan& plan, double scale) {
  const Case& c = contest.model.c;
  if (plan.first_order < 0) return;
  const auto& order = contest.book.order(plan.first_order);
  if (order.items.empty()) return;
  const OrderItem item = order.items.front();
  const auto& candidate =
      c.parts[static_cast<std::size_t>(item.part)].candidates[static_cast<std::size_t>(item.candidate)];
  const auto& offer = candidate.offers[static_cast<std::size_t>(item.offer)];
  const auto& supplier = c.suppliers[static_cast<std::size_t>(offer.supplier)];

  const double each = unit_price(offer, item.quantity);
  Knob price;
  price.key = "common.part_price";
  price.label = fmt::format("price of {}, each ({})", candidate.name, supplier.currency);
  price.current = each;
  price.high = each > 0 ? each * 100.0 : scale / supplier.exchange_rate.base() / item.quantity;
  price.turn = [item, each](Case& changed, Hypothesis&, double x) {
    auto& sold = changed.parts[static_cast<std::size_t>(item.part)]
                     .candidates[static_cast<std::size_t>(item.candidate)];
    for (auto& other : sold.offers) {
      for (auto& step : other.prices) {
        step.each = each > 0 ? step.each.scaled(x / each) : Quantity::exactly(x);
      }
    }
  };
  if (candidate.offers.size() == 1 && offer.prices.size() == 1) {
    rename_to_entry(price, c,
                    fmt::format("part.{}.candidate.{}.offer.1.price", item.part + 1, item.candidate + 1));
  }
  knobs.push_back(std::move(price));
  const bool one_supplier = only_supplier(c).has_value();

  // What this supplier takes for shipping this order, in its own currency.
  double goods = supplier.other_goods;
  for (const auto& line : order.items) {
    const auto& sold =
        c.parts[static_cast<std::size_t>(line.part)].candidates[static_cast<std::size_t>(line.candidate)];
    const auto& from = sold.offers[static_cast<std::size_t>(line.offer)];
    if (from.supplier == offer.supplier)
      goods += line.quantity * unit_price(from, line.quantity) + from.line_fee.base();
  }
  double shipping = 0;
  for (const auto& tier : supplier.shipping) {
    if (tier.goods_from <= goods) shipping = tier.price.base();
  }
  Knob ship;
  ship.key = "common.shipping";
  ship.label = fmt::format("shipping of an order ({})", supplier.currency);
  ship.current = shipping;
  ship.high = shipping > 0 ? std::max(reach_of_search * 5.0 * shipping, order.cost.total * reach_of_search)
                           : scale / supplier.exchange_rate.base();
  ship.turn = [shipping](Case& changed, Hypothesis&, double x) {
    for (auto& s : changed.suppliers) {
      for (auto& tier : s.shipping) tier.price = moved(tier.price, x - shipping);
    }
  };
  if (one_supplier && supplier.shipping.size() == 1) {
    rename_to_entry(ship, c, fmt::format("supplier.{}.shipping", offer.supplier + 1));
  }
  knobs.push_back(std::move(ship));

  if (c.downtime.per_day.high() > 0) {
    const double wait = order.cost.wait_days;
    Knob lead;
    lead.key = "common.lead_days";
    lead.label = "lead time of the parts (days)";
    lead.current = wait;
    lead.high = std::max(reach_of_search * wait, 60.0);
    lead.turn = [wait](Case& changed, Hypothesis&, double x) {
      for (auto& s : changed.suppliers) s.lead_days = moved(s.lead_days, x - wait);
    };
    if (one_supplier) rename_to_entry(lead, c, fmt::format("supplier.{}.lead_days", offer.supplier + 1));
    knobs.push_back(std::move(lead));
  }
}

}  // namespace

std::vector<Knob> named_knobs(const Contest& contest, std::size_t best_repair, std::size_t best_replacement) {
  const Case& c = contest.model.c;
  const auto& repair = contest.options[best_repair];
  const int r = contest.options[best_replacement].replacement;
  const auto& replacement = c.replacements[static_cast<std::size_t>(r)];
  const double device_price = purchase_price(replacement);
  // How far it makes sense to look for the turning point of a price that is nothing at hand.
  const double scale = 2.0 * std::max({contest.ensemble.mean_cost(best_repair),
                                       contest.ensemble.mean_cost(best_replacement), device_price, 1.0});
  const std::string prefix = fmt::format("replacement.{}.", r + 1);
  std::vector<Knob> knobs;

  knobs.push_back(money_entry(c, prefix + "price", replacement.price->base(), scale));
  if (replacement.setup_minutes.high() > 0 && c.labour.rate_per_hour.high() > 0) {
    knobs.push_back(money_entry(c, prefix + "setup_minutes", replacement.setup_minutes.base(), 0.0));
  }
  if (repair.kind == OptionKind::licensed_repair) {
    knobs.push_back(money_entry(c, "licensed_repair.price", c.licensed_repair->price.base(), scale));
    knobs.push_back(bounded_entry(c, "licensed_repair.chance", 0.0, 1.0));
  } else {
    std::vector<int> groups;
    for (const int i : repair.plan.renew_now) {
      groups.push_back(contest.model.positions[static_cast<std::size_t>(i)].group);
    }
    const double minutes = first_visit_minutes(c, groups);
    const double rate = c.labour.rate_per_hour.base();
    // Where time is free the range must come from elsewhere: the rate at which the job costs two devices.
    const double top_rate =
        minutes > 0 ? (device_price > 0 ? 2.0 * device_price : scale) / (minutes / 60.0) : 0.0;
    knobs.push_back(money_entry(c, "labour.rate_per_hour", rate, top_rate));
    if (rate > 0 && minutes > 0) {
      Knob all;
      all.key = "common.minutes";
      all.label = "hands-on time now (minutes)";
      all.current = minutes;
      all.high = minutes * reach_of_search * 2.0;
      all.turn = [minutes](Case& changed, Hypothesis&, double x) {
        const double factor = x / minutes;
        for (Quantity* q : {&changed.labour.case_minutes, &changed.labour.visit_minutes,
                            &changed.risks.mend_minutes, &changed.risks.dry_fit_minutes}) {
          *q = q->scaled(factor);
        }
        for (auto& group : changed.positions) group.minutes = group.minutes.scaled(factor);
      };
      knobs.push_back(std::move(all));
    }
    add_order_knobs(knobs, contest, repair.plan, scale);
    knobs.push_back(bounded_entry(c, "risk.diagnosis_right", 0.0, 1.0));
  }

  const double life = replacement.life_years.base();
  if (c.rest.remaining_years) {
    knobs.push_back(
        bounded_entry(c, "rest.remaining_years", 0.1, std::max(2.0 * mean_rest_years(c), 2.0 * life)));
  } else {
    const double known = c.device.life_years.base();
    knobs.push_back(bounded_entry(c, "device.life_years", 0.25 * known, 4.0 * known));
  }
  const bool survivors = std::any_of(contest.model.positions.begin(), contest.model.positions.end(),
                                     [](const Position& p) { return p.state == Position::State::original; });
  if (survivors) {
    Knob wear;
    wear.key = "common.mate_wear";
    wear.label = "wear of the mates (times what is stated)";
    wear.current = 1.0;
    wear.low = 0.05;
    wear.high = 3.0;
    wear.turn = [](Case&, Hypothesis& hypothesis, double x) { hypothesis.mate_wear = x; };
    knobs.push_back(std::move(wear));
  }
  Knob shape;
  shape.key = "common.shape";
  shape.label = "wear-out of the parts (Weibull shape)";
  shape.current =
      c.parts[static_cast<std::size_t>(
                  contest.model.positions[static_cast<std::size_t>(repair.plan.renew_now.front())].part)]
          .life.shape.base();
  shape.low = 0.7;
  shape.high = 5.0;
  shape.states_current = false;  // turning it makes all shapes certain and alike
  shape.turn = [](Case& changed, Hypothesis&, double x) {
    const auto fix = [x](LifePrior& prior) {
      prior.shape = Quantity::exactly(x);
      prior.shape_spread = 1.0;
    };
    for (auto& part : changed.parts) {
      fix(part.life);
      for (auto& candidate : part.candidates) fix(candidate.life);
    }
  };
  knobs.push_back(std::move(shape));
  if (c.horizon.years) {
    knobs.push_back(bounded_entry(c, "horizon.years", 0.25, std::max(3.0 * years_ahead(c), 2.0 * life)));
  } else {
    Knob need;
    need.key = "horizon.years";
    need.label = "years until the need ends (now it goes on)";
    need.low = 0.25;
    need.high = need.current = std::max(3.0 * years_ahead(c), 3.0 * life);
    need.turn = [](Case& changed, Hypothesis&, double x) { changed.horizon.years = Quantity::exactly(x); };
    knobs.push_back(std::move(need));
  }
  knobs.push_back(bounded_entry(c, "horizon.discount_rate", 0.0, 0.5));
  return knobs;
}

Knob entry_knob(const Case& c, const std::string& key, const Quantity& value) {
  Knob knob;
  knob.key = key;
  knob.label = label_of(c, key);
  knob.current = value.base();
  knob.low = value.low();
  knob.high = value.high();
  knob.turn = [key](Case& changed, Hypothesis&, double x) { set_entry(changed, key, x); };
  return knob;
}

}  // namespace mendworth
