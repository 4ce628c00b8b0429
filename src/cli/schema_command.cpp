#include <ostream>

#include "cli/commands.hpp"
#include "cli/exit_code.hpp"
#include "mendworth/render.hpp"

namespace mendworth::cli {

int schema_command(Schema schema, const Streams& streams) {
  switch (schema) {
    case Schema::weighing: streams.out << weighing_schema(); break;
    case Schema::buying: streams.out << buying_schema(); break;
    case Schema::bulk: streams.out << bulk_schema(); break;
    case Schema::lifetime: streams.out << lifetime_schema(); break;
    case Schema::drawer: streams.out << drawer_schema(); break;
    case Schema::quote: streams.out << quote_schema(); break;
    case Schema::quote_at_cost: streams.out << shop_schema(); break;
  }
  return answered;
}

}  // namespace mendworth::cli
