#include <doctest/doctest.h>

#include <cmath>
#include <stdexcept>
#include <string>

#include "base/plain_number.hpp"
#include "mendworth/rates.hpp"
#include "mendworth/read_case.hpp"

using namespace mendworth;

TEST_CASE("plain numbers: so many significant digits, commas at the thousands") {
  CHECK(significant_text(1'521'234, 3) == "1520000");
  CHECK(significant_text(1'000.0, 3) == "1000");
  CHECK(significant_text(-0.00456789, 2) == "-0.0046");
  CHECK(number_text(999'999.6) == "1000000");
  CHECK(without_trailing_zeros("1.500") == "1.5");
  CHECK(without_trailing_zeros("1.000") == "1");
  CHECK(without_trailing_zeros("100") == "100");
  CHECK_THROWS_AS(static_cast<void>(significant_text(std::nan(""), 3)), std::domain_error);
}

TEST_CASE("defaults are written like every other number") {
  const Case c = read_case(starter_case(false), "small.toml", built_in_rates());
  bool life = false;
  for (const DefaultUse& use : c.defaults) {
    CAPTURE(use.key);
    CAPTURE(use.value);
    // No digit right behind a comma.
    for (std::size_t at = use.value.find(','); at != std::string::npos; at = use.value.find(',', at + 1))
      CHECK(use.value[at + 1] == ' ');
    if (use.key == "part.1.rated_life") {
      life = true;
      CHECK(use.value.find("(100000 to 1000000) cycles") != std::string::npos);
    }
  }
  CHECK(life);
}
