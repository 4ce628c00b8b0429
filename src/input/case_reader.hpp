#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "input/table_reader.hpp"
#include "mendworth/case.hpp"
#include "mendworth/rates.hpp"

namespace mendworth::input {

/// Remembers names of one kind and reports one that is used twice.
class UniqueNames {
 public:
  void add(TableReader& table, const std::string& name);

 private:
  std::map<std::string, int> line_of_;
};

/// Turns a document into a Case, one section after the other; what is left out comes from the rates and is
/// listed in Case::defaults. One object reads one document.
class CaseReader {
 public:
  CaseReader(const Node& document, std::string source_name, const RateBook& rates, Problems& problems);

  /// The whole document. The result is only meaningful if no problem was added.
  [[nodiscard]] Case read();

 private:
  // read_case.cpp
  void read_device();
  void read_kind(TableReader& table);
  void report_clashes();
  void read_fault();
  void read_labour();
  void record_uncounted_time();
  void read_risks();
  // read_positions.cpp
  void read_positions();
  void read_position(TableReader& table);
  void read_work(TableReader& table, PositionGroup& group);
  void check_use();
  // read_parts.cpp
  void read_parts();
  void read_part(TableReader& table);
  void check_stock(TableReader& table, const Part& part);
  void read_candidates(TableReader& table, Part& part);
  void check_offers_missing(TableReader& table, const Part& part);
  [[nodiscard]] Candidate read_candidate(TableReader& table, const std::string& key, const Part& part,
                                         const std::optional<Quantity>& dead_in_part);
  [[nodiscard]] const LifeClass* read_life_class(TableReader& table);
  [[nodiscard]] std::optional<Quantity> read_exchange(TableReader& table, std::string& currency);
  static void read_life_unit(TableReader& table, bool on_its_own, LifePrior& life);
  [[nodiscard]] LifePrior read_life(TableReader& table, const LifePrior* inherited);
  [[nodiscard]] std::vector<Offer> read_offers(TableReader& table);
  [[nodiscard]] Offer read_offer(TableReader& table);
  [[nodiscard]] std::vector<PriceBreak> read_prices(TableReader& table);
  // read_fit.cpp
  void read_dimensions(TableReader& table, Part& part);
  [[nodiscard]] std::vector<std::optional<double>> read_nominal(TableReader& table, const Part& part);
  void check_dimensions_used(TableReader& table, const Part& part);
  [[nodiscard]] Quantity read_fit_chance(TableReader& table, const std::string& key,
                                         const Candidate& candidate);
  // read_suppliers.cpp
  void read_suppliers();
  void read_supplier(TableReader& table);
  [[nodiscard]] bool buys_parts();
  [[nodiscard]] std::vector<ShippingTier> read_shipping(TableReader& table);
  // read_outcomes.cpp
  void read_consumables();
  void read_replacements();
  void read_rest();
  void read_device_life();
  void read_horizon();
  // read_bulk.cpp
  void read_bulk();
  void read_bulk_demand(TableReader& table, Bulk& bulk);

  // case_defaults.cpp
  /// What hangs on no other input, into the struct of the table.
  void read_into(TableReader& table, void* owner);
  /// The value of `key`, or its default of the rates.
  [[nodiscard]] Quantity quantity_or_default(TableReader& table, std::string_view key);
  /// The default of the rates for a key of the case, recorded under it.
  [[nodiscard]] Quantity take_default(const std::string& key, Place place);
  [[nodiscard]] const SourcedQuantity* find_default(const std::string& default_key, const std::string& key,
                                                    Place place);
  [[nodiscard]] const SourcedNames* find_default_names(const std::string& default_key, const std::string& key,
                                                       Place place);
  /// The minutes of the operations that the rates name for `key`, added up as independent of each other.
  [[nodiscard]] Quantity minutes_or_default(TableReader& table, std::string_view key);
  /// Minutes of the rates, as the skill stretches them.
  [[nodiscard]] Quantity stretched(const Quantity& minutes, const std::string& key, Place place);
  /// ", beginner (times 2)", or nothing for the skill that the rates' minutes are for.
  [[nodiscard]] std::string skill_text() const;
  void record(const std::string& key, std::string value, const std::string& source);

  /// The digits of a known currency; reports an unknown code.
  [[nodiscard]] std::optional<int> minor_digits(TableReader& table, std::string_view key,
                                                const std::string& code);

  /// A section of which no input hangs on another.
  template <class Section>
  void read_section(std::string_view key, Section& section) {
    TableReader table = document_.section(key);
    read_into(table, &section);
    table.finish();
  }

  TableReader document_;
  const RateBook& rates_;
  Problems& problems_;
  Case case_;
  /// A hazard of the device leaves the work to licensed people, who bring the parts along and ask a price all in:
  /// whatever only own work needs may be left out.
  bool referred_ = false;
  std::optional<Quantity> usual_position_minutes_;  ///< labour.position_minutes
  bool states_life_ = false;                        ///< device.life_years
  // False if there are none or one was misread: then a reference to an unknown one says nothing new.
  /// The items of a list, by the names that others call them by.
  struct Named {
    bool known = false;  ///< whether each has a name
    std::map<std::string, std::size_t> index{};
  };
  template <class Item>
  Named read_named(const char* list, const std::vector<Item>& items,
                   void (CaseReader::*read_one)(TableReader&)) {
    std::vector<TableReader> tables = document_.sections(list);
    Named named{.known = !tables.empty()};
    UniqueNames names;
    for (TableReader& table : tables) {
      (this->*read_one)(table);
      const std::string& name = items.back().name;
      names.add(table, name);
      named.known = named.known && !name.empty();
      if (!name.empty()) named.index.emplace(name, items.size() - 1);
    }
    return named;
  }

  Named parts_, suppliers_;
};

/// "12.5", or with a range its mean and ends: "9.3 (4 to 19) min".
[[nodiscard]] std::string quantity_text(const Quantity& quantity, std::string_view unit);

/// Names of hazard classes, each once.
[[nodiscard]] std::vector<std::string> read_hazards(TableReader& table, const char* key,
                                                    const RateBook& rates);

}  // namespace mendworth::input
