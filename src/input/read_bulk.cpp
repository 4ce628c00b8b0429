#include <fmt/format.h>

#include "input/case_reader.hpp"

namespace mendworth::input {

/// Either a fleet or a shop.
void CaseReader::read_bulk_demand(TableReader& table, Bulk& bulk) {
  const bool fleet = table.has("devices");
  const bool shop = table.has("jobs_per_month");
  const auto failed = table.integer("failed");
  if (fleet && shop) {
    table.fail("jobs_per_month", "a case is about a fleet or a shop, and 'devices' says that it is a fleet",
               "keep one of the two");
  } else if (!fleet && !shop) {
    table.missing(
        "devices", "whether it is a fleet or a shop",
        "write devices = 40 with failed = 9 for a fleet of equal devices, or jobs_per_month = 6 for a shop");
  }
  if (fleet && table.has("pieces_per_job"))
    table.fail("pieces_per_job", "goes with jobs_per_month: a fleet's need follows from its positions");
  if (shop && table.has("failed")) table.fail("failed", "goes with devices: a shop has jobs");
  if (!fleet) return;
  bulk.failed = failed.value_or(1);
  if (!table.has("failed")) record("bulk.failed", "1", "the device of the case itself");
  if (bulk.devices && failed && *failed > *bulk.devices) {
    table.fail("failed", fmt::format("{} of {} devices cannot have failed", *failed, *bulk.devices),
               "'devices' counts all of the fleet, those that have failed included");
  }
}

void CaseReader::read_bulk() {
  if (!document_.has("bulk")) return;
  TableReader table = document_.section("bulk");
  Bulk bulk;
  read_into(table, &bulk);
  read_bulk_demand(table, bulk);
  if (!table.has("years")) {
    if (bulk.devices && case_.horizon.years) {
      record("bulk.years", quantity_text(Quantity::exactly(case_.horizon.years->base()), "years"),
             "horizon.years");
    } else if (bulk.devices) {
      bulk.years = take_default("bulk.years", table.place()).base();
    } else {
      record("bulk.years", "the shelf life of the part", "what is bought later is another order");
    }
  }
  if (table.has("order_cost")) {
    bulk.order_cost = table.number("order_cost").value_or(0.0);
    if (table.has("order_minutes"))
      table.fail("order_minutes", "order_cost says the same in money", "keep one of the two");
  } else {
    bulk.order_cost =
        minutes_or_default(table, "order_minutes").base() / 60.0 * case_.labour.rate_per_hour.base();
  }
  if (!table.has("shortage_cost")) {
    record("bulk.shortage_cost", "a small order and the downtime of its lead time",
           "what a piece that is missing costs at least");
  }
  if (!table.has("repair_days"))
    record("bulk.repair_days", "lead time and days on the bench", "the case's own figures");
  table.finish();
  case_.bulk = bulk;
}

}  // namespace mendworth::input
