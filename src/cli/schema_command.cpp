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
      {"check", check_schema},    {"case", case_file_schema},     {"shop", shop_file_schema}};
  return all;
}

}  // namespace

RunCommand set_up_schema(OptionSet& set) {
  const auto chosen = std::make_shared<std::function<std::string()>>(weighing_schema);
  const std::string names = fmt::format("{}", fmt::join(input::names_of(schemas()), ", "));
  set.converted({"command", "COMMAND", help_lines(names)}, choice_into(*chosen, schemas()));
  return [chosen](const Streams& streams, const Surroundings&) -> int {
    streams.out << (*chosen)();
    return answered;
  };
}

}  // namespace mendworth::cli
