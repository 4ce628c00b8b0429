#include <algorithm>
#include <utility>

#include <fmt/format.h>

#include "input/case_reader.hpp"
#include "input/suggest.hpp"
#include "input/utf8.hpp"

namespace mendworth::input {

void CaseReader::read_parts() {
  document_.require("part");
  parts_ = read_named("part", case_.parts, &CaseReader::read_part);
}

void CaseReader::read_part(TableReader& table) {
  Part part;
  read_into(table, &part);
  part.life = read_life(table, nullptr);
  const std::size_t problems_before = problems_.count();
  read_dimensions(table, part);
  read_candidates(table, part);
  // Of what was misread it cannot be said whether it is used.
  if (problems_.count() == problems_before) check_dimensions_used(table, part);
  check_stock(table, part);
  table.finish();
  case_.parts.push_back(std::move(part));
}

/// A part with offers of which none can be ordered is not supplied either.
void CaseReader::check_stock(TableReader& table, const Part& part) {
  bool any_offer = false;
  for (const Candidate& candidate : part.candidates) {
    for (const Offer& offer : candidate.offers) {
      any_offer = true;
      const int packs = (offer.least + offer.multiple - 1) / offer.multiple;
      if (!offer.stock || *offer.stock / offer.multiple >= packs) return;
    }
  }
  if (any_offer) {
    table.fail(
        table.has("offer") ? "offer" : "candidate",
        fmt::format("nothing supplies the part '{}': no offer's stock reaches its least quantity", part.name),
        "correct the stock, or add another offer");
  }
}

void CaseReader::read_candidates(TableReader& table, Part& part) {
  const bool has_offers = table.has("offer");
  std::vector<TableReader> candidates = table.sections("candidate");
  if (table.has("candidate") && has_offers) {
    table.fail("offer", "a part has either offers of its own or candidates with offers",
               "move the offer below a candidate, as [[part.candidate.offer]]");
    return;
  }
  if (!table.has("candidate")) {
    if (!has_offers) check_offers_missing(table, part);
    if (!has_offers && referred_) return;
    part.candidates.push_back(read_candidate(table, table.key_of("candidate.1"), part, std::nullopt));
    return;
  }
  if (candidates.empty()) {
    table.fail("candidate", fmt::format("nothing supplies the part '{}'", part.name),
               "add a [[part.candidate]] with a [[part.candidate.offer]]");
  }
  for (const char* key : {"fit", "nominal"}) {
    if (!table.has(key)) continue;
    table.fail(key, "a part with candidates says this of each candidate",
               "move it below a [[part.candidate]]");
  }
  const auto dead = table.quantity("dead_on_arrival");
  UniqueNames names;
  for (TableReader& candidate : candidates) {
    part.candidates.push_back(read_candidate(candidate, candidate.path(), part, dead));
    names.add(candidate, part.candidates.back().name);
    if (!candidate.has("offer")) {
      candidate.fail("offer", fmt::format("nothing supplies the candidate '{}'", part.candidates.back().name),
                     "add a [[part.candidate.offer]] with its price below it");
    }
    candidate.finish();
  }
}

/// A licensed person brings the part along, so it needs no offer; then there is nothing that might not fit either.
void CaseReader::check_offers_missing(TableReader& table, const Part& part) {
  if (!referred_) {
    table.fail("offer", fmt::format("nothing supplies the part '{}'", part.name),
               "add a [[part.offer]] with its price below it");
    return;
  }
  for (const char* key : {"fit", "nominal", "dead_on_arrival"}) {
    if (!table.has(key)) continue;
    table.fail(key, "there is no offer that this could be about", "leave it out, or add a [[part.offer]]");
  }
}

/// `table` is that of the candidate, or of the part itself where it has no stated candidate; `key` names it in
/// the list of defaults; `dead_in_part` is what the part states for all of its candidates.
Candidate CaseReader::read_candidate(TableReader& table, const std::string& key, const Part& part,
                                     const std::optional<Quantity>& dead_in_part) {
  const bool stated = table.path() == key;
  Candidate candidate;
  candidate.name = part.name;
  candidate.life = part.life;
  candidate.inherits_life = !stated || !(table.has("class") || table.has("rated_life") || table.has("shape"));
  if (stated) {
    candidate.name =
        table.required_text("name", "the name of the candidate", "for instance name = \"button 6x6, 5 mm\"");
    candidate.life = read_life(table, &part.life);
  }
  candidate.nominal = read_nominal(table, part);
  candidate.fit = read_fit_chance(table, key, candidate);
  const auto dead = table.quantity("dead_on_arrival");
  if (dead || dead_in_part) {
    candidate.dead_on_arrival = dead.value_or(dead_in_part.value_or(Quantity{}));
  } else {
    candidate.dead_on_arrival = take_default(key + ".dead_on_arrival", table.place());
  }
  candidate.offers = read_offers(table);
  return candidate;
}

/// The class that a table names; null if it names none, or an unknown one, which is a problem.
const LifeClass* CaseReader::read_life_class(TableReader& table) {
  const std::string name = table.text("class").value_or("");
  if (name.empty()) return nullptr;
  const auto found = rates_.lives.find(name);
  if (found != rates_.lives.end()) return &found->second;
  table.fail("class", fmt::format("there is no class of wear part '{}'", printable(name)),
             suggestion(name, names_of(rates_.lives),
                        "'mendworth rates' lists them; or state rated_life and life_unit in its place"));
  return nullptr;
}

void CaseReader::read_life_unit(TableReader& table, bool on_its_own, LifePrior& life) {
  constexpr LifeUnit units[] = {LifeUnit::cycles, LifeUnit::hours, LifeUnit::years};
  if (table.has("life_unit")) {
    const LifeUnit unit = units[table.choice("life_unit").value_or(0)];
    if (!table.has("rated_life") && unit != life.unit && !on_its_own) {
      table.fail("life_unit", fmt::format("the class's rated life is in {}", name_of(life.unit)),
                 "state rated_life in the unit that is meant");
    }
    life.unit = unit;
  } else if (on_its_own && table.has("rated_life")) {
    table.missing("life_unit", "the unit of the rated life", "\"cycles\", \"hours\" or \"years\"");
  }
}

/// A class's figures, or those of `inherited`, each replaced by what the table states.
LifePrior CaseReader::read_life(TableReader& table, const LifePrior* inherited) {
  const LifeClass* const life_class = read_life_class(table);
  LifePrior life = life_class != nullptr ? life_class->life : inherited != nullptr ? *inherited : LifePrior{};
  const bool on_its_own = inherited == nullptr && !table.has("class");
  const bool states_life = table.has("rated_life");
  if (on_its_own && !states_life) {
    table.missing(
        "rated_life", "how long the part lasts: a class or a rated life",
        "write class = \"tactile-switch\" or another one, or rated_life = 100000 and life_unit = \"cycles\"");
  }
  read_life_unit(table, on_its_own, life);
  if (states_life) {
    life.rated_life = table.quantity("rated_life").value_or(Quantity::exactly(1.0));
  } else if (life_class != nullptr) {
    record(table.key_of("rated_life"),
           fmt::format("{}, {} failed by then, spread factor {}",
                       quantity_text(life.rated_life, name_of(life.unit)), life.failed_at_rated,
                       life.life_spread),
           life_class->source);
  }

  // What the class says is noted as one figure where that figure is the class's as a whole.
  const auto number = [&](const char* key, double& value, bool noted) {
    if (table.has(key)) {
      value = table.number(key).value_or(value);
    } else if (on_its_own) {
      value = take_default(table.key_of(key), table.place()).base();
    } else if (life_class != nullptr && noted) {
      record(table.key_of(key), fmt::format("{}", value), life_class->source);
    }
  };
  number("failed_at_rated", life.failed_at_rated, states_life);
  number("life_spread", life.life_spread, states_life);
  if (table.has("shape")) {
    life.shape = table.quantity("shape").value_or(Quantity::exactly(1.0));
  } else if (on_its_own) {
    life.shape = take_default(table.key_of("shape"), table.place());
  } else if (life_class != nullptr) {
    record(table.key_of("shape"),
           fmt::format("{}, spread factor {}", quantity_text(life.shape, ""), life.shape_spread),
           life_class->source);
  }
  number("shape_spread", life.shape_spread, false);
  return life;
}

std::vector<Offer> CaseReader::read_offers(TableReader& table) {
  std::vector<Offer> offers;
  for (TableReader& offer : table.sections("offer")) {
    offers.push_back(read_offer(offer));
    offer.finish();
  }
  if (offers.empty() && table.has("offer")) {
    const Node* node = table.find("offer");
    if (node->is_array() && node->items.empty())
      table.fail("offer", "nothing supplies it: the list is empty");
  }
  return offers;
}

Offer CaseReader::read_offer(TableReader& table) {
  Offer offer;
  const std::string supplier = table.text("supplier").value_or("");
  if (!supplier.empty()) {
    if (const auto found = suppliers_.index.find(supplier); found != suppliers_.index.end()) {
      offer.supplier = static_cast<int>(found->second);
    } else if (suppliers_.known) {
      table.fail("supplier", fmt::format("there is no [[supplier]] named '{}'", printable(supplier)),
                 suggestion(supplier, names_of(suppliers_.index),
                            "every supplier of an offer needs its [[supplier]]"));
    }
  } else if (!table.has("supplier") && case_.suppliers.size() > 1) {
    table.missing("supplier",
                  fmt::format("which of the {} suppliers makes this offer", case_.suppliers.size()),
                  "write supplier = \"...\" with the name of a [[supplier]]");
  }

  read_into(table, &offer);
  if (table.has("price") && table.has("prices")) {
    table.fail("price", "price and prices exclude each other", "keep one of the two");
  } else if (!table.has("prices")) {
    offer.prices.push_back({1, table.required_quantity("price")});
  } else {
    offer.prices = read_prices(table);
  }
  if (!offer.prices.empty()) offer.least = std::max(offer.least, offer.prices.front().from);
  return offer;
}

std::vector<PriceBreak> CaseReader::read_prices(TableReader& table) {
  std::vector<PriceBreak> prices;
  std::vector<TableReader> rows = table.sections("prices");
  const Node* node = table.find("prices");
  if (rows.empty() && node->is_array() && node->items.empty()) {
    table.fail("prices", "the list of price breaks is empty", "prices = [{ from = 1, each = 0.45 }]");
  }
  int last = 0;
  for (TableReader& row : rows) {
    row.require("from");
    const auto from = row.integer("from");
    if (from && *from <= last) {
      row.fail("from", fmt::format("price breaks are out of order: {} comes after {}", *from, last),
               "write them by rising quantity, each once");
    }
    if (from) last = *from;
    prices.push_back({from.value_or(1), row.required_quantity("each")});
    row.finish();
  }
  return prices;
}

}  // namespace mendworth::input
