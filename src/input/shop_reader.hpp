#pragma once

#include <functional>
#include <string>
#include <vector>

#include "input/table_reader.hpp"
#include "mendworth/rates.hpp"
#include "mendworth/shop.hpp"

namespace mendworth::input {

/// Turns a document into a Shop, one section after the other. What is left out stays as the Shop has it by default.
class ShopReader {
 public:
  ShopReader(const Node& document, std::string source_name, const RateBook& rates, Problems& problems);

  /// The whole document. The result is only meaningful if no problem was added.
  [[nodiscard]] Shop read();

 private:
  // read_shop.cpp
  /// A section of the shop itself; `check` says what does not go together.
  void read_section(const char* key, const std::function<void(TableReader&)>& check = {});
  /// For what is found wrong only beside a case.
  void keep_place(TableReader& table, const std::string& key);
  void read_shop();
  void read_writing();
  void read_mark(TableReader& table, const char* key, std::string& mark);
  void read_subsidy();
  // read_shop_prices.cpp
  void read_flat_rates();
  void read_parts();
  void read_markup(TableReader& table);
  // read_shop_terms.cpp
  void read_taxes();
  [[nodiscard]] std::vector<LineKind> read_exempt(TableReader& table);
  void check_tax_order(TableReader& table);
  void read_payment();
  void read_terms();

  TableReader document_;
  const RateBook& rates_;
  Shop shop_;
};

/// Reports a key that only means something beside another.
void require_with(TableReader& table, const char* key, bool companion, const std::string& companion_name);
/// Reports the second of two keys of which one is allowed.
void require_one_of(TableReader& table, const char* first, const char* second, const std::string& why);

}  // namespace mendworth::input
