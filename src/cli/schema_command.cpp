#include <functional>
#include <ostream>
#include <string>
#include <utility>

#include "cli/commands.hpp"
#include "cli/exit_code.hpp"
#include "input/suggest.hpp"
#include "mendworth/render.hpp"

namespace mendworth::cli {

namespace {

using Schema = std::pair<std::string, std::function<std::string()>>;

const std::vector<Schema>& schemas() {
  static const std::vector<Schema> all = {
      {"weigh", weighing_schema}, {"ask", weighing_schema},       {"buy", buying_schema},
      {"bulk", bulk_schema},      {"lifetime", lifetime_schema},  {"drawer", drawer_schema},
      {"quote", quote_schema},    {"quote-at-cost", shop_schema}, {"rates", rates_schema},
      {"check", check_schema},    {"case", case_file_schema},     {"shop", shop_file_schema},
      {"rows", row_schema}};
  return all;
}

}  // namespace

std::vector<std::string> schema_names() { return input::names_of(schemas()); }

int schema_command(const SchemaOptions& options, const Streams& streams) {
  for (const auto& [name, schema] : schemas()) {
    if (name == options.command) streams.out << schema();
  }
  return answered;
}

}  // namespace mendworth::cli
