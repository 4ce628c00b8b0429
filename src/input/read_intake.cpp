#include "domain/limits.hpp"
#include "input/case_reader.hpp"

namespace mendworth::input {

void CaseReader::read_intake() {
  TableReader table = document_.section("intake");
  Intake& intake = case_.intake;
  intake.customer = table.lines("customer");
  intake.serial = table.text("serial");
  intake.condition = table.text("condition");
  intake.fault = table.text("fault");
  intake.not_included = table.lines("not_included");
  intake.accessories = table.lines("accessories");
  intake.paid = table.number("paid", limits::money).value_or(0.0);
  intake.rush = table.flag("rush").value_or(false);
  intake.collection = table.flag("collection").value_or(false);
  intake.parts_from_customer = table.flag("parts_from_customer").value_or(false);
  table.finish();
}

}  // namespace mendworth::input
