// Cases whose work must be referred. Expected values are derived: they are what the text of the case says.
#include <doctest/doctest.h>

#include <string>

#include "support/case_text.hpp"

using namespace mendworth;
using namespace mendworth::test;

namespace {

const char* const referred_case = R"(
[device]
name = "Wall heater"
currency = "EUR"
age_years = 6
hazards = ["gas"]
[[position]]
name = "valve spring"
part = "valve spring"
failed = 1
[[part]]
name = "valve spring"
rated_life = 12
life_unit = "years"
[[replacement]]
name = "another one"
price = 300
life_years = 10
)";

}  // namespace

TEST_CASE("a referral needs nothing that only own work needs") {
  const Case c = read(referred_case);
  REQUIRE(c.parts.size() == 1);
  CHECK(c.parts[0].candidates.empty());
  CHECK(c.suppliers.empty());
  CHECK(c.labour.rate_per_hour == Quantity::exactly(0));
  // The set-up of the replacement is own time, so it is said that it is not counted; without any it is not.
  CHECK(find_default(c, "labour.rate_per_hour") != nullptr);
  const Case ready = read(replaced(referred_case, "life_years = 10", "life_years = 10\nsetup_minutes = 0"));
  CHECK(find_default(ready, "labour.rate_per_hour") == nullptr);
  const Case paid = read(std::string(referred_case) + "[labour]\nrate_per_hour = 25\n");
  CHECK(paid.labour.rate_per_hour == Quantity::exactly(25));
  CHECK(find_default(paid, "labour.rate_per_hour") == nullptr);
}

TEST_CASE("the same without a referral needs an offer, a supplier and the rate") {
  const std::string text = replaced(referred_case, "\"gas\"", "\"mains\"");
  CHECK(
      messages(text) ==
      "case.toml: error: supplier: missing: where parts are bought (add a [[supplier]] with its name and "
      "shipping)\n"
      "case.toml: error: labour.rate_per_hour: missing: what an hour of work is worth; only you know (write "
      "rate_per_hour = 20 under [labour], or 0 if own time is to count as free)\n"
      "case.toml:11:1: error: part.1.offer: nothing supplies the part 'valve spring' (add a [[part.offer]] "
      "with its price below it)");
}

TEST_CASE("a referral with an offer needs the supplier of it, and a chance to fit needs an offer") {
  CHECK(messages(replaced(referred_case, "life_unit = \"years\"",
                          "life_unit = \"years\"\n[[part.offer]]\nprice = 3")) ==
        "case.toml: error: supplier: missing: where parts are bought (add a [[supplier]] with its name and "
        "shipping)");
  CHECK(messages(replaced(referred_case, "life_unit = \"years\"", "life_unit = \"years\"\nfit = 0.9")) ==
        "case.toml:15:7: error: part.1.fit: there is no offer that this could be about (leave it out, or add "
        "a [[part.offer]])");
}
