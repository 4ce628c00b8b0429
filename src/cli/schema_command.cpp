#include <functional>
#include <ostream>
#include <string>
#include <utility>

#include "cli/commands.hpp"
#include "cli/exit_code.hpp"
#include "input/suggest.hpp"
#include "mendworth/render.hpp"

namespace mendworth::cli {

const std::vector<Schema>& schemas() {
  static const std::vector<Schema> all = {
      {"weigh", weighing_schema}, {"ask", weighing_schema},       {"buy", buying_schema},
      {"bulk", bulk_schema},      {"lifetime", lifetime_schema},  {"drawer", drawer_schema},
      {"quote", quote_schema},    {"quote-at-cost", shop_schema}, {"rates", rates_schema},
      {"check", check_schema},    {"case", case_file_schema},     {"shop", shop_file_schema},
      {"rows", row_schema},       {"curve", curve_schema},        {"shared-order", shared_order_schema}};
  return all;
}

RunCommand set_up_schema(OptionSet& set) {
  struct Options {
    std::function<std::string()> schema = weighing_schema;
    std::optional<std::string> out_path;
  };
  const auto options = std::make_shared<Options>();
  const std::string names = fmt::format("{}", fmt::join(input::names_of(schemas()), ", "));
  set.converted({"command", "COMMAND", help_lines(names)}, choice_into(options->schema, schemas()));
  add_out_option(set, options->out_path);
  return [options](const Streams& streams, const Surroundings&) -> int {
    Destination(options->out_path, "--out", {}).write(options->schema(), streams);
    return answered;
  };
}

}  // namespace mendworth::cli
