#include <doctest/doctest.h>

#include <string>

#include "render/answer_words.hpp"
#include "render/document.hpp"
#include "support/page_text.hpp"
#include "support/sample_weighing.hpp"

using namespace mendworth;

TEST_CASE("from nothing, the distance to a turning value has the digits of that value") {
  Weighing w;
  w.break_evens = {{.key = "labour.rate_per_hour",
                    .label = "labour rate (EUR an hour)",
                    .current = 0,
                    .low = 0,
                    .high = 500,
                    .values = {62.51},
                    .saving_low = 46,
                    .saving_high = -300,
                    .intervals = {{.low = 60.2, .high = 64.9}}}};
  Document page;
  page.sections = {break_even_section(w)};
  const std::string text = testing::unwrapped(document_text(page, {}));
  CHECK(testing::contains(text, "0 63 (60 to 65) +63 "));
}

TEST_CASE("what is nought today is no nearer than what turns within its own value") {
  const auto row = [](const char* label, double current, double high, double turns) {
    return BreakEven{
        .key = label, .label = label, .current = current, .low = 0, .high = high, .values = {turns}};
  };
  Weighing w;
  w.break_evens = {row("far", 10, 100, 40), row("from nought, further", 0, 100, 5),
                   row("from nought", 0, 1000, 1), row("half", 10, 100, 5), row("gone", 10, 100, 0)};
  Document page;
  page.sections = {short_break_evens(w, 5)};
  const std::string text = document_text(page, {});
  std::size_t before = 0;
  for (const char* label :
       {"\n  half ", "\n  gone ", "\n  from nought ", "\n  from nought, further ", "\n  far "}) {
    CAPTURE(label);
    const std::size_t at = text.find(label);
    REQUIRE(at != std::string::npos);
    CHECK(at > before);
    before = at;
  }
}

TEST_CASE("what was assumed is in the words of the inputs, its key where it is to be set") {
  Weighing w = testing::weighing();
  w.defaults.push_back({"device.life_years", "7.667 (3 to 15) years: radio", "common practice", true});
  CHECK(testing::contains(testing::unwrapped(weighing_page(w, {})),
                          "Assumed, and it matters: horizon.years, 5; life of such a device when new, "
                          "7.667 (3 to 15) years (--show assumed has the keys)."));
  CHECK(
      testing::contains(testing::unwrapped(weighing_page(w, {.show = {"assumed"}})),
                        "! device.life_years life of such a device when new: 7.667 (3 to 15) years: radio"));
}
